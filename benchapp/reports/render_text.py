"""Blocks as lines for a terminal or a reader's voice; texts are not yet made visible."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap
from typing import Final

from benchapp.reports.blocks import (
    Beside,
    Block,
    Charts,
    Drawn,
    Facts,
    Figure,
    Items,
    Numbers,
    Photos,
    Section,
    Sentence,
    Signatures,
    Title,
    Whole,
    plain_words,
)
from benchapp.reports.charts import Chart, numbered_values, text_chart
from benchapp.reports.reading_drift import DRAWN_FROM

#: Holds a value to its number where a row is broken.
_HELD: Final = "\N{NO-BREAK SPACE}"
_COLUMNS: Final = 76


def render_text(blocks: Iterable[Block], charts: str | None = None,
                columns: int = _COLUMNS) -> list[str]:
    """The lines of a report.

    Args:
        blocks: The report.
        charts: `dots` or `plain` (ASCII): draw the charts too.
        columns: Cells of a line; lists that wrap go by it.
    """
    return [line for block in blocks for line in _lines(block, charts, "", columns)]


def _lines(block: Block, charts: str | None, indent: str, columns: int) -> Iterator[str]:
    match block:
        case Title(title, under):
            yield plain_words(title)
            yield plain_words(under)
            yield ""
        case Sentence(words, wraps=wraps):
            text = plain_words(words)
            yield from (indent + x for x in (wrap(text, _COLUMNS) if wraps else [text]))
        case Items(texts, wraps=True):
            yield from (line for text in texts for line in wrap(
                text, columns, initial_indent=indent, subsequent_indent=indent + "  "))
        case Items(texts):
            yield from (indent + text for text in texts)
        case Drawn(drawing):
            yield from ("", *drawing)
        case Numbers():
            yield from _row(block, indent)
        case Figure(chart, numbers, aligned):
            yield from (indent + x for x in numbered_values(chart, _COLUMNS)) if aligned else (
                _row(numbers, indent))
            # Its name stands above already; the chart's own line of it is left out.
            yield from _drawn(chart, charts, from_line=1)
        case Charts(drawn, note):
            found = [line for chart in drawn for line in _drawn(chart, charts)]
            yield from found
            yield from (f"  {x}" for x in wrap(note, _COLUMNS)) if found else ()
        case Photos(photos):
            yield from (f"{indent}picture: {x.words}" for x in photos)
        case Facts(rows):
            yield from (f"{indent}{name}: {value}" for name, value in rows)
        case Signatures(names, note):
            lines = [f"{name}: ______________________" for name in names]
            yield from ("", *lines, *([""] if lines else ()), note)
        case Beside(left, right):
            for inside in (*left, *right):
                yield from _lines(inside, charts, indent, columns)
        case Whole(blocks):
            for inside in blocks:
                yield from _lines(inside, charts, indent, columns)
        case Section(name, blocks) if blocks:
            yield from ("", plain_words(name))
            for inside in blocks:
                yield from _lines(inside, charts, "  ", columns)


def _row(numbers: Numbers, indent: str) -> list[str]:
    """Values by their sheets, broken between two of them and never within one."""
    held = "  ".join(x.replace(" ", _HELD) for x in (
        *((numbers.lead,) if numbers.lead else ()), *numbers.values))
    return [line.replace(_HELD, " ") for line in wrap(
        held, _COLUMNS, initial_indent=indent * (2 if numbers.deep else 1),
        subsequent_indent="    ")]


def _drawn(chart: Chart, charts: str | None, from_line: int = 0) -> list[str]:
    if charts is None or len(chart.points) < DRAWN_FROM:
        return []
    return [*text_chart(chart, _COLUMNS, plain=charts == "plain")[from_line:]]
