"""Volumes of a liquid: millilitres and litres. Exact."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from benchapp.quantities.errors import QuantityError, quote_text
from benchapp.quantities.numbers import number_text, read_number, split_figure

_ML: Final = {"ml": Fraction(1), "l": Fraction(1000)}
_SPELT: Final = {"mL": "ml", "L": "l", "litre": "l", "litres": "l", "liter": "l", "liters": "l"}


@dataclass(frozen=True, slots=True, order=True)
class Volume:
    """A volume in millilitres; printed in `unit`."""

    ml: Fraction
    unit: str = field(default="ml", compare=False)

    def __str__(self) -> str:
        return f"{number_text(self.ml / _ML[self.unit])} {self.unit}"

    @property
    def rounded(self) -> str:
        """To the millilitre, as a cylinder is read."""
        return str(Volume(Fraction(round(self.ml)), self.unit))


def read_volume(text: str) -> Volume:
    """Read `500 ml` or `1.5 l`.

    Raises:
        QuantityError: No figure above 0, no unit, or another unit.
    """
    figure, unit = split_figure(text)
    unit = _SPELT.get(unit, unit)
    if not figure or unit not in _ML:
        raise QuantityError(f"{quote_text(text)} is not a volume",
                            "write one such as 500 ml or 1.5 l")
    value = read_number(figure) * _ML[unit]
    if value <= 0:
        raise QuantityError(f"{quote_text(text)} is nothing", "write a volume above 0")
    return Volume(value, unit)
