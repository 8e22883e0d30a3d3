"""All ways worth offering for a question, the plainest first."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from benchapp.quantities import Length, Size
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.tearing.demand import fewest_sheets
from benchapp.reckon.tearing.layout import Layout, lay_out_tears
from benchapp.reckon.tearing.one_sheet import best_sheet
from benchapp.reckon.tearing.search import Work
from benchapp.reckon.tearing.shapes import Frame, Shape
from benchapp.reckon.tearing.strips import Folds, fold_sheet, straight_rows

#: By name: halves by folding; straight rows and columns; whatever gives the most.
Kind = Literal["fold", "rows", "best"]


@dataclass(frozen=True, slots=True)
class Asked:
    """A question about tearing, in words and in 0.1 mm."""

    sheet: Size
    pieces: tuple[Size, ...]
    wanted: tuple[int, ...]
    frame: Frame
    sizes: tuple[tuple[int, int], ...]
    shapes: tuple[Shape, ...]
    turn: bool
    deckles: int
    deckled: str
    edge: Length
    tolerance: Length
    thin: bool


@dataclass(frozen=True, slots=True)
class Way:
    """One way to tear.

    Attributes:
        kind: What sort of way.
        layouts: How many sheets are torn how.
        exact: It is proved that no way is better.
        least: No fewer sheets than this can do.
        most: No more pieces than this can be had of a sheet, where that is known of one size.
        folds: The folds, where it is halving and quartering.
    """

    kind: Kind
    layouts: tuple[tuple[int, Layout], ...]
    exact: bool = True
    least: int = 1
    most: int | None = None
    folds: Folds | None = None

    @property
    def sheets(self) -> int:
        """How many sheets it takes."""
        return sum(many for many, _ in self.layouts)

    @property
    def pieces(self) -> int:
        """How many pieces it gives."""
        return sum(many * len(laid.pieces) for many, laid in self.layouts)

    @property
    def tears(self) -> int:
        """How many tears it takes."""
        return sum(many * laid.tears for many, laid in self.layouts)

    def count(self, kind: int) -> int:
        """How many pieces of a size it gives."""
        return sum(m * sum(p.kind == kind for p in laid.pieces) for m, laid in self.layouts)


def find_ways(asked: Asked, work: Work) -> list[Way]:
    """The ways worth offering, plainest first; the last one is the best.

    A way that gains nothing over a plainer one is left out.

    Args:
        asked: The question.
        work: How much may be tried; after that the best so far is the answer.

    Raises:
        ReckonError: Deckles are to be kept and no piece keeps as many.
    """
    _refuse_too_many_deckles(asked)
    if len(asked.sizes) > 1 and asked.wanted:
        return [_for_demand(asked, work)]
    best, most = _best(asked, work)
    if len(asked.sizes) > 1:
        return [best]
    offered: list[Way] = []
    for way in (_fold(asked, best.pieces), _rows(asked), best):
        if way is not None:
            way = _for_all(way, asked.wanted, most)
            if not offered or _gains(way, offered[-1], bool(asked.wanted)):
                offered.append(way)
    return offered


def _gains(way: Way, plainer: Way, wanted: bool) -> bool:
    """Whether a way is worth more thought than a plainer one."""
    return way.sheets < plainer.sheets if wanted else way.pieces > plainer.pieces


def _for_all(way: Way, wanted: tuple[int, ...], most: int) -> Way:
    """A way of one sheet, for as many sheets as the number wanted needs.

    Args:
        way: How one sheet is torn.
        wanted: How many pieces; nothing: what one sheet gives.
        most: No sheet gives more.
    """
    if not wanted:
        return replace(way, exact=way.pieces >= most, most=most)
    sheets, least = -(-wanted[0] // way.pieces), -(-wanted[0] // most)
    layouts = ((sheets, way.layouts[0][1]),)
    return replace(way, layouts=layouts, exact=sheets <= least, least=least)


def _best(asked: Asked, work: Work) -> tuple[Way, int]:
    """The most pieces of one size, or the least waste with several; and what no way is above."""
    values = [1] if len(asked.sizes) == 1 else [w * h for w, h in asked.sizes]
    best = best_sheet(asked.frame, asked.shapes, values, work)
    laid = lay_out_tears(asked.frame, asked.shapes, best.tree)
    return Way("best", ((1, laid),), exact=best.exact), best.most


def _refuse_too_many_deckles(asked: Asked) -> None:
    """Refuse deckles that no piece keeps: of several sizes none, of a demand one of them."""
    kept = [0] * len(asked.sizes)
    for shape in asked.shapes:
        kept[shape.kind] = max(kept[shape.kind], _most_kept(asked.frame, shape))
    most = min(kept) if asked.wanted else max(kept)
    if most < asked.deckles:
        mend = f"with {most} there are some" if most else "ask without"
        raise ReckonError("deckles", f"no piece keeps {asked.deckles} of them", mend)


def _most_kept(frame: Frame, shape: Shape) -> int:
    """How many deckled edges a piece has in a corner, or as wide or high as the sheet."""
    across = 1 + (shape.width == frame.width)
    up = 1 + (shape.height == frame.height)
    return across * frame.sides + up * frame.ends


def _fold(asked: Asked, most: int) -> Way | None:
    """Halving and quartering, where it gives more than half of what could be had.

    Not of thin paper: a fold stays in it.
    """
    if asked.thin:
        return None
    width, height = asked.sizes[0]
    made = fold_sheet(asked.frame, width, height, turn=asked.turn, deckles=asked.deckles)
    if made is None or 2 * made.pieces <= most:
        return None
    return Way("fold", ((1, lay_out_tears(asked.frame, (made.shape,), made.tree)),), folds=made)


def _rows(asked: Asked) -> Way | None:
    if asked.deckles:
        return None
    rows = straight_rows(asked.frame, asked.shapes)
    return Way("rows", ((1, lay_out_tears(asked.frame, asked.shapes, rows.tree)),))


def _for_demand(asked: Asked, work: Work) -> Way:
    """The fewest sheets for so many of each of several sizes."""
    cover = fewest_sheets(asked.frame, asked.shapes, asked.wanted, work)
    layouts: list[tuple[int, Layout]] = []
    for tree in cover.sheets:
        laid = lay_out_tears(asked.frame, asked.shapes, tree)
        if layouts and layouts[-1][1] == laid:
            layouts[-1] = (layouts[-1][0] + 1, laid)
        else:
            layouts.append((1, laid))
    return Way("best", tuple(layouts), exact=cover.exact, least=cover.least)
