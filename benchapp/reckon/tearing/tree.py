"""How a sheet comes apart, before anything is placed on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

#: A tear that divides the width ("x", it runs up the sheet) or the height ("y", across it).
Way = Literal["x", "y"]


@dataclass(frozen=True, slots=True)
class Split:
    """A rectangle torn in two, or in three with waste in the middle.

    Attributes:
        way: Which side is divided.
        parts: Length along that side and what it holds, the part with the deckle first.
    """

    way: Way
    parts: tuple[tuple[int, Node], ...]


#: A split, a shape (its place in the problem) that fills the rectangle, or waste.
Node = Split | int | None
