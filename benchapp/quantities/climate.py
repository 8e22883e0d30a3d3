"""Warmth and humidity of a room, read so that one unit is never taken for another.

A warmth is kept in degrees Celsius. Degrees Fahrenheit are converted exactly,
°C = (°F − 32) · 5/9 (NIST Special Publication 811, table B.8), as inches are; a
figure without a unit is refused, since 68 means a mild day to one printer and a
fire to another. Where a text gives both, as on a label, the two must agree.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from benchapp.quantities.errors import QuantityError, quote_text
from benchapp.quantities.measures import Percentage, read_percentage
from benchapp.quantities.numbers import number_text, plain_spaces, read_number

_UNITS: Final = {"°C": "°C", "C": "°C", "°F": "°F", "F": "°F"}
#: Both units in one text: `15 °C (59 °F)`, `15 °C / 59 °F`, `15 °C = 59 °F`.
_BOTH: Final = re.compile(r"([^(/=]+)[(/=]([^)/=(]+)\)?")
#: Labels round the second unit to whole degrees.
_LABEL_ROUNDS: Final = Fraction(1)
_COLDEST: Final = Fraction("-273.15")


def _exact(value: object) -> None:
    """Refuse floats at the door, as every quantity does."""
    if not isinstance(value, (int, Fraction)) or isinstance(value, bool):
        raise TypeError("a quantity is an int or a Fraction, never a float")


@dataclass(frozen=True, slots=True, order=True)
class Temperature:
    """A warmth in degrees Celsius; printed in `unit`, °C or °F.

    Attributes:
        c: Degrees Celsius, exact.
        unit: `°C` or `°F`.
    """

    c: Fraction
    unit: str = field(default="°C", compare=False)

    def __post_init__(self) -> None:
        _exact(self.c)
        if self.unit not in ("°C", "°F"):
            raise QuantityError(f"{quote_text(self.unit)} is not a unit of warmth", "use °C or °F")

    @property
    def f(self) -> Fraction:
        """Degrees Fahrenheit."""
        return Fraction(self.c) * 9 / 5 + 32

    def __str__(self) -> str:
        return f"{number_text(self.c if self.unit == '°C' else self.f)} {self.unit}"


def read_temperature(text: str) -> Temperature:
    """Read `20 °C`, `20 C`, `68 °F`, or both where they say the same: `15 °C (59 °F)`.

    Raises:
        QuantityError: No figure, no unit, another unit, two warmths that differ by
            more than a label rounds, or colder than anything can be.
    """
    plain = plain_spaces(text)
    if found := _BOTH.fullmatch(plain):
        return _agreeing(_one(found[1]), _one(found[2]))
    return _one(plain)


def _agreeing(first: Temperature, second: Temperature) -> Temperature:
    """The first of two warmths that say the same."""
    if abs(first.f - second.f) > _LABEL_ROUNDS:
        meant = Temperature(first.c, "°F" if second.unit == "°F" else "°C")
        raise QuantityError(
            f"{first} is {_whole(meant)}, not {second}", f"write one of them, such as {first}"
        )
    return first


def _whole(warmth: Temperature) -> str:
    """A warmth to the nearest whole degree of its unit."""
    return f"{round(warmth.c if warmth.unit == '°C' else warmth.f)} {warmth.unit}"


def _one(text: str) -> Temperature:
    plain = plain_spaces(text).replace("\u2212", "-")
    found = re.fullmatch(r"(-?)([0-9.,/ ]*)(.*)", plain)
    figure, unit = (found[2].strip(" "), found[3].replace("° ", "°")) if found else ("", "")
    if not figure:
        raise QuantityError(f"{quote_text(text)} has no warmth in it", "write one such as 20 °C")
    if not unit:
        raise QuantityError(f"{quote_text(text)} has no unit", f"write {figure} °C or {figure} °F")
    if unit not in _UNITS:
        raise QuantityError(f"{quote_text(unit)} is not a unit for this", "write °C or °F")
    value = read_number(figure, fractions=False) * (-1 if found and found[1] else 1)
    c = value if _UNITS[unit] == "°C" else (value - 32) * Fraction(5, 9)
    if c < _COLDEST:
        raise QuantityError(f"{quote_text(text)} is colder than anything",
                            "write one such as 20 °C")
    return Temperature(c, _UNITS[unit])


def read_humidity(text: str) -> Percentage:
    """Read a relative humidity: `60 %`, `60 % RH`.

    Raises:
        QuantityError: No figure or no percent sign (0.6 could be either), or above 100 %.
    """
    plain = plain_spaces(text).removesuffix("RH").strip(" ")
    if re.fullmatch(r"0?\.[0-9]{1,4}", plain):
        meant = number_text(Fraction(f"0{plain}" if plain[0] == "." else plain) * 100)
        raise QuantityError(f"{quote_text(text)} has no unit", f"write {meant} % if that is meant")
    found = read_percentage(plain)
    if found.fraction > 1:
        raise QuantityError(
            f"{quote_text(text)} is more than air can hold", "write at most 100 %, such as 55 %"
        )
    return found
