"""Small charts: dots in braille, the same in plain signs, and the same as a drawing for pages.

Each has axes with their units and the limits by name, fits 80 columns, and needs no colour. A
chart shows the way things go; the numbers stand beside it (`numbered_values`), so that nobody
has to read a value off dots.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from html import escape
from math import ceil, floor, log10
from typing import Final

from benchapp.reckon.figures import rounded_text
from benchapp.safe_text import SafeText, cell_width, clip_text, sanitize

_BRAILLE: Final = 0x2800
#: The bit of each dot of a braille sign, by column and row.
_DOTS: Final = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))
#: Draws the inside of a chart, one text a row.
_Field = Callable[["Chart", "ChartFrame", int, int], list[str]]
_LEAST: Final = (24, 4)
_COLUMNS: Final = 80
_ROWS: Final = 10


@dataclass(frozen=True, slots=True)
class ChartLevel:
    """A level drawn across: a tolerance, a mean, a chart's limits."""

    name: str
    y: float


@dataclass(frozen=True, slots=True)
class Chart:
    """What is drawn.

    Attributes:
        title: Over it.
        points: (x, y), x rising: impressions by number.
        x_name / y_name: What the axes are, with the unit where there is one.
        limits: Levels drawn across.
        low / high: The ends of the y axis where they are given, as 1 and 5 for grades.
        marks: Places of points that are to stand out.
    """

    title: str
    points: tuple[tuple[float, float], ...]
    x_name: str = "impression"
    y_name: str = ""
    limits: tuple[ChartLevel, ...] = ()
    low: float | None = None
    high: float | None = None
    marks: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class ChartFrame:
    """The ends of both axes and the steps of the y axis."""

    left: float
    right: float
    bottom: float
    top: float
    ticks: tuple[float, ...]

    def across(self, x: float, cells: int) -> int:
        """The cell of `x`, of so many, from the left."""
        return _cell(x, self.left, self.right, cells)

    def up(self, y: float, cells: int) -> int:
        """The cell of `y`, of so many, from the top."""
        return cells - 1 - _cell(y, self.bottom, self.top, cells)


def _cell(value: float, low: float, high: float, cells: int) -> int:
    share = 0.5 if high == low else (value - low) / (high - low)
    return min(cells - 1, max(0, round(share * (cells - 1))))


def chart_frame(chart: Chart) -> ChartFrame | None:
    """The axes a chart needs; None where it has no point."""
    if not chart.points:
        return None
    ys = [y for _, y in chart.points] + [limit.y for limit in chart.limits]
    low = min(ys) if chart.low is None else min(chart.low, *ys)
    high = max(ys) if chart.high is None else max(chart.high, *ys)
    if low == high:
        low, high = low - 0.5, high + 0.5
    step = _nice((high - low) / 4)
    first, last = floor(low / step + 1e-9), ceil(high / step - 1e-9)
    ticks = tuple(round(k * step, 10) for k in range(first, last + 1))
    xs = [x for x, _ in chart.points]
    return ChartFrame(min(xs), max(xs), ticks[0], ticks[-1], ticks)


def _nice(rough: float) -> float:
    """1, 2 or 5 times a power of ten, not under `rough`."""
    power = 10.0 ** floor(log10(rough))
    return next(float(n * power) for n in (1, 2, 5, 10) if n * power >= rough * (1 - 1e-9))


# -- as text ------------------------------------------------------------------------------------


def braille_lines(chart: Chart, columns: int = _COLUMNS, rows: int = _ROWS) -> list[SafeText]:
    """The chart in braille dots, `columns` wide at most; points are two dots by two."""
    return _drawn(chart, columns, rows, _braille_field, ("│", "┤", "└", "─", "┴", "· ·"))


def ascii_chart(chart: Chart, columns: int = _COLUMNS, rows: int = _ROWS) -> list[SafeText]:
    """The same in ASCII: o a point, * one that stands out, - a limit."""
    return _drawn(chart, columns, rows, _ascii_field, ("|", "+", "+", "-", "+", "- -"))


def text_chart(chart: Chart, columns: int = _COLUMNS, rows: int = _ROWS, *,
               plain: bool = False) -> list[SafeText]:
    """The one or the other; `plain`: in ASCII."""
    return (ascii_chart if plain else braille_lines)(chart, columns, rows)


def _drawn(chart: Chart, columns: int, rows: int, field: _Field,
           signs: tuple[str, str, str, str, str, str]) -> list[SafeText]:
    columns, rows = max(columns, _LEAST[0]), max(rows, _LEAST[1])
    title = clip_text(sanitize(chart.title), columns)
    axes = chart_frame(chart)
    if axes is None:
        return [title, clip_text(sanitize("  no values yet"), columns)]
    labels = {axes.up(t, rows): rounded_text(t, 3) for t in axes.ticks}
    gutter = max(map(len, labels.values()))
    wide = columns - gutter - 2
    bar, tick, corner, dash, tee, across = signs
    out = [title]
    if chart.y_name:
        out.append(clip_text(sanitize(chart.y_name), columns))
    for row, line in enumerate(field(chart, axes, wide, rows)):
        label = labels.get(row, "")
        out.append(SafeText(f"{label:>{gutter}} {tick if label else bar}{line}".rstrip()))
    out.append(SafeText(" " * (gutter + 1) + corner + dash * (wide - 1) + tee))
    out.append(_under(chart, axes, gutter + 2, columns))
    return out + [clip_text(sanitize(f"{' ' * gutter} {across} {x.name} {rounded_text(x.y, 3)}"),
                            columns)
                  for x in chart.limits]


def _under(chart: Chart, axes: ChartFrame, indent: int, columns: int) -> SafeText:
    """The ends of the x axis with its name between."""
    left, right = rounded_text(axes.left, 1), rounded_text(axes.right, 1)
    name = clip_text(sanitize(chart.x_name), max(0, columns - indent - len(left) - len(right) - 2))
    if axes.left == axes.right:
        return SafeText(f"{' ' * indent}{left} {name}")
    gap = columns - indent - len(left) - len(right) - cell_width(name)
    before = gap // 2
    return SafeText(f"{' ' * indent}{left}{' ' * before}{name}{' ' * (gap - before)}{right}")


def _braille_field(chart: Chart, axes: ChartFrame, wide: int, rows: int) -> list[str]:
    dots = [[0] * wide for _ in range(rows)]

    def put(x: int, y: int) -> None:
        if 0 <= x < wide * 2 and 0 <= y < rows * 4:
            dots[y // 4][x // 2] |= _DOTS[x % 2][y % 4]

    for limit in chart.limits:
        for x in range(0, wide * 2, 3):
            put(x, axes.up(limit.y, rows * 4))
    for place, (px, py) in enumerate(chart.points):
        at, up = axes.across(px, wide * 2 - 1), axes.up(py, rows * 4 - 1)
        size = 3 if place in chart.marks else 2
        for dx in range(size):
            for dy in range(size):
                put(at + dx, up + dy)
    return ["".join(chr(_BRAILLE + d) if d else " " for d in row) for row in dots]


def _ascii_field(chart: Chart, axes: ChartFrame, wide: int, rows: int) -> list[str]:
    field = [[" "] * wide for _ in range(rows)]
    for limit in chart.limits:
        field[axes.up(limit.y, rows)] = ["-" if x % 2 else " " for x in range(wide)]
    for place, (x, y) in enumerate(chart.points):
        field[axes.up(y, rows)][axes.across(x, wide)] = "*" if place in chart.marks else "o"
    return ["".join(row) for row in field]


def numbered_values(chart: Chart, columns: int = _COLUMNS) -> list[SafeText]:
    """Every value with its place, as many to a line as fit: `1: 4   2: 5 …`."""
    cells = [f"{rounded_text(x, 1)}: {rounded_text(y, 3)}" for x, y in chart.points]
    if not cells:
        return []
    wide = max(map(len, cells)) + 3
    each = max(1, columns // wide)
    return [SafeText("".join(f"{c:<{wide}}" for c in cells[i : i + each]).rstrip())
            for i in range(0, len(cells), each)]


# -- as a drawing -------------------------------------------------------------------------------

_W: Final = 640
_H: Final = 234
_LEFT: Final = 48
_BELOW: Final = 34
_TOP: Final = 26
#: Room at the right where limits are named, beside the values and never over them.
_NAMED: Final = 118
_RIGHT: Final = 8


def chart_svg(chart: Chart) -> str:
    """The chart as inline SVG, without script or style of its own; classes name its parts.

    Classes: `chart`, `axis`, `tick`, `limit`, `point`, `mark`, `name`.
    """
    title = escape(sanitize(chart.title))
    axes = chart_frame(chart)
    if axes is None:
        return f'<p class="chart-none">{title}: no values yet</p>'
    out = [f'<svg class="chart" viewBox="0 0 {_W} {_H}" role="img" '
           f'aria-label="{title}" xmlns="http://www.w3.org/2000/svg">', f"<title>{title}</title>"]
    end = _end(chart)
    for t in axes.ticks:
        y = _y(axes, t)
        out += [f'<line class="tick" x1="{_LEFT}" y1="{y}" x2="{end}" y2="{y}"/>',
                _words(_LEFT - 6, y + 4, rounded_text(t, 3), "end")]
    for limit in chart.limits:
        y = _y(axes, limit.y)
        out += [f'<line class="limit" x1="{_LEFT}" y1="{y}" x2="{end}" y2="{y}"/>',
                _words(end + 6, y + 4, f"{limit.name} {rounded_text(limit.y, 3)}", "start")]
    for place, (x, y_) in enumerate(chart.points):
        kind, r = ("mark", 5) if place in chart.marks else ("point", 3)
        out.append(f'<circle class="{kind}" cx="{_x(axes, x, end)}" cy="{_y(axes, y_)}" r="{r}"/>')
    bottom = _H - _BELOW
    out += [f'<path class="axis" d="M{_LEFT} {_TOP}V{bottom}H{end}"/>',
            _words(_LEFT, bottom + 16, rounded_text(axes.left, 1), "start"),
            _words(end, bottom + 16, rounded_text(axes.right, 1), "end"),
            _words((_LEFT + end) / 2, bottom + 28, chart.x_name, "middle")]
    if chart.y_name:
        out.append(_words(4, 14, chart.y_name, "start"))
    return "".join([*out, "</svg>"])


def _end(chart: Chart) -> int:
    """Where the field ends at the right."""
    return _W - (_NAMED if chart.limits else _RIGHT)


def _x(axes: ChartFrame, x: float, end: int) -> str:
    share = 0.5 if axes.right == axes.left else (x - axes.left) / (axes.right - axes.left)
    return f"{_LEFT + 8 + share * (end - _LEFT - 16):.1f}"


def _y(axes: ChartFrame, y: float) -> float:
    share = (y - axes.bottom) / (axes.top - axes.bottom)
    return round(_TOP + (1 - share) * (_H - _BELOW - _TOP), 1)


def _words(x: float, y: float, text: str, anchor: str) -> str:
    return (f'<text class="name" x="{x:g}" y="{y:g}" text-anchor="{anchor}">'
            f"{escape(sanitize(text))}</text>")
