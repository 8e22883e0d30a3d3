"""Long lines on a terminal, folded between words; what goes elsewhere is left as it is. Pure."""

from __future__ import annotations

from textwrap import wrap
from typing import Final

from benchapp.safe_text import SafeText, cell_width

_LEAST: Final = 20
"""Below so many columns nothing is folded: words would stand alone."""


def fold_rows(line: SafeText, columns: int) -> str:
    """The line in as many rows as it needs, each below where the first began.

    A word that is wider than a row, such as a path, stays whole, so that it can be copied.

    Args:
        line: Without its end.
        columns: Cells a row has.
    """
    if columns < _LEAST or cell_width(line) <= columns:
        return line
    indent = line[: len(line) - len(line.lstrip(" "))]
    rows = wrap(line, columns, subsequent_indent=indent, replace_whitespace=False,
                expand_tabs=False, break_long_words=False, break_on_hyphens=False)
    return "\n".join(rows)
