"""The large numerals: size, shape, and that no two are alike."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.screens.glyph_dots import DOTS, LOW, LOW_WIDTHS
from benchapp.screens.glyphs import HEIGHTS, fitting_height, glyph_rows, glyph_width

DRAWN = "".join(DOTS)
MARKS = "0123456789ABCDEFGHJKLMNPQRSTUVWXYZ"


def squares(text: str, height: int) -> list[str]:
    """The picture as half cells, `#` and `.`, two lines a row."""
    lines = []
    for row in glyph_rows(text, height):
        lines.append("".join("#" if cell in "█▀" else "." for cell in row))
        lines.append("".join("#" if cell in "█▄" else "." for cell in row))
    return lines


def test_a_count_is_drawn_as_it_was_designed() -> None:
    """At the lowest height a count and a mark look exactly so."""
    assert glyph_rows("12:05", 5) == (
        "  ██     █████▄        ▄███▄   ███████",
        "▀▀██          ██  ██  ██   ██  ██     ",
        "  ██       ███▀       ██   ██  █████  ",
        "  ██     ██▀      ██  ██   ██      ▀██",
        "███████  ███████       ▀███▀   █████▀ ",
    )
    assert glyph_rows("K7", 5) == (
        "██   ██  ███████",
        "██▄▄█▀       ▄█▀",
        "███          █  ",
        "██▀█▄      ██▀  ",
        "██  ▀██    ██   ",
    )


@given(st.text(alphabet=DRAWN, max_size=8), st.sampled_from(HEIGHTS))
def test_a_picture_is_a_full_rectangle(text: str, height: int) -> None:
    """Every text gives exactly the rows asked for, all equally wide."""
    picture = glyph_rows(text, height)
    assert len(picture) == height
    assert {len(row) for row in picture} == {glyph_width(text, height)}
    assert set("".join(picture)) <= set(" ▀▄█")


@pytest.mark.parametrize("height", HEIGHTS)
def test_numerals_fill_their_height(height: int) -> None:
    """Top and bottom half rows are used, so that the reach counts full rows."""
    for digit in "0123456789":
        picture = squares(digit, height)
        assert "#" in picture[0], digit
        assert "#" in picture[-1], digit


@pytest.mark.parametrize("height", HEIGHTS)
def test_all_digits_are_equally_wide(height: int) -> None:
    """A running count never changes its width."""
    assert len({glyph_width(digit, height) for digit in "0123456789"}) == 1
    assert glyph_width("12:05", height) == glyph_width("00:00", height)


@pytest.mark.parametrize("height", HEIGHTS)
def test_no_two_characters_of_a_mark_are_alike(height: int) -> None:
    """Each pair differs in at least three half cells, from the press too."""
    for one, other in combinations(MARKS, 2):
        ours, theirs = "".join(squares(one, height)), "".join(squares(other, height))
        if len(ours) == len(theirs):
            assert sum(a != b for a, b in zip(ours, theirs, strict=True)) >= 3, one + other


@pytest.mark.parametrize("height", HEIGHTS)
def test_strokes_never_hang_by_a_corner(height: int) -> None:
    """Every pair of squares that touch at a corner is joined by a side."""
    for character in DRAWN:
        picture = squares(character, height)
        for above, below in pairwise(picture):
            fours = {above[i : i + 2] + below[i : i + 2] for i in range(len(above) - 1)}
            assert not fours & {"#..#", ".##."}, character


def test_small_letters_and_strangers_have_a_picture() -> None:
    """Small letters are drawn as capitals, what is not drawn as a query."""
    assert glyph_rows("k7", 5) == glyph_rows("K7", 5)
    assert glyph_rows("漢", 7) == glyph_rows("?", 7)


def test_no_text_is_empty_rows() -> None:
    """An empty text keeps its height."""
    assert glyph_rows("", 5) == ("",) * 5


@pytest.mark.parametrize("height", [0, 4, 6, 15, -5])
def test_other_heights_are_refused(height: int) -> None:
    """A height nobody drew is a mistake of the caller."""
    with pytest.raises(ValueError, match=f"no numerals are drawn {height} rows high"):
        glyph_rows("1", height)


def test_drawings_are_whole() -> None:
    """Each drawing is seven equal lines of dots; the special ones match their size."""
    for name, lines in DOTS.items():
        assert len(lines) == 7, name
        assert len({len(line) for line in lines}) == 1, name
        assert set("".join(lines)) <= {"#", "."}, name
    assert all(len(LOW_WIDTHS[name]) == len(DOTS[name][0]) for name in LOW_WIDTHS)
    assert all(len(picture) == 10 for picture in LOW.values())


@pytest.mark.parametrize(
    ("columns", "lines", "height"),
    [(200, 40, 14), (80, 12, 10), (38, 9, 5), (80, 9, 7), (38, 4, None), (10, 30, None)],
)
def test_fitting_takes_the_largest_that_fits(columns: int, lines: int, height: int | None) -> None:
    """The height is the largest drawn one inside columns and rows."""
    assert fitting_height("00:00", columns, lines) == height
