"""What the editions of a book are at one moment, computed from entries alone.

Everything is frozen; `fold.apply` gives the next state. What two books said while apart
is kept side by side until the printer has said which is true.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from benchapp.edition.holding import Holding, Reason
from benchapp.edition.pictures import PictureSubject, TiedPicture, without_doubles
from benchapp.events import words
from benchapp.events.entry import Moment

#: Borne by a sheet that counts as n of N.
NUMBERED: Final = words.NUMBERED
#: What a sheet can become at sorting besides a number, in the trade's words.
KINDS_OF_PROOF: Final[Mapping[str, str]] = {
    "BAT": "bon à tirer, the approved proof",
    "AP": "artist's proof",
    "PP": "printer's proof",
    "HC": "hors commerce",
    "presentation": "presentation proof",
    "progressive": "progressive proof",
    "archive": "archive or deposit",
    "cancellation proof": "the one proof of a cancelled plate",
}
BAT: Final = "BAT"
CANCELLATION: Final = words.CANCELLATION
#: There is one of each in an edition.
SINGLE: Final = (BAT, CANCELLATION)
#: These bear no number among their own kind.
WITHOUT_NUMBER: Final = (BAT, CANCELLATION, "progressive")
#: Pulled to try something: such a sheet may be signed as what it is.
TRIALS: Final = words.TRIALS
#: Said at the press: a sheet pulled for one of these is that, and takes no kind at sorting.
AT_THE_PRESS: Final = words.AT_THE_PRESS
#: Of these so many can be declared.
MAY_BE_CAPPED: Final = words.MAY_BE_CAPPED


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
        shared: Another sheet of the book has the same mark: it is named with its day.
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
    shared: bool = field(default=False, compare=False)


@dataclass(frozen=True, slots=True)
class Void:
    """A number never used, or never again.

    Attributes:
        why / at: The reason, and when it was said first.
        sheets: Those that bore it when it was voided.
        seen: The entries about them that were known then.
        cut: Nobody voided this number alone: the edition was cut short below it.
        said: The entries that say so.
    """

    why: str
    at: Moment
    sheets: tuple[str, ...] = ()
    seen: frozenset[str] = frozenset()
    cut: bool = False
    said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NotVoid:
    """A number was voided by mistake: the entries that said so, and why they are wrong."""

    number: int
    over: frozenset[str]
    why: str
    at: Moment


@dataclass(frozen=True, slots=True)
class Cap:
    """How many proofs of a kind there may be; `inside`: they count in the total."""

    cap: int
    inside: bool = False


@dataclass(frozen=True, slots=True)
class Cancelled:
    """The plates gave their last: which, how, and the day the printer named; `id`: its entry."""

    plates: tuple[str, ...]
    how: str
    at: Moment
    day: str | None = None
    id: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Mistake:
    """A cancelling, or that a clash is settled, was recorded by mistake: which entries, and why."""

    what: str
    over: frozenset[str]
    why: str
    at: Moment


@dataclass(frozen=True, slots=True)
class PlateTold:
    """What was said of a plate: its state, and the impressions it gave before the book.

    Attributes:
        said: Each time, by entry: the state, the figure (None: nothing of that), and the
            entries it was written over. A sibling edition is printed from the same plate.
    """

    said: tuple[tuple[str, str | None, int | None, frozenset[str]], ...] = ()

    @property
    def states(self) -> tuple[str, ...]:
        """What is said of its state and nobody has said otherwise since: one, or of two books."""
        over = {x for _, state, _, seen in self.said if state is not None for x in seen}
        return tuple(sorted({state for id, state, _, _ in self.said
                             if state is not None and id not in over}))

    @property
    def befores(self) -> tuple[int, ...]:
        """What it gave before this book, in the same way."""
        over = {x for _, _, n, seen in self.said if n is not None for x in seen}
        return tuple(sorted({n for id, _, n, _ in self.said if n is not None and id not in over}))

    @property
    def state(self) -> str | None:
        """What is said of its state; None: nothing is."""
        return " or ".join(self.states) or None

    @property
    def before(self) -> int | None:
        """What it gave before: of two figures the larger; None: nobody said."""
        return max(self.befores, default=None)


@dataclass(frozen=True, slots=True)
class Lowered:
    """A short edition: the size it had, has, and why."""

    was: int | None
    size: int
    why: str
    at: Moment


@dataclass(frozen=True, slots=True)
class CutShort:
    """The last number there will be, of an edition already signed; None: it goes on after all."""

    size: int | None
    why: str
    at: Moment = field(compare=False)


@dataclass(frozen=True, slots=True)
class Replaced:
    """A sheet is the BAT no longer, for another; `by` None: it is the BAT again."""

    sheet: str
    by: str | None
    why: str
    at: Moment = field(compare=False)


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
    at: Moment = field(compare=False)
    by: str = field(compare=False)


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
        holdings: The sheets something is told of, by id.
        withdrawn: Those from old papers of which it is told that there is no such sheet.
        voidings: What was said of each number that was voided alone, by entry.
        not_void: Which of that was a mistake.
        voided: Numbers that were voided one by one, with the sheets that bore them.
        voids: Every number that is never used: these, and those above where it was cut short.
        cuts: Where it was cut short, by entry, as far as nobody has said otherwise since.
        standards: The sheet the others are held against beside, or instead of, the BAT, by
            entry, as far as nobody has named another since; None: the BAT alone.
        standard_ms: When each of these was named, wall ms, by entry.
        replaced: Sheets that are the BAT no longer, or again, by entry, in the same way.
        cancellings: What the books recorded of the cancelling of its plates; `numbers.cancelled`
            is what counts, of this edition and those printed from the same plates.
        sharing: The plates it has in common with the edition it is named beside, by entry, as
            far as nobody has said otherwise since; empty: not said.
        settled: Clashes the printer has settled as they stand, by their key.
        settlings: Each time one was settled, by entry.
        ties: Every time a picture was tied to a sheet, a plate or a day.
        untied: Those of these entries of which it was said that they are not so.
        mistakes: What of cancellings and settlings was recorded by mistake, and counts no more.
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
    withdrawn: Mapping[str, Holding] = field(default_factory=dict)
    voidings: Mapping[str, tuple[int, Void]] = field(default_factory=dict)
    not_void: tuple[NotVoid, ...] = ()
    voided: Mapping[int, Void] = field(default_factory=dict)
    voids: Mapping[int, Void] = field(default_factory=dict)
    cuts: tuple[tuple[str, CutShort], ...] = ()
    standards: tuple[tuple[str, str | None], ...] = ()
    standard_ms: Mapping[str, int] = field(default_factory=dict)
    replaced: tuple[tuple[str, Replaced], ...] = ()
    cancellings: tuple[Cancelled, ...] = ()
    plates: Mapping[str, PlateTold] = field(default_factory=dict)
    sharing: tuple[tuple[str, frozenset[str]], ...] = ()
    settled: Mapping[str, Reason] = field(default_factory=dict)
    settlings: Mapping[str, tuple[str, Reason]] = field(default_factory=dict)
    mistakes: tuple[Mistake, ...] = ()
    ties: tuple[TiedPicture, ...] = ()
    untied: frozenset[str] = frozenset()

    @property
    def pictures(self) -> tuple[TiedPicture, ...]:
        """The pictures of its sheets, plates and days, by when they were taken."""
        return without_doubles(x for x in self.ties if x.id not in self.untied)

    def pictures_of(self, about: PictureSubject) -> tuple[TiedPicture, ...]:
        """Those of one of these."""
        return tuple(x for x in self.pictures if x.about == about) if self.ties else ()

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
    def shares(self) -> frozenset[str] | None:
        """The plates it has in common with the edition beside it; None: not known."""
        return frozenset().union(*(x for _, x in self.sharing)) if self.sharing else None

    @property
    def cut(self) -> CutShort | None:
        """Where it ends; of two ends the later number, so that nothing there falls outside."""
        ends = [c for _, c in self.cuts if c.size is not None]
        whole = len(ends) < len(self.cuts)  # one book says that it goes on
        return None if whole else max(ends, key=lambda c: (c.size or 0, c.why), default=None)

    @property
    def standard(self) -> str | None:
        """The sheet that is named the standard; of two the same in every book."""
        return max((x for _, x in self.standards if x is not None), default=None)

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
        shared: The marks that more than one sheet of the book has.
    """

    origin: str
    editions: Mapping[str, Edition] = field(default_factory=dict)
    sheets: Mapping[str, Sheet] = field(default_factory=dict)
    by_print: Mapping[str, tuple[Sheet, ...]] | None = field(default=None, compare=False,
                                                             repr=False)
    shared: frozenset[str] = field(default=frozenset(), compare=False, repr=False)

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
