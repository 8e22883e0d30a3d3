"""How long a step takes: the recipe's time, moved by the times that were taken.

The usual time is drawn from the recipe's towards the days' middles, the more the more there are:
for ln(time ÷ usual) a step differs from the recipe by .25, a day from another by .10 and one time
from the next by .20 (standard deviations; measured for the day plan). Low and high go towards the
tenth and the ninetieth of a hundred, with the recipe's own worth eight times.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log, sqrt
from statistics import median
from typing import Final

from benchapp.quantities import Duration, Span
from benchapp.reckon.shares import sample_quantile

_OFFSET: Final = 0.25
_DAY: Final = 0.10
_REST: Final = 0.20
#: Variance of the median of normal values, over that of their mean: π/2 (for many of them).
_MEDIAN_COSTS: Final = 1.57
#: A usual time is left alone within one standard deviation and within this, as ln(new ÷ old).
_NEAR: Final = 0.04
#: Low and high are left alone within this: they only say how wide the times spread.
_NEAR_ENDS: Final = 0.15
#: Times that the recipe's own low and high are worth.
_WORTH: Final = 8
_LOW: Final = 0.1
_HIGH: Final = 0.9


def learn_time(first: Span | None, text: Span | None, taken: Sequence[Sequence[int]]) -> Span:
    """The first value, drawn towards the times taken; the text's own within what chance does.

    Args:
        first: What the recipe said before any of these days; None: no time.
        text: What it says now; a change of it that was taken over from here included.
        taken: The times of each day, milliseconds; none empty, at least one day.
    """
    logs = sorted(log(ms) for day in taken for ms in day)
    low, high = sample_quantile(logs, _LOW), sample_quantile(logs, _HIGH)
    if first is not None and not first.low.ms:
        first = None
    usual, sd = _posterior(first, taken)
    if first is not None:
        width = len(logs) / (len(logs) + _WORTH)
        low = _between(log(first.low.ms), low, width)
        high = _between(log(first.high.ms), high, width)
        if first.low == first.usual == first.high:
            low = high = usual
    if text is not None and not (
            _is_off(usual, text.usual, max(sd, _NEAR))
            or _is_off(low, text.low, max(3 * sd, _NEAR_ENDS))
            or _is_off(high, text.high, max(3 * sd, _NEAR_ENDS))):
        return text
    return _span(exp(low), exp(usual), exp(high), "min" if first is None else first.high.unit)


def _posterior(first: Span | None, taken: Sequence[Sequence[int]]) -> tuple[float, float]:
    """Mean and standard deviation of ln(usual time): the first value and the days' middles."""
    weights = [1 / (_DAY**2 + _MEDIAN_COSTS * _REST**2 / len(day)) for day in taken]
    middles = [median(log(ms) for ms in day) for day in taken]
    if first is not None:
        weights.append(1 / _OFFSET**2)
        middles.append(log(first.usual.ms))
    total = sum(weights)
    return sum(w * x for w, x in zip(weights, middles, strict=True)) / total, sqrt(1 / total)


def _is_off(found: float, text: Duration, near: float) -> bool:
    return not text.ms or abs(found - log(text.ms)) > near


def _between(a: float, b: float, share: float) -> float:
    return a + share * (b - a)


def _span(low: float, usual: float, high: float, unit: str) -> Span:
    """Rounded as a person would write it; low and high never cross the usual."""
    middle = round_time(usual, unit)
    return Span(Duration(min(round_time(low, unit), middle), unit), Duration(middle, unit),
                Duration(max(round_time(high, unit), middle), unit))


def round_time(ms: float, unit: str) -> int:
    """To 5 s, a quarter or half a minute, a minute, five, a quarter of an hour: as it is long.

    Always to a twentieth or finer from 5 min on: coarser, a time learnt well would be written
    wrongly.
    """
    if ms < 90_000:
        step = 5_000 if unit == "s" else 15_000
    elif ms < 15 * 60_000:
        step = 30_000
    elif ms < 60 * 60_000:
        step = 60_000
    else:
        step = 5 * 60_000
    if unit in ("h", "day", "week"):
        step = max(step, 15 * 60_000)
    return max(step, step * round(ms / step))
