"""Water going into a sheet from both faces: one curve from the first seconds to the end.

J. Crank, *The Mathematics of Diffusion*, plane sheet of thickness l between two faces kept
wet, τ = D·t/l² (equations 4.18 and 4.20 of the second edition; numbers from memory):

    M/M∞ = 1 − (8/π²) Σ exp(−(2n+1)²π²τ) / (2n+1)²          good for long times
    M/M∞ = 4·√τ·(1/√π + 2 Σ (−1)ⁿ ierfc(n / (2√τ)))          good for short times

The first is a square root of time at its beginning, the second levels off at its end;
both are the same function. Half the water is in at τ = 0.04918.
"""

from __future__ import annotations

from collections.abc import Callable
from math import erfc, exp, pi, sqrt
from typing import Final

#: Where one series is given up for the other; both converge in a few terms here.
_SHORT: Final = 0.1
_TERMS: Final = 8
#: The share of saturation beyond which a time would be a guess.
NEARLY_FULL: Final = 0.99
#: Below this share the curve is √t to within what a scale shows, and its end is not to be seen.
LEVELLING: Final = 0.7
_HALVINGS: Final = 200


def uptake(tau: float) -> float:
    """The share of saturation taken up at dimensionless time `tau`, from 0 to 1."""
    if tau <= 0:
        return 0.0
    if tau < _SHORT:
        root = sqrt(tau)
        sums = sum((-1.0) ** n * _ierfc(n / (2 * root)) for n in range(1, _TERMS))
        return 4 * root * (1 / sqrt(pi) + 2 * sums)
    odd = range(1, 2 * _TERMS, 2)
    return 1 - 8 / pi**2 * sum(exp(-((n * pi) ** 2) * tau) / n**2 for n in odd)


def tau_at(share: float) -> float:
    """The dimensionless time at which `share` of saturation is taken up.

    Args:
        share: Above 0 and below 1.

    Raises:
        ValueError: The share is outside these bounds.
    """
    if not 0 < share < 1:
        raise ValueError("a share of saturation is between 0 and 1")
    low, high = 0.0, 1.0
    while uptake(high) < share:
        high *= 2
    return _root(lambda tau: uptake(tau) - share, low, high)


def rate_of_two(first: tuple[float, float], second: tuple[float, float]) -> float | None:
    """The rate D/l² in 1/s from two weighings on one curve, saturation unknown.

    Args:
        first: Seconds and water taken up (any unit), the earlier weighing.
        second: The later one, in the same units.

    Returns:
        None where no curve goes through both, or none that could be told from another:
        they lie on √t still (no levelling off seen yet), or the first is full already.
    """
    (early, one), (late, other) = first, second
    ratio = one / other
    if not sqrt(early / late) * (1 + 1e-6) < ratio < 1 - 1e-6:
        return None
    # The ratio of the curve at the two times rises with the rate, from √(t1/t2) to 1.
    low, high = 1e-6 / late, 60.0 / early
    if not _ratio(low, early, late) < ratio < _ratio(high, early, late):
        return None
    rate = _root(lambda rate: _ratio(rate, early, late) - ratio, low, high)
    return rate if uptake(rate * late) >= LEVELLING else None


def _ratio(rate: float, early: float, late: float) -> float:
    return uptake(rate * early) / uptake(rate * late)


def _ierfc(x: float) -> float:
    """The integral of erfc from x to infinity."""
    return exp(-x * x) / sqrt(pi) - x * erfc(x)


def _root(rising: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising function is nothing, by bisection to the last bits."""
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if rising(middle) < 0:
            low = middle
        else:
            high = middle
    return high
