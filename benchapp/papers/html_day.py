"""The rows of a day as a drawing: the hands, each place, the water, over the hours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from html import escape
from typing import Any, Final

from benchapp.shown import visible

_W: Final = 640
_ROW: Final = 22
_NAME: Final = 96
_BAR: Final = 14
#: One piece of work: when it began and ended, in seconds, and what it was.
Bar = tuple[float, float, str]


def day_drawing(r: Mapping[str, Any]) -> str:
    """A review's rows as inline SVG; empty where nothing was seen to begin and end."""
    rows = [(x["row"], _bars(x["bars"])) for x in r["timeline"]]
    opened = _seconds(r["opened_at"])
    end = max((b for _, bars in rows for _, b, _ in bars), default=opened)
    if end <= opened:
        return ""
    high = _ROW * len(rows) + 20
    out = [f'<svg class="chart" viewBox="0 0 {_W} {high}" role="img" aria-label="the day" '
           'xmlns="http://www.w3.org/2000/svg">']
    for n, (name, bars) in enumerate(rows):
        y = n * _ROW + 6
        out.append(f'<text class="name" x="0" y="{y + 11}">{escape(visible(name))}</text>')
        out += [_rect(bar, y, opened, end) for bar in bars if bar[1] > opened]
    begins, ends = r["opened_at"][11:16], _last(r)
    out += [f'<text class="name" x="{_NAME}" y="{high - 4}">{begins}</text>',
            f'<text class="name" x="{_W}" y="{high - 4}" text-anchor="end">{ends}</text>']
    return "".join([*out, "</svg>"])


def _bars(bars: Sequence[Mapping[str, Any]]) -> list[Bar]:
    return [(_seconds(b["from"]), _seconds(b["to"]), b["what"]) for b in bars
            if b["to"] is not None]


def _seconds(iso: str) -> float:
    return datetime.fromisoformat(iso).timestamp()


def _last(r: Mapping[str, Any]) -> str:
    """The time on the wall when the last of it ended."""
    last = max((b["to"] for x in r["timeline"] for b in x["bars"] if b["to"] is not None),
               key=_seconds)
    return str(last)[11:16]


def _rect(bar: Bar, y: int, opened: float, end: float) -> str:
    begun, ended, what = bar
    wide = _W - _NAME
    x = _NAME + wide * max(0.0, begun - opened) / (end - opened)
    across = max(0.6, wide * (ended - max(begun, opened)) / (end - opened) - 0.8)
    return (f'<rect class="bar" x="{x:.1f}" y="{y}" width="{across:.1f}" height="{_BAR}">'
            f"<title>{escape(visible(what))}</title></rect>")
