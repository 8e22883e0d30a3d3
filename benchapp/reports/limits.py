"""What an instrument read, against its own usual scatter: two charts with limits, and a sentence.

Limits are drawn from twenty readings while nothing was changed and nothing moved; eyes that
grade get none, nor sheets that are not meant to be alike. Even so one of thirty further
readings lies outside by chance in a fifth of stable runs, and in more than a quarter with the
moving average besides (simulated), so that is said too. Pure.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import floor, log10
from typing import Any, Final

from benchapp.reckon.figures import rounded_text
from benchapp.reckon.trend import SURE_ONCE
from benchapp.reckon.trend_charts import STABLE, Limits, control_charts
from benchapp.reckon.trend_rank import mann_kendall
from benchapp.reports.charts import Chart, ChartLevel

Values = dict[str, Any]
Numbered = Sequence[Sequence[float]]
BY_CHANCE: Final = ("By chance alone 1 of the next 30 readings lies outside in 2 of 10 stable "
                    "runs, and one of the two charts shows something in 3 of 10")


def chart_limits(name: str, unit: str | None, values: Numbered,
                 changed: Sequence[int]) -> Values | None:
    """The limits of an instrument's readings; None for grades, and before the twentieth reading.

    Args:
        name: What was read.
        unit: Its unit; a grade is no instrument's.
        values: (number of the impression, value), the numbers rising.
        changed: After which impressions a setting or the plate was changed.

    Returns:
        `sentence`; `from` and `to`, the impressions the limits rest on (null: no twenty in a row
        were steady); the `middle`, `low` and `high` of single readings and of the moving
        average (`average_low`, `average_high`), the `average` itself, and which impressions lie
        `outside` of each.
    """
    if (unit or "").startswith("grade") or len(values) < STABLE:
        return None
    start = _steady(values, changed)
    if start is None:
        return {"sentence": f"{_first(name)}: no {STABLE} readings in a row were taken while "
                            "nothing was changed and nothing moved: no limits are drawn",
                "from": None, "to": None}
    held = values[start:]
    found = control_charts([v for _, v in held])
    if found is None:
        return None
    numbers = [round(n) for n, _ in held]
    out, late = ([numbers[i] for i in places]
                 for places in (found.outside, found.average_outside))
    single, average = found.limits, found.average_limits
    return {
        "sentence": _sentence(name, unit, numbers, single, out, late),
        "from": numbers[0], "to": numbers[STABLE - 1], "middle": single.middle,
        "low": single.low, "high": single.high, "outside": out,
        "average": [[n, a] for n, a in zip(numbers, found.average, strict=True)],
        "average_low": average.low, "average_high": average.high, "average_outside": late}


def _steady(values: Numbered, changed: Sequence[int]) -> int | None:
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
        return f"{_first(name)}: {rest}; nothing was read since"
    if not out and not late:
        return f"{_first(name)}: all {after} read since lie within {rest}"
    parts = []
    if out:
        parts.append(f"{_no(out)} {'lies' if len(out) == 1 else 'lie'} outside {rest}")
    if late:
        head = "the moving average is beyond its limits at"
        parts.append(f"{head} {_no(late)}" if out else f"all lie within {rest}, but {head} "
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


def limit_charts(name: str, unit: str | None, values: Numbered, found: Values) -> list[Chart]:
    """Single readings, and their moving average, each between its limits; none without limits."""
    if found["from"] is None:
        return []
    held = [(n, v) for n, v in values if n >= found["from"]]
    average = [(n, v) for n, v in found["average"]]
    return [
        _chart(f"{name}, single readings", unit, held, found["middle"], found["low"],
               found["high"], found["outside"]),
        _chart(f"{name}, moving average", unit, average, found["middle"], found["average_low"],
               found["average_high"], found["average_outside"])]


def _chart(title: str, unit: str | None, points: Sequence[tuple[float, float]], middle: float,
           low: float, high: float, outside: Sequence[int]) -> Chart:
    fine = _places(high - low)
    lines = tuple(ChartLevel(words, round(y, fine)) for words, y in (
        ("high", high), ("middle", middle), ("low", low)))
    return Chart(title, tuple(points), y_name=unit or "", limits=lines,
                 marks=frozenset(k for k, (n, _) in enumerate(points) if n in outside))
