"""Impressions of a session: their sheets, their pulls, what is said of them, and what is set."""

from __future__ import annotations

from benchapp.events.event import BookEvent, event, stored
from benchapp.events.field_types import ABSENT, Absent, Count, Purpose, PurposeBy, SheetEnd, Verdict


class SheetEvent(BookEvent):
    """What happened to an impression, or was said of one.

    Attributes:
        impression: Which of the session; None: it is about the day.
    """

    impression: int | None


@event("session", "impression begun")
class ImpressionBegun(SheetEvent):
    """Work on the next sheet began."""

    impression: Count
    ghost: bool


@event("session", "sheet taken")
class SheetTaken(SheetEvent):
    """A sheet was taken for an impression; pack null: of none; damp: whether that sheet is."""

    impression: Count
    pack: str | None
    damp: bool | Absent = ABSENT


@event("session", "pulled")
class ImpressionPulled(SheetEvent):
    """A pull; at_press false: its time was not taken."""

    impression: Count
    step: str
    plates: tuple[str, ...]
    number: Count
    mark: str
    purpose: Purpose = stored("for")
    purpose_by: PurposeBy = stored("for_by")
    state: str | None
    at_press: bool


@event("session", "counterproof pulled")
class CounterproofPulled(SheetEvent):
    """A damp sheet was pulled from a fresh impression, the source, and not from a plate."""

    impression: Count
    source: Count
    number: Count
    mark: str


@event("session", "impression ended")
class ImpressionEnded(SheetEvent):
    """It stays as it is: progressive, or spoiled before the pull or the last pull.

    Sheet: back in its pack, or lost; for: not what the rule had said.
    """

    impression: Count
    how: str
    sheet: SheetEnd | Absent = ABSENT
    purpose: Purpose | Absent = stored("for", default=ABSENT)


@event("session", "laid to dry")
class ImpressionLaidToDry(SheetEvent):
    """Its last step is done; it joins the stack."""

    impression: Count


@event("session", "set aside")
class ImpressionSetAside(SheetEvent):
    """Its last step is done; it is spoiled and joins no stack."""

    impression: Count


@event("session", "for said")
class PurposeSaid(SheetEvent):
    """What the pull is for; why: what was said before is not so."""

    impression: Count
    purpose: Purpose = stored("for")
    state: str | None
    why: str | Absent | None = ABSENT


@event("session", "judged")
class ImpressionJudged(SheetEvent):
    """Verdict: keep, doubtful, spoiled or null."""

    impression: Count
    verdict: Verdict | None


@event("session", "tagged")
class TagPutOn(SheetEvent):
    """A tag was put on."""

    impression: Count
    tag: str


@event("session", "untagged")
class TagTakenOff(SheetEvent):
    """A tag was taken off."""

    impression: Count
    tag: str


@event("session", "noted")
class NoteWritten(SheetEvent):
    """Free text; impression null: of the session."""

    impression: Count | None
    text: str


@event("session", "marked to look again")
class MarkedToLookAgain(SheetEvent):
    """To be looked at again."""

    impression: Count


@event("session", "read")
class ReadingRecorded(SheetEvent):
    """A reading was taken."""

    impression: Count | None
    name: str
    value: str
    unit: str | None


@event("session", "marked")
class SheetMarked(SheetEvent):
    """The sheet bears another mark than proposed."""

    impression: Count
    mark: str


@event("session", "setting changed")
class SettingChanged(BookEvent):
    """In force from the next pull on."""

    name: str
    value: str


@event("session", "setting found")
class SettingFound(SheetEvent):
    """What was really set at a pull, after the session by had set it; value null: not known."""

    impression: Count
    name: str
    value: str | None
    by: str


@event("session", "reworked")
class PlateReworked(BookEvent):
    """A plate was reworked to a new state."""

    plate: str | None
    state: str | None
    what: str | None


@event("session", "can emptied")
class RagCanEmptied(BookEvent):
    """The rag can was emptied, said the morning after."""
