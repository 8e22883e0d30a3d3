"""What an edition comes to: one set of figures, totals both ways, every sheet accounted for. Pure.

A figure nobody said is None, never nought. Sheets known only from old papers are counted beside
those pulled in this book, not among them. Of either the sheets in the studio, out, lost and
destroyed, and those whose place nobody knows, are all there are.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from benchapp.edition.holding import LOST, OUT, Holding
from benchapp.edition.numbers import counted_kinds, is_void
from benchapp.edition.sharing import (
    first_cancelling,
    from_same_plates,
    is_pulled_after,
    plates_told,
    related_editions,
)
from benchapp.edition.state import (
    AT_THE_PRESS,
    CANCELLATION,
    NUMBERED,
    TRIALS,
    Cancelled,
    Cap,
    Edition,
    Register,
    Sheet,
)

#: In which of these a sheet is; `unknown`: it is from old papers, and they do not say.
Whereabouts = Literal["studio", "out", "lost", "destroyed", "unknown"]


@dataclass(frozen=True, slots=True)
class Tally:
    """So many sheets, and where they are: in_studio + out + lost + destroyed + unknown = sheets.

    Attributes:
        sheets: All of them, whatever became of them.
        numbered / signed: Of those, with a number of the edition; signed at some time.
        in_studio / out / lost / destroyed: Of those, where they are now.
        unknown: From old papers, and nobody said where.
        perhaps_signed: From old papers, and nobody said whether they are signed.
        out_unsigned: Of those out, not signed.
        places: Of those out, how many are with a gallery, given, sold.
    """

    sheets: int
    numbered: int
    signed: int
    in_studio: int
    out: int
    lost: int
    destroyed: int
    unknown: int
    perhaps_signed: int
    out_unsigned: int
    places: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Figures:
    """The one set of figures of an edition, with those of old papers beside.

    Attributes:
        declared: N; None: open, or not known.
        pulled: Of the sheets pulled in this book.
        old: Of those known only from old papers.
        left: Sheets pulled here and signed that left the studio, also if they were lost since.
        after: Sheets pulled for the cancellation proof, which are no impressions of the edition.
    """

    declared: int | None
    pulled: Tally
    old: Tally
    left: int
    after: int = 0

    @property
    def printed(self) -> int:
        """Sheets pulled so far, whatever became of them."""
        return self.pulled.sheets

    @property
    def signed(self) -> int:
        """Of those, signed at some time."""
        return self.pulled.signed

    @property
    def papers(self) -> int:
        """Sheets known only from old papers."""
        return self.old.sheets


@dataclass(frozen=True, slots=True)
class Totals:
    """How many there are, both ways: with the proofs that count inside N, and with all.

    Attributes:
        numbered: Sheets there that bear a number of the edition.
        inside / outside: Proofs there of kinds that count in the total, and of the others.
        in_total: numbered + inside.
        everything: numbered + every proof.
    """

    numbered: int
    inside: int
    outside: int

    @property
    def in_total(self) -> int:
        """What N counts."""
        return self.numbered + self.inside

    @property
    def everything(self) -> int:
        """The edition with all its proofs."""
        return self.numbered + self.inside + self.outside


@dataclass(frozen=True, slots=True)
class Proofs:
    """Proofs of one kind: there, destroyed, and how many there may be (None: not said).

    Attributes:
        papers: How many of those there are known from old papers.
    """

    given: int
    void: int
    cap: int | None
    inside: bool = False
    papers: int = 0

    @property
    def over(self) -> int:
        """How many more than its cap."""
        return 0 if self.cap is None else max(0, self.given + self.void - self.cap)


@dataclass(frozen=True, slots=True)
class PlateFigures:
    """What a plate has given, numbered or not.

    Attributes:
        pulls: Passes over it in this book, in every edition it served.
        before: What it gave before this book; None: not known.
        state: As last said; None: nothing was.
        cancelled: It gives nothing more.
    """

    name: str
    pulls: int
    before: int | None
    state: str | None
    cancelled: bool

    @property
    def total(self) -> int:
        """All it is known to have given: at least so many where `before` is not known."""
        return self.pulls + (self.before or 0)


def edition_sheets(register: Register,
                   id: str) -> Iterator[tuple[str, Sheet | None, Holding | None]]:
    """Every sheet of an edition that was pulled in this book, with what became of it.

    A sheet pulled for one print and numbered in a sibling belongs to the sibling.
    """
    e = register.edition(id)
    others = [x for x in register.editions.values() if x.id != id]
    ours = register.pulled(id)
    mine = {s.id for s in ours}
    held_too = (register.sheets[h.sheet] for h in e.holdings.values()
                if h.sheet in register.sheets and h.sheet not in mine)
    for sheet in (*ours, *held_too):
        held = e.holdings.get(sheet.id)
        if (held is not None and held.claims) or not _elsewhere(others, sheet.id):
            yield sheet.id, sheet, held
    for h in e.holdings.values():
        if h.papers is None and h.sheet not in register.sheets:
            yield h.sheet, None, h


def _elsewhere(others: Iterable[Edition], sheet: str) -> bool:
    """Whether a sheet is something in another edition."""
    return any(h is not None and h.claims for h in (x.holdings.get(sheet) for x in others))


def edition_figures(register: Register, id: str) -> Figures:
    """The figures of an edition."""
    e = register.edition(id)
    found = list(edition_sheets(register, id))
    done = first_cancelling(register, id)
    ours = [h for _, s, h in found if not _for_cancelling(done, s, h)]
    left = sum(h is not None and h.out and h.destroyed is None and h.signed is not None
               for h in ours)
    return Figures(e.size, _tally(ours),
                   _tally([h for h in e.holdings.values() if h.papers is not None]), left,
                   len(found) - len(ours))


def _for_cancelling(done: Cancelled | None, sheet: Sheet | None, h: Holding | None) -> bool:
    """Whether a sheet is the cancellation proof, or a try for it that became nothing else."""
    if h is not None and h.bears is not None:
        return h.bears.kind == CANCELLATION
    return sheet is not None and (sheet.purpose == CANCELLATION
                                  or (done is not None and is_pulled_after(done, sheet)))


def _tally(sheets: list[Holding | None]) -> Tally:
    """The figures of these sheets; None: one of which nothing is said in the register."""
    held = [h for h in sheets if h is not None]
    at = Counter(whereabouts_of(h) for h in sheets)
    out = [h for h in held if whereabouts_of(h) == "out"]
    places = Counter(next(s.place for s in reversed(h.stays) if s.place in OUT) for h in out)
    return Tally(
        len(sheets), sum(h.bears is not None and h.bears.kind == NUMBERED for h in held),
        sum(h.signed is not None for h in held), at["studio"], at["out"], at["lost"],
        at["destroyed"], at["unknown"], sum(h.perhaps_signed for h in held),
        sum(h.signed is None and not h.perhaps_signed for h in out),
        {p: places[p] for p in OUT})


def whereabouts_of(h: Holding | None) -> Whereabouts:
    """Where a sheet counts. Pulled here it is in the studio until somebody says otherwise."""
    if h is None:
        return "studio"
    if h.destroyed is not None:
        return "destroyed"
    said = {s.place for s in h.stays}
    if said & set(OUT):
        return "out"
    if LOST in said:
        return "lost"
    return "unknown" if h.papers is not None and not said else "studio"


def edition_totals(e: Edition) -> Totals:
    """How many there are, both ways; destroyed ones and void numbers are not."""
    there = [h for h in e.holdings.values() if h.bears is not None and h.destroyed is None
             and not is_void(e, h)]
    kinds = Counter(h.bears.kind for h in there if h.bears is not None)
    numbered = kinds.pop(NUMBERED, 0)
    within = sum(kinds[k] for k in counted_kinds(e))
    return Totals(numbered, within, sum(kinds.values()) - within)


def planned_impressions(size: int | None, caps: Mapping[str, Cap]) -> int | None:
    """How many impressions an edition comes to as declared; None: its size is not known.

    A kind that counts inside adds nothing to N. Size 20 with one BAT, 9 workshop proofs,
    one cancelled, 1-3 AP, 2 TP, one PP and up to 3 presentation proofs: 35-40 (a workshop
    agreement of the 1960s).
    """
    return None if size is None else size + sum(c.cap for c in caps.values() if not c.inside)


def proof_figures(register: Register, id: str) -> dict[str, Proofs]:
    """Every kind of proof that has a cap or was given, also those said at the press."""
    e = register.edition(id)
    gone: Counter[str] = Counter()
    there: Counter[str] = Counter()
    old: Counter[str] = Counter()
    for kind, h in _kinds(register, id):
        exists = h is None or h.destroyed is None
        (there if exists else gone)[kind] += 1
        old[kind] += exists and h is not None and h.papers is not None
    names = [*e.caps, *sorted(k for k in {*there, *gone} if k not in e.caps)]
    return {k: Proofs(there[k], gone[k], e.caps[k].cap if k in e.caps else None,
                      k in counted_kinds(e), old[k]) for k in names}


def _kinds(register: Register, id: str) -> Iterator[tuple[str, Holding | None]]:
    for h in register.edition(id).holdings.values():
        if h.bears is not None and h.bears.kind != NUMBERED:
            yield h.bears.kind, h
    for _, sheet, held in edition_sheets(register, id):
        if (held is None or held.bears is None) and sheet is not None and sheet.purpose in TRIALS:
            yield sheet.purpose, held


def sheet_accounts(register: Register, id: str) -> dict[str, int]:
    """Every sheet pulled or known, once, under what became of it: they add up to all there are.

    `destroyed` and `void` take a sheet from whatever it bore; `spoiled` and `undecided`
    are those that became nothing yet; `after cancelling` those pulled for the cancellation proof
    that are not it.
    """
    e, done = register.edition(id), first_cancelling(register, id)
    tally: Counter[str] = Counter(
        _for_proof(h) if _for_cancelling(done, sheet, h) else _became(e, sheet, h)
        for _, sheet, h in edition_sheets(register, id))
    tally.update(_became(e, None, h) for h in e.holdings.values() if h.papers is not None)
    return dict(tally)


def _for_proof(h: Holding | None) -> str:
    """What became of a sheet pulled from the cancelled plate."""
    is_it = h is not None and h.bears is not None and h.destroyed is None
    return CANCELLATION if is_it else "after cancelling"


def _became(e: Edition, sheet: Sheet | None, h: Holding | None) -> str:
    if h is not None:
        if h.destroyed is not None:
            return "destroyed"
        if h.bears is not None:
            return "void" if is_void(e, h) else h.bears.kind
    if sheet is None:
        return "undecided"
    if sheet.verdict == "spoiled":
        return "spoiled"
    return sheet.purpose if sheet.purpose in AT_THE_PRESS else "undecided"


def plate_figures(register: Register, id: str) -> tuple[PlateFigures, ...]:
    """What each plate of the print gave, over all editions printed from it."""
    given = {e.id: Counter(p for s in register.pulled(e.id) for p in s.plates)
             for e in related_editions(register, id)}
    pulls = {name: sum(given[e.id][name] for e in from_same_plates(register, id, name))
             for name in dict.fromkeys(x for counted in given.values() for x in counted)}
    pulls = {name: n for name, n in pulls.items() if n}
    told = plates_told(register, id)
    done = first_cancelling(register, id)
    names = [*pulls, *(n for n in told if n not in pulls)]
    return tuple(PlateFigures(
        n, pulls.get(n, 0), told[n].before if n in told else None,
        told[n].state if n in told else None,
        done is not None and (not done.plates or n in done.plates)) for n in names)
