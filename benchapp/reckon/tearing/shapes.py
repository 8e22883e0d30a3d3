"""What is torn: a sheet, pieces laid one way or the other, and how a sheet comes apart.

Whole numbers of 0.1 mm throughout.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

#: A tear that divides the width ("x", it runs up the sheet) or the height ("y", across it).
Way = Literal["x", "y"]


@dataclass(frozen=True, slots=True)
class Shape:
    """A piece laid one way.

    Attributes:
        kind: Which of the sizes asked for, from 0.
        width: What it takes of the sheet along its width, tolerance included.
        height: The same along its height.
        turned: Laid a quarter round.
        deckles: How many of its edges must have their deckle.
    """

    kind: int
    width: int
    height: int
    turned: bool
    deckles: int = 0

    @property
    def area(self) -> int:
        """What it takes of the sheet, in 0.01 mm2."""
        return self.width * self.height


@dataclass(frozen=True, slots=True)
class Frame:
    """The sheet.

    Attributes:
        width: Its width, without edges that are torn off first.
        height: Its height, the same.
        edge: What is torn off each of its four edges; 0: nothing.
        sides: Both the left and the right edge have a deckle.
        ends: Both the lower and the upper edge have one.
    """

    width: int
    height: int
    edge: int = 0
    sides: bool = True
    ends: bool = True

    @property
    def area(self) -> int:
        """Its area without edges, in 0.01 mm2."""
        return self.width * self.height

    def holds(self, shape: Shape) -> bool:
        """Whether a piece fits on it."""
        return shape.width <= self.width and shape.height <= self.height


@dataclass(frozen=True, slots=True)
class Split:
    """A rectangle torn in two or more, before anything is placed.

    Attributes:
        way: Which side is divided.
        parts: Length along that side and what it holds, the part with the deckle first.
    """

    way: Way
    parts: tuple[tuple[int, Node], ...]


#: A split, a shape (its place among those torn) that fills the rectangle, or waste.
Node = Split | int | None


def count_pieces(node: Node, shapes: tuple[Shape, ...], sizes: int) -> tuple[int, ...]:
    """How many pieces of each size a way to tear gives."""
    found = [0] * sizes
    stack = [node]
    while stack:
        part = stack.pop()
        if isinstance(part, int):
            found[shapes[part].kind] += 1
        elif isinstance(part, Split):
            stack += [inner for _, inner in part.parts]
    return tuple(found)
