"""The way to tear one sheet that is worth most, or the best that a bound on the work allows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from benchapp.reckon.tearing.border import best_border
from benchapp.reckon.tearing.search import MostValue, Search, Work, WorkSpent
from benchapp.reckon.tearing.shapes import Frame, Node, Shape
from benchapp.reckon.tearing.strips import best_strips


@dataclass(frozen=True, slots=True)
class OneSheet:
    """A way to tear one sheet.

    Attributes:
        tree: The tears; its leaves are places in the shapes asked with.
        worth: What its pieces are worth.
        most: No way is worth more than this.
    """

    tree: Node
    worth: int
    most: int

    @property
    def exact(self) -> bool:
        """It is proved that no way is worth more."""
        return self.worth >= self.most


def best_sheet(
    frame: Frame, shapes: Sequence[Shape], values: Sequence[int], work: Work
) -> OneSheet:
    """The way that is worth most and, among those, takes the fewest tears.

    Where not everything can be tried: strips, or with deckles to keep strips along the edges.

    Args:
        frame: The sheet.
        shapes: All shapes that fit on it and may be torn; some can keep its deckles.
        values: What a piece of each kind is worth, whole and above 0.
        work: How much may be tried.
    """
    goal = MostValue(frame, shapes, values)
    most = max(frame.area * values[s.kind] // s.area for s in shapes)
    try:
        return _from(Search(frame, shapes, goal, work), goal)
    except WorkSpent:
        if any(s.deckles for s in shapes):
            border = best_border(frame, shapes, values)
            return OneSheet(border.tree, border.worth, most)
        strips = best_strips(frame, shapes, values)
        # Pieces that all lie one way fit no better than in rows.
        return OneSheet(strips.tree, strips.worth, most if len(shapes) > 1 else strips.worth)


def _from(search: Search, goal: MostValue) -> OneSheet:
    given = search.whole[0]
    worth, _ = goal.told(given)
    return OneSheet(search.tree(given), worth, worth)
