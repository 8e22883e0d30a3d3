"""Everything that can be done to an edition. An action is a value; `decide_edition` says what it
does, and the table of rules there what it is called.

`print` is the edition's id. A sheet is named by its id.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Final, Literal

from benchapp.edition.holding import SheetLabel
from benchapp.edition.pictures import PictureSubject, TiedPicture
from benchapp.edition.state import Cap


@dataclass(frozen=True, slots=True)
class Declare:
    """The edition is so large; again, before the first signature, where it was said otherwise.

    Attributes:
        form: limited or varied, with a size; open, without one.
        sibling / relation: The edition it belongs beside, and how: `second edition`,
            `colourway`, `paper` or the printer's own word.
        shares: The plates it has in common with that one; None: not said.
        by: `recipe` where the print's first recipe says so.
    """

    print: str
    title: str
    artist: str
    size: int | None
    form: Literal["limited", "varied", "open"] = "limited"
    caps: Mapping[str, Cap] = field(default_factory=dict)
    roman: bool = False
    roman_proofs: bool = True
    sibling: str | None = None
    relation: str | None = None
    by: Literal["printer", "recipe"] = "printer"
    shares: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class Lower:
    """A short edition: fewer than were declared, before anything is signed."""

    print: str
    size: int
    why: str


@dataclass(frozen=True, slots=True)
class CutEdition:
    """After a signature the edition ends at this number: those above it are void.

    The total stays as it was signed. `size` None: the edition goes on after all.
    """

    print: str
    size: int | None
    why: str


@dataclass(frozen=True, slots=True)
class GiveNumbers:
    """Number these sheets, in a sitting; a number left None is the next.

    A sheet that has another number and is not signed gives that one back.
    """

    print: str
    pairs: tuple[tuple[str, int | None], ...]


@dataclass(frozen=True, slots=True)
class GiveProof:
    """Keep a sheet as a proof of this kind; `number` None is the next of its kind.

    Attributes:
        by: Who passed it, where it is the BAT.
        instead: Why it is the BAT in place of the one there is; None: there is none.
        whose: Whose proof it is, in the printer's words, which stay at home.
    """

    print: str
    sheet: str
    kind: str
    number: int | None = None
    by: str | None = None
    whose: str | None = None
    instead: str | None = None


@dataclass(frozen=True, slots=True)
class TakeNumberBack:
    """What the sheet was to be is taken back, before it is signed."""

    print: str
    sheet: str


@dataclass(frozen=True, slots=True)
class Sign:
    """These sheets were signed, in a sitting."""

    print: str
    sheets: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class VoidNumber:
    """This number is never used, or never again."""

    print: str
    number: int
    why: str


@dataclass(frozen=True, slots=True)
class Destroy:
    """The sheet is no more."""

    print: str
    sheet: str
    why: str


@dataclass(frozen=True, slots=True)
class Recalled:
    """One line of an old paper: a sheet nobody pulled in this book.

    Attributes:
        paper: What the paper is, in a few words.
        signed: Whether it is signed; None: the paper does not say.
        words: Where it is, in the printer's own words (to, when, note).
        of: The total that is written behind its number; None: none is.
        since: The day it left the studio; None: not said.
    """

    paper: str
    number: int | None
    kind: str = "edition"
    signed: bool | None = None
    destroyed: str | None = None
    place: str | None = None
    due: str | None = None
    words: Mapping[str, str] = field(default_factory=dict)
    of: int | None = None
    since: str | None = None


@dataclass(frozen=True, slots=True)
class Recall:
    """Sheets known only from old papers; all of them, or none."""

    print: str
    lines: tuple[Recalled, ...]


class AsItIs(Enum):
    """What a correction leaves as it is."""

    AS_IT_IS = "as it is"


AS_IT_IS: Final = AsItIs.AS_IT_IS


@dataclass(frozen=True, slots=True)
class Correct:
    """The book says something of a sheet that is not so: it follows, in what is said here alone.

    Attributes:
        bears: What is pencilled on it; None: nothing.
        signed: Whether it is signed.
        destroyed: Whether it is destroyed.
        known: Whether there is such a sheet; its line of an old paper may be a mistake.
    """

    print: str
    sheet: str
    bears: SheetLabel | AsItIs | None
    why: str
    signed: bool | None = None
    destroyed: bool | None = None
    known: bool | None = None


@dataclass(frozen=True, slots=True)
class UnvoidNumber:
    """A number was voided by mistake: it is used, or can be."""

    print: str
    number: int
    why: str


@dataclass(frozen=True, slots=True)
class ByMistake:
    """The plates are not cancelled, or a clash is not settled, as was recorded by mistake.

    Attributes:
        what: Which of the two it was.
        clash: The key of the clash; None: it was the plates.
    """

    print: str
    what: Literal["plate cancelled", "clash settled"]
    clash: str | None
    why: str


@dataclass(frozen=True, slots=True)
class CorrectPlace:
    """Where a sheet is, or since when, until when and on which terms, was recorded wrongly.

    Attributes:
        said: What is true: place, day, due, terms; None: that is not known. What it does not name
            stays as it is, as long as it goes with the place.
        words: The printer's own words that are so instead, by name; they stay at home.
    """

    print: str
    sheet: str
    said: Mapping[str, str | None]
    why: str
    words: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class CorrectWords:
    """The printer's own words were wrong: who has a sheet, whose proof it is, a note.

    Attributes:
        said: The words by name: to, note, whose; empty: nothing is said of that any more.
        why: Stays at home with them.
    """

    print: str
    sheet: str
    said: Mapping[str, str]
    why: str


@dataclass(frozen=True, slots=True)
class Settle:
    """A clash stays as it is, and why. `size`: which of two sizes is the true one."""

    print: str
    clash: str
    why: str
    size: int | None = None


@dataclass(frozen=True, slots=True)
class TellPlate:
    """The state a plate is in, and the impressions it gave before there was this book."""

    print: str
    plate: str
    state: str | None = None
    before: int | None = None


@dataclass(frozen=True, slots=True)
class CancelPlate:
    """It was cancelled; no plates named: all of them. `day`: when, where that was not today."""

    print: str
    how: str
    plates: tuple[str, ...] = ()
    day: str | None = None


@dataclass(frozen=True, slots=True)
class SharePlates:
    """The plates an edition has in common with the one it is beside; none named: none."""

    print: str
    plates: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NameStandard:
    """The sheet the others are held against; None: the BAT again."""

    print: str
    sheet: str | None


@dataclass(frozen=True, slots=True)
class HandOut:
    """The sheet leaves the studio: to a gallery, given or sold.

    Attributes:
        terms: consignment, or sale or return, at a gallery.
        due: The day it is due back (ISO 8601).
        words: Who has it and since when, in the printer's own words, which stay at home.
    """

    print: str
    sheet: str
    place: Literal["gallery", "given", "sold"]
    terms: str | None = None
    day: str | None = None
    due: str | None = None
    words: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class TakeIn:
    """The sheet came back to the studio."""

    print: str
    sheet: str
    place: Literal["boards", "drawer", "framed"] = "drawer"
    day: str | None = None
    words: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Put:
    """The sheet lies somewhere else in the studio, or nobody knows where it is (lost)."""

    print: str
    sheet: str
    place: Literal["boards", "drawer", "framed", "lost"]
    day: str | None = None
    words: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class TiePictures:
    """These pictures show this sheet, plate or day.

    `pictures`: with their digest, name, type and time; what they show is `about`.
    """

    print: str
    about: PictureSubject
    pictures: tuple[TiedPicture, ...]


@dataclass(frozen=True, slots=True)
class UntiePicture:
    """A picture, by its digest, does not show this."""

    print: str
    about: PictureSubject
    picture: str
    why: str


Action = (
    Declare | Lower | CutEdition | GiveNumbers | GiveProof | TakeNumberBack | Sign | VoidNumber
    | Destroy | Recall | Correct | UnvoidNumber | ByMistake | CorrectPlace | CorrectWords | Settle
    | TellPlate | CancelPlate | SharePlates | NameStandard | HandOut | TakeIn | Put
    | TiePictures | UntiePicture
)
