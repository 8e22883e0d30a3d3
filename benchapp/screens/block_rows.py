"""Blocks of a report as lines of a screen: every text made visible, broken for the room there is.

Pure: shapes carry everything, colour only repeats it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from benchapp.reports.blocks import (
    Block,
    Charts,
    Facts,
    Figure,
    Items,
    Numbers,
    Section,
    Sentence,
    Whole,
    plain_words,
)
from benchapp.reports.charts import Chart, numbered_values, text_chart
from benchapp.reports.reading_drift import DRAWN_FROM
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.widgets.row import Row, wrap_rows

#: Rows of a chart's field: a screen has less room than a page.
_CHART_ROWS: Final = 6


def render_rows(blocks: Iterable[Block], across: int, *, plain: bool = False) -> list[Row]:
    """The rows of a report.

    Args:
        blocks: The report.
        across: Cells a row has.
        plain: Draw charts in ASCII.
    """
    return [row for block in blocks for row in _rows(block, across, plain=plain)]


def section_rows(name: str, rows: Iterable[Row]) -> list[Row]:
    """Rows under their heading; nothing where there are none."""
    inside = list(rows)
    heading = Row(((sanitize(name), "strong"),), heading=True)
    return [Row(), heading, *inside] if inside else []


def _rows(block: Block, across: int, *, plain: bool) -> Iterator[Row]:
    match block:
        case Sentence(words, aside):
            yield from wrap_rows(plain_words(words), across, "quiet" if aside else "text")
        case Items(texts):
            for text in texts:
                yield from wrap_rows(text, across)
        case Facts(rows):
            for name, value in rows:
                yield from wrap_rows(f"{name}: {value}", across)
        case Numbers(values, lead):
            yield from wrap_rows("  ".join((*((lead,) if lead else ()), *values)), across)
        case Figure(chart, told=told):
            yield from _lines(numbered_values(chart, across))
            for text in told:
                yield from wrap_rows(text, across, "quiet")
            # Its name stands above already; the chart's own line of it is left out.
            yield from _drawn(chart, across, plain=plain, from_line=1)
        case Charts(charts, note):
            for chart in charts:
                yield from _drawn(chart, across, plain=plain)
            yield from wrap_rows(note, across, "quiet") if charts else ()
        case Whole(blocks):
            yield from render_rows(blocks, across, plain=plain)
        case Section(name, blocks):
            yield from section_rows(plain_words(name), render_rows(blocks, across, plain=plain))


def _drawn(chart: Chart, across: int, *, plain: bool, from_line: int = 0) -> list[Row]:
    if len(chart.points) < DRAWN_FROM:
        return []
    return _lines(text_chart(chart, across, _CHART_ROWS, plain=plain)[from_line:])


def _lines(lines: Iterable[SafeText]) -> list[Row]:
    return [Row(((line, "text"),)) for line in lines]
