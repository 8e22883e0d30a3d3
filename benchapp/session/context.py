"""What a decision about a session is made in: the drafts, and the room with them. Pure.

Beside it what many rules ask of work and calls, and what they turn away.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, TypedDict

from benchapp.decision import DecisionContext, Refusal
from benchapp.events.entry import Entry
from benchapp.events.event import BookEvent
from benchapp.events.session import StepFinished
from benchapp.events.streams import said_stream
from benchapp.recipe.model import Step
from benchapp.session.copying import replace
from benchapp.session.fold import apply_entry
from benchapp.session.names import step_of
from benchapp.session.state import Attempt, Session, StudioState, TaskKey

#: More sheets or impressions than this no day has, and no clock runs longer.
MOST: Final = 10_000
LONGEST_MS: Final = 366 * 24 * 3_600_000


class WorkFields(TypedDict):
    """The fields by which an event names a piece of work."""

    step: str
    impression: int | None
    pack: str | None
    attempt: int


@dataclass(slots=True)
class SessionContext(DecisionContext[StudioState]):
    """Drafts in the making, for the session `sid`.

    Attributes:
        writing: A text is being written: no step that turns hands inky begins by itself.
    """

    sid: str
    writing: bool = False

    @property
    def s(self) -> Session:
        """The session as it will be."""
        return self.state.sessions[self.sid]

    @property
    def t(self) -> int:
        """Room time now."""
        return self.state.t_at(self.now)

    def fold(self, entry: Entry) -> StudioState:
        """The room after one more entry."""
        return apply_entry(self.state, entry)

    def emit(self, event: BookEvent) -> None:
        """Draft an entry of the session; of another book's in this book's own stream about it.

        What is said of a sheet there leads to nothing here: it need not be folded.
        """
        if self.state.origin is not None and self.state.guest(self.sid):
            self.emit_final(said_stream(self.sid, self.state.origin), event)
        else:
            self.emit_to(f"session/{self.sid}", event)

    def step(self, key: TaskKey) -> Step:
        """The step a key names.

        Raises:
            LookupError: There is no such step: the front end made the key up.
        """
        step = step_of(self.s, key)
        if step is None:
            raise LookupError(key.step)
        return step

    def attempt(self, key: TaskKey) -> int:
        """Which attempt at this work is on, or would be."""
        s = self.s
        work = s.work.get(key)
        if work is not None and work.running:
            return work.attempt
        if work is None and key not in s.again:
            return 1
        return 1 + sum(1 for w in s.history if w.key == key)

    def about(self, key: TaskKey) -> WorkFields:
        """The fields that name a piece of work."""
        return {"step": key.step, "impression": key.impression, "pack": key.pack,
                "attempt": self.attempt(key)}

    def finish(self, key: TaskKey, how: str, *, taken: bool = True, why: str | None = None) -> None:
        """Draft the end of a piece of work, begun or not.

        Its time is taken only where benchapp saw all of it.
        """
        seen = self.s.running(key) and not self.s.work[key].unseen
        self.emit(StepFinished(**self.about(key), how=how, why=why, taken=taken and seen))

    def mark(self) -> tuple[StudioState, int]:
        """A place on the page to come back to."""
        return self.state, len(self.drafts)

    def back_to(self, mark: tuple[StudioState, int]) -> None:
        """Strike out what was drafted since that place."""
        self.state = mark[0]
        del self.drafts[mark[1] :]


def worked_ms(s: Session, work: Attempt, t: int) -> int:
    """How long hands have been at it by room time `t`, pauses left out."""
    end = t if work.finished_t is None else work.finished_t
    paused = work.paused_ms
    if work.running and s.paused_t is not None and s.hand == work.key:
        paused += t - max(s.paused_t, work.started_t)
    return max(0, end - work.started_t - paused)


def ends_t(step: Step, work: Attempt) -> int | None:
    """Room time at which a wait is over; None where nobody said how long it takes."""
    if step.time is None and not work.extended_ms:
        return None
    usual = 0 if step.time is None else step.time.usual.ms
    return work.started_t + usual + work.extended_ms


def is_muted(s: Session, call: str, t: int) -> bool:
    """Whether that call is silent now by the printer's word."""
    if call not in s.muted:
        return False
    until = s.muted[call]
    return until is None or t < until


def wrong_count(count: int | None, of: str, mend: str) -> Refusal | None:
    """Why `count` is no number of sheets or impressions; None: it is, or nobody said one."""
    if count is None or 1 <= count <= MOST:
        return None
    return Refusal(f"{count} {of}: not between 1 and {MOST}", mend)


def wrong_time(ms: int, mend: str) -> Refusal | None:
    """Why `ms` is no time for a clock; None: it is one."""
    if ms <= 0:
        return Refusal("The time is missing", mend)
    if ms > LONGEST_MS:
        return Refusal("That is longer than a year", mend)
    return None


def on_bench(room: StudioState, sid: str | None) -> StudioState:
    """The room with that session on the Bench; None: nothing is on it."""
    return replace(room, bench=sid)
