"""The room's air: how much water it can still take up, and what that says about drying.

Saturation vapour pressure by Hyland & Wexler (ASHRAE Handbook, Fundamentals, chapter
"Psychrometrics", equations 5 and 6), p in Pa and T in kelvin:

    over water  ln p = C8/T + C9 + C10·T + C11·T² + C12·T³ + C13·ln T
    over ice    ln p = C1/T + C2 + C3·T + C4·T² + C5·T³ + C6·T⁴ + C7·ln T

The vapour-pressure deficit is what the air lacks, p·(1 − relative humidity). Water
leaves paper roughly in step with it, so it is held against an ordinary workroom of
20 °C and 50 %. The paper, the blotters and the draught decide the rest: the answer
is "longer today" or not, never minutes.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import exp, log
from typing import Final

from benchapp.quantities import Percentage, Temperature
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.figures import percent_text, rounded_text

_KELVIN: Final = 273.15
_TRIPLE_POINT: Final = 0.01
_ICE: Final = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9,
               -9.484024e-13, 4.1635019)  # fmt: skip
_WATER: Final = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 6.5459673)

#: Where people print; outside it a unit was mistaken.
COLDEST: Final = Temperature(Fraction(0))
WARMEST: Final = Temperature(Fraction(45))
DRIEST: Final = Percentage(Fraction(5, 100))
#: Below this part of the usual deficit, drying is said to take longer.
LONGER_BELOW: Final = Fraction(8, 10)


@dataclass(frozen=True, slots=True)
class Air:
    """The air of a workroom.

    Attributes:
        warmth: 0 to 45 °C.
        humidity: Relative humidity, 5 to 100 %.

    Raises:
        ReckonError: Warmer, colder or drier than any workroom: a unit was mistaken.
    """

    warmth: Temperature
    humidity: Percentage

    def __post_init__(self) -> None:
        if not COLDEST <= self.warmth <= WARMEST:
            celsius = ("" if self.warmth.unit == "°C" else
                       f", that is {rounded_text(self.warmth.c, 1)} °C,")
            raise ReckonError(
                "warmth",
                f"{self.warmth}{celsius} is not the warmth of a workroom",
                "give 0 to 45 °C (32 to 113 °F)",
            )
        if not DRIEST.fraction <= self.humidity.fraction <= 1:
            hint = Percentage(self.humidity.fraction * 100)
            meant = f"; {hint} perhaps" if DRIEST <= hint <= Percentage(Fraction(1)) else ""
            raise ReckonError(
                "humidity",
                f"{self.humidity} is not the humidity of a workroom",
                f"give 5 to 100 %{meant}",
            )

    @property
    def deficit(self) -> float:
        """Vapour-pressure deficit in pascals: what the air can still take up."""
        return saturation_pressure(self.warmth) * float(1 - self.humidity.fraction)

    def inputs(self) -> tuple[Input, ...]:
        """Both figures, as an answer lists them."""
        return (
            Input("warmth", self.warmth, "", Origin.GIVEN),
            Input("humidity", self.humidity, "", Origin.GIVEN),
        )

    def __str__(self) -> str:
        return f"{self.warmth} and {self.humidity}"


USUAL: Final = Air(Temperature(Fraction(20)), Percentage(Fraction(1, 2)))


def saturation_pressure(warmth: Temperature) -> float:
    """Saturation vapour pressure in pascals (Hyland & Wexler); over ice below 0.01 °C.

    Raises:
        ReckonError: Outside −100 to 200 °C, where the formula does not hold.
    """
    c = float(warmth.c)
    if not -100 <= c <= 200:
        raise ReckonError("warmth", f"{warmth} is outside the formula", "give -100 to 200 °C")
    t = c + _KELVIN
    if c <= _TRIPLE_POINT:
        c1, c2, c3, c4, c5, c6, c7 = _ICE
        return exp(c1 / t + c2 + c3 * t + c4 * t**2 + c5 * t**3 + c6 * t**4 + c7 * log(t))
    c8, c9, c10, c11, c12, c13 = _WATER
    return exp(c8 / t + c9 + c10 * t + c11 * t**2 + c12 * t**3 + c13 * log(t))


def drying_speed(air: Air) -> Answer:
    """Whether paper and blotters give up their water more slowly than on a usual day.

    Args:
        air: The room as it is now.
    """
    ratio = air.deficit / USUAL.deficit
    longer = ratio < LONGER_BELOW
    sentence = (
        "Longer today: the air takes up less water than on a usual day"
        if longer
        else "No longer than usual today"
    )
    return Answer(
        sentence=sentence,
        figures={
            "longer": longer,
            "deficit_pa": air.deficit,
            "usual_deficit_pa": USUAL.deficit,
            "part_of_usual": ratio,
        },
        inputs=(
            *air.inputs(),
            Input("a usual day", str(USUAL), "", Origin.CHOSEN),
            Input("longer below", percent_text(LONGER_BELOW), "of a usual day", Origin.CHOSEN),
        ),
        notes=(
            "It gives no minutes: paper, blotters and draught decide them",
            "This is the water alone; oil dries by taking up oxygen, slower in the cold",
        ),
        formula="saturation pressure × (1 − humidity), against 20 °C and 50 %",
        source="Hyland & Wexler, in ASHRAE Handbook, Fundamentals, Psychrometrics",
    )
