"""The fewest sheets that give so many of each of several sizes.

All counts that one sheet can give are found, then all that two can, and so on, until the demand
is among them: that is exact. Where one sheet gives too many counts to try, sheets are filled one
after the other, each with the best of many trial fillings, and what is not proved is said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Final

from benchapp.reckon.dice import Dice
from benchapp.reckon.tearing.border import try_border
from benchapp.reckon.tearing.one_sheet import best_sheet
from benchapp.reckon.tearing.search import SORT_COST, AllCounts, Search, Work, WorkSpent
from benchapp.reckon.tearing.shapes import Frame, Node, Shape, Split, Way, count_pieces
from benchapp.reckon.tearing.strips import trim_to

#: Trial fillings of one sheet.
_TRIALS: Final = 60
#: Pieces laid in all trials for one question; then the best so far is the answer.
_MOST_LAID: Final = 30_000
#: What a search for one sheet may try within them, in cuts.
_SMALL_WORK: Final = 100_000


@dataclass(frozen=True, slots=True)
class Cover:
    """Sheets that give a demand.

    Attributes:
        sheets: How each sheet is torn; equal ones stand together.
        least: No fewer sheets than this can do.
    """

    sheets: tuple[Node, ...]
    least: int

    @property
    def exact(self) -> bool:
        """It is proved that fewer sheets cannot do."""
        return len(self.sheets) <= self.least


def fewest_sheets(frame: Frame, shapes: tuple[Shape, ...], demand: Sequence[int], work: Work
                  ) -> Cover:  # fmt: skip
    """The fewest sheets that give so many of each size.

    Args:
        frame: The sheet.
        shapes: All shapes that fit on it and may be torn.
        demand: How many of each size, above 0; some shape of every size keeps its deckles.
        work: How much may be tried.
    """
    goal = AllCounts(demand)
    try:
        trees = _cover(Search(frame, shapes, goal, work, demand), goal, work)
        least = len(trees)
    except WorkSpent:
        least = _least(frame, shapes, demand)
        trees = _filled(frame, shapes, demand, least)
    left = list(demand)
    pruned = [_prune(tree, shapes, left) for tree in trees]
    return Cover(tuple(sorted(pruned, key=lambda t: count_pieces(t, shapes, len(left)))), least)


def _cover(search: Search, goal: AllCounts, work: Work) -> list[Node]:
    """The fewest sheets of all that one sheet can give.

    Raises:
        WorkSpent: More would have to be tried.
    """
    together: list[dict[int, tuple[int, int]]] = [{given: (0, given) for given in search.whole}]
    while goal.most not in together[-1]:
        found: dict[int, tuple[int, int]] = {}
        for before in together[-1]:
            work.spend(len(search.whole))
            for given in search.whole:
                found.setdefault(goal.joined(before + given), (before, given))
        work.spend(len(found) ** 2 // SORT_COST)
        together.append({given: found[given] for given in goal.keep(found)})
    trees, given = [], goal.most
    for level in reversed(together):
        given, last = level[given]
        trees.append(search.tree(last))
    return trees


def _least(frame: Frame, shapes: Sequence[Shape], demand: Sequence[int]) -> int:
    """No fewer sheets than this can do, by area and by what a sheet gives of each size alone."""
    areas = [min(s.area for s in shapes if s.kind == k) for k in range(len(demand))]
    bounds = [-(-sum(map(int.__mul__, areas, demand)) // frame.area)]
    for kind, wanted in enumerate(demand):
        alone = [s for s in shapes if s.kind == kind]
        most = best_sheet(frame, alone, [1] * len(demand), Work(_SMALL_WORK)).most
        bounds.append(-(-wanted // most))
    return max(bounds)


def _filled(frame: Frame, shapes: tuple[Shape, ...], demand: Sequence[int], least: int
            ) -> list[Node]:  # fmt: skip
    """Few sheets, filled one after the other; round after round, each with other values."""
    chance = Dice(1)
    areas = [max(s.area for s in shapes if s.kind == k) for k in range(len(demand))]
    filling = _Filling(frame, shapes, areas, chance)
    best: list[Node] = []
    while filling.laid < _MOST_LAID and (not best or len(best) > least):
        values = [round(a * (0.7 + 0.7 * chance.share())) for a in areas] if best else areas
        trees: list[Node] = []
        left = list(demand)
        while any(left) and not (best and len(trees) + 1 >= len(best)):
            tree = filling.best(left, values)
            counts = count_pieces(tree, shapes, len(demand))
            useful = tuple(map(min, counts, left))
            while any(left) and tuple(map(min, counts, left)) == useful:
                trees.append(tree)
                left = [max(0, n - m) for n, m in zip(left, counts, strict=True)]
        if not any(left):
            best = trees
    return best


class _Filling:
    """Fills one sheet with pieces still wanted.

    Attributes:
        laid: How many pieces were laid in all trials.
    """

    def __init__(self, frame: Frame, shapes: tuple[Shape, ...], areas: Sequence[int],
                 chance: Dice) -> None:  # fmt: skip
        self._frame, self._shapes, self._areas = frame, shapes, areas
        self._chance = chance
        self._searched: dict[tuple[bool, ...], Node] = {}
        self.laid = 0

    def best(self, left: Sequence[int], values: Sequence[int]) -> Node:
        """The sheet that gives the most that is wanted, by the value of a piece of each size."""
        deckles = self._shapes[0].deckles
        found = [] if deckles == 1 else [self._unlimited(left)]
        if deckles < 2:
            found += [self._trial(left) for _ in range(_TRIALS)]
        self.laid += _TRIALS

        def worth(tree: Node) -> int:
            counts = count_pieces(tree, self._shapes, len(left))
            self.laid += sum(counts)
            return sum(v * min(n, m) for v, n, m in zip(values, left, counts, strict=True))

        return max(found, key=worth)

    def _unlimited(self, left: Sequence[int]) -> Node:
        """The best sheet, were as many wanted of each size that still is wanted as it gives."""
        kinds = tuple(n > 0 for n in left)
        if kinds not in self._searched:
            places = [p for p, s in enumerate(self._shapes) if kinds[s.kind]]
            shapes = [self._shapes[p] for p in places]
            sheet = best_sheet(self._frame, shapes, self._areas, Work(_SMALL_WORK))
            self._searched[kinds] = _renamed(sheet.tree, places)
        return self._searched[kinds]

    def _trial(self, left: Sequence[int]) -> Node:
        frame = self._frame
        if self._shapes[0].deckles:
            return try_border(frame, self._shapes, list(left), self._chance)
        tree = _fill_once(frame.width, frame.height, self._shapes, list(left), self._chance)
        return trim_to(frame, frame.width, frame.height, tree)


def _renamed(node: Node, places: Sequence[int]) -> Node:
    """The tree with each leaf at its place among all shapes."""
    if isinstance(node, int):
        return places[node]
    if node is None:
        return None
    return Split(node.way, tuple((n, _renamed(part, places)) for n, part in node.parts))


def _fill_once(width: int, height: int, shapes: tuple[Shape, ...], left: list[int],
               chance: Dice) -> Node:  # fmt: skip
    """Fill a rectangle with blocks of like pieces, as chance has it; counts `left` down."""
    fitting = [p for p, s in enumerate(shapes)
               if left[s.kind] and s.width <= width and s.height <= height]
    if not fitting:
        return None
    at = chance.below(sum(shapes[p].area for p in fitting))  # larger pieces more often
    place = next(p for p, most in zip(fitting, accumulate(shapes[p].area for p in fitting),
                                      strict=True) if at < most)  # fmt: skip
    shape = shapes[place]
    columns = min(width // shape.width, left[shape.kind])
    if chance.share() < 0.3:
        columns = 1 + chance.below(columns)
    rows = min(height // shape.height, left[shape.kind] // columns)
    if chance.share() < 0.3:
        rows = 1 + chance.below(rows)
    left[shape.kind] -= columns * rows
    wide, high = columns * shape.width, rows * shape.height
    row: Node = Split("x", ((shape.width, place),) * columns) if columns > 1 else place
    block: Node = Split("y", ((shape.height, row),) * rows) if rows > 1 else row
    if chance.share() < 0.5:
        above = _fill_once(wide, height - high, shapes, left, chance)
        beside = _fill_once(width - wide, height, shapes, left, chance)
        return _two("x", _two("y", block, high, above, height - high), wide, beside, width - wide)
    beside = _fill_once(width - wide, high, shapes, left, chance)
    above = _fill_once(width, height - high, shapes, left, chance)
    return _two("y", _two("x", block, wide, beside, width - wide), high, above, height - high)


def _two(way: Way, first: Node, length: int, second: Node, rest: int) -> Node:
    """Two parts, or one where nothing is left beside it."""
    return Split(way, ((length, first), (rest, second))) if rest else first


def _prune(node: Node, shapes: Sequence[Shape], left: list[int]) -> Node:
    """The way to tear without pieces that nobody wants; counts `left` down."""
    if isinstance(node, int):
        kind = shapes[node].kind
        left[kind] -= 1
        return node if left[kind] >= 0 else None
    if node is None:
        return None
    parts = tuple((length, _prune(part, shapes, left)) for length, part in node.parts)
    return Split(node.way, parts) if any(part is not None for _, part in parts) else None
