"""Amounts as a printer types and reads them: `40 sheets`, `12 pieces`, `180 g`, `24`. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from typing import Final

from benchapp.quantities import (
    QuantityError,
    items_text,
    number_text,
    point_for_comma,
    quote_text,
    read_mass,
)

_COUNTED: Final = re.compile(r"(\d{1,6})\s*(sheets?|pieces?)?")
#: The last figure of a line with what stands behind it: before it stands a name.
_LAST: Final = re.compile(r"(.*\S)\s+(\d[\d.,]*\s?[^\d\s]*)", re.DOTALL)
#: The longest line that is looked at.
_LONGEST: Final = 500
_EXAMPLES: Final = "write such as 40 sheets, 12 pieces, 180 g, or 24"


def read_amount(text: str) -> tuple[int, str]:
    """An amount and its unit: `sheets`, `pieces`, `mg` or `items`.

    Raises:
        QuantityError: It is none.
    """
    plain = " ".join(text[:_LONGEST].split()).casefold()
    counted = _COUNTED.fullmatch(plain)
    if counted is not None:
        unit = counted[2] or "item"
        return int(counted[1]), unit.rstrip("s") + "s"
    try:
        return round(read_mass(point_for_comma(plain)).g * 1000), "mg"
    except QuantityError:
        raise QuantityError(f"{quote_text(text)} is not an amount", _EXAMPLES) from None


def split_amount(text: str) -> tuple[str, str]:
    """A name, and the amount that ends the line; an empty one where it ends with none."""
    found = _LAST.fullmatch(text.strip()[:_LONGEST])
    return (text.strip(), "") if found is None else (found[1].rstrip(" :"), found[2])


def read_parts(texts: Iterable[str]) -> tuple[tuple[str, int | None], ...]:
    """What is in a batch, part by part: names with milligrams; None: not weighed.

    Raises:
        QuantityError: An amount is no weight.
    """
    parts: list[tuple[str, int | None]] = []
    for text in texts:
        name, said = split_amount(text)
        mg, unit = read_amount(said) if said else (None, "mg")
        if unit != "mg":
            raise QuantityError(f"{quote_text(text)}: ink is weighed", "write bone black 60 g")
        parts.append((name, mg))
    return tuple(parts)


def amount_words(amount: Fraction | int, unit: str, per_sheet: int | None = None) -> str:
    """An amount in words: `37 sheets and 2 pieces`, `180 g`.

    Args:
        amount: Of that unit; sheets may be broken.
        unit: `sheets`, `pieces`, `mg` or `items`.
        per_sheet: Pieces that a sheet gives; None: not known, or not always the same.
    """
    amount = Fraction(amount)
    if unit == "mg":
        return f"{number_text(amount / 1000)} g"
    whole = int(amount)
    if unit == "items":
        return str(whole)
    if unit == "pieces":
        return items_text(whole, "piece")
    pieces = (amount - whole) * (per_sheet or 1)
    if not amount - whole:
        return items_text(whole, "sheet")
    rest = items_text(int(pieces), "piece") if per_sheet and pieces.denominator == 1 else (
        "part of one")
    return f"{items_text(whole, 'sheet')} and {rest}" if whole else (
        rest if rest != "part of one" else "part of a sheet")
