"""What the editions of a book are at one moment, computed from entries alone.

Everything is frozen; `fold.apply` gives the next state. What two books said of
one sheet is kept side by side (`also`) until the printer has said which is true.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from benchapp.journal import Moment

#: Borne by a sheet that counts as n of N.
NUMBERED: Final = "edition"
#: What a sheet can become at sorting besides a number, in the trade's words.
KINDS_OF_PROOF: Final[Mapping[str, str]] = {
    "BAT": "bon à tirer, the approved standard",
    "AP": "artist's proof",
    "PP": "printer's proof",
    "HC": "hors commerce",
    "presentation": "presentation proof",
    "progressive": "progressive proof",
    "archive": "archive or deposit",
    "cancellation proof": "the one proof of a cancelled plate",
}
CANCELLATION: Final = "cancellation proof"
#: There is one of each in an edition.
SINGLE: Final = ("BAT", CANCELLATION)
#: These bear no number among their own kind.
WITHOUT_NUMBER: Final = ("BAT", CANCELLATION, "progressive")
#: Said at the press: a sheet pulled for one of these is that, and takes no kind at sorting.
AT_THE_PRESS: Final = ("TP", "WP", "SP", "warm-up", "ghost")
#: Places in the studio, and out of it. A thing that is lost may be in either.
IN_STUDIO: Final = ("boards", "drawer", "framed")
OUT: Final = ("gallery", "given", "sold")
LOST: Final = "lost"


@dataclass(frozen=True, slots=True)
class Sheet:
    """One pulled sheet, as the sessions of the book know it; read by the edge.

    Attributes:
        id: Unique in the book, and the same in every copy of it.
        mark: What is pencilled on its back: `K7`.
        session: The day it was pulled: `2026-05-03`.
        print: The print it was pulled for.
        purpose: What the pull was for: edition, TP, WP, SP, warm-up or ghost.
        state: The state of a state proof.
        verdict: keep, doubtful, spoiled, or None: not judged.
        pulled_ms: Wall time of its first pull; None: not taken.
        plates: The plates it went over, one name for each time.
    """

    id: str
    mark: str
    session: str
    print: str
    purpose: str = "edition"
    state: str | None = None
    verdict: str | None = None
    pulled_ms: int | None = None
    plates: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Bears:
    """What stands on a sheet: kind, its number among them, and the total written beside it.

    `of` None: the total the edition has. It is set where the pencil said so: when the
    sheet was signed, or by a correction. `given` is the entry that said it: to take a
    number back is to take that one giving back, not another book's.
    """

    kind: str
    number: int | None = None
    of: int | None = None
    given: str | None = field(default=None, compare=False)

    @property
    def claim(self) -> tuple[str, int | None]:
        """What two sheets cannot both be."""
        return self.kind, self.number

    def like(self, other: Bears) -> bool:
        """Whether both can be what stands there: a total nobody wrote may be any."""
        return self.claim == other.claim and (self.of == other.of or None in (self.of, other.of))


#: One book took the number back, another says it stands.
NOTHING: Final = Bears("nothing")


@dataclass(frozen=True, slots=True)
class Reason:
    """Why something was done that is not undone, and when."""

    why: str
    at: Moment


@dataclass(frozen=True, slots=True)
class Void:
    """A number never used, or never again; `sheets`: those that bore it when it was voided."""

    why: str
    at: Moment
    sheets: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Stay:
    """Where a sheet came to be.

    Attributes:
        place: boards, drawer, framed, gallery, given, sold, lost.
        at: When it was said.
        day: The day it happened, where the printer said so (ISO 8601).
        due: The day it is due back.
        terms: consignment, or sale or return.
        words: The printer's own words (to, when, note); they stay at home.
        action: The action that said it.
    """

    place: str
    at: Moment
    day: str | None = None
    due: str | None = None
    terms: str | None = None
    words: Mapping[str, str] = field(default_factory=dict)
    action: str = ""


@dataclass(frozen=True, slots=True)
class Correction:
    """The pencil said something else than the book, and the book followed."""

    was: Bears | None
    now: Bears | None
    why: str
    at: Moment


@dataclass(frozen=True, slots=True)
class Holding:
    """One sheet in the register.

    Attributes:
        sheet / mark / session: Which it is; of a sheet known only from old papers the
            session is empty.
        bears: What stands on it; None: nothing yet.
        also: What another book says instead.
        signed: When it was signed.
        bare: It was signed, and no signature says that anything stood on it then.
        destroyed: Why it is no more.
        papers: The old paper it is known from; None: it was pulled in a session.
        places: Where it has been, the last one last.
        words: The printer's own words on it, as whose proof it is; they stay at home.
    """

    sheet: str
    mark: str
    session: str
    bears: Bears | None = None
    also: tuple[Bears, ...] = ()
    signed: Moment | None = None
    bare: bool = False
    destroyed: Reason | None = None
    papers: str | None = None
    places: tuple[Stay, ...] = ()
    corrections: tuple[Correction, ...] = ()
    words: Mapping[str, str] = field(default_factory=dict)

    @property
    def claims(self) -> tuple[Bears, ...]:
        """Everything that is said to stand on it."""
        return (*(() if self.bears is None else (self.bears,)),
                *(b for b in self.also if b != NOTHING))

    @property
    def place(self) -> Stay | None:
        """Where it was last said to be."""
        return self.places[-1] if self.places else None

    @property
    def out(self) -> bool:
        """Whether it has left the studio and not come back, as far as is known."""
        stays = [s for s in self.places if s.place != LOST]
        return bool(stays) and stays[-1].place in OUT


@dataclass(frozen=True, slots=True)
class Cap:
    """How many proofs of a kind there may be; `inside`: they count in the total."""

    cap: int
    inside: bool = False


@dataclass(frozen=True, slots=True)
class Cancelled:
    """The plates gave their last: which, how, and the day the printer named."""

    plates: tuple[str, ...]
    how: str
    at: Moment
    day: str | None = None


@dataclass(frozen=True, slots=True)
class PlateTold:
    """What was said of a plate: its state, and the impressions it gave before the book."""

    state: str | None = None
    before: int | None = None


@dataclass(frozen=True, slots=True)
class Lowered:
    """A short edition: the size it had, has, and why."""

    was: int
    size: int
    why: str
    at: Moment


@dataclass(frozen=True, slots=True)
class Terms:
    """What one declaration says of an edition beside its size."""

    title: str
    artist: str
    form: str
    caps: Mapping[str, Cap]
    roman: bool
    roman_proofs: bool
    sibling: str | None
    relation: str | None


@dataclass(frozen=True, slots=True)
class Edition:
    """One edition of a print.

    Attributes:
        id: What the book calls it.
        form: limited, varied or open.
        size: N; None: open, or not declared.
        roman / roman_proofs: Whether its numbers, and those of its proofs, are Roman.
        caps: Of each kind of proof that has one.
        sibling / relation: The edition it belongs beside, and how (second edition,
            colourway, paper …).
        declared: When its size was first said; None: not yet.
        by: Who said so: the printer, or the recipe.
        says: What is said of the size and nobody has said otherwise since, by entry: one
            thing, unless two books said different things while apart.
        terms: What is said beside the size, in the same way.
        voids: Numbers that are never used, with the sheets that bore them.
        approved_by: Who passed the BAT, in the printer's words.
        standard: A sheet the others are held against beside, or instead of, the BAT.
        settled: Clashes the printer has settled as they stand, by their key.
    """

    id: str
    title: str = ""
    artist: str = ""
    form: str = "limited"
    size: int | None = None
    roman: bool = False
    roman_proofs: bool = True
    caps: Mapping[str, Cap] = field(default_factory=dict)
    sibling: str | None = None
    relation: str | None = None
    declared: Moment | None = None
    by: str = ""
    says: tuple[tuple[str, int | None], ...] = ()
    terms: tuple[tuple[str, Terms], ...] = ()
    lowered: tuple[Lowered, ...] = ()
    holdings: Mapping[str, Holding] = field(default_factory=dict)
    voids: Mapping[int, Void] = field(default_factory=dict)
    approved_by: str | None = None
    standard: str | None = None
    cancelled: Cancelled | None = None
    plates: Mapping[str, PlateTold] = field(default_factory=dict)
    settled: Mapping[str, Reason] = field(default_factory=dict)

    @property
    def sizes(self) -> tuple[int | None, ...]:
        """The sizes between which it is not decided (None: open); empty: there is one."""
        said = {size for _, size in self.says}
        return tuple(sorted(said, key=lambda n: n or 0)) if len(said) > 1 else ()

    @property
    def differing(self) -> tuple[Terms, ...]:
        """The declarations between which it is not decided, by entry; empty: there is one."""
        found: list[Terms] = []
        for _, said in sorted(self.terms, key=lambda x: x[0]):
            if said not in found:
                found.append(said)
        return tuple(found) if len(found) > 1 else ()

    @property
    def standing(self) -> tuple[str, ...]:
        """The entries whose words on size and proofs stand: what is declared goes over them."""
        return tuple(dict.fromkeys([*(x for x, _ in self.says), *(x for x, _ in self.terms)]))


@dataclass(frozen=True, slots=True)
class Register:
    """All editions of a book.

    Attributes:
        origin: The book that writes now.
        editions: By id.
        sheets: Every sheet pulled, by id, as the sessions know them; brought by the edge,
            no part of the entries of prints.
        by_print: The same by their print, so that no question goes through all of them; None:
            they are gone through.
    """

    origin: str
    editions: Mapping[str, Edition] = field(default_factory=dict)
    sheets: Mapping[str, Sheet] = field(default_factory=dict)
    by_print: Mapping[str, tuple[Sheet, ...]] | None = field(default=None, compare=False,
                                                             repr=False)

    def pulled(self, id: str) -> tuple[Sheet, ...]:
        """The sheets pulled for a print, in the order of the book."""
        if self.by_print is not None:
            return self.by_print.get(id, ())
        return tuple(s for s in self.sheets.values() if s.print == id)

    def edition(self, id: str) -> Edition:
        """The edition of that id; one nothing was said of is empty."""
        return self.editions.get(id) or Edition(id)

    def knows(self, id: str) -> bool:
        """Whether anything is known of that print."""
        return id in self.editions or bool(self.pulled(id))
