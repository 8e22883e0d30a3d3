"""A pack of damp paper. One that no open session looks after calls by itself."""

from __future__ import annotations

from benchapp.events.event import BookEvent, event
from benchapp.events.field_types import ABSENT, Absent, Count, Milliseconds, Shift


@event("pack", "put in")
class PackPutIn(BookEvent):
    """A pack was damped; by: the session, or null."""

    pack: str
    paper: str | None
    sheets: Count | None
    method: str
    soak_ms: Milliseconds | None
    rest_ms: Milliseconds | None
    keeps_ms: Milliseconds | None
    by: str | None


@event("pack", "out")
class PackOut(BookEvent):
    """The sheets are out of the water; its age counts from now."""

    pack: str
    by: str | None


@event("pack", "sheet out")
class PackSheetOut(BookEvent):
    """A sheet was taken out; impression null: it lies open."""

    pack: str
    by: str | None
    impression: Count | None
    lay_open: bool


@event("pack", "sheet back")
class PackSheetBack(BookEvent):
    """A sheet taken out was put back; impression: the try it was taken for."""

    pack: str
    by: str | None
    impression: Count | Absent | None = ABSENT


@event("pack", "sheet sprayed")
class PackSheetSprayed(BookEvent):
    """A sheet taken out was sprayed."""

    pack: str
    by: str | None


@event("pack", "sheet dried")
class PackSheetDried(BookEvent):
    """A sheet taken out was dried unprinted."""

    pack: str
    by: str | None


@event("pack", "ready said")
class PackReadySaid(BookEvent):
    """Taken as ready before its rest was over."""

    pack: str
    by: str | None


@event("pack", "soak extended")
class SoakExtended(BookEvent):
    """More time in the water."""

    pack: str
    by_ms: Shift
    by: str | None


@event("pack", "put away")
class PackPutAway(BookEvent):
    """What is left was wrapped or dried, or none was."""

    pack: str
    how: str
    by: str | None


@event("pack", "seen")
class PackSeen(BookEvent):
    """The program was alive then: time until here was counted."""

    pack: str


@event("pack", "taken back")
class PackActionTakenBack(BookEvent):
    """That action never counted."""

    pack: str
    action: str


@event("pack", "due")
class PackDue(BookEvent):
    """Its soak is over."""

    pack: str


@event("pack", "called")
class PackCalled(BookEvent):
    """It sounded or flashed."""

    pack: str


@event("pack", "answered")
class PackAnswered(BookEvent):
    """The printer heard it; by: the session, or null."""

    pack: str
    by: str | None
