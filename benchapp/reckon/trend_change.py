"""Where a series changed: the step it most likely made, and since when it has been falling.

The step is where the sum of deviations from the mean stands farthest from nothing, weighted by
how many values lie on either side; its p is the share of other orders of the same values that
step as far (a permutation test; E. S. Edgington, *Randomization Tests*). The orders come from
`benchapp.reckon.dice`, so the same series always gives the same p.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final

from benchapp.reckon.dice import Dice

#: Orders tried; p is then told to within about .003 at .01.
ORDERS: Final = 999
_SEED: Final = 7


@dataclass(frozen=True, slots=True)
class SeriesStep:
    """The likeliest step of a series.

    Attributes:
        after: How many values lie before it.
        before_mean / after_mean: The means on either side.
        p: The chance of as large a step in the same values in no order.
    """

    after: int
    before_mean: float
    after_mean: float
    p: float


def change_point(values: Sequence[float], orders: int = ORDERS) -> SeriesStep | None:
    """The likeliest step; None where there is none to be (fewer than four, or all equal).

    Args:
        values: In their order.
        orders: How many other orders are tried.
    """
    n = len(values)
    if n < 4 or min(values) == max(values):
        return None
    mean = sum(values) / n
    apart = [v - mean for v in values]
    at, far = _farthest(apart)
    dice, as_far = Dice(_SEED), 0
    other = list(apart)
    for _ in range(orders):
        dice.shuffle(other)
        as_far += _farthest(other)[1] >= far - 1e-12
    return SeriesStep(at, sum(values[:at]) / at, sum(values[at:]) / (n - at),
                      (1 + as_far) / (1 + orders))


def _farthest(apart: Sequence[float]) -> tuple[int, float]:
    """After how many values the step is, and how large it stands out."""
    n, total = len(apart), 0.0
    best, far = 1, -1.0
    for k in range(1, n):
        total += apart[k - 1]
        size = abs(total) / sqrt(k * (n - k))
        if size > far + 1e-12:
            best, far = k, size
    return best, far


def changing_since(xs: Sequence[float], ys: Sequence[float]) -> int:
    """Since which value the series has been going: level up to there, a straight line after.

    Of all places the one whose two pieces lie nearest to the values (least squares); the first
    where all of it is one line.

    Args:
        xs: Where each value stands, rising.
        ys: The values; three or more.

    Returns:
        The index of the last value that is still level.
    """
    best, least = 0, _off(xs, ys, 0)
    for k in range(1, len(xs) - 2):
        off = _off(xs, ys, k)
        if off < least * (1 - 1e-9) - 1e-12:
            best, least = k, off
    return best


def _off(xs: Sequence[float], ys: Sequence[float], k: int) -> float:
    """Σ squares left by y = a + b·max(0, x − xs[k])."""
    bent = [max(0.0, x - xs[k]) for x in xs]
    n = len(ys)
    bar, mean = sum(bent) / n, sum(ys) / n
    across = sum((u - bar) ** 2 for u in bent)
    slope = 0.0 if across == 0 else sum(
        (u - bar) * (y - mean) for u, y in zip(bent, ys, strict=True)) / across
    return sum((y - mean - slope * (u - bar)) ** 2 for u, y in zip(bent, ys, strict=True))
