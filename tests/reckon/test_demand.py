"""A demand too large to be searched whole: sheets are filled by chance, and it is still met."""

from __future__ import annotations

from benchapp.reckon.tearing.demand import count_pieces, fewest_sheets
from benchapp.reckon.tearing.search import Work
from benchapp.reckon.tearing.shapes import Frame, Shape

SIZES = ((250, 350), (140, 190), (90, 60))
SHAPES = tuple(shape for kind, (w, h) in enumerate(SIZES)
               for shape in (Shape(kind, w, h, False), Shape(kind, h, w, True)))


def test_sheets_filled_by_chance_give_what_is_wanted_and_no_more() -> None:
    """Of each size just as many as were asked; two sheets of 560 × 760 mm are the fewest.

    Areas say so: 4 × 875 + 3 × 266 + 5 × 54 cm2 are 4,568 of the 4,256 cm2 that one sheet has.
    """
    cover = fewest_sheets(Frame(560, 760), SHAPES, (4, 3, 5), Work(500))
    counts = [count_pieces(sheet, SHAPES, len(SIZES)) for sheet in cover.sheets]
    assert [sum(each) for each in zip(*counts, strict=True)] == [4, 3, 5]
    assert (len(cover.sheets), cover.exact) == (2, True)
