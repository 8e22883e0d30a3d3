"""What holds the day up: minutes an impression in steady state, and whose they are.

Over a long day an impression can't take less than the hands work on it, than its plate is
held by the one before, than the press or the hot plate is used for it. The largest of these
is the pace of the day; no search is needed to name it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

Bottleneck = Literal["hands", "plate", "press", "hot plate"]

#: The order in which equal loads are named: what can't be had twice comes first.
_ORDER: Final[tuple[Bottleneck, ...]] = ("plate", "hands", "press", "hot plate")


@dataclass(frozen=True, slots=True)
class Loads:
    """Seconds an impression in steady state, of each thing an impression needs."""

    hands: Fraction
    plate: Fraction
    press: Fraction
    hot_plate: Fraction

    def of(self, what: Bottleneck) -> Fraction:
        """The load of one of them."""
        return {"hands": self.hands, "plate": self.plate, "press": self.press,
                "hot plate": self.hot_plate}[what]

    @property
    def seconds_each(self) -> Fraction:
        """Seconds an impression takes in steady state: the largest load."""
        return max(self.hands, self.plate, self.press, self.hot_plate)

    @property
    def bottleneck(self) -> Bottleneck:
        """The largest load; of equal ones the plate, then the hands."""
        return next(x for x in _ORDER if self.of(x) == self.seconds_each)

def impression_loads(hands: Sequence[Fraction | int], plates: Sequence[Fraction | int],
                     press: tuple[Fraction | int, int] = (0, 1),
                     hot_plate: tuple[Fraction | int, int] = (0, 1)) -> Loads:
    """The loads of an impression.

    Args:
        hands: Seconds of work of each pair of hands; one figure where one prints alone.
        plates: For each plate the seconds from its first step until it is free again.
        press: Seconds at the press, and how many there are.
        hot_plate: Seconds on the hot plate, and how many plates it takes.
    """
    return Loads(
        Fraction(max(hands, default=0)), Fraction(max(plates, default=0)),
        Fraction(press[0]) / press[1], Fraction(hot_plate[0]) / hot_plate[1],
    )
