"""The fewest sheets that give a demand, from the ways to tear one sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from benchapp.reckon.tearing.fronts import Fronts
from benchapp.reckon.tearing.problem import Frame, Problem, Shape, problem
from benchapp.reckon.tearing.relaxed import Counts, Relaxed, relaxed
from benchapp.reckon.tearing.snug import snug
from benchapp.reckon.tearing.tree import Node, Split

_NODES_AT_MOST = 30_000
#: Sums a search may do: a bound needs about ten of them, fronts multiply each.
_BOUND_WORK = 1_000_000
_FRONT_WORK = 40_000


@dataclass(frozen=True, slots=True)
class Torn:
    """One sheet and how it is torn; the leaves of `tree` are places in `shapes`."""

    shapes: tuple[Shape, ...]
    tree: Node


@dataclass(frozen=True, slots=True)
class Cover:
    """Sheets that give a demand.

    Attributes:
        sheets: How each sheet is torn; equal ones stand together.
        least: No fewer sheets than this can do.
    """

    sheets: tuple[Torn, ...]
    least: int

    @property
    def exact(self) -> bool:
        """It is proved that fewer sheets cannot do."""
        return len(self.sheets) <= self.least


@dataclass(slots=True)
class _Search:
    """Looks for `demand` in so many sheets, depth first, the best filled sheet first."""

    bound: Relaxed
    ways: list[Counts]
    nodes: int = _NODES_AT_MOST
    failed: set[tuple[Counts, int]] = field(default_factory=set)

    def within(self, left: Counts, sheets: int) -> list[Counts] | None:
        """Ways for `sheets` sheets that give what is left, or None."""
        if not any(left):
            return []
        if (
            sheets <= 0
            or self.nodes <= 0
            or self.bound.least(left) > sheets
            or (left, sheets) in self.failed
        ):
            return None
        self.nodes -= 1
        for way in self._worth_trying(left):
            rest = tuple(max(0, n - w) for n, w in zip(left, way, strict=True))
            found = self.within(rest, sheets - 1)
            if found is not None:
                return [way, *found]
        if self.nodes > 0:
            self.failed.add((left, sheets))
        return None

    def _worth_trying(self, left: Counts) -> list[Counts]:
        """Ways that give the size that is hardest to get, each what-it-gives-here once."""
        scarce = max(range(len(left)), key=lambda k: left[k] * self.bound.weights[k] or left[k] > 0)
        useful: dict[Counts, Counts] = {}
        for way in self.ways:
            if way[scarce]:
                useful.setdefault(tuple(map(min, way, left)), way)
        weights = self.bound.weights

        def worth(given: Counts) -> int:
            return sum(w * n for w, n in zip(weights, given, strict=True))

        kept: list[Counts] = []
        for given in sorted(useful, key=worth, reverse=True):
            if not any(all(map(int.__ge__, k, given)) for k in kept):
                kept.append(given)
        return [useful[given] for given in kept]


def fewest(frame: Frame, shapes: Sequence[Shape], demand: Sequence[int]) -> Cover:
    """The fewest sheets that give so many of each size.

    Exact where the search ends in time or meets the bound; `Cover.exact` says so.

    Args:
        frame: The sheet.
        shapes: All shapes that may be torn.
        demand: How many of each size, above 0; every size fits on the sheet.
    """
    # No sheet needs more of a size than the demand, so limits make the bound no less true.
    free = problem(frame, shapes, demand, _BOUND_WORK)
    bound = relaxed(free, demand)
    capped = problem(frame, shapes, demand, _FRONT_WORK, free.grain)
    # Of sizes rounded up, more sheets may be needed than of the true ones.
    least = bound.least(demand) if free.grain == 1 else -(-_area(shapes, demand) // frame.area)
    fronts, found, least = _found(bound, capped, demand, least)
    own = set(fronts.whole)
    left, sheets_torn = list(demand), []
    for way in sorted(found, reverse=True):
        made, tree = (capped, fronts.tree(way)) if way in own else (free, bound.ways[way])
        if not any(s.deckles for s in shapes):  # else waste must stay where it is
            tree = _pruned(tree, made.true, left)
            # The tree lies on the sheet with its far edges still on.
            tree = snug(tree, made.true, frame.width + frame.edge, frame.height + frame.edge)
        sheets_torn.append(Torn(made.true, tree))
    return Cover(tuple(sheets_torn), least)


def _found(
    bound: Relaxed, capped: Problem, demand: Sequence[int], least: int
) -> tuple[Fronts, list[Counts], int]:
    """Ways that give the demand, the fronts they are from, and how few sheets could do."""
    sheets = bound.least(demand)
    fronts = Fronts(capped, demand, bound.weights)
    while True:
        search = _Search(bound, [*fronts.whole, *bound.ways])
        found = search.within(tuple(demand), sheets)
        if found is not None:
            return fronts, found, least
        # Only a search of all ways that came to its end proves that so many are too few.
        if fronts.exact and capped.grain == 1 and search.nodes > 0 and least == sheets:
            least += 1
        sheets += 1


def _pruned(node: Node, shapes: Sequence[Shape], left: list[int]) -> Node:
    """The way to tear without pieces that nobody wants; counts `left` down."""
    if isinstance(node, int):
        kind = shapes[node].kind
        left[kind] -= 1
        return node if left[kind] >= 0 else None
    if node is None:
        return None
    parts = tuple((length, _pruned(part, shapes, left)) for length, part in node.parts)
    return Split(node.way, parts) if any(part is not None for _, part in parts) else None


def _area(shapes: Sequence[Shape], demand: Sequence[int]) -> int:
    areas = {s.kind: s.width * s.height for s in shapes}
    return sum(areas[kind] * many for kind, many in enumerate(demand))
