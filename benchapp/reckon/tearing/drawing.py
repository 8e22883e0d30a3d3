"""A sheet drawn with letters and lines: where the pieces lie and where it is torn.

Plain ASCII, for every terminal and for paper: `+`, `-` and `|` are tears and edges, a letter is
a piece (a for the first size, b for the second), dots are waste.
"""

from __future__ import annotations

from collections.abc import Sequence

from benchapp.reckon.tearing.layout import Layout, Rect

_COLUMNS = 64
_ROWS = 22
#: A character stands about twice as high as it is wide.
_TALL = 2


def draw_layout(layout: Layout) -> list[str]:
    """Lines of the drawing, top first; none where there are too many pieces to draw."""
    rects = [p.rect for p in layout.pieces] + list(layout.waste)
    across = sorted({x for r in rects for x in (r.x, r.x + r.width)})
    up = sorted({y for r in rects for y in (r.y, r.y + r.height)})
    unit = max(across[-1] / _COLUMNS, up[-1] / (_ROWS * _TALL))
    columns, rows = _places(across, unit), _places(up, unit * _TALL)
    if columns[across[-1]] > _COLUMNS + 24 or rows[up[-1]] > 2 * _ROWS:
        return []
    grid = [[" "] * (columns[across[-1]] + 1) for _ in range(rows[up[-1]] + 1)]
    for rect in layout.waste:
        _fill(grid, *_box(rect, columns, rows), ".")
    for rect in rects:
        _frame(grid, *_box(rect, columns, rows))
    for piece in layout.pieces:
        left, low, right, high = _box(piece.rect, columns, rows)
        grid[(low + high) // 2][(left + right) // 2] = chr(ord("a") + piece.kind)
    return ["".join(row).rstrip() for row in reversed(grid)]


def _places(marks: Sequence[int], unit: float) -> dict[int, int]:
    """A column (or row) for each mark, in proportion, but never two on or beside each other."""
    found = {marks[0]: 0}
    last = 0
    for mark in marks[1:]:
        last = max(last + 2, round(mark / unit))
        found[mark] = last
    return found


def _box(rect: Rect, columns: dict[int, int], rows: dict[int, int]) -> tuple[int, int, int, int]:
    return columns[rect.x], rows[rect.y], columns[rect.x + rect.width], rows[rect.y + rect.height]


def _fill(grid: list[list[str]], left: int, low: int, right: int, high: int, mark: str) -> None:
    for row in grid[low + 1 : high]:
        row[left + 1 : right] = mark * (right - left - 1)


def _frame(grid: list[list[str]], left: int, low: int, right: int, high: int) -> None:
    for y in (low, high):
        for x in range(left + 1, right):
            grid[y][x] = "-" if grid[y][x] != "+" else "+"
    for x in (left, right):
        for y in range(low + 1, high):
            grid[y][x] = "|" if grid[y][x] != "+" else "+"
    for x, y in ((left, low), (left, high), (right, low), (right, high)):
        grid[y][x] = "+"
