"""The widths (or heights) worth tearing a sheet to, and how each comes from a wider one.

A tear can be moved towards the edge until the part on its one side is exactly filled; waste
gathers on the other side and goes in one tear (normal patterns: Herz 1972; Christofides &
Whitlock 1977). So the widths worth a thought are the sums of piece widths, and a width becomes
smaller in three ways only:

- an exact cut into two such widths: one tear;
- a trim to any smaller one: one tear, whatever stands in the rows beside it;
- a cut with waste between, two tears. It is needed only where both outer edges keep their
  deckle, that is at the whole width: elsewhere a trim and an exact cut do the same.

Moving waste so never costs a tear: the part that becomes narrower saves at least the one that
the part that becomes wider may need.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stop:
    """One width on an axis.

    Attributes:
        length: The width, in 0.1 mm.
        deckles: How many of its two ends still have their deckle.
        cuts: Pairs of stops that fill it exactly; the first has the deckle where one has.
        gaps: Pairs of stops with waste between: the first exactly, the second at most.
        below: The widest stop a trim leads to (and any of the same chain below it), or -1.
        before: The stop before it in its chain, or -1.
    """

    length: int
    deckles: int
    cuts: tuple[tuple[int, int], ...] = ()
    gaps: tuple[tuple[int, int], ...] = ()
    below: int = -1
    before: int = -1


@dataclass(frozen=True, slots=True)
class Axis:
    """All stops, every one after those it can become. The last is the whole sheet."""

    stops: tuple[Stop, ...]

    @property
    def work(self) -> int:
        """How many ways there are to make a stop smaller, together."""
        return sum(len(s.cuts) + len(s.gaps) + 1 for s in self.stops)

    def fits(self, length: int) -> list[int]:
        """The stops of exactly this length."""
        return [i for i, s in enumerate(self.stops) if s.length == length]


def sums(lengths: Iterable[tuple[int, int]], whole: int) -> list[int]:
    """All sums up to `whole` of lengths, each taken at most its number of times; 0 too.

    Args:
        lengths: (length, how many of it at most).
        whole: The longest sum worth knowing.
    """
    found = 1  # bit n: n is a sum
    mask = (1 << (whole + 1)) - 1
    for length, most in lengths:
        step, left = 1, min(most, whole // length)
        while left > 0:  # 1, 2, 4, … of it, and the rest
            take = min(step, left)
            found |= (found << (length * take)) & mask
            step, left = step * 2, left - take
    return [n for n, bit in enumerate(reversed(f"{found:b}")) if bit == "1"]


def axis(patterns: Sequence[int], whole: int, deckled: bool = False, edge: int = 0) -> Axis:
    """The axis of a sheet `whole` wide.

    Args:
        patterns: The sums of piece widths, from `sums`, ascending from 0.
        whole: The width of the sheet, without edges that are torn off it.
        deckled: Both its ends have a deckle, and it matters to keep them.
        edge: What is torn off its far end anyhow, in 0.1 mm: that tear makes any width below.
    """
    stops = _chain(patterns, 0, 0)
    if deckled:
        stops += _chain(patterns, 1, len(stops))
        stops.append(_with_both(patterns, whole, len(patterns)))
    elif edge or patterns[-1] != whole:
        stops.append(Stop(whole + edge, 0, below=len(stops) - 1))
    return Axis(tuple(stops))


def _chain(patterns: Sequence[int], deckles: int, start: int) -> list[Stop]:
    """The stops with `deckles` ends in deckle, which begin at index `start`; bare ones at 0."""
    place = {length: i for i, length in enumerate(patterns)}
    found = []
    for i, length in enumerate(patterns):
        cuts = tuple(
            (start + a, place[length - first])
            for a, first in enumerate(patterns[1:i], 1)
            if length - first in place and (deckles or 2 * first <= length)
        )
        before = start + i - 1 if i else -1
        found.append(Stop(length, deckles, cuts, (), before, before))
    return found


def _with_both(patterns: Sequence[int], whole: int, start: int) -> Stop:
    """The whole width with a deckle at both ends, over the chain with one, from `start`."""
    place = {length: i for i, length in enumerate(patterns)}
    cuts, gaps = [], []
    for i, first in enumerate(patterns[1:], 1):
        rest = whole - first
        if place.get(rest):
            cuts.append((start + i, start + place[rest]))
        room = bisect_right(patterns, rest - 1) - 1
        if room > 0:
            gaps.append((start + i, start + room))
    shorter = bisect_right(patterns, whole - 1) - 1
    return Stop(whole, 2, tuple(cuts), tuple(gaps), start + shorter)
