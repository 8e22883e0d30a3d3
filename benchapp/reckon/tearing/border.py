"""Pieces that keep one deckle: strips along the four edges, the middle left over."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product
from typing import Final

from benchapp.reckon.dice import Dice
from benchapp.reckon.tearing.shapes import Frame, Node, Shape, Split, Way
from benchapp.reckon.tearing.strips import Strips, cut_depth, fill_lengths, side_by_side

#: In which order strips are torn off; "y" off the height, so along the width.
_ORDERS: Final[tuple[tuple[Way, ...], ...]] = (
    ("y", "y", "x", "x"), ("x", "x", "y", "y"), ("y", "x", "y", "x"), ("y", "x", "x", "y"),
    ("x", "y", "x", "y"), ("x", "y", "y", "x"),
)  # fmt: skip

#: Which pieces lie in a strip: of its way, depth and length, to their places.
_Chosen = Callable[[Way, int, int], list[int]]


def best_border(frame: Frame, shapes: Sequence[Shape], values: Sequence[int]) -> Strips:
    """The strips worth most along the edges that have a deckle.

    Args:
        frame: The sheet, with no edges torn off.
        shapes: All shapes that fit and may be torn; each keeps one deckle.
        values: What a piece of each kind is worth, whole and above 0.
    """
    edges = _Edges(frame, shapes)
    sides: list[tuple[Way, int]] = [("y", frame.width), ("x", frame.height)]
    rows = {(way, depth): fill_lengths(long, [
                (n, values[shapes[p].kind], p) for n, d, p in edges.pieces(way) if d <= depth])
            for way, long in sides for depth in edges.depths(way)}  # fmt: skip
    best, chosen = -1, None
    for order in edges.orders:
        for depths in product(*(edges.depths(way) for way in order)):
            left, worth = [frame.width, frame.height], 0
            for way, depth in zip(order, depths, strict=True):
                deep, along = (1, 0) if way == "y" else (0, 1)
                if depth <= left[deep]:
                    worth += rows[way, depth].worth(left[along])
                    left[deep] -= depth
            if worth > best:
                best, chosen = worth, (order, depths)
    assert chosen is not None  # noqa: S101  every sheet has at least two edges with deckle
    tree = edges.tree(*chosen, lambda way, depth, length: rows[way, depth].names(length))
    return Strips(best, tree)


def try_border(frame: Frame, shapes: Sequence[Shape], left: list[int], chance: Dice
               ) -> Node:  # fmt: skip
    """Strips along the edges as chance has them, of pieces still wanted; counts `left` down."""
    edges = _Edges(frame, shapes)
    order = edges.orders[chance.below(len(edges.orders))]
    choices = [edges.depths(way) for way in order]
    depths = [each[chance.below(len(each))] for each in choices]

    def pieces(way: Way, depth: int, length: int) -> list[int]:
        found: list[tuple[int, int]] = []
        while True:
            fitting = [(n, p) for n, d, p in edges.pieces(way)
                       if d <= depth and n <= length and left[shapes[p].kind]]
            if not fitting:
                return [p for _, p in sorted(found, reverse=True)]
            found.append(fitting[chance.below(len(fitting))])
            length -= found[-1][0]
            left[shapes[found[-1][1]].kind] -= 1

    return edges.tree(order, depths, pieces)


class _Edges:
    """A sheet whose edges are torn off as strips."""

    def __init__(self, frame: Frame, shapes: Sequence[Shape]) -> None:
        self._frame, self._shapes = frame, shapes
        kept = {"y": frame.ends, "x": frame.sides}
        self.orders = list(dict.fromkeys(
            tuple(way for way in order if kept[way]) for order in _ORDERS))  # fmt: skip
        self._pieces = {
            "y": [(s.width, s.height, p) for p, s in enumerate(shapes)],
            "x": [(s.height, s.width, p) for p, s in enumerate(shapes)],
        }

    def pieces(self, way: Way) -> list[tuple[int, int, int]]:
        """The pieces as (length along a strip, depth, place)."""
        return self._pieces[way]

    def depths(self, way: Way) -> list[int]:
        """How deep a strip may be."""
        return sorted({depth for _, depth, _ in self._pieces[way]})

    def tree(self, order: Sequence[Way], depths: Sequence[int], pieces: _Chosen) -> Node:
        """The tears: strips in this order, each with the pieces chosen for its length."""
        width, height = self._frame.width, self._frame.height
        strips: list[tuple[Way, int, int, Node]] = []
        for way, depth in zip(order, depths, strict=True):
            long, deep = (width, height) if way == "y" else (height, width)
            if depth > deep:
                continue
            places = pieces(way, depth, long)
            if not places:
                continue
            other: Way = "x" if way == "y" else "y"
            sizes = {p: (n, d) for n, d, p in self._pieces[way]}
            row = [(sizes[p][0], cut_depth(way, depth, sizes[p][1], p)) for p in places]
            strips.append((way, depth, deep, side_by_side(other, long, row)))
            width, height = (width, height - depth) if way == "y" else (width - depth, height)
        tree: Node = None
        for way, depth, deep, strip in reversed(strips):
            rest = ((deep - depth, tree),) if deep > depth else ()
            tree = Split(way, ((depth, strip), *rest)) if rest else strip
        return tree
