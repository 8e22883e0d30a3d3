"""What stands on a sheet, out of all that entries tell of it, in whatever order they came.

A sheet is told of by its printer one entry after another, each in place of those before. Two
books apart cannot see one another's entries. So an entry names those it was written over; what
it did not see stays beside it, and the outcome is the same whichever book took the other in. Pure.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Final

from benchapp.edition.holding import (
    BEARS,
    DESTROYED,
    KNOWN,
    NOTHING,
    SIGNED,
    WHOLE,
    Holding,
    Reason,
    SheetLabel,
    Telling,
)
from benchapp.events.entry import Entry, Moment
from benchapp.events.event import BookEvent, over_of

Test = Callable[[Telling], bool]

#: What two books can tell differently of a sheet beside what stands on it: whether it is so, and
#: whether one for whom it is not says that of any other, also of one that it had not seen.
DOUBTS: Final[dict[str, tuple[Test, Test]]] = {
    SIGNED: (lambda t: t.signed is not None, lambda t: t.bare),
    DESTROYED: (lambda t: t.destroyed is not None,
                lambda t: t.whole or t.firm or t.bears is not None or t.signed is not None),
    KNOWN: (lambda t: t.absent, lambda t: not t.absent),
}


def inherited_telling(h: Holding, entry: Entry) -> Telling:
    """What an entry tells before it says anything itself: what those it is written over told.

    It is written over those it names, and over what its own action told just before.
    """
    named = named_over(h, entry.event)
    over = {x for x in h.tellings if x in named}
    over |= {x for x in h.heads if h.tellings[x].action == entry.action}
    before = [h.tellings[x] for x in sorted(over)]
    on, known = _last(before, BEARS), _last(before, KNOWN)
    borne = _borne(on)
    return Telling(
        entry.id, entry.action, entry.at,
        frozenset({*over, *named}).union(*(t.past for t in before)),
        borne[0] if len(borne) == 1 else None, openly=any(t.openly for t in on),
        signed=_first_signed(_last(before, SIGNED)),
        destroyed=_first_destroyed(_last(before, DESTROYED)),
        passed=tuple(sorted({x for t in on for x in t.passed})),
        gave=tuple(sorted({x for t in on for x in t.gave})),
        absent=bool(known) and all(t.absent for t in known))


def named_over(h: Holding, said: BookEvent) -> tuple[str, ...]:
    """The entries an event about a sheet is written over.

    One that names none, from before entries did, is written over all there is.
    """
    over = over_of(said)
    return h.all_told if over is None else over


def _last(tellings: Sequence[Telling], what: str) -> list[Telling]:
    """Those that tell of this and that no other of them has spoken over."""
    of = [t for t in tellings if what in t.about]
    return [t for t in of if not any(t.id in other.past for other in of)]


def seen_by(h: Holding, named: Iterable[str]) -> frozenset[str]:
    """Every entry about a sheet, and where it is, that whoever names these had seen."""
    known = frozenset(named)
    return known.union(*(t.past for x, t in h.tellings.items() if x in known),
                       *(s.past for s in h.places if s.id in known))


def add_version(h: Holding, new: Telling) -> Holding:
    """The sheet after one more: what stands on it, and what is told of it differently."""
    tellings = {**h.tellings, new.id: new}
    latest = {what: _heads(tellings, h.latest.get(what, ()), new) if what in new.about
              else h.latest.get(what, ()) for what in sorted(WHOLE)}
    now = {what: sorted((tellings[x] for x in heads),
                        key=lambda t: (t.signed is None, t.at.wall_ms, t.id))
           for what, heads in latest.items()}
    on = now[BEARS]
    borne = _borne(on)
    nothing = (NOTHING,) if borne and any(_denies(tellings, t, on) for t in on) else ()
    return replace(
        h, tellings=tellings, latest=latest, bears=borne[0] if borne else None,
        also=(*borne[1:], *nothing), signed=_first_signed(now[SIGNED]),
        destroyed=_first_destroyed(now[DESTROYED]),
        absent=bool(now[KNOWN]) and all(t.absent for t in now[KNOWN]),
        doubts=tuple(what for what, tests in DOUBTS.items()
                     if _doubted(tellings, now[what], *tests)),
        passed=tuple(sorted({x for t in on for x in t.passed})))


def _heads(tellings: Mapping[str, Telling], before: Iterable[str],
           new: Telling) -> tuple[str, ...]:
    """Those nobody has spoken over, after one more that tells of the same thing."""
    left = tuple(x for x in before if not _spoken_over(tellings, tellings[x], new))
    if any(_spoken_over(tellings, new, tellings[x]) for x in left):
        return left
    return (*left, new.id)


def _spoken_over(tellings: Mapping[str, Telling], one: Telling, later: Telling) -> bool:
    """Whether the later was written by one who had seen the other, or the same line elsewhere.

    Two books that take in one old paper tell the same: what one of them put right since has
    been put right for both.
    """
    return one.id in later.past or (one.line is not None and any(
        x in tellings and tellings[x].line == one.line for x in later.past))


def _borne(tellings: Iterable[Telling]) -> tuple[SheetLabel, ...]:
    """Everything that is said to stand on the sheet, once.

    The total beside a number may be any where nobody wrote it: it is that of whoever did.
    """
    totals: dict[tuple[str, int | None], set[int]] = {}
    for b in (t.bears for t in tellings if t.bears is not None):
        totals.setdefault(b.claim, set()).update(() if b.of is None else (b.of,))
    return tuple(SheetLabel(kind, number, of) for (kind, number), known in totals.items()
                 for of in (sorted(known) or (None,)))


def _denies(tellings: Mapping[str, Telling], t: Telling, now: Sequence[Telling]) -> bool:
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


def _doubted(tellings: Mapping[str, Telling], now: Sequence[Telling], is_so: Test,
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
