"""What stands on a sheet, out of all that entries tell of it, in whatever order they came.

A sheet is told of by its printer one entry after another, each in place of those before. Two
books apart cannot see one another's entries. So an entry names those it was written over; what
it did not see stays beside it, and the outcome is the same whichever book took the other in. Pure.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Final

from benchapp.edition.holding import NOTHING, Bears, Holding, Reason, Telling
from benchapp.journal import Entry, Moment

Test = Callable[[Telling], bool]

#: What two books can tell differently of a sheet beside what stands on it: whether it is so, and
#: whether one for whom it is not says that of any other, also of one that it had not seen.
DOUBTS: Final[dict[str, tuple[Test, Test]]] = {
    "signed": (lambda t: t.signed is not None, lambda t: t.bare),
    "destroyed": (lambda t: t.destroyed is not None,
                  lambda t: t.firm or t.bears is not None or t.signed is not None),
}


def telling(h: Holding, entry: Entry) -> Telling:
    """What an entry tells before it says anything itself: what those it is written over told.

    It is written over those it names, and over what its own action told just before. One that
    names none, from before entries did, is written over all there is.
    """
    named = entry.body.get("over", h.all_told)
    over = {x for x in h.tellings if x in named}
    over |= {x for x in h.heads if h.tellings[x].action == entry.action}
    before = [h.tellings[x] for x in sorted(over)]
    borne = _borne(before)
    return Telling(
        entry.id, entry.action, entry.at,
        frozenset({*over, *named}).union(*(t.past for t in before)),
        borne[0] if len(borne) == 1 else None, openly=any(t.openly for t in before),
        signed=_first_signed(before),
        destroyed=_first_destroyed(before),
        passed=tuple(sorted({x for t in before for x in t.passed})),
        gave=tuple(sorted({x for t in before for x in t.gave})))


def seen_by(h: Holding, named: Iterable[str]) -> frozenset[str]:
    """Every entry about a sheet, and where it is, that whoever names these had seen."""
    known = frozenset(named)
    return known.union(*(t.past for x, t in h.tellings.items() if x in known),
                       *(s.past for s in h.places if s.id in known))


def told(h: Holding, new: Telling) -> Holding:
    """The sheet after one more: what stands on it, and what is told of it differently."""
    tellings = {**h.tellings, new.id: new}
    heads = (*(x for x in h.heads if x not in new.past), new.id)
    now = sorted((tellings[x] for x in heads),
                 key=lambda t: (t.signed is None, t.at.wall_ms, t.id))
    borne = _borne(now)
    nothing = (NOTHING,) if borne and any(_denies(tellings, t, now) for t in now) else ()
    return replace(
        h, tellings=tellings, heads=heads, bears=borne[0] if borne else None,
        also=(*borne[1:], *nothing), signed=_first_signed(now), destroyed=_first_destroyed(now),
        doubts=tuple(what for what, tests in DOUBTS.items() if _doubted(tellings, now, *tests)),
        passed=tuple(sorted({x for t in now for x in t.passed})))


def _borne(tellings: Iterable[Telling]) -> tuple[Bears, ...]:
    """Everything that is said to stand on the sheet, once.

    The total beside a number may be any where nobody wrote it: it is that of whoever did.
    """
    totals: dict[tuple[str, int | None], set[int]] = {}
    for b in (t.bears for t in tellings if t.bears is not None):
        totals.setdefault(b.claim, set()).update(() if b.of is None else (b.of,))
    return tuple(Bears(kind, number, of) for (kind, number), known in totals.items()
                 for of in (sorted(known) or (None,)))


def _denies(tellings: dict[str, Telling], t: Telling, now: Sequence[Telling]) -> bool:
    """Whether one says that nothing stands there, against another.

    Whoever looked at the sheet says it of everything; whoever took a number back says it of
    that number alone, where another, who had seen it given, holds that it stands.
    """
    if t.bears is not None:
        return False
    return t.firm or any(
        seen is not None and seen.claim == other.bears.claim
        for other in now if other.bears is not None
        for seen in (tellings[x].bears for x in t.past & other.past if x in tellings))


def _doubted(tellings: dict[str, Telling], now: Sequence[Telling], is_so: Test,
             denies: Test) -> bool:
    """Whether one holds that it is so, and another, that had seen it or looked, that it is not."""
    return any(
        denies(t) or any(x in tellings and is_so(tellings[x]) for x in t.past & other.past)
        for t in now if not is_so(t) for other in now if is_so(other))


def _first_signed(tellings: Iterable[Telling]) -> Moment | None:
    return min((t.signed for t in tellings if t.signed is not None), default=None,
               key=lambda at: at.wall_ms)


def _first_destroyed(tellings: Iterable[Telling]) -> Reason | None:
    return min((t.destroyed for t in tellings if t.destroyed is not None), default=None,
               key=lambda reason: reason.at.wall_ms)
