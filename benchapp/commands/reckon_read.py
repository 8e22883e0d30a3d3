"""Figures of the day's arithmetic as they are typed: two things in one text, told apart by `:`."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any, Final

from benchapp.commands.answers import WrongUse
from benchapp.quantities import (
    Duration,
    Length,
    Mass,
    QuantityError,
    Size,
    Turns,
    read_duration,
    read_length,
    read_mass,
    read_size,
    read_turns,
)
from benchapp.quantities.errors import quote_text
from benchapp.quantities.numbers import point_for_comma, read_number

_TO: Final = re.compile(r"(.{1,80}?)\s+to\s+(.{1,80})")
_COUNT: Final = re.compile(r"[0-9]{1,6}")


class Figure:
    """Reads one option's text; a text that is no such figure names the option.

    An option is never a list of figures, so a decimal comma is read as a point.

    Args:
        flag: The option, as it is typed.
        read: Reads the text, and says by QuantityError what is wrong with it.
    """

    def __init__(self, flag: str, read: Callable[[str], Any]) -> None:
        self.flag = flag
        self.read = read

    def __call__(self, text: str) -> Any:
        """The figure.

        Raises:
            WrongUse: The text is none; the message says what would be one.
        """
        try:
            return self.read(point_for_comma(text))
        except QuantityError as error:
            raise WrongUse(f"{self.flag}: {error}") from None


def read_natural(text: str) -> int:
    """A count from 0 up; whether it will do is for the arithmetic to say."""
    if not _COUNT.fullmatch(text.strip()):
        raise QuantityError(f"{quote_text(text)} is not a count", "write a whole number such as 20")
    return int(text)


def read_part(text: str) -> tuple[str, Fraction]:
    """`black: 880`: a name and its parts by mass."""
    name, figure = _two(text, "name: parts", "black:880")
    return name, read_number(figure)


def read_piece(text: str) -> tuple[Size, int | None]:
    """`280 x 380 mm`, or with how many are wanted: `280 x 380 mm: 3`."""
    size, colon, count = text.partition(":")
    return read_size(size), read_natural(count) if colon else None


def read_after(text: str) -> tuple[Duration, Mass]:
    """`5 min: 150 g`: so long in the water, and what the sheet weighed then."""
    time, mass = _two(text, "time: weight", "5 min: 150 g")
    return read_duration(time), read_mass(mass)


def read_patch(text: str) -> tuple[Duration, Fraction]:
    """`5 min: 60`: a patch bitten so long in all, and how it reads."""
    time, reading = _two(text, "time: reading", "5 min: 60")
    return read_duration(time), read_reading(reading)


def read_reading(text: str) -> Fraction:
    """A reading of a strip, with or without a percent sign."""
    return read_number(text.strip().removesuffix("%").strip())


def read_tone(text: str) -> tuple[str, Fraction]:
    """`sky: 60`: an area, and the reading it is to have."""
    name, reading = _two(text, "name: reading", "sky: 60")
    return name, read_reading(reading)


def read_area(text: str) -> tuple[str, Duration]:
    """`sky: 3 min`: an area, and how long it is bitten in all."""
    name, time = _two(text, "name: time", "sky: 3 min")
    return name, read_duration(time)


def read_used(text: str) -> tuple[Mass, int]:
    """`84 g: 12`: ink one session used, and the impressions pulled with it."""
    mass, count = _two(text, "weight: impressions", "84 g: 12")
    return read_mass(mass), read_natural(count)


def read_change(text: str) -> tuple[Length, Length]:
    """`1.2 mm to 1.5 mm`: how thick it was, and how thick it is now."""
    found = _TO.fullmatch(text.strip()[:200])
    if found is None:
        raise QuantityError(f"{quote_text(text)} is not a change", "write it as 1.2 mm to 1.5 mm")
    return read_length(found[1]), read_length(found[2])


def read_side(text: str) -> tuple[str, Turns]:
    """`handle side: 3.25 turns`: a screw by the printer's own name, and where it stands."""
    name, turns = _two(text, "name: turns", "handle side: 3.25 turns")
    return name, read_turns(turns)


def _two(text: str, what: str, example: str) -> tuple[str, str]:
    first, colon, second = text.rpartition(":")
    if not colon or not first.strip() or not second.strip():
        raise QuantityError(f"{quote_text(text)} is not {what}", f"write it as {example}")
    return first.strip(), second.strip()
