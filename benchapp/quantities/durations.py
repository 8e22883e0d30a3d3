"""Durations and spans: how long a step takes, as printers write it.

A duration is a whole number of milliseconds. It is written with a unit (`90 s`,
`12 min`, `1 h 30 min`, `3 days`); `1:30` is refused because it can be read two ways.
A day is 24 h and a week 7 days, as in RFC 5545 section 3.3.6.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from benchapp.quantities.errors import QuantityError, quote_text
from benchapp.quantities.numbers import (
    decimal_places,
    number_text,
    plain_spaces,
    read_number,
    split_figure,
)

_MS: Final = {"week": 604_800_000, "day": 86_400_000, "h": 3_600_000, "min": 60_000, "s": 1000,
              "ms": 1}
_PLURALS: Final = {"days": "day", "weeks": "week"}
#: What people also write, and the unit they mean.
_MEANT: Final = {
    "sec": "s", "secs": "s", "second": "s", "seconds": "s", "m": "min", "mins": "min",
    "minute": "min", "minutes": "min", "hr": "h", "hrs": "h", "hour": "h", "hours": "h",
    "d": "days", "w": "weeks", "wk": "weeks", "wks": "weeks", "msec": "ms",
}  # fmt: skip
_UNITS_SAID: Final = "s, min, h, days or weeks"
_PART: Final = re.compile(r"([0-9]+(?:\.[0-9]+)?) *([A-Za-z]+) *")
_CLOCK: Final = re.compile(r"([0-9]{1,6}):([0-9]{2})(?::([0-9]{2}))?(?: *[a-z]+)?")
_DASH: Final = re.compile(r"[-–—]")
_DASHED: Final = re.compile(r"[0-9.]+ *[A-Za-z]*(?: *[-–—] *[0-9.]+ *[A-Za-z]*){1,2}")
#: No print waits longer: a hundred years.
_LONGEST_MS: Final = 36_525 * 86_400_000


@dataclass(frozen=True, slots=True, order=True)
class Duration:
    """A length of time, compared by its milliseconds alone.

    Attributes:
        ms: Milliseconds, 0 or more.
        unit: The unit it is printed in: `ms`, `s`, `min`, `h`, `day`, `week`, or
            several with a space between (`h min`) for one written in parts.
    """

    ms: int
    unit: str = field(default="min", compare=False)

    def __post_init__(self) -> None:
        if type(self.ms) is not int:
            raise TypeError("a duration is a whole number of milliseconds")
        if self.ms < 0:
            raise QuantityError("a duration is never below 0", "give 0 ms or more")
        if not self.unit or any(u not in _MS for u in self.unit.split(" ")):
            raise QuantityError(f"{quote_text(self.unit)} is not a unit of time",
                                f"use {_UNITS_SAID}")

    @property
    def seconds(self) -> Fraction:
        """Seconds, exactly."""
        return Fraction(self.ms, 1000)

    @property
    def minutes(self) -> Fraction:
        """Minutes, exactly."""
        return Fraction(self.ms, 60_000)

    def iso(self) -> str:
        """The duration as ISO 8601 has it, in days of 24 h and below: `PT1H30M`."""
        days, rest = divmod(self.ms, _MS["day"])
        hours, rest = divmod(rest, _MS["h"])
        minutes, rest = divmod(rest, _MS["min"])
        time = f"{hours}H" if hours else ""
        time += f"{minutes}M" if minutes else ""
        time += f"{number_text(Fraction(rest, 1000))}S" if rest else ""
        date = f"{days}D" if days else ""
        return "P" + date + (f"T{time}" if time else "") if date or time else "PT0S"

    def __str__(self) -> str:
        if " " not in self.unit:
            figure = _figure_in(self.ms, self.unit)
            if figure is not None:
                return f"{figure} {_unit_text(figure, self.unit)}"
        return _in_parts(self.ms, self.unit.split(" ")[0])


def _unit_text(figure: str, unit: str) -> str:
    return f"{unit}s" if unit in ("day", "week") and figure != "1" else unit


def _figure_in(ms: int, unit: str) -> str | None:
    """`ms` as a decimal of `unit`, or None where three places do not write it exactly."""
    value = Fraction(ms, _MS[unit])
    places = decimal_places(value)
    return number_text(value) if places is not None and places <= 3 else None


def _in_parts(ms: int, largest: str) -> str:
    """`ms` in parts from `largest` down, none of them nothing: `1 h 30 min`."""
    units = list(_MS)
    parts, rest = [], ms
    for unit in units[units.index(largest) :]:
        count, rest = divmod(rest, _MS[unit])
        if count:
            parts.append(f"{count} {_unit_text(str(count), unit)}")
    return " ".join(parts) or f"0 {_unit_text('0', largest)}"


@dataclass(frozen=True, slots=True)
class Span:
    """How long something takes: low, usual and high, each at least the one before."""

    low: Duration
    usual: Duration
    high: Duration

    def __post_init__(self) -> None:
        if not self.low <= self.usual <= self.high:
            raise QuantityError(
                f"times go low, usual, high, not {self.low}, {self.usual}, {self.high}",
                "write low/usual/high, such as 3/5/8 min",
            )

    def __str__(self) -> str:
        if self.low == self.usual == self.high:
            return str(self.usual)
        three = (self.low, self.usual, self.high)
        unit = self.high.unit
        if all(d.unit == unit for d in three) and " " not in unit:
            figures = [f for d in three if (f := _figure_in(d.ms, unit)) is not None]
            if len(figures) == 3:
                return "/".join(figures) + " " + _unit_text(figures[2], unit)
        return "/".join(str(d) for d in three)


def read_duration(text: str) -> Duration:
    """Read a duration: `90 s`, `1.5 min`, `1 h 30 min`, `3 days`, `750 ms`.

    Raises:
        QuantityError: Without a unit, with an unknown one, written as a clock
            time, below nothing, finer than a millisecond, or over 100 years.
    """
    tidy = plain_spaces(text)
    _refuse_clock(tidy)
    figure, unit = split_figure(tidy)
    if not figure:
        raise QuantityError(f"{quote_text(text)} is not a duration", "write one such as 12 min")
    if not unit:
        return _refuse_bare(tidy)
    if not any(c in "0123456789" for c in unit):
        return _checked(read_number(figure, fractions=False), _unit(unit), tidy)
    return _read_parts(tidy)


def _refuse_clock(text: str) -> None:
    if found := _CLOCK.fullmatch(text):
        first, second, third = int(found[1]), int(found[2]), found[3]
        mend = f"write {first} h {second} min or {first * 60 + second} s"
        if third is not None:
            mend = f"write {first} h {second} min {int(third)} s"
        wrong = f"{quote_text(text)} can be read two ways"
        raise QuantityError(wrong if third is None else f"{quote_text(text)} has no units", mend)


def _refuse_bare(text: str) -> Duration:
    read_number(text, fractions=False)  # its own complaint first, if it is no figure at all
    shown = text if len(text) <= 12 else "12"
    raise QuantityError(
        f"{quote_text(text)} has no unit", f"write {shown} min, or one of {_UNITS_SAID}"
    )


def _unit(word: str) -> str:
    unit = _PLURALS.get(word, word)
    if unit in _MS:
        return unit
    meant = _MEANT.get(word.lower())
    if meant is None and _PLURALS.get(word.lower(), word.lower()) in _MS:
        meant = word.lower()
    raise QuantityError(
        f"{quote_text(word)} is not a unit of time", f"write {meant or f'one of {_UNITS_SAID}'}"
    )


def _checked(figure: Fraction, unit: str, text: str, spelt: str | None = None) -> Duration:
    ms = figure * _MS[unit]
    if ms > _LONGEST_MS:
        raise QuantityError(f"{quote_text(text)} is over a hundred years", "write a shorter time")
    if ms.denominator != 1:
        raise QuantityError(f"{quote_text(text)} is finer than a millisecond", "write whole ms")
    return Duration(ms.numerator, spelt or unit)


def _read_parts(text: str) -> Duration:
    """Read `1 h 30 min`: units get smaller, only the last figure has a point."""
    if _PART.sub("", text):
        raise QuantityError(f"{quote_text(text)} is not a duration", "write one such as 1 h 30 min")
    total, units = Fraction(0), list[str]()
    parts = _PART.findall(text)
    for number, word in parts:
        unit, figure = _unit(word), read_number(number, fractions=False)
        if "." in number and len(units) + 1 < len(parts):
            raise QuantityError(
                f"{quote_text(text)} has a point before its last part",
                "write a point in the last figure only, or one unit, such as 1.5 h",
            )
        if units:
            _refuse_disorder(text, units[-1], figure * _MS[unit], unit)
        total += figure * _MS[unit]
        units.append(unit)
    return _checked(total, "ms", text, " ".join(units))


def _refuse_disorder(text: str, before: str, part_ms: Fraction, unit: str) -> None:
    if _MS[unit] >= _MS[before]:
        raise QuantityError(
            f"{quote_text(text)} has its parts out of order",
            "write the larger unit first and once, such as 1 h 30 min",
        )
    if part_ms >= _MS[before]:
        raise QuantityError(
            f"{quote_text(text)}: the {unit} are more than 1 {before}",
            "carry them to the larger unit"
        )


def read_span(text: str) -> Span:
    """Read `3/5/8 min` (low/usual/high), or one duration that stands for all three.

    Each of the three may have its own unit; one without takes the last one's.

    Raises:
        QuantityError: Two figures or more than three, figures that fall, or a
            part that is no duration.
    """
    parts = [plain_spaces(p) for p in plain_spaces(text).split("/")]
    if len(parts) == 1:
        _refuse_dashes(parts[0])
        one = read_duration(text)
        return Span(one, one, one)
    if len(parts) != 3:
        raise QuantityError(
            f"{quote_text(text)} has {'two' if len(parts) == 2 else 'more than three'} figures",
            "write low/usual/high, such as 3/5/8 min, or one figure",
        )
    high = read_duration(parts[2])
    low, usual = (_with_unit_of(p, high) for p in parts[:2])
    return Span(low, usual, high)


def _refuse_dashes(text: str) -> None:
    """`8-14-27 min`, as people write a range; of two figures nobody knows the usual one."""
    if not _DASHED.fullmatch(text):
        return
    figures = [part.strip() for part in _DASH.split(text)]
    raise QuantityError(f"{quote_text(text)} has dashes between its times",
                        f"write {'/'.join(figures)}" if len(figures) == 3
                        else "write low/usual/high, such as 3/5/8 min, or one figure")


def _with_unit_of(part: str, high: Duration) -> Duration:
    figure, unit = split_figure(part)
    if unit or ":" in figure:
        return read_duration(part)
    if " " in high.unit:
        raise QuantityError(f"{quote_text(part)} has no unit",
                            f"write a unit behind it, as in {high}")
    return _checked(read_number(figure, fractions=False), high.unit, part)


def mmss(ms: int) -> str:
    """A running count in whole seconds begun: `12:05`, `1:02:05` from an hour on.

    Below nothing (a wait that is over) it has a minus: `-0:05`.
    """
    sign, rest = ("-", -ms) if ms <= -1000 else ("", max(ms, 0))
    minutes, seconds = divmod(rest // 1000, 60)
    hours, minutes = divmod(minutes, 60)
    if hours:
        return f"{sign}{hours}:{minutes:02}:{seconds:02}"
    return f"{sign}{minutes}:{seconds:02}"


def minutes_text(ms: int) -> str:
    """A time for reading, to the nearest minute: `12 min`, `1 h 5 min`; seconds below one."""
    if ms < 60_000:
        return f"{max(ms, 0) // 1000} s"
    hours, minutes = divmod((ms + 30_000) // 60_000, 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def figure_text(ms: int) -> str:
    """A time that was said, not measured: as `minutes_text`, but `1.5 min` stays so."""
    tenths, odd = divmod(ms, 6_000)
    if odd or not 10 < tenths < 600 or tenths % 10 == 0:
        return minutes_text(ms)
    return f"{tenths // 10}.{tenths % 10} min"
