"""All ways to tear one sheet edge to edge, as far as a bound on the work lets them be tried.

Recursion over all pairs of stops (Gilmore & Gomory 1965; Christofides & Whitlock 1977). What a
rectangle gives is one whole number or several, its *yields*; what a yield means is for `Goal`
to say: the most value with the fewest tears, or every count of each size that no other covers.

A stop is idle where a trim to a narrower one gives as much: a cut to it is not tried, since a
trim first and a cut to the narrower one gives the same. That leaves a small part of all cuts.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Protocol

from benchapp.reckon.tearing.shapes import Frame, Node, Shape, Split, Way
from benchapp.reckon.tearing.stops import Stop, piece_sums, stops_of

Yields = tuple[int, ...]
#: What parts of a rectangle give, by their length; those that are not idle, shortest first.
Beside = dict[int, Yields]

#: Cuts that are tried for one question before the search owns up: about half a second.
MOST_WORK: Final = 1_200_000
#: What a pair of stops costs by itself, in cuts.
_PAIR_COST: Final = 5
#: Yields are compared in pairs: so many pairs cost as much as a cut.
SORT_COST: Final = 40


class WorkSpent(Exception):  # noqa: N818  no error: what was found so far is the answer
    """A search tried as much as it may, and did not come to its end."""


@dataclass(slots=True)
class Work:
    """How much may still be tried.

    Attributes:
        left: Cuts that may still be tried.
    """

    left: int = MOST_WORK

    def spend(self, cuts: int) -> None:
        """Count what was tried.

        Raises:
            WorkSpent: No more may be.
        """
        self.left -= cuts
        if self.left < 0:
            raise WorkSpent


class Goal(Protocol):
    """What a search looks for.

    Attributes:
        tear: What a tear takes off a yield.
    """

    tear: int

    def leaf(self, shape: Shape) -> int:
        """The yield of a piece."""

    def keep(self, found: Iterable[int]) -> Yields:
        """Those worth keeping of yields found; () if none gives anything."""

    def joined(self, both: int) -> int:
        """The sum of two yields, as it counts."""


class MostValue:
    """The most value, and among ways to it the fewest tears.

    A yield is value × scale - tears, with a scale above any number of tears.

    Args:
        frame: The sheet.
        shapes: What may be torn from it.
        values: What a piece of each kind is worth, whole and above 0.
    """

    tear = 1

    def __init__(self, frame: Frame, shapes: Sequence[Shape], values: Sequence[int]) -> None:
        # A way to n pieces takes fewer than 4 n tears: n - 1 cuts, and trims.
        self.scale = 4 * (frame.area // min((s.area for s in shapes), default=1) + 1) + 4
        self._values = values

    def leaf(self, shape: Shape) -> int:
        """Value × scale."""
        return self._values[shape.kind] * self.scale

    def keep(self, found: Iterable[int]) -> Yields:
        """The greatest."""
        best = max(found, default=0)
        return (best,) if best > 0 else ()

    def joined(self, both: int) -> int:
        """The sum."""
        return both


    def told(self, given: int) -> tuple[int, int]:
        """The value in a yield, and the tears."""
        value = -(-given // self.scale)
        return value, value * self.scale - given


class AllCounts:
    """Every count of pieces that no other covers, each size up to what is wanted of it.

    A yield has a field of bits for each size, a guard bit above each, so that two are added and
    compared at once. Tears do not count.

    Args:
        wanted: How many of each size are of use.
    """

    tear = 0

    def __init__(self, wanted: Sequence[int]) -> None:
        # Room for twice the number, since two are added before they are cut to it.
        self._bits = (2 * max(wanted)).bit_length() + 1
        self._sizes = len(wanted)
        self.most = self.pack(wanted)
        self._guards = self.pack([1 << (self._bits - 1)] * len(wanted))

    def pack(self, counts: Sequence[int]) -> int:
        """One whole number for these counts."""
        return sum(count << (i * self._bits) for i, count in enumerate(counts))

    def unpack(self, packed: int) -> tuple[int, ...]:
        """The counts again."""
        mask = (1 << self._bits) - 1
        return tuple(packed >> (i * self._bits) & mask for i in range(self._sizes))

    def leaf(self, shape: Shape) -> int:
        """One of its size."""
        return 1 << (shape.kind * self._bits)

    def joined(self, both: int) -> int:
        """The sum of two, each count cut to what is wanted."""
        within = ((self.most | self._guards) - both) & self._guards
        if within == self._guards:
            return both
        keep = within - (within >> (self._bits - 1))
        return (both & keep) | (self.most & ~keep)


    def keep(self, found: Iterable[int]) -> Yields:
        """Those that no other covers."""
        guards = self._guards
        over: list[int] = []  # those kept, their guard bits set
        for counts in sorted(set(map(self.joined, found)), reverse=True):
            for kept in over:  # what covers another is the larger number
                if (kept - counts) & guards == guards:
                    break
            else:
                over.append(counts | guards)
        return tuple(kept ^ guards for kept in over if kept != guards)


class Search:
    """What every pair of stops gives.

    Args:
        frame: The sheet.
        shapes: All shapes that may be torn, both ways round where turning is allowed; all fit.
        goal: What is looked for.
        work: How much may be tried.
        wanted: How many of each kind are wanted at most; None: no limit.

    Raises:
        WorkSpent: More would have to be tried.
    """

    def __init__(self, frame: Frame, shapes: Sequence[Shape], goal: Goal, work: Work,
                 wanted: Sequence[int] | None = None) -> None:  # fmt: skip
        self._shapes = tuple(shapes)
        self._goal, self._work, self._edge = goal, work, frame.edge
        self._deckles = min((s.deckles for s in self._shapes), default=0)

        self._across = self._stops([(s.width, s.height == frame.height) for s in self._shapes],
                                   frame.width, frame.sides, wanted)
        self._up = self._stops([(s.height, s.width == frame.width) for s in self._shapes],
                               frame.height, frame.ends, wanted)
        wide, high = len(self._across), len(self._up)
        work.spend(_PAIR_COST * wide * high // (2 if self._deckles else 1))
        self._leaves = self._find_leaves()
        useful = [(i, j) for i, across in enumerate(self._across) for j, up in enumerate(self._up)
                  if across.deckles + up.deckles >= self._deckles]  # fmt: skip
        # Of each rectangle: what it gives, and what it or a narrower (lower) one gives.
        self._given: list[list[Yields]] = [[()] * high for _ in range(wide)]
        self._narrower: list[list[Yields]] = [[()] * high for _ in range(wide)]
        self._lower: list[list[Yields]] = [[()] * high for _ in range(wide)]
        # By the other stop and the number of deckled ends: length -> what is not idle.
        self._columns: list[list[Beside]] = [[{}, {}, {}] for _ in range(high)]
        self._rows: list[list[Beside]] = [[{}, {}, {}] for _ in range(wide)]
        for i, j in useful:
            self._fill(i, j)

    @property
    def whole(self) -> Yields:
        """What the whole sheet gives."""
        return self._given[-1][-1]

    def tree(self, given: int) -> Node:
        """The way to tear the sheet that gives one of `whole`."""
        return self._tree(len(self._across) - 1, len(self._up) - 1, given)

    def _stops(self, lengths: Sequence[tuple[int, bool]], whole: int, deckled: bool,
               wanted: Sequence[int] | None) -> tuple[Stop, ...]:  # fmt: skip
        """The stops of one side; `lengths` say too whether a piece spans the other one."""
        most = [whole if wanted is None else wanted[s.kind] for s in self._shapes]
        if self._deckles > 1:  # then a piece that spans nothing lies in a corner
            most = [n if spans else min(n, 2) for n, (_, spans) in zip(most, lengths, strict=True)]
        sums = piece_sums([(n, m) for (n, _), m in zip(lengths, most, strict=True)], whole)
        deckled = deckled and self._deckles > 0
        return stops_of(sums, whole, deckled=deckled, edge=self._edge)

    def _find_leaves(self) -> dict[tuple[int, int], list[int]]:
        """Which shapes fill which pair of stops exactly."""
        found: dict[tuple[int, int], list[int]] = {}
        for place, shape in enumerate(self._shapes):
            wide = [i for i, stop in enumerate(self._across) if stop.length == shape.width]
            high = [j for j, stop in enumerate(self._up) if stop.length == shape.height]
            for i in wide:
                for j in high:
                    if self._across[i].deckles + self._up[j].deckles >= shape.deckles:
                        found.setdefault((i, j), []).append(place)
        return found

    def _fill(self, i: int, j: int) -> None:
        across, up, goal = self._across[i], self._up[j], self._goal
        narrower = self._narrower[across.below][j] if across.below >= 0 else ()
        lower = self._lower[i][up.below] if up.below >= 0 else ()
        found = {goal.leaf(self._shapes[p]) for p in self._leaves.get((i, j), ())}
        self._cut(found, across, self._columns[j])
        self._cut(found, up, self._rows[i])
        if across.deckles == 2:
            self._cut_with_waste(found, across, self._columns[j][1])
        if up.deckles == 2:
            self._cut_with_waste(found, up, self._rows[i][1])
        many = len(found) + len(narrower) + len(lower)
        self._work.spend(many * many // SORT_COST)
        tear = goal.tear
        trimmed_x, trimmed_y = [n - tear for n in narrower], [n - tear for n in lower]
        if found or (trimmed_x and trimmed_y):
            given = goal.keep([*found, *trimmed_x, *trimmed_y])
        else:
            given = tuple(trimmed_x or trimmed_y)
        self._given[i][j] = given
        if not given:
            return
        if list(given) == trimmed_x:
            self._narrower[i][j] = narrower
        else:
            self._narrower[i][j] = goal.keep([*given, *narrower])
            self._columns[j][across.deckles][across.length] = given
        if list(given) == trimmed_y:
            self._lower[i][j] = lower
        else:
            self._lower[i][j] = goal.keep([*given, *lower])
            self._rows[i][up.deckles][up.length] = given

    def _cut(self, found: set[int], stop: Stop, beside: Sequence[Beside]) -> None:
        """Add what the exact cuts of one stop give, from what its parts give by their deckles."""
        whole = stop.length
        first, second = beside[min(stop.deckles, 1)], beside[stop.deckles // 2]
        if not first or not second:
            return
        lengths = list(first)
        if first is second:
            lengths = lengths[: bisect_right(lengths, whole // 2)]
        tear, tried = self._goal.tear, len(lengths)
        for length in lengths:
            given, other = first.get(length), second.get(whole - length)
            if given and other:
                if len(given) == len(other) == 1:
                    found.add(given[0] + other[0] - tear)
                else:
                    tried += len(given) * len(other)
                    found.update([a + b - tear for a in given for b in other])
        self._work.spend(tried)

    def _cut_with_waste(self, found: set[int], stop: Stop, beside: Beside) -> None:
        """Add what cuts of the whole give with waste between two ends in deckle."""
        lengths = list(beside.items())
        for length, given in lengths:
            for other, more in lengths:
                if length + other >= stop.length:
                    break
                self._work.spend(len(given) * len(more))
                found.update([a + b - 2 * self._goal.tear for a in given for b in more])

    def _tree(self, i: int, j: int, sought: int) -> Node:
        for place in self._leaves.get((i, j), ()):
            if self._goal.leaf(self._shapes[place]) == sought:
                return place
        columns = self._given
        found = self._split(
            "x", self._across, i, sought, lambda k: columns[k][j], lambda k, n: self._tree(k, j, n)
        ) or self._split(
            "y", self._up, j, sought, lambda k: columns[i][k], lambda k, n: self._tree(i, k, n)
        )
        if found is None:  # the table holds nothing that did not come from one of these
            raise AssertionError((i, j))
        return found

    def _split(
        self,
        way: Way,
        stops: Sequence[Stop],
        at: int,
        sought: int,
        given: Callable[[int], Yields],
        tree: Callable[[int, int], Node],
    ) -> Split | None:
        """The tears that divide one side and give `sought`, if such there are."""
        tear, whole = self._goal.tear, stops[at].length
        trims = [k for k in _narrower(stops, at) if sought + tear in given(k)]
        if trims:
            length = stops[trims[-1]].length
            return Split(way, ((length, tree(trims[-1], sought + tear)), (whole - length, None)))
        for a, b in _pairs(stops, at):
            waste = whole - stops[a].length - stops[b].length
            for one in given(a):
                for other in given(b):
                    if self._goal.joined(one + other - tear * (2 if waste else 1)) == sought:
                        middle: list[tuple[int, Node]] = [(waste, None)] if waste else []
                        last = (stops[b].length, tree(b, other))
                        return Split(way, ((stops[a].length, tree(a, one)), *middle, last))
        return None


def _narrower(stops: Sequence[Stop], at: int) -> Iterator[int]:
    """The stops that one trim leads to, widest first, without the empty one."""
    at = stops[at].below
    while at >= 0 and stops[at].length:
        yield at
        at = stops[at].below


def _pairs(stops: Sequence[Stop], at: int) -> Iterator[tuple[int, int]]:
    """The pairs of stops that a cut leads to; waste between them only where both have deckle."""
    whole, deckles = stops[at].length, stops[at].deckles
    firsts = [i for i, s in enumerate(stops) if s.length and s.deckles == min(deckles, 1)]
    seconds = {s.length: i for i, s in enumerate(stops) if s.length and s.deckles == deckles // 2}
    for a in reversed(firsts):
        b = seconds.get(whole - stops[a].length)
        if b is not None:
            yield a, b
    if deckles == 2:
        for a in firsts:
            for length, b in seconds.items():
                if stops[a].length + length < whole:
                    yield a, b
