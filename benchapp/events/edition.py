"""A print: its edition, its plates, its sheets after the press."""

from __future__ import annotations

from benchapp.events.event import BookEvent, event
from benchapp.events.field_types import (
    ABSENT,
    Absent,
    Amount,
    Caps,
    Count,
    Digest,
    EditionForm,
    Facts,
    IsoDay,
    Label,
    LabelKind,
    NamedTexts,
    TakenBy,
    TakenText,
)


class PrintEvent(BookEvent):
    """What happened to a print, or was said of it.

    Attributes:
        print: Its id.
    """

    print: str

    @property
    def of_sheet(self) -> str | None:
        """The sheet it is about; None: it is about no sheet."""
        sheet: str | None = self.__dict__.get("sheet")
        return sheet

    @property
    def sheet_names(self) -> tuple[str, str]:
        """The mark and the session of that sheet; empty: it does not name them."""
        return self.__dict__.get("mark") or "", self.__dict__.get("session") or ""


@event("print", "declared")
class EditionDeclared(PrintEvent):
    """How large the edition is.

    Was: the size said before, or null; over: the entries that said so.
    """

    print: str
    title: str
    artist: str
    form: EditionForm
    size: Count | None
    was: Count | None
    caps: Caps
    roman: bool
    roman_proofs: bool
    sibling: str | None
    relation: str | None
    by: str | None
    over: tuple[str, ...]


@event("print", "lowered")
class EditionLowered(PrintEvent):
    """A short edition."""

    print: str
    size: Count
    was: Count | None
    why: str
    over: tuple[str, ...]


@event("print", "cut short")
class EditionCutShort(PrintEvent):
    """The edition ends at that number after a signature, and its total stays.

    Null: it does not; over: the entries that said where it ends.
    """

    print: str
    size: Count | None
    was: Count | None
    why: str
    over: tuple[str, ...]


@event("print", "number given")
class NumberGiven(PrintEvent):
    """A sheet was given a number of the edition.

    Over: the entries about the sheet its writer had seen.
    """

    print: str
    sheet: str
    mark: str | None
    session: str | None
    number: Count
    over: tuple[str, ...]


@event("print", "proof given")
class ProofGiven(PrintEvent):
    """A sheet was kept as a proof; by: who passed a BAT."""

    print: str
    sheet: str
    mark: str | None
    session: str | None
    kind: LabelKind
    number: Count | None
    by: str | None
    over: tuple[str, ...]


@event("print", "number taken back")
class NumberTakenBack(PrintEvent):
    """What a sheet was to be was taken back before it was signed."""

    print: str
    sheet: str
    kind: LabelKind
    number: Count | None
    over: tuple[str, ...]


@event("print", "signed")
class SheetSigned(PrintEvent):
    """A sheet was signed, with what stands on it.

    Kind null: nothing; open: as one of an edition that was open then.
    """

    print: str
    sheet: str
    mark: str | None
    session: str | None
    kind: LabelKind | None
    number: Count | None
    of: Count | None
    open: bool
    over: tuple[str, ...]


@event("print", "number voided")
class NumberVoided(PrintEvent):
    """A number is never used again; sheet: the one that bears it, or null."""

    print: str
    number: Count
    sheet: str | None
    why: str
    over: tuple[str, ...]


@event("print", "destroyed")
class SheetDestroyed(PrintEvent):
    """A sheet is no more; its number stays void."""

    print: str
    sheet: str
    mark: str | None
    session: str | None
    why: str
    over: tuple[str, ...]


@event("print", "recalled")
class SheetRecalled(PrintEvent):
    """A sheet known only from an old paper."""

    print: str
    sheet: str
    paper: str
    kind: LabelKind
    number: Count | None
    signed: bool | None
    destroyed: str | None


@event("print", "corrected")
class SheetCorrected(PrintEvent):
    """The book said something of a sheet that is not so.

    About: what of it, all where absent; absent: there is no such sheet.
    """

    print: str
    sheet: str
    mark: str | None
    session: str | None
    was: Label | None
    now: Label | None
    signed: bool | None
    found: bool
    why: str
    over: tuple[str, ...]
    about: Facts | Absent = ABSENT
    absent: bool | Absent = ABSENT


@event("print", "number not void")
class NumberNotVoid(PrintEvent):
    """A number was voided by mistake; over: the entries that said so."""

    print: str
    number: Count
    why: str
    over: tuple[str, ...]


@event("print", "clash settled")
class ClashSettled(PrintEvent):
    """A clash stays as it is; size: the true one of those the entries in over say."""

    print: str
    clash: str
    why: str
    size: Count | None
    over: tuple[str, ...]


@event("print", "plate told")
class PlateHistoryTold(PrintEvent):
    """The state of a plate, and the impressions it gave before this book."""

    print: str
    plate: str
    state: str | None
    before: Amount | None
    over: tuple[str, ...]


@event("print", "plate cancelled")
class PlateCancelled(PrintEvent):
    """The plates gave their last; none named: all."""

    print: str
    plates: tuple[str, ...]
    how: str
    day: IsoDay | None


@event("print", "plates shared")
class PlatesShared(PrintEvent):
    """The plates an edition has in common with the one it is beside; none named: none."""

    print: str
    plates: tuple[str, ...]
    over: tuple[str, ...]


@event("print", "BAT replaced")
class BatReplaced(PrintEvent):
    """A sheet is the BAT no longer; by: the sheet that is it now, or null: it is the BAT again."""

    print: str
    sheet: str
    by: str | None
    why: str
    over: tuple[str, ...]


@event("print", "recorded by mistake")
class RecordedByMistake(PrintEvent):
    """What: plate cancelled, or clash settled; over: the entries that said so."""

    print: str
    what: str
    why: str
    over: tuple[str, ...]


@event("print", "standard named")
class StandardNamed(PrintEvent):
    """The sheet others are held against; null: the BAT alone."""

    print: str
    sheet: str | None
    over: tuple[str, ...]


@event("print", "handed out")
class SheetHandedOut(PrintEvent):
    """A sheet left the studio: gallery, given or sold.

    Over: the entries that said where it was; why: what they said is not so.
    """

    print: str
    sheet: str
    mark: str | None
    session: str | None
    place: str
    terms: str | None
    day: IsoDay | None
    due: IsoDay | None
    over: tuple[str, ...]
    why: str | Absent = ABSENT


@event("print", "came back")
class SheetCameBack(PrintEvent):
    """A sheet came back to the studio."""

    print: str
    sheet: str
    mark: str | None
    session: str | None
    place: str
    day: IsoDay | None
    over: tuple[str, ...]


@event("print", "placed")
class SheetPlaced(PrintEvent):
    """Where a sheet lies: boards, drawer, framed, or lost; why: what was said before is not so."""

    print: str
    sheet: str
    mark: str | None
    session: str | None
    place: str
    over: tuple[str, ...]
    day: IsoDay | Absent | None = ABSENT
    why: str | Absent = ABSENT


@event("print", "picture tied")
class PictureTied(PrintEvent):
    """A picture shows a sheet, a plate (in a state), or a day, by the id of its session.

    Picture: the SHA-256 of its file; name: what the file was called, without its folder.
    """

    print: str
    sheet: str | None
    mark: str | None
    session: str | None
    plate: str | None
    state: str | None
    day: str | None
    picture: Digest
    name: str
    file_type: str
    taken: TakenText | None
    taken_by: TakenBy | None
    over: tuple[str, ...]


@event("print", "picture untied")
class PictureUntied(PrintEvent):
    """A picture does not show what the entries in over said."""

    print: str
    sheet: str | None
    mark: str | None
    session: str | None
    picture: Digest
    why: str
    over: tuple[str, ...]


@event("print", "told in private")
class ToldInPrivate(PrintEvent):
    """The printer's own words on what this action did.

    In a stream that stays at home; over: the actions whose words these replace.
    """

    print: str
    sheet: str
    words: NamedTexts
    over: tuple[str, ...] | Absent = ABSENT
