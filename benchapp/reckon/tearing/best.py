"""The way to tear one sheet that is worth most and, among those, takes the fewest tears.

Exact recursion over all pairs of stops (Gilmore & Gomory 1965; Christofides & Whitlock 1977),
on whole numbers value × scale - tears. Rows are added and compared whole, by `map`, since that
is where all the time goes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from operator import add, itemgetter
from typing import Any

from benchapp.reckon.tearing.axis import Axis, Stop
from benchapp.reckon.tearing.problem import Problem
from benchapp.reckon.tearing.tree import Node, Split, Way

_Pick = Callable[[list[int]], tuple[int, ...]]


class Best:
    """The best of every pair of stops.

    Args:
        problem: Sheet and shapes.
        values: What a piece of each kind is worth, whole and above 0.
    """

    def __init__(self, problem: Problem, values: Sequence[int]) -> None:
        self.problem = problem
        smallest = min((s.width * s.height for s in problem.shapes), default=1)
        # A guillotine layout of n pieces takes fewer than 4 n tears: n-1 cuts, and trims.
        self.scale = 4 * (problem.frame.width * problem.frame.height // smallest + 1) + 4
        self._worth = [values[s.kind] * self.scale for s in problem.shapes]
        self._rows: list[list[int]] = []
        self._fill()

    @property
    def value(self) -> int:
        """What the whole sheet is worth at best."""
        return self.at(-1, -1)

    def at(self, i: int, j: int) -> int:
        """What the rectangle at two stops is worth at best."""
        return -(-self._rows[i][j] // self.scale)

    @property
    def tears(self) -> int:
        """The fewest tears that gives it, edges torn off first not counted."""
        return self.value * self.scale - self._rows[-1][-1]

    def tree(self) -> Node:
        """A way to tear the sheet that is best."""
        return self._tree(len(self._rows) - 1, len(self._rows[-1]) - 1)

    def _fill(self) -> None:
        across, up = self.problem.across, self.problem.up
        picks = [_picks(stop) for stop in up.stops]
        standing: dict[int, list[tuple[int, tuple[int, ...]]]] = {}
        for (i, j), places in self.problem.leaves.items():
            standing.setdefault(i, []).append((j, places))
        widest: list[list[int]] = []  # per stop: the best of it and all narrower of its chain
        for i, stop in enumerate(across.stops):
            row = self._across(stop, widest)
            for j, places in standing.get(i, ()):
                row[j] = max(row[j], *(self._worth[p] for p in places))
            _up(row, up, picks)
            self._rows.append(row)
            widest.append(row if stop.before < 0 else list(map(max, widest[stop.before], row)))

    def _across(self, stop: Stop, widest: list[list[int]]) -> list[int]:
        """The best of one stop across, by tears that divide its width."""
        rows, nothing = self._rows, [0] * len(self.problem.up.stops)
        once = [map(add, rows[a], rows[b]) for a, b in stop.cuts]
        if stop.below >= 0:
            once.append(map(int, widest[stop.below]))
        twice = [map(add, rows[a], widest[b]) for a, b in stop.gaps]
        torn_once = [v - 1 for v in map(max, nothing, nothing, *once)]
        torn_twice = [v - 2 for v in map(max, nothing, nothing, *twice)]
        return list(map(max, nothing, torn_once, torn_twice))

    def _tree(self, i: int, j: int) -> Node:
        sought = self._rows[i][j]
        if sought <= 0:
            return None
        for place in self.problem.leaves.get((i, j), ()):
            if self._worth[place] == sought:
                return place
        rows = self._rows
        found = self._split("x", i, lambda k: rows[k][j], sought, lambda k: self._tree(k, j))
        found = found or self._split(
            "y", j, lambda k: rows[i][k], sought, lambda k: self._tree(i, k)
        )
        if found is None:  # the table holds nothing that did not come from one of these
            raise AssertionError((i, j))
        return found

    def _split(
        self,
        way: Way,
        at: int,
        worth: Callable[[int], int],
        sought: int,
        tree: Callable[[int], Any],
    ) -> Split | None:
        """The tears that divide one side and give `sought`, if such there are."""
        axis = self.problem.across if way == "x" else self.problem.up
        whole = axis.stops[at].length
        for parts, tears in ways(axis, at):
            if sum(map(worth, parts)) - tears == sought:
                return split(way, axis, whole, [(k, tree(k)) for k in parts])
        return None


def ways(axis: Axis, at: int) -> list[tuple[tuple[int, ...], int]]:
    """All ways to make a stop smaller: the stops it becomes, and the tears; waste first."""
    stop = axis.stops[at]
    trims = [((k,), 1) for k in down(axis, stop.below)]
    gaps = [((a, k), 2) for a, b in stop.gaps for k in down(axis, b)]
    return [*trims, *gaps, *((pair, 1) for pair in reversed(stop.cuts))]


def down(axis: Axis, at: int) -> list[int]:
    """A stop and all narrower ones of its chain, without the empty one."""
    found = []
    while at >= 0 and axis.stops[at].length:
        found.append(at)
        at = axis.stops[at].before
    return found


def split(way: Way, axis: Axis, whole: int, parts: Sequence[tuple[int, Node]]) -> Split:
    """A split whose parts are filled exactly, with the waste between or behind them."""
    (first, node), *others = parts
    filled = [(axis.stops[first].length, node)]
    waste = whole - sum(axis.stops[k].length for k, _ in parts)
    middle: list[tuple[int, Node]] = [(waste, None)] if waste else []
    return Split(way, (*filled, *middle, *((axis.stops[k].length, n) for k, n in others)))


def _picks(stop: Stop) -> tuple[_Pick, _Pick] | None:
    """The two halves of all exact cuts of a stop, as one fetch each."""
    if not stop.cuts:
        return None
    pairs = [*stop.cuts, stop.cuts[0]]  # itemgetter gives a tuple for two and more only
    return itemgetter(*(a for a, _ in pairs)), itemgetter(*(b for _, b in pairs))


def _up(row: list[int], up: Axis, picks: list[tuple[_Pick, _Pick] | None]) -> None:
    """Better a row, in place, by tears that divide the height."""
    highest: list[int] = []
    for j, stop in enumerate(up.stops):
        best = row[j]
        if pick := picks[j]:
            best = max(best, max(map(add, pick[0](row), pick[1](row))) - 1)
        if stop.gaps:
            best = max(best, max(row[a] + highest[b] for a, b in stop.gaps) - 2)
        if stop.below >= 0:
            best = max(best, highest[stop.below] - 1)
        row[j] = best
        highest.append(best if stop.before < 0 else max(best, highest[stop.before]))
