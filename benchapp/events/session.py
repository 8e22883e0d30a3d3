"""A session: its opening and closing, its steps, whose hands are in, what is said to come."""

from __future__ import annotations

from benchapp.events.event import ActionTakenBack, BookEvent, event, stored
from benchapp.events.field_types import ABSENT, Absent, BlanketsDone, Count, Hands, Shift, WallTime


class WorkEvent(BookEvent):
    """What happened to a piece of work: an attempt at a step, for an impression or on a pack.

    Attributes:
        step: Its step.
        impression: For which; None: for none.
        attempt: Which try at it.
        pack: On which; None: on none.
    """

    step: str
    impression: int | None
    attempt: int
    pack: str | None


@event("session", "opened")
class SessionOpened(BookEvent):
    """A session was opened on this recipe text.

    Cancelled: how and when its plate was, if it was before; reworked: plates that may not be in
    its state any more.
    """

    session: str
    letters: str
    print: str
    artist: str
    recipe: str
    recipe_text: str
    recipe_sha256: str
    wanted: Count | None
    cancelled: str | Absent = ABSENT
    reworked: tuple[str, ...] | Absent = ABSENT


@event("session", "continued")
class SessionContinued(BookEvent):
    """The program came back to an open session."""

    last_seen_ms: WallTime | None


@event("session", "wanted set")
class WantedSet(BookEvent):
    """How many counting impressions are wanted."""

    wanted: Count | None


@event("session", "step started")
class StepStarted(WorkEvent):
    """A step, a wait or the wash began."""

    step: str
    impression: Count | None
    attempt: Count
    pack: str | None


@event("session", "step finished")
class StepFinished(WorkEvent):
    """A step, a wait or the wash ended; taken says whether its time was taken."""

    step: str
    impression: Count | None
    attempt: Count
    pack: str | None
    how: str
    why: str | None
    taken: bool


@event("session", "step put off")
class StepPutOff(WorkEvent):
    """A step begun was laid aside and is due again; hands: it was not begun, and they are so."""

    step: str
    impression: Count | None
    attempt: Count
    pack: str | None
    hands: Hands | Absent = ABSENT


@event("session", "step chosen")
class StepChosen(WorkEvent):
    """The printer chose what comes next."""

    step: str
    impression: Count | None
    attempt: Count
    pack: str | None


@event("session", "skip said")
class SkipSaid(BookEvent):
    """A step that comes is to be passed by; why null: it is not, after all."""

    step: str
    impression: Count | None
    why: str | None


@event("session", "leave said")
class LeaveSaid(BookEvent):
    """An after step that comes is to be left to another session; to null: it is not."""

    step: str
    to: str | None


@event("session", "step extended")
class StepExtended(WorkEvent):
    """A wait was given more time."""

    step: str
    impression: Count | None
    attempt: Count
    pack: str | None
    by_ms: Shift


@event("session", "redone")
class StepRedone(BookEvent):
    """A step and those after it are due again."""

    impression: Count
    step: str


@event("session", "must answered")
class MustAnswered(BookEvent):
    """The fact a step must have; null: not said."""

    step: str
    owner: str
    fact: str | None


@event("session", "step left")
class StepLeft(BookEvent):
    """An after step was left to another session."""

    step: str
    owner: str
    to: str


@event("session", "step taken over")
class StepTakenOver(BookEvent):
    """An after step another session left to this one."""

    step: str
    owner: str
    do: str
    hands: Hands
    must: tuple[str, ...]
    from_session: str = stored("from")
    print: str | Absent = ABSENT
    lines: tuple[str, ...] | Absent = ABSENT
    care: str | Absent = ABSENT
    care_short: str | Absent = ABSENT
    short: str | Absent = ABSENT
    paper: str | Absent = ABSENT


@event("session", "left off")
class LeftOffWritten(BookEvent):
    """The sentence shown first at resume."""

    text: str


@event("session", "paused")
class SessionPaused(BookEvent):
    """Hands counts stand still."""


@event("session", "resumed")
class SessionResumed(BookEvent):
    """Hands counts go on."""


@event("session", "helper joined")
class HelperJoined(BookEvent):
    """A clean-handed helper is in."""

    name: str | None


@event("session", "helper present")
class HelperPresent(BookEvent):
    """A helper who joined in another session is in while this one is worked on."""

    name: str | None


@event("session", "helper left")
class HelperLeft(BookEvent):
    """The helper is gone."""


@event("session", "blankets seen to")
class BlanketsSeenTo(BookEvent):
    """The blankets of a press, named by its place, were washed, or swapped for others."""

    how: BlanketsDone
    place: str


@event("session", "enough said")
class EnoughSaid(BookEvent):
    """No further impression is begun."""


@event("session", "one more said")
class OneMoreSaid(BookEvent):
    """One counting impression more than now."""

    limit: Count


@event("session", "ghost said")
class GhostSaid(BookEvent):
    """The next pull is without inking."""


@event("session", "taken back")
class SessionActionTakenBack(ActionTakenBack):
    """That action and all it caused never counted."""

    action: str


@event("session", "discarded")
class SessionDiscarded(BookEvent):
    """Nothing was pulled, and the printer put it out of the lists; closed comes with it."""


@event("session", "closed")
class SessionClosed(BookEvent):
    """The last after step is done, or the session was discarded."""
