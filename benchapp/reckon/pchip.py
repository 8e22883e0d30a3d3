"""A smooth line through points that never turns between them (PCHIP), and its inverse.

Piecewise cubic Hermite interpolation with slopes that keep the order of the points: F. N. Fritsch
and R. E. Carlson, "Monotone Piecewise Cubic Interpolation", SIAM J. Numer. Anal. 17 (1980); inner
slopes by the weighted harmonic mean of F. N. Fritsch and J. Butland, "A Method for Constructing
Local Monotone Piecewise Cubic Interpolants", SIAM J. Sci. Stat. Comput. 5 (1984), end slopes by
three points, limited so that the order is kept.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

_HALVINGS: Final = 200


class MonotoneCurve:
    """Through rising x; where y rises or stays from point to point, so does the curve.

    Args:
        xs: At least two, each above the one before.
        ys: As many.
    """

    def __init__(self, xs: Sequence[float], ys: Sequence[float]) -> None:
        self.xs = tuple(map(float, xs))
        self.ys = tuple(map(float, ys))
        if len(self.xs) < 2 or len(self.xs) != len(self.ys):
            raise ValueError("at least two points, each with both")
        if any(b <= a for a, b in pairwise(self.xs)):
            raise ValueError("x rises from point to point")
        self._slopes = _slopes(self.xs, self.ys)

    def __call__(self, x: float) -> float:
        """y at x, within the points.

        Raises:
            ValueError: x is outside them.
        """
        if not self.xs[0] <= x <= self.xs[-1]:
            raise ValueError("outside the points")
        k = min(bisect_right(self.xs, x), len(self.xs) - 1) - 1
        wide = self.xs[k + 1] - self.xs[k]
        t = (x - self.xs[k]) / wide
        back = 1 - t
        return ((1 + 2 * t) * back**2 * self.ys[k] + t * back**2 * wide * self._slopes[k]
                + t**2 * (3 - 2 * t) * self.ys[k + 1] - t**2 * back * wide * self._slopes[k + 1])

    def first_reaching(self, y: float) -> float:
        """The least x at which a curve that rises has come to y.

        Raises:
            ValueError: It never does, or is above it from the beginning.
        """
        if not self.ys[0] <= y <= self.ys[-1]:
            raise ValueError("outside the points")
        k = next(n for n, high in enumerate(self.ys) if high >= y)
        if k == 0 or self.ys[k] == y:
            return self.xs[k]
        low, high = self.xs[k - 1], self.xs[k]
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            if middle in (low, high):
                break
            low, high = (middle, high) if self(middle) < y else (low, middle)
        return high


def _slopes(xs: Sequence[float], ys: Sequence[float]) -> tuple[float, ...]:
    wide = [b - a for a, b in pairwise(xs)]
    steep = [(b - a) / h for (a, b), h in zip(pairwise(ys), wide, strict=True)]
    if len(steep) == 1:
        return (steep[0], steep[0])
    inner = [_between(wide[k - 1], wide[k], steep[k - 1], steep[k]) for k in range(1, len(steep))]
    return (_at_end(wide[0], wide[1], steep[0], steep[1]), *inner,
            _at_end(wide[-1], wide[-2], steep[-1], steep[-2]))


def _between(before: float, after: float, rise: float, next_rise: float) -> float:
    """The slope at a point: a harmonic mean, none where the curve would turn."""
    if rise * next_rise <= 0:
        return 0.0
    one, two = 2 * after + before, after + 2 * before
    return (one + two) / (one / rise + two / next_rise)


def _at_end(near: float, far: float, rise: float, next_rise: float) -> float:
    """The slope at an end, by three points, limited so that the curve does not turn."""
    slope = ((2 * near + far) * rise - near * next_rise) / (near + far)
    if slope * rise <= 0:
        return 0.0
    if rise * next_rise <= 0 and abs(slope) > 3 * abs(rise):
        return 3 * rise
    return slope
