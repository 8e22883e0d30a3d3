"""A report as JSON, derived from its dataclass: the fields in their order, under their names.

A field says what it means beside its type: `Annotated[Seconds, "how long the hands worked"]`.
From the same words `formats` makes the list of all fields. A name that Python keeps for itself
ends with `_`, which JSON leaves out; `Key` gives a name that cannot be one in Python.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from typing import Annotated, Any, Final, get_args, get_origin, get_type_hints

from benchapp.reckon.answer import Answer

FORMAT: Final = "format"


@dataclass(frozen=True, slots=True)
class Unit:
    """What a figure counts, or how a text is written."""

    words: str


@dataclass(frozen=True, slots=True)
class Key:
    """The name in JSON, where it cannot be the field's own."""

    name: str


@dataclass(frozen=True, slots=True)
class Mark:
    """How a field is written."""

    words: str


#: The fields of its value are written as fields of the report itself.
FLAT: Final = Mark("flat")
#: Written only where there is something to say.
SELDOM: Final = Mark("only where there is one")

Seconds = Annotated[float, Unit("s")]
Time = Annotated[str, Unit("local time with its offset, ISO 8601")]
Day = Annotated[str, Unit("date, ISO 8601")]
Clock = Annotated[str, Unit("time of day, HH:MM")]
#: [number of the impression, value]
Numbered = tuple[int, float]


@dataclass(frozen=True, slots=True)
class ReportField:
    """One field of a report.

    Attributes:
        attribute: Its name in Python.
        key: Its name in JSON.
        kind: Its type, without what is said beside it.
        meaning: What it says.
        unit: What it counts, or how it is written; empty where it needs none.
        marks: How it is written.
    """

    attribute: str
    key: str
    kind: Any
    meaning: str
    unit: str
    marks: frozenset[Mark]


@cache
def report_fields(cls: Any) -> tuple[ReportField, ...]:
    """The fields of a report's dataclass, in their order."""
    hints = get_type_hints(cls, include_extras=True)
    return tuple(_field(f.name, hints[f.name]) for f in fields(cls))


def _field(name: str, hint: Any) -> ReportField:
    beside = [*_beside(hint)]
    key = next((x.name for x in beside if isinstance(x, Key)), name.removesuffix("_"))
    return ReportField(
        name, key, get_args(hint)[0] if get_origin(hint) is Annotated else hint,
        next((x for x in beside if isinstance(x, str)), ""),
        next((x.words for x in beside if isinstance(x, Unit)), ""),
        frozenset(x for x in beside if isinstance(x, Mark)))


def _beside(hint: Any) -> Iterator[Any]:
    """What is said beside a type and beside the types in it, the outermost last."""
    for part in get_args(hint)[:1] if get_origin(hint) is Annotated else get_args(hint):
        yield from _beside(part)
    if get_origin(hint) is Annotated:
        yield from get_args(hint)[1:]


def json_values(value: object) -> Any:
    """A report, or a part of one, as JSON holds it."""
    if isinstance(value, Answer):
        return value.json()
    if is_dataclass(value) and not isinstance(value, type):
        return _object(value)
    if isinstance(value, Mapping):
        return {str(key): json_values(x) for key, x in value.items()}
    if isinstance(value, (list, tuple)):
        return [json_values(x) for x in value]
    return value


def _object(report: Any) -> dict[str, Any]:
    out: dict[str, Any] = {}
    cls: Any = type(report)
    for f in report_fields(cls):
        value = getattr(report, f.attribute)
        if FLAT in f.marks:
            out |= {} if value is None else json_values(value)
        elif value is not None or SELDOM not in f.marks:
            out[f.key] = json_values(value)
    return out


def name_format(name: str, document: object) -> Any:
    """A whole document as JSON, a report or a list of them: each object first names its format."""
    if isinstance(document, (list, tuple)):
        return [name_format(name, x) for x in document]
    return {FORMAT: name, **json_values(document)}
