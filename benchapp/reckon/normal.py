"""The normal distribution: what lies below a value, and the value below which so much lies.

The distribution function is the error function's; the quantile is found on it by bisection
(definitions, no table).
"""

from __future__ import annotations

from math import erfc, sqrt

from benchapp.reckon.errors import ReckonError


def normal_below(z: float) -> float:
    """P(Z ≤ z), also far out in the tails."""
    return erfc(-z / sqrt(2)) / 2


def two_sided(z: float) -> float:
    """P(|Z| ≥ |z|)."""
    return erfc(abs(z) / sqrt(2))


def normal_quantile(chance: float) -> float:
    """The z below which lies `chance` of the distribution.

    Raises:
        ReckonError: The chance is not between 0 and 1.
    """
    if not 0 < chance < 1:
        raise ReckonError("chance", f"{chance} is not a chance", "give more than 0, less than 1")
    low, high = -40.0, 40.0
    while True:
        middle = (low + high) / 2
        if middle in (low, high):
            return middle
        low, high = (middle, high) if normal_below(middle) < chance else (low, middle)
