"""Figures: how a number is read from text and written again, without a float.

A figure is a whole number (`12`), a decimal with a point (`1.25`), a fraction
(`1/8`) or a mixed one (`3 1/4`). Only the ASCII digits count as digits.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from typing import Literal

from benchapp.quantities.errors import QuantityError, quote_text

#: How a number was written, so that it is printed the same way again.
Spelling = Literal["decimal", "fraction"]

_TEXT_AT_MOST = 100
#: A hundred years in milliseconds has 13.
_WHOLE_DIGITS = 13
_PLACES = 6
_DENOMINATOR_DIGITS = 4

_DECIMAL = re.compile(r"([0-9]+)(?:\.([0-9]+))?")
_MIXED = re.compile(r"(?:([0-9]+) +)?([0-9]+) ?/ ?([0-9]+)")
_COMMA = re.compile(r"([0-9]+),([0-9]+)(?:/|$)")
#: A comma inside one figure, and no second one, point or figure at either end.
_COMMA_IN = re.compile(r"(?<![0-9.,])([0-9]+),([0-9]+)(?![0-9.,])")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
#: A figure, then whatever stands behind it; a unit never begins with one of these.
_FIGURE = re.compile(r"([-+\u2212]?[0-9.,:/ ]*)(.*)", re.DOTALL)


def plain_spaces(text: str) -> str:
    """`text` without outer spaces, its unbreakable spaces made ordinary ones.

    Every reader begins here, so that no later step meets a text long enough to be
    slow on.

    Raises:
        QuantityError: The text is longer than any quantity.
    """
    if len(text) > _TEXT_AT_MOST:
        raise QuantityError(f"{quote_text(text)} is too long for a quantity",
                            "write a short figure")
    return text.replace("\u00a0", " ").replace("\u202f", " ").strip(" ")


def split_figure(text: str) -> tuple[str, str]:
    """`text` in two: the figure, and the unit behind it (either may be empty)."""
    found = _FIGURE.fullmatch(plain_spaces(text))
    if found is None:  # the pattern takes any text; this keeps the types honest
        return "", text
    return found[1].strip(" "), found[2].strip(" ")


def point_for_comma(text: str) -> str:
    """`text` with each decimal comma made a point: `3,25 turns` becomes `3.25 turns`.

    For what is typed where no list can be meant; files keep to the point. `1,500` may be a
    thousand and a half, so it stays as it is, and the readers refuse it.
    """
    if len(text) > _TEXT_AT_MOST:
        return text
    return _COMMA_IN.sub(
        lambda found: found[0] if _THOUSANDS.fullmatch(found[0]) else f"{found[1]}.{found[2]}",
        text)


def read_number(text: str, *, fractions: bool = True) -> Fraction:
    """Read a bare figure such as `12`, `0.5`, `1/8` or `3 1/4`.

    Args:
        text: The figure, without a unit.
        fractions: Whether `1/8` and `3 1/4` are taken as well as decimals.

    Raises:
        QuantityError: The text is not a figure of zero or more, has a decimal
            comma, or more digits than a printer's figure ever has.
    """
    return read_spelled(text, fractions=fractions)[0]


def read_spelled(text: str, *, fractions: bool = True) -> tuple[Fraction, Spelling]:
    """Like `read_number`, and says how the figure was written."""
    figure = plain_spaces(text)
    _refuse_oddities(figure)
    if found := _DECIMAL.fullmatch(figure):
        return _decimal(figure, found[1], found[2] or ""), "decimal"
    if fractions and (found := _MIXED.fullmatch(figure)):
        return _mixed(figure, found[1] or "0", found[2], found[3]), "fraction"
    examples = "12, 1.25 or 3 1/4" if fractions else "12 or 1.25"
    raise QuantityError(f"{quote_text(text)} is not a figure", f"write one such as {examples}")


def _refuse_oddities(figure: str) -> None:
    """Name the usual slips, each with what to write instead."""
    if figure[:1] in ("-", "\u2212"):
        raise QuantityError(f"{quote_text(figure)} is below 0", "write a figure of 0 or more")
    if found := _COMMA.search(figure):
        mend = f"write a point: {found[1][-_WHOLE_DIGITS:]}.{found[2][:_PLACES]}"
        if _THOUSANDS.fullmatch(f"{found[1]},{found[2]}"):
            mend += f", or {found[1]}{found[2]} if thousands are meant"
        raise QuantityError(f"{quote_text(figure)} has a decimal comma", mend)


def _decimal(figure: str, whole: str, places: str) -> Fraction:
    # Digits are counted before int() sees them: very long ones are slow, or refused
    # by int() itself with an error of its own.
    whole, places = whole.lstrip("0") or "0", places.rstrip("0")
    if len(whole) > _WHOLE_DIGITS:
        raise QuantityError(
            f"{quote_text(figure)} is too large", f"write at most {_WHOLE_DIGITS} digits"
        )
    if len(places) > _PLACES:
        raise QuantityError(
            f"{quote_text(figure)} is finer than anyone measures",
            f"write at most {_PLACES} digits after the point",
        )
    return Fraction(int(whole + places), 10 ** len(places))


def _mixed(figure: str, whole: str, above: str, below: str) -> Fraction:
    if max(len(above), len(below)) > _DENOMINATOR_DIGITS:
        raise QuantityError(
            f"{quote_text(figure)} has too long a fraction", "write a short one such as 1/8"
        )
    if int(below) == 0:
        raise QuantityError(f"{quote_text(figure)} divides by 0",
                            "write a fraction such as 1/8")
    return _decimal(figure, whole, "") + Fraction(int(above), int(below))


def decimal_places(value: Fraction) -> int | None:
    """How many decimal places write `value` exactly; None if no number of them does."""
    rest, twos, fives = value.denominator, 0, 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    return max(twos, fives) if rest == 1 else None


def number_text(value: Fraction | int, spelling: Spelling = "decimal") -> str:
    """Write `value` exactly: as a decimal where one ends in time, else as a fraction.

    Reading the text gives the same value again.
    """
    value = Fraction(value)
    places = decimal_places(value)
    if value.denominator == 1 or (
        spelling == "decimal" and places is not None and places <= _PLACES
    ):
        return _decimal_text(value, places or 0)
    sign = "-" if value < 0 else ""
    whole, rest = divmod(abs(value.numerator), value.denominator)
    part = f"{rest}/{value.denominator}"
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"


def items_text(count: int, noun: str) -> str:
    """A number of things: `1 sheet`, `6 sheets`. The noun takes an s for more than one."""
    return f"{count} {noun}" + ("" if count == 1 else "s")


def join_words(words: Iterable[str], last: str = "and") -> str:
    """Words as one list: `a, b and c`; `last` stands before the last. No words: an empty text."""
    *before, end = list(words) or [""]
    return f"{', '.join(before)} {last} {end}" if before else end


def _decimal_text(value: Fraction, places: int) -> str:
    digits = str(abs(value.numerator) * 10**places // value.denominator).rjust(places + 1, "0")
    sign = "-" if value < 0 else ""
    return sign + (f"{digits[:-places]}.{digits[-places:]}" if places else digits)
