"""Chance that is the same every time: a small generator whose whole state is one number.

SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, *Fast splittable pseudorandom number generators*,
OOPSLA 2014; constants from memory). It shuffles and replays, and keeps no secret.
"""

from __future__ import annotations

from typing import Any, Final

_WORD: Final = (1 << 64) - 1
_GAMMA: Final = 0x9E3779B97F4A7C15
_FIRST: Final = 0xBF58476D1CE4E5B9
_SECOND: Final = 0x94D049BB133111EB


class Dice:
    """A row of numbers that a seed decides."""

    def __init__(self, seed: int) -> None:
        self._state = seed & _WORD

    def word(self) -> int:
        """The next 64 bits."""
        self._state = (self._state + _GAMMA) & _WORD
        z = self._state
        z = ((z ^ (z >> 30)) * _FIRST) & _WORD
        z = ((z ^ (z >> 27)) * _SECOND) & _WORD
        return z ^ (z >> 31)

    def below(self, n: int) -> int:
        """A whole number from 0 up to and without `n`; the bias is under n / 2^64."""
        return (self.word() * n) >> 64

    def share(self) -> float:
        """A number above 0 and below 1."""
        return ((self.word() >> 11) + 0.5) / (1 << 53)

    def shuffle(self, items: list[Any]) -> None:
        """Put a list into another order, each order as likely (Fisher and Yates)."""
        for i in range(len(items) - 1, 0, -1):
            j = self.below(i + 1)
            items[i], items[j] = items[j], items[i]
