"""Blocks of a report as lines of a screen: every text made visible, broken for the room there is.

Pure: shapes carry everything, colour only repeats it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from benchapp.reports.blocks import (
    Block,
    Charts,
    DayDrawing,
    Facts,
    Figure,
    Items,
    Numbers,
    Section,
    Sentence,
    Table,
    Whole,
    plain_words,
)
from benchapp.reports.charts import Chart, numbered_values, text_chart
from benchapp.reports.reading_drift import DRAWN_FROM
from benchapp.reports.review_times import LONGER, SHORTER
from benchapp.safe_text import SafeText, cell_width, sanitize
from benchapp.screens.day_drawing import timeline_rows
from benchapp.screens.widgets.row import Role, Row, Span, fit_cells, wrap_rows

#: Rows of a chart's field: a screen has less room than a page.
_CHART_ROWS: Final = 6
#: Cells the first column of a table has at least.
_NAME: Final = 14


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
        case DayDrawing(day):
            yield from timeline_rows(day, across)
        case Table():
            yield from _table(block, across)
        case Whole(blocks):
            yield from render_rows(blocks, across, plain=plain)
        case Section(name, blocks):
            yield from section_rows(plain_words(name), render_rows(blocks, across, plain=plain))


def _table(table: Table, across: int) -> Iterator[Row]:
    """Its first column has the cells the others leave; a cell with a sign of more or less shows."""
    cells = [tuple(sanitize(plain_words(x)) for x in row) for row in table.rows]
    wide = [max(map(cell_width, column)) + 2 for column in zip(
        map(sanitize, table.head), *cells, strict=True)][1:]
    name = max(_NAME, across - sum(wide) - 1)
    for n, row in enumerate((tuple(map(sanitize, table.head)), *cells)):
        spans: list[Span] = [(fit_cells(row[0], name - 1), "text" if n else "quiet"),
                             (SafeText(" "), "text")]
        for at, (text, width) in enumerate(zip(row[1:], wide, strict=True), 1):
            role: Role = "quiet" if not n or at in table.quiet else "text"
            signed = text.startswith((LONGER, SHORTER))
            spans.append((fit_cells(text, width), "wash" if signed else role))
        yield Row(tuple(spans))


def _drawn(chart: Chart, across: int, *, plain: bool, from_line: int = 0) -> list[Row]:
    if len(chart.points) < DRAWN_FROM:
        return []
    return _lines(text_chart(chart, across, _CHART_ROWS, plain=plain)[from_line:])


def _lines(lines: Iterable[SafeText]) -> list[Row]:
    return [Row(((line, "text"),)) for line in lines]
