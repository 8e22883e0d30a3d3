"""What an edition comes to: four figures, totals both ways, and every sheet accounted for. Pure.

A figure nobody said is None, never nought. Sheets known only from old papers are
counted apart, so that pulled ≥ signed ≥ left the studio holds of the rest.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from benchapp.edition.holding import Holding
from benchapp.edition.numbers import inside, is_void
from benchapp.edition.sharing import cancelled, from_same_plates, kin, plates_told
from benchapp.edition.state import AT_THE_PRESS, NUMBERED, TRIALS, Cap, Edition, Register, Sheet


@dataclass(frozen=True, slots=True)
class Figures:
    """The four figures, and those of old papers beside them.

    Attributes:
        declared: N; None: open, or not known.
        printed: Sheets pulled so far, whatever became of them.
        signed: Of those, signed at some time.
        left: Of those, out of the studio now.
        left_unsigned: Out of the studio without a signature.
        papers / papers_signed / papers_left: The same of sheets known only from old papers.
    """

    declared: int | None
    printed: int
    signed: int
    left: int
    left_unsigned: int
    papers: int
    papers_signed: int
    papers_left: int


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
    """Proofs of one kind: there, destroyed, and how many there may be (None: not said)."""

    given: int
    void: int
    cap: int | None
    inside: bool = False

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


def sheets_of(register: Register, id: str) -> Iterator[tuple[str, Sheet | None, Holding | None]]:
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


def figures(register: Register, id: str) -> Figures:
    """The four figures of an edition."""
    e = register.edition(id)
    ours = [h for _, _, h in sheets_of(register, id) if h is not None]
    papers = [h for h in e.holdings.values() if h.papers is not None]
    out = [h for h in ours if _left(h)]
    return Figures(
        e.size, sum(1 for _ in sheets_of(register, id)),
        sum(h.signed is not None for h in ours), sum(h.signed is not None for h in out),
        sum(h.signed is None for h in out), len(papers),
        sum(h.signed is not None for h in papers), sum(_left(h) for h in papers))


def _left(h: Holding) -> bool:
    return h.out and h.destroyed is None


def totals(e: Edition) -> Totals:
    """How many there are, both ways; destroyed ones and void numbers are not."""
    there = [h for h in e.holdings.values() if h.bears is not None and h.destroyed is None
             and not is_void(e, h)]
    kinds = Counter(h.bears.kind for h in there if h.bears is not None)
    numbered = kinds.pop(NUMBERED, 0)
    within = sum(kinds[k] for k in inside(e))
    return Totals(numbered, within, sum(kinds.values()) - within)


def planned(size: int | None, caps: Mapping[str, Cap]) -> int | None:
    """How many impressions an edition comes to as declared; None: its size is not known.

    A kind that counts inside adds nothing to N. Size 20 with one BAT, 9 workshop proofs,
    one cancelled, 1-3 AP, 2 TP, one PP and up to 3 presentation proofs: 35-40 (a workshop
    agreement of the 1960s).
    """
    return None if size is None else size + sum(c.cap for c in caps.values() if not c.inside)


def proofs(register: Register, id: str) -> dict[str, Proofs]:
    """Every kind of proof that has a cap or was given, also those said at the press."""
    e = register.edition(id)
    gone: Counter[str] = Counter()
    there: Counter[str] = Counter()
    for kind, h in _kinds(register, id):
        (there if h is None or h.destroyed is None else gone)[kind] += 1
    names = [*e.caps, *sorted(k for k in {*there, *gone} if k not in e.caps)]
    return {k: Proofs(there[k], gone[k], e.caps[k].cap if k in e.caps else None,
                      k in inside(e)) for k in names}


def _kinds(register: Register, id: str) -> Iterator[tuple[str, Holding | None]]:
    for h in register.edition(id).holdings.values():
        if h.bears is not None and h.bears.kind != NUMBERED:
            yield h.bears.kind, h
    for _, sheet, held in sheets_of(register, id):
        if (held is None or held.bears is None) and sheet is not None and sheet.purpose in TRIALS:
            yield sheet.purpose, held


def accounts(register: Register, id: str) -> dict[str, int]:
    """Every sheet pulled or known, once, under what became of it: they add up to all there are.

    `destroyed` and `void` take a sheet from whatever it bore; `spoiled` and `undecided`
    are those that became nothing yet.
    """
    e = register.edition(id)
    tally: Counter[str] = Counter(_became(e, sheet, h) for _, sheet, h in sheets_of(register, id))
    tally.update(_became(e, None, h) for h in e.holdings.values() if h.papers is not None)
    return dict(tally)


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


def plates(register: Register, id: str) -> tuple[PlateFigures, ...]:
    """What each plate of the print gave, over all editions printed from it."""
    given = {e.id: Counter(p for s in register.pulled(e.id) for p in s.plates)
             for e in kin(register, id)}
    pulls = {name: sum(given[e.id][name] for e in from_same_plates(register, id, name))
             for name in dict.fromkeys(x for counted in given.values() for x in counted)}
    pulls = {name: n for name, n in pulls.items() if n}
    told = plates_told(register, id)
    done = cancelled(register, id)
    names = [*pulls, *(n for n in told if n not in pulls)]
    return tuple(PlateFigures(
        n, pulls.get(n, 0), told[n].before if n in told else None,
        told[n].state if n in told else None,
        done is not None and (not done.plates or n in done.plates)) for n in names)
