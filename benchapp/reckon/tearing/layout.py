"""Where everything lies on the sheet: pieces, waste, and the tears in their order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from benchapp.reckon.tearing.shapes import Frame, Node, Shape, Split, Way


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle on the sheet, in 0.1 mm from its lower left corner, and its deckled edges.

    Attributes:
        deckled: Whether the left, right, lower and upper edge have their deckle.
    """

    x: int
    y: int
    width: int
    height: int
    deckled: tuple[bool, bool, bool, bool]


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece where it lies. `rect` may be larger than asked, by the tolerance."""

    kind: int
    turned: bool
    rect: Rect


@dataclass(frozen=True, slots=True)
class Step:
    """All tears that divide one rectangle one way.

    Attributes:
        rect: The rectangle before.
        way: "x": it is divided across its width.
        marks: Where to tear, in 0.1 mm from the rectangle's left or lower edge.
        lengths: The strips that come of it, in order.
    """

    rect: Rect
    way: Way
    marks: tuple[int, ...]
    lengths: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """One sheet: pieces, waste, and the steps by which it comes apart."""

    frame: Frame
    pieces: tuple[Piece, ...]
    waste: tuple[Rect, ...]
    steps: tuple[Step, ...]

    @property
    def tears(self) -> int:
        """How many tears, those of the edges included."""
        return sum(len(step.marks) for step in self.steps)


def lay_out_tears(frame: Frame, shapes: Sequence[Shape], tree: Node) -> Layout:
    """Lay a way to tear out on the sheet.

    Args:
        frame: The sheet.
        shapes: What the leaves of the tree stand for.
        tree: The way to tear; over the sheet with its far edges, where edges are torn off.
    """
    laid = _Laying(shapes)
    edge = frame.edge
    whole = Rect(
        0,
        0,
        frame.width + 2 * edge,
        frame.height + 2 * edge,
        (frame.sides, frame.sides, frame.ends, frame.ends),
    )
    laid.place(_edged(tree, frame) if edge else tree, whole)
    return Layout(frame, tuple(laid.pieces), tuple(laid.waste), tuple(laid.steps))


def _edged(tree: Node, frame: Frame) -> Node:
    """The tree inside the near edges that are torn off first."""
    wide = frame.width + frame.edge
    high = frame.height + frame.edge
    return Split("x", ((frame.edge, None), (wide, Split("y", ((frame.edge, None), (high, tree))))))


class _Laying:
    """Walks a tree and notes where its parts lie."""

    def __init__(self, shapes: Sequence[Shape]) -> None:
        self.shapes = shapes
        self._deckled = any(s.deckles for s in shapes)
        self.pieces: list[Piece] = []
        self.waste: list[Rect] = []
        self.steps: list[Step] = []

    def place(self, node: Node, rect: Rect) -> None:
        """Note a node that fills `rect`, and all below it."""
        if node is None:
            self.waste.append(rect)
        elif isinstance(node, int):
            shape = self.shapes[node]
            self.pieces.append(Piece(shape.kind, shape.turned, rect))
        else:
            self._divide(node, rect)

    def _divide(self, node: Split, rect: Rect) -> None:
        low, high = rect.deckled[:2] if node.way == "x" else rect.deckled[2:]
        if self._deckled:
            parts = _holding(_flat(node, low, high), low, high)
        else:
            parts = _tidy(_flat(node, False, False))
        lengths = tuple(length for length, _ in parts)
        self.steps.append(Step(rect, node.way, tuple(accumulate(lengths))[:-1], lengths))
        at = rect.x if node.way == "x" else rect.y
        for i, (length, part) in enumerate(parts):
            ends = (low and i == 0, high and i == len(parts) - 1)
            self.place(part, _slice(rect, node.way, at, length, ends))
            at += length


def _slice(rect: Rect, way: Way, at: int, length: int, ends: tuple[bool, bool]) -> Rect:
    """The strip of a rectangle that begins `at` on the sheet."""
    left, right, lower, upper = rect.deckled
    if way == "x":
        return Rect(at, rect.y, length, rect.height, (*ends, lower, upper))
    return Rect(rect.x, at, rect.width, length, (left, right, *ends))


def _flat(node: Split, low: bool, high: bool) -> list[tuple[int, Node]]:
    """The parts of splits within splits of the same way, as one row from low to high.

    The first part of a split goes to the end that has a deckle, the last to the other one.
    """
    row: list[tuple[int, Node]] = []
    parts = node.parts[::-1] if high and not low else node.parts
    for i, (length, part) in enumerate(parts):
        if isinstance(part, Split) and part.way == node.way:
            row += _flat(part, low and i == 0, high and i == len(parts) - 1)
        else:
            row.append((length, part))
    return row


def _tidy(row: list[tuple[int, Node]]) -> list[tuple[int, Node]]:
    """The row with longer strips first, so that equal ones lie together, and its waste behind.

    An edge torn off in front stays there.
    """
    front = row[:1] if row[0][1] is None else []
    kept = sorted(_kept(row), key=lambda strip: -strip[0])
    return [*front, *kept, *_waste(row[len(front) :])]


def _holding(row: list[tuple[int, Node]], low: bool, high: bool) -> list[tuple[int, Node]]:
    """The row with its waste in one strip, and whatever lies at an end with deckle still there."""
    kept, waste = _kept(row), _waste(row)
    if not high or row[-1][1] is None:
        return [*kept, *waste]
    if low and row[0][1] is not None:
        return [*kept[:-1], *waste, *kept[-1:]]
    return [*waste, *kept]


def _kept(row: list[tuple[int, Node]]) -> list[tuple[int, Node]]:
    return [(length, part) for length, part in row if part is not None]


def _waste(row: list[tuple[int, Node]]) -> list[tuple[int, Node]]:
    length = sum(length for length, part in row if part is None)
    return [(length, None)] if length else []
