"""Columns beside each other as lines of a list: every cell whole, broken at blanks. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Final

from benchapp.reports.comparison import ComparedLine
from benchapp.safe_text import SafeText, clip_text, sanitize
from benchapp.screens.page_base import WIDE
from benchapp.screens.widgets.rows import Role, Row, Span, fit_cells

#: Stands at the end of a line in which the columns do not agree; under its name where narrow.
DIFFERENT: Final = "differs"
_INDENT: Final = "  "
_GAP: Final = 2
#: Below so many cells the names are cut short.
_NARROW: Final = 60


def column_widths(across: int, columns: int) -> tuple[int, int]:
    """Cells of the names at the left and of each column."""
    name = 26 if across >= WIDE - 4 else 17 if across >= _NARROW else 12
    aside = len(DIFFERENT) + _GAP if across >= _NARROW and columns > 1 else 0
    return name, max(4, (across - name - aside - _GAP * columns) // max(1, columns))


def head_rows(heads: Sequence[tuple[str, str]], across: int, in_hand: int) -> list[Row]:
    """What stands over the columns, two lines each; the sign is at the one the arrows move.

    Args:
        heads: A line in bold and one below it, for each column.
        across: Cells a line has.
        in_hand: The column that is moved.
    """
    name, cell = column_widths(across, len(heads))
    top: list[Span] = [(SafeText(" " * name), "text")]
    under: list[Span] = [(SafeText(" " * name), "text")]
    for n, (first, second) in enumerate(heads):
        sign = "▸ " if n == in_hand else "  "
        top += [(SafeText(sign), "mark"), (fit_cells(sanitize(first), cell), "strong")]
        under += [(SafeText("  "), "text"), (fit_cells(sanitize(second), cell), "quiet")]
    return [Row(tuple(top)), Row(tuple(under))]


def beside_rows(lines: Sequence[ComparedLine], across: int, *,
                differing: bool = False) -> list[Row]:
    """The lines under their groups.

    Args:
        lines: From `benchapp.reports.comparison`.
        across: Cells a line has.
        differing: Leave out what is the same in all columns.
    """
    out: list[Row] = []
    group = ""
    for x in lines:
        if differing and x.same:
            continue
        if x.group != group:
            group = x.group
            words = f"{group[:1].upper()}{group[1:]}"
            out += [*([Row()] if out else []),
                    Row(((sanitize(words), "strong"),), heading=True)]
        out += _line(x, across)
    return out


def _line(x: ComparedLine, across: int) -> list[Row]:
    name, cell = column_widths(across, len(x.said))
    differs = not x.same and len(x.said) > 1
    aside = differs and across >= _NARROW
    role: Role = "quiet" if x.same else "text"
    what = textwrap.wrap(sanitize(x.what), name - 3) or [""]
    what += [DIFFERENT] if differs and not aside else []
    cells = [textwrap.wrap(sanitize(c), cell) or ["—"] for c in x.said]
    out = []
    for n in range(max(len(what), *map(len, cells))):
        head = _INDENT + (what[n] if n < len(what) else "")
        spans: list[Span] = [(fit_cells(clip_text(SafeText(head), name - 1), name), "quiet")]
        for lines in cells:
            text = lines[n] if n < len(lines) else ""
            spans += [(SafeText("  "), "text"), (fit_cells(SafeText(text), cell), role)]
        out.append(Row(tuple(spans), right=SafeText(DIFFERENT if aside and n == 0 else "")))
    return out
