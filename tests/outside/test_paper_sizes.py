"""Sizes, inches and sheet masses against the standards that define them."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from benchapp.quantities import QuantityError, read_grammage, read_length, read_mass, read_size

#: The tables of ISO 216 (A and B series, upright), from memory.
A_SERIES = ["841 x 1189 mm", "594 x 841 mm", "420 x 594 mm", "297 x 420 mm", "210 x 297 mm",
            "148 x 210 mm", "105 x 148 mm", "74 x 105 mm", "52 x 74 mm", "37 x 52 mm",
            "26 x 37 mm"]  # fmt: skip
B_SERIES = ["1000 x 1414 mm", "707 x 1000 mm", "500 x 707 mm", "353 x 500 mm", "250 x 353 mm",
            "176 x 250 mm", "125 x 176 mm", "88 x 125 mm", "62 x 88 mm", "44 x 62 mm",
            "31 x 44 mm"]  # fmt: skip


@pytest.mark.parametrize(
    ("whole", "half"),
    [pair for series in (A_SERIES, B_SERIES) for pair in pairwise(series)],
)
def test_each_iso_size_is_the_one_before_halved_and_rounded_down(whole, half):
    """The A series (ISO 216) and the B series (ISO 216, from memory), as read from text."""
    large, small = read_size(whole), read_size(half)
    assert small.width.mm == large.height.mm // 2
    assert small.height.mm == large.width.mm


@pytest.mark.parametrize(("letter", "series"), [("A", A_SERIES), ("B", B_SERIES)])
def test_each_iso_size_is_read_by_its_name(letter, series):
    """A0 to A10 and B0 to B10 as ISO 216 has them, upright; landscape turns the sides."""
    for n, sides in enumerate(series):
        size = read_size(sides)
        assert read_size(f"{letter}{n}") == read_size(f" {letter.lower()}{n} portrait") == size
        turned = read_size(f"{letter}{n} landscape")
        assert (turned.width, turned.height) == (size.height, size.width)


@pytest.mark.parametrize("text", ["A11", "A", "4A0", "C4", "A04", "A4 x 2", "A4 upside down"])
def test_no_other_name_is_a_size(text):
    """What ISO 216 does not name so is no size here."""
    with pytest.raises(QuantityError):
        read_size(text)


def test_a4_turns_to_height_by_width_for_documents():
    """A4 lying upright is 210 wide and 297 high (ISO 216)."""
    assert read_size("210 x 297 mm").document() == "297 × 210 mm"


def test_an_inch_is_exactly_25_4_mm():
    """International yard and pound agreement of 1959: 1 yd = 0.9144 m."""
    assert read_length("36 in").mm == Fraction("914.4")


@pytest.mark.parametrize(("text", "grams"), [
    ("1 lb", "453.59237"), ("1 oz", "28.349523125"), ("16 oz", "453.59237"),
    ("2 lb", "907.18474")])
def test_pounds_and_ounces_are_exact(text, grams):
    """International yard and pound agreement of 1959; NIST Handbook 44, appendix C: 1 oz."""
    assert read_mass(text).g == Fraction(grams)


@pytest.mark.parametrize("text", ["22 x 30 in", '22" x 30"', '22 x 30"', "22 inches × 30 inches"])
def test_a_full_sheet_in_inches(text):
    """22 x 30 in is 558.8 x 762 mm, whichever way the inch is written (agreement of 1959)."""
    size = read_size(text)
    assert (size.width.mm, size.height.mm) == (Fraction("558.8"), 762)


def test_letter_paper_in_millimetres():
    """8 1/2 x 11 in is 215.9 x 279.4 mm (ANSI/ASME Y14.1 size A)."""
    size = read_size("8 1/2 x 11 in")
    assert (size.width.mm, size.height.mm) == (Fraction("215.9"), Fraction("279.4"))


@pytest.mark.parametrize(("weight", "grams"), [("250 g/m2", "106.4"), ("300 g/m2", "127.68")])
def test_a_sheet_weighs_its_grammage_times_its_area(weight, grams):
    """A 560 x 760 mm sheet (grammage as ISO 536 defines it), exactly."""
    sheet = read_size("560 x 760 mm")
    assert read_grammage(weight).gsm * sheet.area_cm2 / 10_000 == Fraction(grams)
