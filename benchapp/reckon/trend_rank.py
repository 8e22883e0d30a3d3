"""Does a series rise or fall at all, and by how much a step: by ranks, so grades will do.

Mann-Kendall: S counts the pairs that rise less those that fall (H. B. Mann, *Econometrica* 13
(1945) 245; M. G. Kendall, *Rank Correlation Methods*). Up to twelve values without ties the
chance of such an S is counted out exactly; beyond, S is normal with a variance that ties make
smaller, and one step is taken off it. Theil-Sen: the middle of all slopes between two values,
with Sen's interval (P. K. Sen, *J. Am. Stat. Assoc.* 63 (1968) 1379).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import sqrt
from typing import Final

from benchapp.reckon.errors import ReckonError
from benchapp.reckon.normal import normal_quantile, two_sided
from benchapp.reckon.shares import sample_quantile

#: So many values are counted out exactly, unless two are equal.
EXACT_TO: Final = 12


@dataclass(frozen=True, slots=True)
class Kendall:
    """Whether a series goes one way.

    Attributes:
        s: Pairs that rise less pairs that fall.
        p: The chance of an S as far from nothing in a series that goes nowhere.
        exact: Whether that chance was counted out.
    """

    s: int
    p: float
    exact: bool


@dataclass(frozen=True, slots=True)
class Slope:
    """How much a step: the middle slope, where its line begins, and how far it may be off.

    Attributes:
        slope: Change of the value for 1 of x.
        intercept: Value of the line at x = 0: the middle value, taken back the middle x.
        low / high: Sen's interval.
    """

    slope: float
    intercept: float
    low: float
    high: float


def mann_kendall(values: Sequence[float]) -> Kendall:
    """Whether `values`, in their order, rise or fall.

    Raises:
        ReckonError: There are fewer than two.
    """
    n = len(values)
    if n < 2:
        raise ReckonError("readings", f"{n} are too few for a direction", "give 2 or more")
    s = sum(_sign(later - values[i]) for i in range(n) for later in values[i + 1 :])
    ties = _ties(values)
    if n <= EXACT_TO and not ties:
        return Kendall(s, _counted(n, abs(s)), exact=True)
    variance = (n * (n - 1) * (2 * n + 5) - sum(k * (k - 1) * (2 * k + 5) for k in ties)) / 18
    if s == 0 or variance <= 0:
        return Kendall(s, 1.0, exact=False)
    return Kendall(s, two_sided((abs(s) - 1) / sqrt(variance)), exact=False)


def _sign(difference: float) -> int:
    return (difference > 0) - (difference < 0)


def _ties(values: Sequence[float]) -> list[int]:
    """How many values are equal, for each value that stands more than once."""
    return [count for count in Counter(values).values() if count > 1]


@cache
def _orders(n: int) -> tuple[int, ...]:
    """How many of the n! orders have 0, 1, 2 … pairs that fall (Mahonian numbers)."""
    if n == 1:
        return (1,)
    fewer = _orders(n - 1)
    length = len(fewer) + n - 1
    return tuple(sum(fewer[k - j] for j in range(n) if 0 <= k - j < len(fewer))
                 for k in range(length))


def _counted(n: int, s: int) -> float:
    """P(|S| ≥ s) over all orders of n different values."""
    orders = _orders(n)
    pairs = n * (n - 1) // 2
    far = sum(count for falls, count in enumerate(orders) if abs(pairs - 2 * falls) >= s)
    return far / sum(orders)


#: The chance that the interval holds the true slope.
_SURE: Final = 0.95


def theil_sen(xs: Sequence[float], ys: Sequence[float]) -> Slope:
    """The middle slope of a series.

    Args:
        xs: Where each value stands, such as the number of its impression.
        ys: The values.

    Raises:
        ReckonError: There are not two values at different places.
    """
    slopes = sorted((y2 - y1) / (x2 - x1)
                    for i, (x1, y1) in enumerate(zip(xs, ys, strict=True))
                    for x2, y2 in zip(xs[i + 1 :], ys[i + 1 :], strict=True) if x2 != x1)
    if not slopes:
        raise ReckonError("readings", "two at one place have no slope", "give two places")
    middle = sample_quantile(slopes, 0.5)
    begins = sample_quantile(sorted(ys), 0.5) - middle * sample_quantile(sorted(xs), 0.5)
    n = len(ys)
    tied = [*_ties(xs), *_ties(ys)]
    variance = (n * (n - 1) * (2 * n + 5) - sum(k * (k - 1) * (2 * k + 5) for k in tied)) / 18
    half = normal_quantile((1 + _SURE) / 2) * sqrt(max(variance, 0.0))
    count = len(slopes)
    low = max(round((count - half) / 2) - 1, 0)
    high = min(round((count + half) / 2), count - 1)
    return Slope(middle, begins, slopes[low], slopes[high])
