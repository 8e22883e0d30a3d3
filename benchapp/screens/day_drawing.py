"""The day by place, drawn in one line for the hands and one for each place. Pure.

Shapes and signs carry everything, colour only repeats it.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from benchapp.reports.review_day import DayBar, DayChart, DayRow
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.widgets.row import Row, Span, fit_cells, wrap_rows

_NAME: Final = 13
#: Cells between two times on the axis, at least: the time itself and a gap.
_TICK: Final = 8
_LEGEND: Final = "━ for no single impression   3── for impression 3, from its number"
_STEPS_MIN: Final = (5, 10, 15, 30, 60, 120, 240, 480, 1440)


def timeline_rows(day: DayChart, across: int) -> list[Row]:
    """One line for the hands, one a place: when something was on it, and for which impression.

    ━ stands for work of no impression; an impression's number stands where it begins and ─
    goes on from it. What was in the water before the day began comes in at the left edge.
    """
    begin = datetime.fromisoformat(day.opened_at)
    end = begin + timedelta(seconds=max(60.0, day.seconds))
    cells = max(16, across - _NAME - 1)
    rows = [row for row in day.rows if row.bars]
    if not rows:
        return []
    axis: list[Span] = [(SafeText(" " * _NAME), "quiet"), (_axis(begin, end, cells), "quiet")]
    return [Row(tuple(axis)), *(_place(row, begin, end, cells) for row in rows),
            *wrap_rows(_LEGEND, across, "quiet")]


def _place(row: DayRow, begin: datetime, end: datetime, cells: int) -> Row:
    line = [" "] * cells
    heads: list[tuple[int, str]] = []
    last: int | None = None
    for bar in sorted(row.bars, key=lambda b: str(b.from_)):
        first, after = _cells(bar, begin, end, cells)
        line[first:after] = ("━" if bar.impression is None else "─") * (after - first)
        if bar.impression is not None and bar.impression != last:
            heads.append((first, str(bar.impression)))
        last = bar.impression
    free = 0
    for at, number in sorted(heads):
        if at >= free and at + len(number) <= cells:
            line[at : at + len(number)] = number
            free = at + len(number) + 1
    name = fit_cells(sanitize(row.row), _NAME - 1)
    return Row(((name, "quiet"), (SafeText(" "), "quiet"),
                (SafeText("".join(line).rstrip()), "text")))


def _cells(bar: DayBar, begin: datetime, end: datetime, cells: int) -> tuple[int, int]:
    """The first cell of a bar and the one after its last; one cell at least."""
    start = datetime.fromisoformat(bar.from_)
    stop = end if bar.to is None else datetime.fromisoformat(bar.to)
    whole = (end - begin).total_seconds()
    first, after = (min(cells, max(0, round((at - begin).total_seconds() / whole * cells)))
                    for at in (start, max(start, stop)))
    first = min(first, cells - 1)
    return first, max(first + 1, after)


def _axis(begin: datetime, end: datetime, cells: int) -> SafeText:
    """Whole times of day over the line, as many as have room."""
    minutes = (end - begin).total_seconds() / 60
    step = next((s for s in _STEPS_MIN if s * cells / minutes >= _TICK), _STEPS_MIN[-1])
    line = [" "] * cells
    midnight = begin.replace(hour=0, minute=0, second=0, microsecond=0)
    at = midnight + timedelta(minutes=step)
    while at <= end:
        cell = round((at - begin).total_seconds() / 60 / minutes * cells)
        text = f"╷{at:%H:%M}"
        if at >= begin and cell + len(text) <= cells:
            line[cell : cell + len(text)] = text
        at += timedelta(minutes=step)
    return SafeText("".join(line).rstrip())
