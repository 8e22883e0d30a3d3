"""A clock that belongs to no session."""

from __future__ import annotations

from benchapp.events.event import ActionTakenBack, BookEvent, event
from benchapp.events.field_types import Lasts


class ClockEvent(BookEvent):
    """What happened to a clock of the Studio.

    Attributes:
        clock: Its id.
    """

    clock: str

    @property
    def done_by(self) -> str | None:
        """The session that did it; None: none did, or it could be done by none."""
        by: str | None = self.__dict__.get("by")
        return by


@event("clock", "started")
class ClockStarted(ClockEvent):
    """A clock was started in the Studio."""

    clock: str
    name: str
    ms: Lasts


@event("clock", "due")
class ClockDue(ClockEvent):
    """It ran out."""

    clock: str


@event("clock", "called")
class ClockCalled(ClockEvent):
    """It sounded or flashed."""

    clock: str


@event("clock", "answered")
class ClockAnswered(ClockEvent):
    """The printer answered it; by: the session, or null."""

    clock: str
    by: str | None


@event("clock", "stopped")
class ClockStopped(ClockEvent):
    """The printer ended it before its time."""

    clock: str


@event("clock", "seen")
class ClockSeen(ClockEvent):
    """The program was alive then: time until here was counted."""

    clock: str


@event("clock", "taken back")
class ClockActionTakenBack(ClockEvent, ActionTakenBack):
    """That action never counted."""

    clock: str
    action: str
