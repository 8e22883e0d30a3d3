"""How many pieces a sheet gives by tears from edge to edge, and which tears.

Every tear goes from one edge of what is torn to the other, as along a ruler or a fold
(guillotine cutting). Folding in halves, and plain rows, are offered before anything cleverer;
thin paper is cut with a blade along a rule, and not folded.
The most pieces, the fewest tears for them and the fewest sheets for a demand are found exactly
where a bounded search comes to its end (`benchapp.reckon.tearing.search`); else the answer is
the best so far, and says what is not proved.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from types import MappingProxyType
from typing import Final, Literal

from benchapp.quantities import Length, Size
from benchapp.reckon.answer import Answer, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.tearing.search import MOST_WORK, Work
from benchapp.reckon.tearing.shapes import Frame, Shape
from benchapp.reckon.tearing.telling import tear_answer
from benchapp.reckon.tearing.ways import Asked, find_ways

Deckled = Literal["all", "long", "short"]

SIZES_AT_MOST: Final = 4
#: A torn edge is not exact: what a recipe adds to a piece where the sheet does not divide evenly.
RECIPE_TOLERANCE: Final = Length(Fraction(2))
_NOTHING: Final = Length(Fraction(0))
#: No mould, roll or table gives a larger sheet.
_LONGEST_MM: Final = 5000
_SHORTEST_MM: Final = 1
_MANY: Final = 999


@dataclass(frozen=True, slots=True)
class Piece:
    """A size asked for.

    Attributes:
        size: Width and height, as it would lie on the sheet unturned.
        wanted: How many; None: as many as there are.
    """

    size: Size
    wanted: int | None = None


def tear_sheet(
    sheet: Size,
    pieces: Sequence[Piece],
    *,
    turn: bool = True,
    deckles: int = 0,
    deckled: Deckled = "all",
    edge: Length = _NOTHING,
    tolerance: Length = _NOTHING,
    thin: bool = False,
    origins: Mapping[str, Origin] = MappingProxyType({}),
    most_work: int = MOST_WORK,
) -> Answer:
    """Tear a sheet (or, for a demand, as few as possible) into pieces.

    One size without a number wanted: as many as possible. Several: as little waste as possible.
    With numbers wanted: as few sheets as possible.

    Args:
        sheet: The full sheet, with its edges.
        pieces: One to four sizes; numbers wanted for all of them or for none.
        turn: A piece may lie a quarter round (False: its grain is fixed).
        deckles: How many deckled edges each piece must keep, 0 to 4.
        deckled: Which edges of the sheet have a deckle.
        edge: What is torn off each edge of the sheet first.
        tolerance: Added to a side of a piece where that side of the sheet is no multiple of it.
        thin: Cut it with a blade along a rule: no folds.
        origins: Where `sheet`, `piece`, `grain`, `deckles`, `edge` and `tolerance` come from,
            where not given by the asker.
        most_work: Cuts that may be tried before the best so far is the answer.

    Raises:
        ReckonError: A figure is out of bounds, or a piece is not to be had.
    """
    asked = _asked(sheet, pieces, turn, deckles, deckled, edge, tolerance, thin)
    return tear_answer(asked, find_ways(asked, Work(most_work)), origins)


def _asked(
    sheet: Size,
    pieces: Sequence[Piece],
    turn: bool,
    deckles: int,
    deckled: Deckled,
    edge: Length,
    tolerance: Length,
    thin: bool,
) -> Asked:
    """The question in whole tenths of a millimetre: sheets rounded down, pieces up."""
    _refuse(sheet, pieces, deckles)
    margin, allowed = ceil(edge.mm * 10), ceil(tolerance.mm * 10)
    if margin and deckles:
        raise ReckonError(
            "deckles", "an edge that is torn off has no deckle", "ask for --deckles or for --edge"
        )
    whole = floor(sheet.width.mm * 10), floor(sheet.height.mm * 10)
    wide, high = (side - 2 * margin for side in whole)
    if min(wide, high) <= 0:
        raise ReckonError(
            "edge", f"{edge} off each edge leaves nothing of {sheet}", "give a narrower edge"
        )
    upright = whole[1] >= whole[0]
    sides = deckled == "all" or (deckled == "long") == upright
    ends = deckled == "all" or (deckled == "short") == upright
    frame = Frame(wide, high, margin, sides, ends)
    sizes = [(ceil(p.size.width.mm * 10), ceil(p.size.height.mm * 10)) for p in pieces]
    shapes = [
        s for k, each in enumerate(sizes) for s in _shapes(k, each, frame, turn, deckles, allowed)
    ]
    for k, piece in enumerate(pieces):
        _refuse_unfit(sheet, piece.size, frame, [s for s in shapes if s.kind == k], turn)
    wanted = tuple(p.wanted for p in pieces if p.wanted is not None)
    return Asked(
        sheet, tuple(p.size for p in pieces), wanted, frame, tuple(sizes),
        tuple(s for s in shapes if frame.holds(s)),
        turn, deckles, deckled, edge, tolerance, thin,
    )  # fmt: skip


def _shapes(
    kind: int, size: tuple[int, int], frame: Frame, turn: bool, deckles: int, allowed: int
) -> list[Shape]:
    """A size laid both ways, or one, each side with its tolerance where that is due."""

    def side(whole: int, part: int) -> int:
        return part if whole % part == 0 else part + allowed

    ways = [size, size[::-1]] if turn and size[0] != size[1] else [size]
    return [
        Shape(kind, side(frame.width, w), side(frame.height, h), turned == 1, deckles)
        for turned, (w, h) in enumerate(ways)
    ]


def _refuse(sheet: Size, pieces: Sequence[Piece], deckles: int) -> None:
    if not 1 <= len(pieces) <= SIZES_AT_MOST:
        raise ReckonError(
            "piece",
            f"{len(pieces)} sizes are too many at once",
            f"ask for one to {SIZES_AT_MOST}",
        )
    for name, size in [("sheet", sheet), *(("piece", p.size) for p in pieces)]:
        for side in (size.width, size.height):
            if not _SHORTEST_MM <= side.mm <= _LONGEST_MM:
                raise ReckonError(
                    name,
                    f"no paper has a side of {side}",
                    f"give {_SHORTEST_MM} to {_LONGEST_MM} mm, and look at the unit",
                )
    given = [p.wanted for p in pieces if p.wanted is not None]
    if given and len(given) < len(pieces):
        raise ReckonError(
            "piece",
            "some sizes have a number and others have none",
            "give a number for each size, or for none",
        )
    if not all(1 <= n <= _MANY for n in given):
        raise ReckonError("piece", "that is too many of one size", f"ask for 1 to {_MANY} of a "
                                                                   "size")
    if not 0 <= deckles <= 4:
        raise ReckonError("deckles", f"a piece has no {deckles} edges", "ask for 0 to 4")


def _refuse_unfit(
    sheet: Size, piece: Size, frame: Frame, shapes: Sequence[Shape], turn: bool
) -> None:
    """Refuse a piece that fits in no way, with what would help."""
    if any(s.width <= frame.width and s.height <= frame.height for s in shapes):
        return
    turned = any(s.height <= frame.width and s.width <= frame.height for s in shapes)
    if turned and not turn:
        mend = "turned it would fit: allow that, if the grain may run across"
    elif _units_differ(sheet, piece):
        mend = "they are in different units: look whether both are meant"
    else:
        mend = f"the largest piece is the sheet itself{', less its edges' if frame.edge else ''}"
    raise ReckonError("piece", f"{piece} does not fit on a sheet of {sheet}", mend)


def _units_differ(sheet: Size, piece: Size) -> bool:
    units = {side.unit for size in (sheet, piece) for side in (size.width, size.height)}
    return len(units) > 1
