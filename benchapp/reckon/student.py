"""Student's t: how far a mean of a few weighings may be off.

The distribution function for whole degrees of freedom is a finite sum (Abramowitz & Stegun,
*Handbook of Mathematical Functions*, 26.7.3 and 26.7.4, from memory); the quantile is found on
it by bisection. No table and no library are needed to run.
"""

from __future__ import annotations

from math import atan2, cos, pi, sin, sqrt
from typing import Final

from benchapp.reckon.errors import ReckonError

_HALVINGS: Final = 200


def t_below(t: float, freedom: int) -> float:
    """P(T ≤ t) for `freedom` degrees of freedom, 1 or more."""
    if freedom < 1:
        raise ReckonError("freedom", f"{freedom} degrees of freedom are too few", "give 1 or more")
    return (1 + _between(abs(t), freedom) * (1 if t >= 0 else -1)) / 2


def t_quantile(chance: float, freedom: int) -> float:
    """The t below which lies `chance` of the distribution.

    Raises:
        ReckonError: The chance is not between 0 and 1, or there is no freedom.
    """
    if not 0 < chance < 1:
        raise ReckonError("chance", f"{chance} is not a chance", "give more than 0, less than 1")
    if chance < 0.5:
        return -t_quantile(1 - chance, freedom)
    low, high = 0.0, 1.0
    while t_below(high, freedom) < chance:
        high *= 2
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if t_below(middle, freedom) < chance:
            low = middle
        else:
            high = middle
    return high


def _between(t: float, freedom: int) -> float:
    """P(−t ≤ T ≤ t), with θ = atan(t/√freedom)."""
    theta = atan2(t, sqrt(freedom))
    square = cos(theta) ** 2
    if freedom % 2 == 0:
        total = term = 1.0
        for k in range(1, freedom // 2):
            term *= square * (2 * k - 1) / (2 * k)
            total += term
        return sin(theta) * total
    total = term = cos(theta) if freedom > 1 else 0.0
    for k in range(1, (freedom - 1) // 2):
        term *= square * (2 * k) / (2 * k + 1)
        total += term
    return 2 / pi * (theta + sin(theta) * total)
