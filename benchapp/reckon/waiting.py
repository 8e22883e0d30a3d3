"""How likely n sheets give N good ones: two laws, summed in whole numbers.

The number of sheets spoiled before the N-th good one follows

- the negative binomial law where the rate of spoilage p is known:
  P(k) = C(N+k-1, k) (1-p)^N p^k (Penn State STAT 414, lesson 11);
- the beta negative binomial law where p itself is only known from a record, p ~ Beta(a, b):
  P(k) = C(N+k-1, k) a↑k b↑N / (a+b)↑(N+k), with x↑k = x (x+1) … (x+k-1)
  (Johnson, Kemp & Kotz, *Univariate Discrete Distributions*; from memory).

At least N good of n is the same event as at most n-N spoiled before the N-th good one, so the
sum of the first n-N+1 terms is also the tail of the beta-binomial law of n sheets.
Terms are fixed-point whole numbers of at least 256 significant bits: a float would stumble where
a chance equals the one asked for (9 of 10 at 90 %).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice
from math import prod
from typing import Final

_BITS: Final = 256


@dataclass(frozen=True, slots=True)
class KnownRate:
    """Each sheet is spoiled with the same known chance, 0 ≤ rate < 1."""

    rate: Fraction

    def none_spoiled(self, good: int) -> tuple[int, int]:
        """P(0) as numerator and denominator."""
        kept = 1 - self.rate
        return kept.numerator**good, kept.denominator**good

    def step(self, good: int, k: int) -> tuple[int, int]:
        """P(k+1) / P(k) as numerator and denominator."""
        return (good + k) * self.rate.numerator, (k + 1) * self.rate.denominator


@dataclass(frozen=True, slots=True)
class FromRecord:
    """The chance of spoiling is Beta(spoiled, good); a prior counts as sheets seen already."""

    spoiled: int
    good: int

    def none_spoiled(self, good: int) -> tuple[int, int]:
        """P(0) as numerator and denominator."""
        seen = self.spoiled + self.good
        return prod(range(self.good, self.good + good)), prod(range(seen, seen + good))

    def step(self, good: int, k: int) -> tuple[int, int]:
        """P(k+1) / P(k) as numerator and denominator."""
        seen = self.spoiled + self.good
        return (good + k) * (self.spoiled + k), (k + 1) * (seen + good + k)


Law = KnownRate | FromRecord


def waiting_chances(law: Law, good: int) -> tuple[int, Iterator[int]]:
    """P(at least `good` good ones) of `good` sheets, of one more, of two more, …

    Returns:
        The whole that stands for certainty, and the chances as parts of it, without end. Each
        is at most 2^-240 below the exact chance.
    """
    above, below = law.none_spoiled(good)
    shift = _BITS + max(0, below.bit_length() - above.bit_length())
    return 1 << shift, _sums(law, good, (above << shift) // below)


def _sums(law: Law, good: int, term: int) -> Iterator[int]:
    total, k = 0, 0
    while True:
        total += term
        yield total
        up, down = law.step(good, k)
        term, k = term * up // down, k + 1


def smallest_count(
    law: Law, good: int, sure: Fraction, most: int, further: int
) -> tuple[int | None, list[Fraction]]:
    """The smallest number of sheets that gives `good` good ones with the chance `sure`.

    Returns:
        That number with its chance and those of the `further` next ones; or None with the
        chance of `most` sheets, where even they do not reach it.
    """
    whole, sums = waiting_chances(law, good)
    needed = -(-sure.numerator * whole // sure.denominator) - (whole >> (_BITS - 20))
    total = 0
    for number, total in enumerate(sums, good):
        if total >= needed:
            return number, [Fraction(t, whole) for t in (total, *islice(sums, further))]
        if number >= most:
            break
    return None, [Fraction(total, whole)]
