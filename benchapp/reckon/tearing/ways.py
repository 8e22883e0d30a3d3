"""All ways worth offering for a question, the plainest first."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from benchapp.quantities import Length, Size
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.tearing.best import Best
from benchapp.reckon.tearing.cover import fewest
from benchapp.reckon.tearing.layout import Layout, layout
from benchapp.reckon.tearing.plain import Folds, folds, rows_and_columns
from benchapp.reckon.tearing.problem import Frame, Shape, problem
from benchapp.reckon.tearing.snug import snug

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


@dataclass(frozen=True, slots=True)
class Way:
    """One way to tear.

    Attributes:
        kind: What sort of way.
        layouts: How many sheets are torn how.
        exact: No way gives more pieces (or takes fewer sheets), or none of its kind does.
        least: No fewer sheets than this can do.
        folds: The folds, where it is halving and quartering.
    """

    kind: Kind
    layouts: tuple[tuple[int, Layout], ...]
    exact: bool = True
    least: int = 1
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


def found(asked: Asked) -> list[Way]:
    """The ways worth offering, plainest first; the last one is the best.

    A way that gains nothing over a plainer one is left out.

    Raises:
        ReckonError: Deckles are to be kept and no piece keeps as many.
    """
    if len(asked.sizes) > 1 and asked.wanted:
        return [_demand(asked)]
    best = _best(asked)
    if len(asked.sizes) > 1:
        return [best]
    offered: list[Way] = []
    for way in (_fold(asked, len(best.layouts[0][1].pieces)), _rows(asked), best):
        if way is not None:
            way = _for_all(way, asked.wanted)
            if not offered or _gains(way, offered[-1], bool(asked.wanted)):
                offered.append(way)
    # Where the search was not of everything, a plain way may be ahead of what it found.
    return [*offered[:-1], replace(offered[-1], exact=best.exact)]


def _gains(way: Way, plainer: Way, wanted: bool) -> bool:
    """Whether a way is worth more thought than a plainer one."""
    return way.sheets < plainer.sheets if wanted else way.pieces > plainer.pieces


def _for_all(way: Way, wanted: tuple[int, ...]) -> Way:
    """A way of one sheet, for as many sheets as the number wanted needs."""
    if not wanted:
        return way
    sheets = -(-wanted[0] // way.pieces)
    return replace(way, layouts=((sheets, way.layouts[0][1]),), least=sheets)


def _best(asked: Asked) -> Way:
    """The most pieces of one size, or the least waste with several."""
    made = problem(asked.frame, asked.shapes)
    one = len(asked.sizes) == 1
    best = Best(made, [1] if one else [w * h for w, h in asked.sizes])
    if not best.value:
        raise _too_many_deckles(asked)
    tree = best.tree()
    if made.grain > 1 and not asked.deckles:
        far = asked.frame.edge
        tree = snug(tree, made.true, asked.frame.width + far, asked.frame.height + far)
    return Way("best", ((1, layout(asked.frame, made.true, tree)),), exact=made.grain == 1)


def _too_many_deckles(asked: Asked) -> ReckonError:
    for fewer in reversed(range(asked.deckles)):
        shapes = [replace(s, deckles=fewer) for s in asked.shapes]
        if Best(problem(asked.frame, shapes), [1] * len(asked.sizes)).value:
            mend = f"with {fewer} there are some" if fewer else "ask without"
            return ReckonError("deckles", f"no piece keeps {asked.deckles} of them", mend)
    raise AssertionError(asked)  # without deckles every piece that fits is to be had


def _fold(asked: Asked, most: int) -> Way | None:
    """Halving and quartering, where it gives more than half of what could be had."""
    width, height = asked.sizes[0]
    made = folds(asked.frame, width, height, turn=asked.turn, deckles=asked.deckles)
    if made is None or 2 * made.pieces <= most:
        return None
    return Way("fold", ((1, layout(asked.frame, (made.shape,), made.tree)),), folds=made)


def _rows(asked: Asked) -> Way | None:
    if asked.deckles:
        return None
    pieces, tree = rows_and_columns(asked.frame, asked.shapes)
    if not pieces:
        return None
    return Way("rows", ((1, layout(asked.frame, asked.shapes, tree)),))


def _demand(asked: Asked) -> Way:
    """The fewest sheets for so many of each of several sizes."""
    for kind in range(len(asked.sizes)):
        alone = [replace(s, kind=0) for s in asked.shapes if s.kind == kind]
        if not Best(problem(asked.frame, alone), [1]).value:
            raise _too_many_deckles(asked)
    cover = fewest(asked.frame, asked.shapes, asked.wanted)
    layouts: list[tuple[int, Layout]] = []
    for sheet in cover.sheets:
        laid = layout(asked.frame, sheet.shapes, sheet.tree)
        if layouts and layouts[-1][1] == laid:
            layouts[-1] = (layouts[-1][0] + 1, laid)
        else:
            layouts.append((1, laid))
    return Way("best", tuple(layouts), exact=cover.exact, least=cover.least)
