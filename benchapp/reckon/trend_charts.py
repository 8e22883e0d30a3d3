"""Charts with limits, for readings an instrument took: individuals, and a moving average.

Both say "something other than the usual scatter", and both need to know the usual scatter well:
from at least twenty readings while nothing changed. Drawn from ten they cry wolf in one stable
edition of four, and eyes that grade from 1 to 5 are no instrument.

Formulas: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (individuals: mean ± 3 mean
moving range ÷ 1.128) and 6.3.2.4 (EWMA: ± 3 s √(λ ÷ (2 − λ))).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt
from typing import Final

from benchapp.reckon.errors import ReckonError

#: Stable instrument readings there must be before limits are drawn from them.
STABLE: Final = 20
#: d2 for ranges of two (NIST 6.3.2.2).
_D2: Final = 1.128
_SIGMAS: Final = 3
LAMBDA: Final = 0.3


@dataclass(frozen=True, slots=True)
class Limits:
    """A middle line, and how far from it is still the usual scatter."""

    middle: float
    low: float
    high: float

    def outside(self, value: float) -> bool:
        """Whether a value lies beyond them."""
        return not self.low <= value <= self.high


def mean_moving_range(values: Sequence[float]) -> float:
    """The mean distance from each value to the next.

    Raises:
        ReckonError: There are fewer than two.
    """
    if len(values) < 2:
        raise ReckonError("readings", "one has no distance to the next", "give 2 or more")
    steps = [abs(after - before) for before, after in pairwise(values)]
    return sum(steps) / len(steps)


def individual_limits(values: Sequence[float]) -> Limits:
    """The limits of single readings, from readings while nothing changed."""
    middle = sum(values) / len(values)
    half = _SIGMAS * mean_moving_range(values) / _D2
    return Limits(middle, middle - half, middle + half)


def ewma(values: Sequence[float], start: float) -> list[float]:
    """The average that forgets: each value's share λ of it, the rest from before."""
    found, now = [], start
    for value in values:
        now = LAMBDA * value + (1 - LAMBDA) * now
        found.append(now)
    return found


def ewma_limits(middle: float, spread: float) -> Limits:
    """The limits of that average once it has run a while.

    Args:
        middle: Where it starts: the mean while nothing changed.
        spread: The standard deviation of single readings then.
    """
    half = _SIGMAS * spread * sqrt(LAMBDA / (2 - LAMBDA))
    return Limits(middle, middle - half, middle + half)


@dataclass(frozen=True, slots=True)
class Charts:
    """Both charts of one instrument.

    Attributes:
        limits: Of single readings, from the first twenty.
        values: All readings.
        outside: The places, from 0, of readings beyond the limits after the first twenty.
        average / average_limits / average_outside: The same of the moving average.
    """

    limits: Limits
    values: tuple[float, ...]
    outside: tuple[int, ...]
    average: tuple[float, ...]
    average_limits: Limits
    average_outside: tuple[int, ...]


def control_charts(values: Sequence[float]) -> Charts | None:
    """Both charts of an instrument's readings; None while there are too few.

    Args:
        values: In their order; the first twenty while nothing changed.
    """
    if len(values) < STABLE:
        return None
    first = values[:STABLE]
    limits = individual_limits(first)
    spread = mean_moving_range(first) / _D2
    average = ewma(values, limits.middle)
    average_limits = ewma_limits(limits.middle, spread)
    late = range(STABLE, len(values))
    return Charts(limits, tuple(values), tuple(i for i in late if limits.outside(values[i])),
                  tuple(average), average_limits,
                  tuple(i for i in late if average_limits.outside(average[i])))
