"""A clock that belongs to no session."""

from __future__ import annotations

from benchapp.events.event import BookEvent, event
from benchapp.events.field_types import Lasts


@event("clock", "started")
class ClockStarted(BookEvent):
    """A clock was started in the Studio."""

    clock: str
    name: str
    ms: Lasts


@event("clock", "due")
class ClockDue(BookEvent):
    """It ran out."""

    clock: str


@event("clock", "called")
class ClockCalled(BookEvent):
    """It sounded or flashed."""

    clock: str


@event("clock", "answered")
class ClockAnswered(BookEvent):
    """The printer answered it; by: the session, or null."""

    clock: str
    by: str | None


@event("clock", "stopped")
class ClockStopped(BookEvent):
    """The printer ended it before its time."""

    clock: str


@event("clock", "seen")
class ClockSeen(BookEvent):
    """The program was alive then: time until here was counted."""

    clock: str


@event("clock", "taken back")
class ClockActionTakenBack(BookEvent):
    """That action never counted."""

    clock: str
    action: str
