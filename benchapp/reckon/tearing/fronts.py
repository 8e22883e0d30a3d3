"""Which numbers of each size one sheet can give, so far as they can be of use.

A handful of counts is one whole number with a field for each size, so that two are added and
compared at once. Each field has a guard bit above it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from benchapp.reckon.tearing.axis import Axis
from benchapp.reckon.tearing.best import split
from benchapp.reckon.tearing.problem import Problem
from benchapp.reckon.tearing.tree import Node, Way

#: Sums of two counts after which only a few are kept.
PATIENCE = 2_500_000

_Place = tuple[int, int]


class Counts:
    """Packing of counts, each from nothing to its limit."""

    def __init__(self, most: Sequence[int]) -> None:
        # Room for twice the limit, since two are added before they are cut to it.
        self.bits = (2 * max(most)).bit_length() + 1
        self.most = self.pack(most)
        self.guards = self.pack([1 << (self.bits - 1)] * len(most))
        self._sizes = len(most)

    def pack(self, counts: Sequence[int]) -> int:
        """One whole number for these counts."""
        return sum(count << (i * self.bits) for i, count in enumerate(counts))

    def unpack(self, packed: int) -> tuple[int, ...]:
        """The counts again."""
        mask = (1 << self.bits) - 1
        return tuple(packed >> (i * self.bits) & mask for i in range(self._sizes))

    def cut(self, both: int) -> int:
        """The sum of two, each count cut to its limit."""
        within = ((self.most | self.guards) - both) & self.guards
        if within == self.guards:
            return both
        keep = within - (within >> (self.bits - 1))
        return (both & keep) | (self.most & ~keep)

    def covers(self, a: int, b: int) -> bool:
        """Whether `a` has at least as many of each size as `b`."""
        return ((a | self.guards) - b) & self.guards == self.guards

    def unbeaten(self, found: Iterable[int]) -> list[int]:
        """Only those that no other covers."""
        guards = self.guards
        over: list[int] = []  # those kept, their guard bits set
        for counts in sorted(found, reverse=True):  # what covers another is the larger number
            for kept in over:
                if (kept - counts) & guards == guards:
                    break
            else:
                over.append(counts | guards)
        return [kept ^ guards for kept in over]


class Fronts:
    """The unbeaten counts of every pair of stops.

    A stop is idle where the next narrower one gives as much. A tear to an idle stop is not worth
    a thought: a trim first and a tear to the narrower one gives the same.

    Args:
        problem: Sheet and shapes, with the limits that `most` gives.
        most: How many of each size are wanted at most.
        weights: What a piece of each size is worth, for choosing among too many counts.
        patience: Sums of two counts after which only a few are kept.
        keep: How many are kept then.

    Attributes:
        exact: Nothing was left out, so that `whole` is all there is.
    """

    def __init__(
        self,
        problem: Problem,
        most: Sequence[int],
        weights: Sequence[int],
        patience: int = PATIENCE,
        keep: int = 6,
    ) -> None:
        self.problem = problem
        self.counts = Counts(most)
        self.exact = True
        self._weights = weights
        self._left, self._few, self._keep = patience, keep, 1000
        across, up = problem.across.stops, problem.up.stops
        self._fronts: list[list[list[int]]] = [[[] for _ in up] for _ in across]
        self._idle_x = [[False] * len(up) for _ in across]
        self._idle_y = [[False] * len(up) for _ in across]
        for i in range(len(across)):
            for j in range(len(up)):
                self._fill(i, j)

    @property
    def whole(self) -> list[tuple[int, ...]]:
        """What the whole sheet can give."""
        return [self.counts.unpack(c) for c in self._fronts[-1][-1] if c]

    def tree(self, counts: Sequence[int]) -> Node:
        """The way to tear the sheet that gives one of `whole`."""
        last = len(self._fronts) - 1, len(self._fronts[-1]) - 1
        return self._tree(last, self.counts.pack(counts))

    def _fill(self, i: int, j: int) -> None:
        across, up, fronts = self.problem.across.stops[i], self.problem.up.stops[j], self._fronts
        narrower = fronts[across.below][j] if across.below >= 0 else [0]
        lower = fronts[i][up.below] if up.below >= 0 else [0]
        found = {self._one(p) for p in self.problem.leaves.get((i, j), ())}
        for a, b in across.cuts:
            if not (self._idle_x[a][j] or self._idle_x[b][j]):
                self._join(found, fronts[a][j], fronts[b][j])
        for a, b in across.gaps:
            self._join(found, fronts[a][j], fronts[b][j])
        for a, b in up.cuts:
            if not (self._idle_y[i][a] or self._idle_y[i][b]):
                self._join(found, fronts[i][a], fronts[i][b])
        for a, b in up.gaps:
            self._join(found, fronts[i][a], fronts[i][b])
        here = self._merged(found, narrower, lower)
        self._idle_x[i][j] = here is narrower or here == narrower
        self._idle_y[i][j] = here is lower or here == lower
        fronts[i][j] = here

    def _join(self, found: set[int], first: list[int], second: list[int]) -> None:
        self._left -= len(first) * len(second)
        found.update([a + b for a in first for b in second])

    def _merged(self, found: set[int], narrower: list[int], lower: list[int]) -> list[int]:
        """The unbeaten ones of what was found and of what smaller rectangles give."""
        known = {*narrower, *lower}
        new = {self.counts.cut(c) for c in found} - known
        if not new and (narrower == lower or lower == [0]):
            return narrower
        kept = self.counts.unbeaten(new | known)
        if self._left < 0:
            self._keep = self._few
        if len(kept) <= self._keep:
            return kept
        self.exact = False
        return sorted(kept, key=self._worth)[-self._keep :]

    def _worth(self, packed: int) -> int:
        counts = self.counts.unpack(packed)
        return sum(n * w for n, w in zip(counts, self._weights, strict=True))

    def _one(self, shape: int) -> int:
        return 1 << (self.problem.shapes[shape].kind * self.counts.bits)

    def _ways(self, place: _Place) -> Iterator[tuple[Way, tuple[_Place, ...]]]:
        """All ways to make a place smaller by one tear, or by two with waste between."""
        i, j = place
        for parts in _pairs(self.problem.across, i):
            yield "x", tuple((k, j) for k in parts)
        for parts in _pairs(self.problem.up, j):
            yield "y", tuple((i, k) for k in parts)

    def _tree(self, place: _Place, sought: int) -> Node:
        if not sought:
            return None
        for shape in self.problem.leaves.get(place, ()):
            if self._one(shape) == sought:
                return shape
        for way, parts in self._ways(place):
            shares = self._shares(parts, sought)
            if shares is not None:
                across = way == "x"
                axis = self.problem.across if across else self.problem.up
                step: Callable[[_Place], int] = (lambda p: p[0]) if across else (lambda p: p[1])
                whole = axis.stops[step(place)].length
                nodes = [(step(p), self._tree(p, s)) for p, s in zip(parts, shares, strict=True)]
                return split(way, axis, whole, nodes)
        raise AssertionError((place, sought))  # a front holds nothing that came from nowhere

    def _shares(self, parts: tuple[_Place, ...], sought: int) -> tuple[int, ...] | None:
        """What each part gives so that together they give what is sought."""
        first, second = ([self._fronts[i][j] for i, j in parts] * 2)[:2]
        if len(parts) == 1:
            return (sought,) if sought in first else None
        return next(
            ((a, b) for a in first for b in second if self.counts.cut(a + b) == sought), None
        )


def _pairs(axis: Axis, at: int) -> Iterator[tuple[int, ...]]:
    """What a stop becomes: the next narrower one, or two."""
    stop = axis.stops[at]
    if stop.below >= 0:
        yield (stop.below,)
    yield from stop.cuts
    yield from stop.gaps
