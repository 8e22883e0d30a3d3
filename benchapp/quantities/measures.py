"""Lengths, sizes, masses, grammage, percentages, turns and counts of things.

All exact. An inch is 25.4 mm and a pound 453.59237 g (international yard and pound agreement,
1959); an ounce is the sixteenth of that pound, the avoirdupois ounce of 28.349523125 g.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from benchapp.quantities.errors import QuantityError, quote_text
from benchapp.quantities.numbers import (
    Spelling,
    number_text,
    plain_spaces,
    read_number,
    read_spelled,
    split_figure,
)
from benchapp.quantities.paper_sizes import named_size

_MM: Final = {"mm": Fraction(1), "cm": Fraction(10), "in": Fraction(254, 10)}
_POUND: Final = Fraction("453.59237")
_G: Final = {"g": Fraction(1), "kg": Fraction(1000), "oz": _POUND / 16, "lb": _POUND}
#: What people also write, and the unit it is.
_SPELT: Final = {
    '"': "in", "\u2033": "in", "\u201d": "in", "in.": "in", "inch": "in", "inches": "in",
    "oz.": "oz", "ounce": "oz", "ounces": "oz", "lb.": "lb", "lbs": "lb", "lbs.": "lb",
    "pound": "lb", "pounds": "lb",
}  # fmt: skip
_GSM: Final = {"g/m2": Fraction(1), "g/m²": Fraction(1), "gsm": Fraction(1)}
_PERCENT: Final = {"%": Fraction(1, 100)}
_TURN: Final = {"turn": Fraction(1), "turns": Fraction(1)}
_CROSS: Final = re.compile(r"[xX×]")
_POUNDS: Final = re.compile(r"(lb|lbs|pound|pounds|#)\b|#", re.IGNORECASE)


def _exact(value: object) -> None:
    """Refuse floats (and whatever else would round) at the door of every value."""
    if not isinstance(value, (int, Fraction)) or isinstance(value, bool):
        raise TypeError("a quantity is an int or a Fraction, never a float")


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A length, in millimetres; printed in `unit`, as a fraction if it was written so."""

    mm: Fraction
    unit: str = field(default="mm", compare=False)
    spelling: Spelling = field(default="decimal", compare=False)

    def __post_init__(self) -> None:
        _exact(self.mm)

    @property
    def figure(self) -> str:
        """The figure alone, in the printer's unit."""
        return number_text(self.mm / _MM[self.unit], self.spelling)

    def __str__(self) -> str:
        return f"{self.figure} {self.unit}"


@dataclass(frozen=True, slots=True)
class Size:
    """Width and height of a plate or sheet, width first as it lies on the bed."""

    width: Length
    height: Length

    @property
    def area_cm2(self) -> Fraction:
        """Area in square centimetres."""
        return self.width.mm * self.height.mm / 100

    def document(self) -> str:
        """Height × width, the order in which documents about prints give it."""
        return _two(self.height, self.width)

    def __str__(self) -> str:
        return _two(self.width, self.height)


def _two(first: Length, second: Length) -> str:
    if first.unit == second.unit:
        return f"{first.figure} × {second}"
    return f"{first} × {second}"


@dataclass(frozen=True, slots=True, order=True)
class Mass:
    """A mass in grams; printed in `unit`."""

    g: Fraction
    unit: str = field(default="g", compare=False)

    def __post_init__(self) -> None:
        _exact(self.g)

    def __str__(self) -> str:
        return f"{number_text(self.g / _G[self.unit])} {self.unit}"


@dataclass(frozen=True, slots=True, order=True)
class Grammage:
    """Mass of paper an area, in grams a square metre (ISO 536); printed in `unit`."""

    gsm: Fraction
    unit: str = field(default="g/m2", compare=False)

    def __post_init__(self) -> None:
        _exact(self.gsm)

    def __str__(self) -> str:
        return f"{number_text(self.gsm)} {self.unit}"


@dataclass(frozen=True, slots=True, order=True)
class Percentage:
    """A part of a whole: `fraction` 3/8 prints as `37.5 %`."""

    fraction: Fraction

    def __post_init__(self) -> None:
        _exact(self.fraction)

    def __str__(self) -> str:
        return f"{number_text(Fraction(self.fraction) * 100)} %"


@dataclass(frozen=True, slots=True, order=True)
class Turns:
    """Turns of a screw; printed as a fraction if it was written so."""

    turns: Fraction
    spelling: Spelling = field(default="decimal", compare=False)

    def __post_init__(self) -> None:
        _exact(self.turns)

    def __str__(self) -> str:
        return f"{number_text(self.turns, self.spelling)} {'turns' if self.turns > 1 else 'turn'}"


def _read(
    text: str, units: Mapping[str, Fraction], said: str, example: str
) -> tuple[Fraction, str, Spelling]:
    """A figure and its unit, as (value in the base unit, unit, spelling)."""
    figure, unit = split_figure(text)
    if not figure:
        raise QuantityError(f"{quote_text(text)} has no figure", f"write one such as {example}")
    value, spelling = read_spelled(figure)
    if not unit:
        shown = figure if len(figure) <= 12 else example.split(" ")[0]
        mend = f"write {shown} {example.rpartition(' ')[2]}"
        raise QuantityError(f"{quote_text(text)} has no unit", f"{mend} (units: {said})")
    unit = unit if unit in units else _SPELT.get(unit.lower(), unit)
    if unit not in units:
        raise QuantityError(f"{quote_text(unit)} is not a unit for this", f"write {said}")
    return value * units[unit], unit, spelling


def read_length(text: str) -> Length:
    """Read `1.2 mm`, `19.8 cm` or `7 7/8 in` (`7 7/8"` and `7 7/8 inches` do as well).

    Raises:
        QuantityError: No figure of 0 or more, no unit, or another unit.
    """
    mm, unit, spelling = _read(text, _MM, "mm, cm or in", "40 mm")
    return Length(mm, unit, spelling)


def read_size(text: str) -> Size:
    """Read `198 x 148 mm` (width, height); `×` does as well, and each may have its unit.

    A size of ISO 216 may be named: `A4` is 210 x 297 mm, `A4 landscape` 297 x 210 mm.

    Raises:
        QuantityError: Not two lengths above nothing, and no such name.
    """
    if sides := named_size(plain_spaces(text)):
        return Size(Length(Fraction(sides[0])), Length(Fraction(sides[1])))
    parts = _CROSS.split(plain_spaces(text), maxsplit=2)
    if len(parts) != 2:
        raise QuantityError(
            f"{quote_text(text)} is not a width and a height",
            "write width x height, as 198 x 148 mm",
        )
    height = read_length(plain_spaces(parts[1]))
    alone = split_figure(parts[0])[1] == ""
    width = read_length(f"{parts[0]} {height.unit}" if alone else parts[0])
    if not width.mm or not height.mm:
        raise QuantityError(f"{quote_text(text)} has a side of 0",
                            "write both sides, above 0")
    return Size(width, height)


def read_mass(text: str) -> Mass:
    """Read `9 g`, `0.5 kg`, `2 oz` or `1.5 lb` (ounces and pounds avoirdupois).

    Raises:
        QuantityError: No figure of 0 or more, no unit, or another unit.
    """
    g, unit, _ = _read(text, _G, "g, kg, oz or lb", "9 g")
    return Mass(g, unit)


def metric_text(value: Length | Mass) -> str:
    """A length or mass as entries have it: inches as mm, ounces and pounds as g.

    Exact where six decimal places write it, else to 0.001 mm or g; metric ones as written.
    """
    if value.unit not in ("in", "oz", "lb"):
        return str(value)
    amount, unit = (value.mm, "mm") if isinstance(value, Length) else (value.g, "g")
    text = number_text(amount)
    return f"{text if '/' not in text else number_text(round(Fraction(amount), 3))} {unit}"


def read_grammage(text: str) -> Grammage:
    """Read `300 g/m2` (`g/m²` and `gsm` do as well).

    Raises:
        QuantityError: Pounds, which mean different weights for papers of
            different basic size; or no figure of 0 or more, or another unit.
    """
    if _POUNDS.match(split_figure(text)[1]):
        raise QuantityError(
            f"{quote_text(text)}: pounds are not enough: each kind of paper is weighed by a sheet "
            "size of its own",
            "write the grams a square metre from the wrapper, such as 300 g/m2",
        )
    gsm, unit, _ = _read(text, _GSM, "g/m2", "300 g/m2")
    return Grammage(gsm, unit)


def read_percentage(text: str) -> Percentage:
    """Read `37.5 %`.

    Raises:
        QuantityError: No figure of 0 or more, or no percent sign.
    """
    return Percentage(_read(text, _PERCENT, "%", "60 %")[0])


def read_turns(text: str) -> Turns:
    """Read turns of a screw: `1/8 turn`, `3.25 turns`, `3 1/4 turns`.

    Raises:
        QuantityError: No figure of 0 or more, or not turns.
    """
    turns, _, spelling = _read(text, _TURN, "turns", "3.25 turns")
    return Turns(turns, spelling)


def read_count(text: str, *nouns: str) -> int:
    """Read a whole number of things, such as `120 impressions`.

    Args:
        text: What the printer wrote.
        nouns: The words that may stand behind the number, as plurals; the
            singular is taken too. None: the number stands alone.

    Raises:
        QuantityError: Not a whole number of 0 or more, or not one of these words.
    """
    figure, word = split_figure(text)
    noun = nouns[0] if nouns else ""
    example = f"120 {noun}".strip()
    number = read_number(figure, fractions=False) if figure else None
    if number is None or number.denominator != 1 or "." in figure:
        raise QuantityError(f"{quote_text(text)} is not a whole number",
                            f"write one such as {example}")
    if nouns and not word:
        raise QuantityError(f"{quote_text(text)} has no unit", f"write {figure} {noun}")
    if word and word not in {w for n in nouns for w in (n, n.removesuffix("s"))}:
        mend = f"write {number} {noun}".rstrip()
        raise QuantityError(f"{quote_text(plain_spaces(word))} is not the word to count here", mend)
    return number.numerator
