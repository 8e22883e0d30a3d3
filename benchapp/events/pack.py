"""A pack of damp paper. One that no open session looks after calls by itself."""

from __future__ import annotations

from benchapp.events.event import ActionTakenBack, BookEvent, event
from benchapp.events.field_types import ABSENT, Absent, Count, Milliseconds, Shift


class PackEvent(BookEvent):
    """What happened to a pack.

    Attributes:
        pack: Its id.
    """

    pack: str

    @property
    def done_by(self) -> str | None:
        """The session that did it; None: none did, or it could be done by none."""
        by: str | None = self.__dict__.get("by")
        return by


@event("pack", "put in")
class PackPutIn(PackEvent):
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
class PackOut(PackEvent):
    """The sheets are out of the water; its age counts from now."""

    pack: str
    by: str | None


@event("pack", "sheet out")
class PackSheetOut(PackEvent):
    """A sheet was taken out; impression null: it lies open."""

    pack: str
    by: str | None
    impression: Count | None
    lay_open: bool


@event("pack", "sheet back")
class PackSheetBack(PackEvent):
    """A sheet taken out was put back; impression: the try it was taken for."""

    pack: str
    by: str | None
    impression: Count | Absent | None = ABSENT


@event("pack", "sheet sprayed")
class PackSheetSprayed(PackEvent):
    """A sheet taken out was sprayed."""

    pack: str
    by: str | None


@event("pack", "sheet dried")
class PackSheetDried(PackEvent):
    """A sheet taken out was dried unprinted."""

    pack: str
    by: str | None


@event("pack", "ready said")
class PackReadySaid(PackEvent):
    """Taken as ready before its rest was over."""

    pack: str
    by: str | None


@event("pack", "soak extended")
class SoakExtended(PackEvent):
    """More time in the water."""

    pack: str
    by_ms: Shift
    by: str | None


@event("pack", "put away")
class PackPutAway(PackEvent):
    """What is left was wrapped or dried, or none was."""

    pack: str
    how: str
    by: str | None


@event("pack", "seen")
class PackSeen(PackEvent):
    """The program was alive then: time until here was counted."""

    pack: str


@event("pack", "taken back")
class PackActionTakenBack(PackEvent, ActionTakenBack):
    """That action never counted."""

    pack: str
    action: str


@event("pack", "due")
class PackDue(PackEvent):
    """Its soak is over."""

    pack: str


@event("pack", "called")
class PackCalled(PackEvent):
    """It sounded or flashed."""

    pack: str


@event("pack", "answered")
class PackAnswered(PackEvent):
    """The printer heard it; by: the session, or null."""

    pack: str
    by: str | None
