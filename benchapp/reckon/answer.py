"""The shape every answer has: a sentence first, then its figures and where they come from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import Any, Final

from benchapp.quantities import (
    Duration,
    Grammage,
    Length,
    Mass,
    Percentage,
    Size,
    Temperature,
    Turns,
    number_text,
)
from benchapp.quantities.volumes import Volume

#: Keys of the JSON form that no figure may take.
_OWN_KEYS: Final = frozenset({"sentence", "inputs", "notes", "formula", "source"})


class Origin(StrEnum):
    """Where a number comes from, in the words it is shown with."""

    GIVEN = "given"
    RECIPE = "the recipe"
    PUBLISHED = "published"
    PRACTICE = "common practice"
    LEARNT = "learnt from your own sessions"
    CHOSEN = "this program's choice"


@dataclass(frozen=True, slots=True)
class Input:
    """One figure an answer rests on.

    Attributes:
        name: What it is, as the printer would say it.
        value: The figure: a quantity, a number, or a word.
        unit: Its unit where the value does not bear one itself; else empty.
        source: Where it comes from.
        detail: The text, paper or sessions meant, where one can be named.
    """

    name: str
    value: Any
    unit: str
    source: Origin
    detail: str = ""

    def line(self) -> str:
        """`spoilage 10 % (common practice: prior worth 10 sheets)`."""
        whence = f"{self.source}: {self.detail}" if self.detail else str(self.source)
        unit = f" {self.unit}" if self.unit else ""
        return f"{self.name} {value_text(self.value)}{unit} ({whence})"

    def json(self) -> dict[str, Any]:
        """The same as plain values; a quantity gives its base unit (mm, g, ms, …)."""
        value, unit = _plain_with_unit(self.value)
        found = {"name": self.name, "value": value, "unit": self.unit or unit}
        found["source"] = str(self.source)
        return {**found, "detail": self.detail} if self.detail else found


@dataclass(frozen=True, slots=True)
class Answer:
    """What was asked, answered.

    Attributes:
        sentence: What a printer would say, whole by itself, without a full stop.
        figures: The numbers of the answer by name; names carry the unit (`waste_mm2`).
        inputs: What the answer rests on, the most important first.
        notes: Cautions and what could be had otherwise, one sentence each.
        formula: How it was reckoned, in one line.
        source: Where the formula comes from.
        body: Lines to be read at the table, such as a list or a drawing.
    """

    sentence: str
    figures: Mapping[str, Any]
    inputs: tuple[Input, ...]
    notes: tuple[str, ...] = ()
    formula: str = ""
    source: str = ""
    body: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if taken := _OWN_KEYS & self.figures.keys():
            raise ValueError(f"a figure may not be called {sorted(taken)}")
        object.__setattr__(self, "figures", MappingProxyType(dict(self.figures)))

    def json(self) -> dict[str, Any]:
        """One flat document: the sentence, each figure by its name, then what it rests on."""
        return {
            "sentence": self.sentence,
            **{name: json_value(value) for name, value in self.figures.items()},
            "inputs": [given.json() for given in self.inputs],
            "notes": list(self.notes),
            "formula": self.formula,
            "source": self.source,
        }

    def lines(self, *, why: bool) -> list[str]:
        """The answer as text: the sentence, what to do, and notes.

        Args:
            why: Every figure it rests on as well, with where it comes from.
        """
        found = [f"{self.sentence}."]
        if self.body:
            found += ["", *self.body, ""]
        found += [f"  {given.line()}" for given in self.inputs if why]
        found += [f"  {note}." for note in self.notes]
        return found


def value_text(value: object) -> str:
    """A value as text for people."""
    if isinstance(value, (int, Fraction)) and not isinstance(value, bool):
        return number_text(value)
    return str(value)


def json_value(value: Any) -> Any:
    """A value as JSON holds it: whole numbers stay whole, quantities give their base unit."""
    if isinstance(value, Mapping):
        return {str(key): json_value(each) for key, each in value.items()}
    if isinstance(value, (list, tuple)):
        return [json_value(each) for each in value]
    if isinstance(value, Fraction):
        return value.numerator if value.denominator == 1 else float(value)
    return _plain_with_unit(value)[0]


def _plain_with_unit(value: Any) -> tuple[Any, str]:
    """A value in plain numbers, and the unit it is in (empty if it has none)."""
    match value:
        case Length():
            return json_value(Fraction(value.mm)), "mm"
        case Size():
            return [json_value(Fraction(value.width.mm)),
                    json_value(Fraction(value.height.mm))], "mm"
        case Mass():
            return json_value(Fraction(value.g)), "g"
        case Volume():
            return json_value(Fraction(value.ml)), "ml"
        case Grammage():
            return json_value(Fraction(value.gsm)), "g/m2"
        case Percentage():
            return json_value(Fraction(value.fraction) * 100), "%"
        case Temperature():
            return json_value(Fraction(value.c)), "°C"
        case Turns():
            return json_value(Fraction(value.turns)), "turns"
        case Duration():
            return value.ms, "ms"
        case StrEnum():
            return str(value), ""
        case Fraction() | list() | tuple() | Mapping():
            return json_value(value), ""
    return value, ""
