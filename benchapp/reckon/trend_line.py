"""When a falling value will reach its tolerance: a straight line, and how far off that may be.

Least squares y = a + b·x; the line meets the tolerance T at x = (T − a) / b. How far off that
is comes from Fieller's theorem: all x for which the line might still meet T,

    (a + b·x − T)² ≤ t² s² (1/n + (x − x̄)² / Σ(x − x̄)²)

with Student's t of n − 2 degrees (E. C. Fieller, *J. R. Stat. Soc. B* 16 (1954) 175). Where the
slope is not sure at this level the set has no end, and there is no answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt
from typing import Final

from benchapp.reckon.errors import ReckonError
from benchapp.reckon.student import t_quantile


@dataclass(frozen=True, slots=True)
class TrendLine:
    """A straight line through a series, by least squares.

    Attributes:
        slope / intercept: y = intercept + slope·x.
        spread: s, the standard deviation about the line, n − 2 degrees.
        mean_x / across: x̄ and Σ(x − x̄)².
        n: How many values.
    """

    slope: float
    intercept: float
    spread: float
    mean_x: float
    across: float
    n: int

    def at(self, x: float) -> float:
        """The line's value there."""
        return self.intercept + self.slope * x


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where a line meets a tolerance: the best guess and the interval round it."""

    at: float
    low: float
    high: float


def fit_line(xs: Sequence[float], ys: Sequence[float]) -> TrendLine:
    """The straight line nearest to the values.

    Raises:
        ReckonError: There are fewer than three, or all are at one place.
    """
    n = len(xs)
    if n < 3:
        raise ReckonError("readings", f"{n} are too few for a line", "give 3 or more")
    mean_x, mean_y = sum(xs) / n, sum(ys) / n
    across = sum((x - mean_x) ** 2 for x in xs)
    if across == 0:
        raise ReckonError("readings", "all are at one place", "give them at different places")
    slope = sum((x - mean_x) * (y - mean_y) for x, y in zip(xs, ys, strict=True)) / across
    intercept = mean_y - slope * mean_x
    left = sum((y - intercept - slope * x) ** 2 for x, y in zip(xs, ys, strict=True))
    return TrendLine(slope, intercept, sqrt(left / (n - 2)), mean_x, across, n)


#: The chance that the interval holds the true place.
_SURE: Final = 0.80


def meet_tolerance(found: TrendLine, tolerance: float) -> Meeting | None:
    """Where the line meets `tolerance`; None where the slope is too unsure to say.

    Args:
        found: The line.
        tolerance: The value that is no longer good enough.
    """
    if found.slope == 0:
        return None
    t = t_quantile((1 + _SURE) / 2, found.n - 2)
    noise = (t * found.spread) ** 2
    # (h + b·u)² ≤ noise·(1/n + u²/Σ) with u = x − x̄ and h the height of x̄ over the tolerance.
    height = found.at(found.mean_x) - tolerance
    a = found.slope**2 - noise / found.across
    if a <= 0:
        return None
    b, c = found.slope * height, height**2 - noise / found.n
    root = sqrt(max(b * b - a * c, 0.0))
    low, high = (-b - root) / a, (-b + root) / a
    at = -height / found.slope
    if not -inf < low <= high < inf:
        return None
    return Meeting(found.mean_x + at, found.mean_x + low, found.mean_x + high)
