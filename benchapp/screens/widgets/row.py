"""One line of a list, and texts broken into such lines. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from benchapp.safe_text import SafeText, cell_width, clip_text, sanitize

Role = Literal["text", "quiet", "mark", "good", "fault", "wash", "strong"]
Span = tuple[SafeText, Role]

#: Cells that a text beside a name needs to be read well.
_ROOM: Final = 24


@dataclass(frozen=True, slots=True)
class Row:
    """One line.

    Attributes:
        spans: Pieces of text from the left, each with the role that colours it.
        id: What is chosen with it; None: it cannot be chosen.
        heading: It names what stands below, and a rule fills the rest of it.
        right: Text at the right end, which goes before the left is cut.
    """

    spans: tuple[Span, ...] = ()
    id: str | None = None
    heading: bool = False
    right: SafeText = SafeText("")  # noqa: RUF009 - a constant, and immutable


def fit_cells(text: SafeText, cells: int) -> SafeText:
    """The text in exactly so many cells: cut with an ellipsis, or filled with blanks."""
    cut = clip_text(text, cells)
    return SafeText(cut + " " * (cells - cell_width(cut)))


def wrap_rows(text: str, across: int, role: Role = "text", *,
              first: Sequence[Span] = ()) -> list[Row]:
    """A long text as rows of its own, broken at blanks.

    Args:
        text: Whatever is to be shown, not yet made visible.
        across: Cells a row has.
        role: What colours it.
        first: Stands at the left of the first row; the others are as far in.
    """
    indent = sum(cell_width(piece) for piece, _ in first)
    lines = textwrap.wrap(sanitize(text), max(20, across - indent)) or [""]
    blank: Span = (SafeText(" " * indent), "text")
    return [Row((*(first if n == 0 else (blank,)), (SafeText(line), role)))
            for n, line in enumerate(lines)]


def titled_rows(first: Sequence[Span], text: str, across: int, role: Role = "quiet", *,
                id: str | None = None) -> list[Row]:
    """A name and what is said of it, whole: beside it, or below it where there is no room.

    Args:
        first: The name.
        text: What is said of it.
        across: Cells a row has.
        role: What colours that.
        id: What is chosen with it; None: it cannot be chosen.
    """
    indent = sum(cell_width(piece) for piece, _ in first)
    if across - indent >= min(_ROOM, cell_width(sanitize(text))):
        rows = wrap_rows(text, across, role, first=first)
    else:
        rows = [Row(tuple(first)),
                *wrap_rows(text, across, role, first=((SafeText("    "), "text"),))]
    return [replace(rows[0], id=id), *rows[1:]]
