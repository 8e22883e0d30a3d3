"""Numerals and capitals large enough to be read from the press.

Each character is drawn once, on a grid of dots 7 high. The three rows and two
columns that carry the strokes are stretched to the size asked for, then the
stairs that stretching leaves are smoothed. A terminal cell is about twice as
high as wide, so half a cell is the square these pictures are made of, shown
with the half blocks of Unicode. Pure; a row of one text is always as wide as
the other rows, and as wide as any text of the same characters' widths: all
digits are equally wide, so a running count never moves.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from benchapp.screens.glyph_dots import DOTS, LOW, LOW_WIDTHS

HEIGHTS: Final = (5, 7, 10, 14)
"""Heights in terminal rows that are drawn; the best for 24 lines is 5 or 7."""

UNKNOWN: Final = "?"

_Grid = tuple[str, ...]

# Half cells that each dot row takes: rows 0, 3 and 6 carry the horizontal strokes.
_ROWS: Final = {5: (2, 1, 1, 2, 1, 1, 2), 7: (2,) * 7}
_GAPS: Final = {5: 2, 7: 2, 10: 3, 14: 4}
_CELLS: Final = {"..": " ", "#.": "▀", ".#": "▄", "##": "█"}


@lru_cache(maxsize=256)
def glyph_rows(text: str, height: int) -> tuple[str, ...]:
    """Draw a text as rows of full and half blocks.

    Args:
        text: Digits, capitals, `:`, `.`, `-`, `−`, `+`, `≈`, `?`, `!`, `/`, space.
            Small letters are drawn as capitals, anything else as a query.
        height: Terminal rows, one of `HEIGHTS`.

    Returns:
        As many strings as rows, all equally wide; empty strings for no text.

    Raises:
        ValueError: A height that is not drawn.
    """
    if height not in HEIGHTS:
        raise ValueError(f"no numerals are drawn {height} rows high")
    grids = [_glyph(character, height) for character in text.upper()]
    gap = "." * _GAPS[height]
    lines = [gap.join(parts) for parts in zip(*grids, strict=True)] or [""] * (2 * height)
    return tuple(
        "".join(_CELLS[upper + lower] for upper, lower in zip(above, below, strict=True))
        for above, below in zip(lines[::2], lines[1::2], strict=True)
    )


def glyph_width(text: str, height: int) -> int:
    """Cells a text drawn in this height is wide."""
    return len(glyph_rows(text, height)[0])


def fitting_height(text: str, columns: int, lines: int) -> int | None:
    """Largest height whose picture of the text fits, or None if none does.

    Args:
        text: As it will be drawn.
        columns: Cells there are across.
        lines: Terminal rows there are.
    """
    possible = [h for h in HEIGHTS if h <= lines and glyph_width(text, h) <= columns]
    return max(possible, default=None)


@lru_cache(maxsize=256)
def _glyph(character: str, height: int) -> _Grid:
    """One character as `2 * height` lines of half cells."""
    if height not in _ROWS:
        return _smooth(_glyph(character, height // 2))
    name = character if character in DOTS else UNKNOWN
    if height == 5 and name in LOW:
        return LOW[name]
    return _joined(_stretched(name, height), both=height > 5)


def _stretched(name: str, height: int) -> _Grid:
    """Widen the rows and columns of a drawing to a small height."""
    dots = DOTS[name]
    across = _columns(name, len(dots[0]), height)
    wide = ["".join(dot * times for dot, times in zip(line, across, strict=True)) for line in dots]
    return tuple(
        line for line, times in zip(wide, _ROWS[height], strict=True) for _ in range(times)
    )


def _columns(name: str, count: int, height: int) -> tuple[int, ...]:
    """Half cells each dot column takes; the outer two carry the vertical strokes."""
    if height != 5:
        return (2,) * count
    return LOW_WIDTHS.get(name) or tuple(2 if c in (0, count - 1) else 1 for c in range(count))


def _joined(grid: _Grid, *, both: bool) -> _Grid:
    """Fill the joints of strokes that touch only at a corner, so that slopes hold.

    Args:
        grid: A stretched drawing.
        both: Fill the joint on both sides; else only on the outer one, which
            keeps the small counters of the lowest height open.
    """
    lines = [list(line) for line in grid]
    middle = (len(grid) - 1) / 2, (len(grid[0]) - 1) / 2
    for (row, above), below in zip(enumerate(grid), grid[1:], strict=False):
        for column in range(len(above) - 1):
            four = above[column : column + 2] + below[column : column + 2]
            if four not in ("#..#", ".##."):
                continue
            fall = four == ".##."
            sides = [(row, column + (not fall)), (row + 1, column + fall)]
            sides.sort(key=lambda side: abs(side[0] - middle[0]) + abs(side[1] - middle[1]))
            for y, x in sides if both else sides[1:]:
                lines[y][x] = "#"
    return tuple("".join(line) for line in lines)


def _smooth(grid: _Grid) -> _Grid:
    """Double a picture; a square corner between two strokes is cut or filled.

    Each square becomes four. A quarter takes the look of its two outer
    neighbours when these agree and the opposite ones differ, so that stairs
    become slopes while straight edges stay straight.
    """
    wide = len(grid[0])

    def at(row: int, column: int) -> str:
        return grid[row][column] if 0 <= row < len(grid) and 0 <= column < wide else "."

    lines: list[str] = []
    for row in range(len(grid)):
        upper, lower = "", ""
        for column in range(wide):
            here = at(row, column)
            up, down = at(row - 1, column), at(row + 1, column)
            left, right = at(row, column - 1), at(row, column + 1)
            upper += left if left == up and left != down and up != right else here
            upper += right if up == right and up != left and right != down else here
            lower += left if left == down and left != up and down != right else here
            lower += right if down == right and down != left and right != up else here
        lines += [upper, lower]
    return tuple(lines)
