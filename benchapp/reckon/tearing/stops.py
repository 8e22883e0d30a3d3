"""The widths (or heights) worth tearing a sheet to.

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

from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stop:
    """One width on an axis.

    Attributes:
        length: The width, in 0.1 mm.
        deckles: How many of its two ends still have their deckle.
        below: The widest stop that a trim leads to, or -1.
    """

    length: int
    deckles: int
    below: int


def piece_sums(lengths: Iterable[tuple[int, int]], whole: int) -> list[int]:
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


def stops_of(sums: Sequence[int], whole: int, *, deckled: bool = False, edge: int = 0
             ) -> tuple[Stop, ...]:  # fmt: skip
    """The stops of a sheet `whole` wide, every one after those it can become.

    Args:
        sums: The sums of piece widths, from `piece_sums`, ascending from 0.
        whole: The width of the sheet, without edges that are torn off it. It is the last stop.
        deckled: Both its ends have a deckle, and it matters to keep them.
        edge: What is torn off its far end anyhow: that tear makes any width below.
    """
    stops = [Stop(n, 0, i - 1) for i, n in enumerate(sums)]
    if deckled:
        start = len(stops)
        stops += [Stop(n, 1, start + i - 1 if i else -1) for i, n in enumerate(sums)]
        below = len(stops) - 1 if sums[-1] < whole else len(stops) - 2
        stops.append(Stop(whole, 2, below))
    elif edge or sums[-1] != whole:
        stops.append(Stop(whole + edge, 0, len(stops) - 1))
    return tuple(stops)
