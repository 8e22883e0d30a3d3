"""What an instrument read, against its own usual scatter: two charts with limits, and a sentence.

Limits are drawn from twenty readings while nothing was changed and nothing moved; eyes that
grade get none, nor sheets that are not meant to be alike. Even so one of thirty further
readings lies outside by chance in a fifth of stable runs, and in more than a quarter with the
moving average besides (simulated), so that is said too. Pure.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import floor, log10
from typing import Annotated, Final

from benchapp.reckon.figures import rounded_text
from benchapp.reckon.trend import SURE_ONCE
from benchapp.reckon.trend_charts import STABLE, Limits, control_charts
from benchapp.reckon.trend_rank import mann_kendall
from benchapp.reports.charts import Chart, ChartLevel
from benchapp.reports.json_form import FLAT, Numbered

BY_CHANCE: Final = ("By chance alone, 2 of 10 stable runs have one of the next 30 readings "
                    "outside; in 3 of 10, one of the two charts shows something")


@dataclass(frozen=True, slots=True)
class DrawnLimits:
    """Limits of single readings and of their moving average."""

    middle: Annotated[float, "the middle of the usual scatter, in the reading's unit"]
    low: Annotated[float, "the low limit of single readings"]
    high: Annotated[float, "the high limit of single readings"]
    outside: Annotated[tuple[int, ...], "impressions whose reading is outside these"]
    average: Annotated[tuple[Numbered, ...], "the moving average: [impression, value]"]
    average_low: Annotated[float, "the low limit of the moving average"]
    average_high: Annotated[float, "the high limit of the moving average"]
    average_outside: Annotated[tuple[int, ...], "impressions at which it is outside these"]


@dataclass(frozen=True, slots=True)
class ReadingLimits:
    """What an instrument read, against its own usual scatter."""

    sentence: Annotated[str, "what the limits show, in words"]
    from_: Annotated[int | None, "the first impression the limits rest on; null: none are drawn"]
    to: Annotated[int | None, "the last impression the limits rest on"]
    drawn: Annotated[DrawnLimits | None, FLAT, "the limits, where there are any"]


def chart_limits(name: str, unit: str | None, values: Sequence[Numbered],
                 changed: Sequence[int]) -> ReadingLimits | None:
    """The limits of an instrument's readings; None for grades, and before the twentieth reading.

    Args:
        name: What was read.
        unit: Its unit; a grade is no instrument's.
        values: (number of the impression, value), the numbers rising.
        changed: After which impressions a setting or the plate was changed.
    """
    if (unit or "").startswith("grade") or len(values) < STABLE:
        return None
    start = _steady(values, changed)
    if start is None:
        return ReadingLimits(f"{_first(name)}: no {STABLE} readings in a row were taken while "
                             "nothing was changed and nothing moved: no limits are drawn",
                             None, None, None)
    held = values[start:]
    found = control_charts([v for _, v in held])
    if found is None:
        return None
    numbers = [round(n) for n, _ in held]
    out, late = ([numbers[i] for i in places]
                 for places in (found.outside, found.average_outside))
    single, average = found.limits, found.average_limits
    return ReadingLimits(
        _sentence(name, unit, numbers, single, out, late), numbers[0], numbers[STABLE - 1],
        DrawnLimits(single.middle, single.low, single.high, tuple(out),
                    tuple(zip(numbers, found.average, strict=True)), average.low, average.high,
                    tuple(late)))


def _steady(values: Sequence[Numbered], changed: Sequence[int]) -> int | None:
    """The place of the first twenty readings with no change among them, and no direction."""
    numbers = [n for n, _ in values]
    # A change after 6 lies between two readings where the one before is 6 or less.
    new = [0] + [k for k, (a, b) in enumerate(pairwise(numbers), 1)
                 if any(a <= c < b for c in changed)]
    for start, end in pairwise([*new, len(values)]):
        first = [v for _, v in values[start : start + STABLE]]
        if end - start >= STABLE and mann_kendall(first).p >= SURE_ONCE:
            return start
    return None


def _sentence(name: str, unit: str | None, numbers: Sequence[int], single: Limits,
              out: Sequence[int], late: Sequence[int]) -> str:
    fine = _places(single.high - single.low)
    low, high = rounded_text(single.low, fine), rounded_text(single.high, fine)
    span = f"{low} to {high} {unit or ''}".strip()
    rest = f"the usual scatter of impressions {numbers[0]} to {numbers[STABLE - 1]}, {span}"
    after = len(numbers) - STABLE
    if not after:
        return f"{_first(name)}: {rest}; no reading since"
    if not out and not late:
        return f"{_first(name)}: all {after} readings since are within {rest}"
    parts = []
    if out:
        parts.append(f"{_no(out)} {'is' if len(out) == 1 else 'are'} outside {rest}")
    if late:
        head = "the moving average is beyond its limits at"
        parts.append(f"{head} {_no(late)}" if out else f"all are within {rest}, but {head} "
                                                       f"{_no(late)}")
    return f"{_first(name)}: {'; '.join(parts)}"


def _places(span: float) -> int:
    """Decimals that tell a hundredth of a span."""
    return 0 if span <= 0 else max(0, 2 - floor(log10(span)))


def _no(numbers: Sequence[int]) -> str:
    shown = ", ".join(map(str, numbers[:8]))
    return f"no. {shown}" + (" and more" if len(numbers) > 8 else "")


def _first(name: str) -> str:
    return name[:1].upper() + name[1:]


def limit_charts(name: str, unit: str | None, values: Sequence[Numbered],
                 found: ReadingLimits) -> list[Chart]:
    """Single readings, and their moving average, each between its limits; none without limits."""
    drawn, start = found.drawn, found.from_
    if drawn is None or start is None:
        return []
    held = [(n, v) for n, v in values if n >= start]
    return [
        _chart(f"{name}, single readings", unit, held, drawn.middle, drawn.low, drawn.high,
               drawn.outside),
        _chart(f"{name}, moving average", unit, drawn.average, drawn.middle, drawn.average_low,
               drawn.average_high, drawn.average_outside)]


def _chart(title: str, unit: str | None, points: Sequence[tuple[float, float]], middle: float,
           low: float, high: float, outside: Sequence[int]) -> Chart:
    fine = _places(high - low)
    lines = tuple(ChartLevel(words, round(y, fine)) for words, y in (
        ("high", high), ("middle", middle), ("low", low)))
    return Chart(title, tuple(points), y_name=unit or "", limits=lines,
                 marks=frozenset(k for k, (n, _) in enumerate(points) if n in outside))
