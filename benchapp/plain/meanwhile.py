"""What goes on between two lines: time passes, and every end is written at its own moment."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Final, Protocol

from benchapp.events.entry import Entry, Moment
from benchapp.events.moments import moment_before, slept_ms
from benchapp.events.session import StepFinished
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService
from benchapp.session.advance import JUMP_MS
from benchapp.session.calls import next_end_t, passing_calls
from benchapp.session.names import key_of, session_id, step_of
from benchapp.session.state import Session, StudioState
from benchapp.views.bench import bench_view

#: Where nothing is known to end: longer than anybody waits before looking again.
_LONG_MS: Final = 3_600_000


class Meanwhile(Protocol):
    """Waits for a line, and says aloud what happens until it is there."""

    def wait(self, ms: int) -> bool:
        """Whether a line, or the end of the lines, is there: at once, or within `ms` milliseconds.

        It gives up sooner, to be asked again: what no clock foretells is seen then.
        """
        ...

    def follow(self, room: StudioState, now: Moment) -> Iterable[str]:
        """Take over what will call from now on; gives what went wrong with the sound."""
        ...

    def say(self, words: Callable[[], str]) -> None:
        """Say this aloud now, if it is anything; the words are made only where something speaks."""
        ...


class AtOnce:
    """Lines come at once, and nothing is said aloud."""

    def wait(self, ms: int) -> bool:
        """The next line is there."""
        return True

    def follow(self, room: StudioState, now: Moment) -> tuple[str, ...]:
        """Nothing sounds."""
        return ()

    def say(self, words: Callable[[], str]) -> None:
        """Nothing is said."""


def until_next_ms(workshop: SessionService) -> int:
    """How long until something ends or calls by itself, at most an hour."""
    room = workshop.room
    t = room.t_at(workshop.now())
    end = next_end_t(room, t)
    return _LONG_MS if end is None else min(_LONG_MS, end - t)


def pass_time(workshop: SessionService) -> Iterator[tuple[StudioState, Moment, Outcome]]:
    """Let time pass until now: what ended meanwhile is written at the moment it ended.

    However late anybody looks, a wait has its own length. Not so if the machine slept or
    started again meanwhile: then it ends when it is seen to have ended, as on the screen.

    Gives:
        The room before, the moment, and what came of it; the last is now.
    """
    now, since = workshop.now(), workshop.room.t
    while _awake(workshop.room, now) and (
            end := next_end_t(workshop.room, since)) is not None:
        late_ms = workshop.room.t_at(now) - end
        if late_ms <= 0:
            break
        before, at, since = workshop.room, moment_before(now, late_ms), end
        yield before, at, workshop.tick(at=at)
    before = workshop.room
    yield before, now, workshop.tick(at=now)


def _awake(room: StudioState, now: Moment) -> bool:
    """Whether the boot clock can say what happened when since the last entry."""
    return (room.last is not None and room.last.boot_id == now.boot_id
            and slept_ms(room.last, now) <= JUMP_MS)


def told_once(room: StudioState, t: int, told: set[str]) -> tuple[str, ...]:
    """What is said once and written nowhere, such as that sheets have rested; adds it to `told`."""
    new = [c for c in passing_calls(room, t) if c.call not in told]
    told.update(c.call for c in new)
    return tuple(c.phrase for c in new)


def spoken_changes(before: StudioState, after: StudioState, now: Moment,
                   entries: Iterable[Entry]) -> str:
    """What time did, to be said aloud: the waits that ended, and what begins.

    Calls are left out: these sound by themselves until they are answered.
    """
    ended = [_wait_words(after.sessions[session_id(e.stream)], e.event) for e in entries
             if isinstance(e.event, StepFinished) and e.event.how == "ended itself"]
    return ". ".join(x for x in (*ended, begun_words(before, after, now)) if x)


def begun_words(before: StudioState, after: StudioState, now: Moment) -> str:
    """The step that the hands have begun since `before`, as it is spoken; else nothing."""
    seen = bench_view(after, now)
    was = None if before.session is None else before.session.hand
    return "" if seen is None or seen.now.key in (None, was) else seen.now.say


def _wait_words(s: Session, end: StepFinished) -> str:
    step = step_of(s, key_of(end))
    return "" if step is None else f"{step.say or step.do}: time is up"
