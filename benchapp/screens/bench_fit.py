"""How large things stand on the Bench: the largest that fits the side they stand on. Pure.

The count comes first: it is what is read from the press. Then the mark, which
is copied to the back of a sheet, then the short name of the step.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from typing import Final

from benchapp.screens.glyphs import HEIGHTS, glyph_width

GAP: Final = 6
"""Cells between the count and the mark beside it: plainly more than between two figures."""

WIDE: Final = 110
"""Columns from which the narrow side has room for more."""

NARROW: Final = 72
"""Columns below which the side at rest shows other clocks alone: the figures need the room."""

_ENOUGH: Final = 5
"""Rows that are read from the press; more of one thing does not make up for less of another."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """Heights in terminal rows; 0: as plain text, or not there.

    Attributes:
        name / count / mark: Of the numerals each is drawn in.
        beside: Whether the mark stands beside the count, else below it.
        text: Rows left for text.
    """

    name: int = 0
    count: int = 0
    mark: int = 0
    beside: bool = True
    text: int = 0


def in_two(name: str) -> str:
    """The name broken at the blank nearest its middle; the name itself without one."""
    blanks = [place for place, sign in enumerate(name) if sign == " "]
    if not blanks:
        return name
    at = min(blanks, key=lambda place: abs(place - len(name) / 2))
    return f"{name[:at]}\n{name[at + 1 :]}"


@lru_cache(maxsize=512)
def choose_sizes(
    columns: int, lines: int, *, name: str = "", count: str = "", mark: str = "", text: int = 0,
    least: int = 0,
) -> Sizes:
    """Choose the heights.

    Args:
        columns: Cells across.
        lines: Rows there are for everything.
        name: Short name of the step, in one line or two; without room it stands
            as a line of text.
        count: As it will be drawn; empty for none.
        mark: The sheet mark; empty for none. A row of words stands under it, also where
            the mark itself is not drawn.
        text: Rows of text that should stay; they give way before the count does.
        least: Rows of these that stay as long as count and mark can be drawn at all: a caution.
    """
    rows = [(max(least, wanted), bool(mark)) for wanted in (text, text * 2 // 3, text // 2, 1)]
    # A caution stays whole before a mark stays large: its words still say it.
    for wanted, large in (*rows, (least, False), (1, bool(mark)), (0, bool(mark))):
        possible = [
            found
            for heights in product(_of(name), _of(count), _of(mark))
            if (found := _laid(columns, lines, (name, count, mark), heights)) is not None
            and found.text >= wanted
            and bool(found.count) == bool(count)
            and bool(found.mark) == large
        ]
        if possible:
            return max(possible, key=_worth)
    return Sizes(text=max(0, lines - 1 - bool(mark)))


def _of(text: str) -> tuple[int, ...]:
    return (0, *HEIGHTS) if text else (0,)


def _worth(found: Sizes) -> tuple[int, ...]:
    # The name is one row of plain text where it is not drawn, so it never counts first.
    return (
        min(found.count, _ENOUGH) + min(found.mark, _ENOUGH),
        min(found.name, _ENOUGH),
        2 * found.count + 2 * found.mark + found.name,
    )


def _laid(
    columns: int, lines: int, texts: tuple[str, str, str], heights: tuple[int, int, int]
) -> Sizes | None:
    """These heights laid out, or None where they do not fit."""
    name, count, mark = heights
    across = [
        max(glyph_width(line, high) for line in text.split("\n")) if high else 0
        for text, high in zip(texts, heights, strict=True)
    ]
    if max(across) > columns or (count and name > count):
        return None
    beside = not (count and texts[2]) or (
        bool(mark) and across[1] + GAP + across[2] <= columns)
    under = mark + 1 if texts[2] else 0
    middle = max(count, under) if beside else count + 1 + under
    named = texts[0].count("\n") + 1 if name else 1
    rest = lines - named * (name + 1 if name else 1) - middle
    return None if rest < 0 else Sizes(name, count, mark, beside, rest)


LINE: Final = 3
"""Cells of the wash line."""


def stage_widths(
    where: str, columns: int, *, covers: bool, aside: bool, paper: bool = False
) -> dict[str, int | None]:
    """Cells each part of the stage takes: None what is left over, 0 not there.

    The side in use is wide, the other narrow, so that the place of the line
    alone tells from afar which side it is.

    Args:
        where: `inky`, `clean` or `across`.
        columns: Cells of the screen.
        covers: Whether what stands across covers both sides and the line.
        aside: Whether other clocks run, which stand on the narrow side.
        paper: Whether damp sheets are counted there, where there is room for it.
    """
    narrow = 24 if columns >= WIDE else 17 if columns >= NARROW or aside else 3
    if where == "inky":
        return {"inky": None, "first": LINE, "across": 0, "second": 0, "clean": narrow}
    if where == "clean":
        return {"inky": narrow, "first": LINE, "across": 0, "second": 0, "clean": None}
    if covers:
        return {"inky": 0, "first": 0, "across": None, "second": 0,
                "clean": narrow if aside or (paper and columns >= NARROW) else 0}
    left = narrow if columns >= WIDE else min(5, narrow)
    return {"inky": left, "first": LINE, "across": None, "second": LINE, "clean": narrow}
