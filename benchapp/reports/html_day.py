"""The rows of a day as a drawing: the hands, each place, the water, over the hours."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime, timedelta
from html import escape
from typing import Final

from benchapp.reports.review_day import DayBar, DayChart
from benchapp.safe_text import sanitize

_W: Final = 640
_ROW: Final = 22
_NAME: Final = 96
_BAR: Final = 14
_IMPRESSION: Final = "impression"
#: Room for a digit, and for a time of day with a gap beside it.
_DIGIT: Final = 7
_TIME: Final = 52
_MOST_HOURS: Final = 10
_DAY_HOURS: Final = 24
#: One piece of work: when it began and ended, in seconds, and what it was.
Bar = tuple[float, float, str]


def day_drawing(day: DayChart) -> str:
    """The rows as inline SVG; empty where nothing was seen to begin and end.

    Over them stands each impression's number where its first bar begins, as long as there is
    room; under them the first and the last time of day, and whole hours between.
    """
    rows = [(x.row, _bars(x.bars)) for x in day.rows]
    opened = _seconds(day.opened_at)
    end = max((b for _, bars in rows for _, b, _ in bars), default=opened)
    if end <= opened:
        return ""
    high = _ROW * (len(rows) + 1) + 20
    out = [f'<svg class="chart" viewBox="0 0 {_W} {high}" role="img" aria-label="the day" '
           'xmlns="http://www.w3.org/2000/svg">', *_hours(day, opened, end, high),
           *_numbers(day, opened, end)]
    for n, (name, bars) in enumerate(rows, 1):
        y = n * _ROW + 2
        out.append(f'<text class="name" x="0" y="{y + 11}">{escape(sanitize(name))}</text>')
        out += [_rect(bar, y, opened, end) for bar in bars if bar[1] > opened]
    begins, ends = day.opened_at[11:16], _last(day)
    out += [f'<text class="name" x="{_NAME}" y="{high - 4}">{begins}</text>',
            f'<text class="name" x="{_W}" y="{high - 4}" text-anchor="end">{ends}</text>']
    return "".join([*out, "</svg>"])


def _across(at: float, opened: float, end: float) -> float:
    return _NAME + (_W - _NAME) * max(0.0, at - opened) / (end - opened)


def _numbers(day: DayChart, opened: float, end: float) -> list[str]:
    """The impressions as they passed."""
    begun: dict[int, float] = {}
    for row in day.rows:
        for bar in row.bars:
            if bar.impression is not None:
                at = _seconds(bar.from_)
                begun[bar.impression] = min(at, begun.get(bar.impression, at))
    out, free = [f'<text class="name" x="0" y="13">{_IMPRESSION}</text>'] if begun else [], 0.0
    for number, at in sorted(begun.items(), key=lambda pair: pair[1]):
        x = _across(at, opened, end)
        if x >= free and x <= _W - _DIGIT:
            out.append(f'<text class="name" x="{x:.1f}" y="13">{number}</text>')
            free = x + _DIGIT * (len(str(number)) + 1)
    return out


def _hours(day: DayChart, opened: float, end: float, high: int) -> list[str]:
    """Whole hours as faint lines, and their time where it is clear of the ends.

    A clock that was wrong may put years between: then the lines are days apart, and never
    more than some ten.
    """
    begin = datetime.fromisoformat(day.opened_at)
    step = _hours_between((end - opened) / 3600)
    midnight = begin.replace(hour=0, minute=0, second=0, microsecond=0)
    first = int((opened - midnight.timestamp()) / 3600 / step) + 1
    count = int((end - midnight.timestamp()) / 3600 / step)
    out = []
    for n in range(first, count + 1):
        at = midnight + timedelta(hours=n * step)
        x = _across(at.timestamp(), opened, end)
        out.append(f'<line class="tick" x1="{x:.1f}" y1="18" x2="{x:.1f}" y2="{high - 16}"/>')
        if _NAME + _TIME < x < _W - _TIME:
            words = f"{at:%H:%M}" if step < _DAY_HOURS else f"{at:%Y-%m-%d}"
            out.append(f'<text class="name" x="{x:.1f}" y="{high - 4}" '
                       f'text-anchor="middle">{words}</text>')
    return out


def _hours_between(hours: float) -> int:
    """How many hours lie between two lines, so that at most so many fit."""
    for step in (1, 2, 3, 6, 12, _DAY_HOURS):
        if hours / step <= _MOST_HOURS:
            return step
    return _DAY_HOURS * math.ceil(hours / _DAY_HOURS / _MOST_HOURS)


def _bars(bars: Sequence[DayBar]) -> list[Bar]:
    return [(_seconds(b.from_), _seconds(b.to), b.what) for b in bars
            if b.to is not None]


def _seconds(iso: str) -> float:
    return datetime.fromisoformat(iso).timestamp()


def _last(day: DayChart) -> str:
    """The time on the wall when the last of it ended."""
    last = max((b.to for x in day.rows for b in x.bars if b.to is not None),
               key=_seconds)
    return str(last)[11:16]


def _rect(bar: Bar, y: int, opened: float, end: float) -> str:
    begun, ended, what = bar
    x = _across(begun, opened, end)
    across = max(0.6, _across(ended, opened, end) - x - 0.8)
    return (f'<rect class="bar" x="{x:.1f}" y="{y}" width="{across:.1f}" height="{_BAR}">'
            f"<title>{escape(sanitize(what))}</title></rect>")
