"""Chance that is the same every time: a small generator of our own, with a seed.

SplitMix64 (Steele, Lea & Flood 2014, *Fast Splittable Pseudorandom Number Generators*).
"""

from __future__ import annotations

from typing import Final

_MASK: Final = (1 << 64) - 1


class Dice:
    """A stream of numbers that one seed fixes."""

    def __init__(self, seed: int) -> None:
        self._state = seed & _MASK

    def bits(self) -> int:
        """The next 64 bits."""
        self._state = (self._state + 0x9E3779B97F4A7C15) & _MASK
        z = self._state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & _MASK
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & _MASK
        return z ^ (z >> 31)

    def below(self, n: int) -> int:
        """A whole number from 0 to n - 1; n is at least 1 and far below 2^64."""
        return (self.bits() * n) >> 64

    def share(self) -> float:
        """A number above 0 and below 1."""
        return ((self.bits() >> 11) + 0.5) / (1 << 53)
