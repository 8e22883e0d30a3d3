"""The plain ways to tear: halving and quartering by folds, and rows and columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from benchapp.reckon.tearing.problem import Frame, Shape
from benchapp.reckon.tearing.snug import snug
from benchapp.reckon.tearing.tree import Node, Split, Way

_HALVINGS_AT_MOST = 12


@dataclass(frozen=True, slots=True)
class Folds:
    """A sheet halved again and again.

    Attributes:
        across: How often its width is halved.
        up: How often its height is.
        shape: What comes of it, at least as large as asked.
        tree: The halvings as tears.
    """

    across: int
    up: int
    shape: Shape
    tree: Node

    @property
    def pieces(self) -> int:
        """How many pieces come of it."""
        return 1 << (self.across + self.up)


def folds(frame: Frame, width: int, height: int, *, turn: bool, deckles: int) -> Folds | None:
    """The most pieces by folding in halves and tearing along the folds; None: not even two.

    Args:
        frame: The sheet.
        width: The piece's width in 0.1 mm, without tolerance: a fold is where it should be.
        height: Its height.
        turn: It may lie a quarter round.
        deckles: How many deckled edges each piece must keep.
    """
    best: Folds | None = None
    for turned, (wide, high) in enumerate([(width, height), (height, width)][: 1 + turn]):
        for across in range(_halvings(frame.width, wide) + 1):
            for up in range(_halvings(frame.height, high) + 1):
                kept = frame.sides * _least_kept(across) + frame.ends * _least_kept(up)
                fits = frame.width >= wide and frame.height >= high and kept >= deckles
                if fits and (best is None or across + up > best.across + best.up):
                    best = _folded(frame, across, up, bool(turned))
    return best if best and best.pieces > 1 else None


def _least_kept(halvings: int) -> int:
    """How many of its two ends in deckle the worst piece keeps."""
    return max(0, 2 - halvings)


def _halvings(whole: int, part: int) -> int:
    found = 0
    while whole >> (found + 1) >= part and found < _HALVINGS_AT_MOST:
        found += 1
    return found


def _folded(frame: Frame, across: int, up: int, turned: bool) -> Folds:
    tree = _halved("y", frame.height, up, _halved("x", frame.width, across, 0))
    shape = Shape(0, frame.width >> across, frame.height >> up, turned)
    return Folds(across, up, shape, _edged(frame, tree))


def _halved(way: Way, length: int, times: int, inner: Node) -> Node:
    if not times:
        return inner
    half = length // 2
    parts = ((n, _halved(way, n, times - 1, inner)) for n in (half, length - half))
    return Split(way, tuple(parts))


def _edged(frame: Frame, tree: Node) -> Node:
    """The tree on a sheet whose far edges are still on."""
    if not frame.edge:
        return tree
    inner = Split("y", ((frame.height, tree), (frame.edge, None)))
    return Split("x", ((frame.width, inner), (frame.edge, None)))


def rows_and_columns(frame: Frame, shapes: Sequence[Shape]) -> tuple[int, Node]:
    """The most pieces all laid the same way, in straight rows: how many, and the tears."""
    most, best = max(
        ((frame.width // s.width) * (frame.height // s.height), place)
        for place, s in enumerate(shapes)
    )
    if not most:
        return 0, None
    shape = shapes[best]
    columns, rows = frame.width // shape.width, frame.height // shape.height
    row: Node = Split("x", ((shape.width, best),) * columns) if columns > 1 else best
    grid: Node = Split("y", ((shape.height, row),) * rows) if rows > 1 else row
    return most, snug(grid, shapes, frame.width + frame.edge, frame.height + frame.edge)
