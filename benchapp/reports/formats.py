"""What leaves as JSON and CSV, field by field: the name, its type, what it means and its unit.

JSON fields are read off the reports' dataclasses, so the list cannot fall behind them.
"""

from __future__ import annotations

import types
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, is_dataclass
from inspect import getdoc
from typing import Annotated, Any, Final, Union, get_args, get_origin

from benchapp.reckon.answer import Answer
from benchapp.reports import export_csv
from benchapp.reports.answer_formats import ANSWERS
from benchapp.reports.comparison import Comparison
from benchapp.reports.drying import StackReport
from benchapp.reports.editions import EditionSheet
from benchapp.reports.json_form import FLAT, FORMAT, SELDOM, ReportField, report_fields
from benchapp.reports.plan_report import PlanReport
from benchapp.reports.plate_life import PlateLife
from benchapp.reports.reading_drift import FIGURES
from benchapp.reports.review import Review
from benchapp.reports.stock import ThingReport
from benchapp.reports.tag_advice import TagAdvice
from benchapp.reports.whereabouts import LentSheet, SheetAnswer, WhereReport

#: What writes each report, and whether it writes an array of them.
_REPORTS: Final[tuple[tuple[type[Any], str, bool], ...]] = (
    (Review, "benchapp review --json", False),
    (PlateLife, "benchapp life --json", True),
    (TagAdvice, "benchapp why --json", False),
    (Comparison, "benchapp beside --json", False),
    (EditionSheet, "benchapp edition --json", True),
    (WhereReport, "benchapp where-is --json", True),
    (SheetAnswer, "benchapp where-is SHEET --json", True),
    (LentSheet, "benchapp where-is --gallery WHO --json", True),
    (StackReport, "benchapp boards --json", True),
    (PlanReport, "benchapp plan --json", False),
    (ThingReport, "benchapp stock --json", True),
)
_WORDS: Final = {str: "text", int: "whole number", float: "number", bool: "true or false"}


@dataclass(frozen=True, slots=True)
class FormatField:
    """One field of a JSON object, or one column of a table.

    Attributes:
        name: Its name; what is inside others after a dot, `[]` after a list: `packs[].sheets`.
        kind: Its type in words: `text`, `whole number`, `list of texts`, `number or null`.
        meaning: What it says.
        unit: What it counts, or how it is written; empty where it needs none.
    """

    name: str
    kind: str
    meaning: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class FormatDescription:
    """One thing that leaves the program to be read by another.

    Attributes:
        name: What the objects name themselves in `format`, such as `review/1`; of a table the
            name it is asked for by.
        command: What writes it.
        about: What one object, or one row, is.
        listed: It leaves as an array of such objects.
        fields: All fields, in the order written.
    """

    name: str
    command: str
    about: str
    listed: bool
    fields: tuple[FormatField, ...]


def describe_formats() -> tuple[FormatDescription, ...]:
    """Every JSON document and every table, in the order of the list of commands."""
    return (*(_report(*x) for x in _REPORTS), *(_answer(*x) for x in ANSWERS), *_tables())


def _answer(name: str, command: str, about: str, listed: bool,
            fields: tuple[tuple[str, ...], ...]) -> FormatDescription:
    return FormatDescription(name, command, about, listed,
                             (_format_field(name), *(FormatField(*f) for f in fields)))


def _format_field(name: str) -> FormatField:
    return FormatField(FORMAT, "text", f"always {name}: what it is, and its version")


def _report(cls: type[Any], command: str, listed: bool) -> FormatDescription:
    named: dict[str, FormatField] = {}
    for f in (_format_field(cls.FORMAT), *_fields(cls, "")):
        named.setdefault(f.name, f)
    return FormatDescription(cls.FORMAT, command, (getdoc(cls) or "").partition("\n")[0],
                             listed, tuple(named.values()))


def _fields(cls: Any, before: str) -> Iterator[FormatField]:
    for f in report_fields(cls):
        if FLAT in f.marks:
            yield from _inside(f.kind, before)
            continue
        seldom = f"; {SELDOM.words}" if SELDOM in f.marks else ""
        name = before + f.key
        yield FormatField(name, _kind_words(f), f.meaning + seldom, f.unit)
        yield from _inside(f.kind, name + ("[]." if _is_list(f.kind) else "."))


def _inside(kind: Any, before: str) -> Iterator[FormatField]:
    """The fields of what a field holds, where that is an object or a list of them."""
    for part in _parts(kind):
        if part is Answer:
            yield from (FormatField(before + name, *rest) for name, *rest in FIGURES)
        elif is_dataclass(part) and isinstance(part, type):
            yield from _fields(part, before)


def _parts(kind: Any) -> tuple[Any, ...]:
    """The types a field may hold, those in a list too; without null."""
    origin = get_origin(kind)
    if origin is Annotated:
        return _parts(get_args(kind)[0])
    if origin in (Union, types.UnionType):
        return tuple(y for x in get_args(kind) for y in _parts(x))
    if origin is tuple:
        return _parts(get_args(kind)[0])
    return () if kind is types.NoneType else (kind,)


def _is_list(kind: Any) -> bool:
    if get_origin(kind) in (Union, types.UnionType):
        return any(map(_is_list, get_args(kind)))
    return get_origin(kind) is tuple


def _kind_words(f: ReportField) -> str:
    return _words(f.kind)


def _words(kind: Any) -> str:
    origin, inside = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return _words(inside[0])
    if origin in (Union, types.UnionType):
        known = [_words(x) for x in inside if x is not types.NoneType]
        null = ["null"] if types.NoneType in inside else []
        return " or ".join(dict.fromkeys([*known, *null]))
    if origin is tuple:
        return f"list of {_words(inside[0])}" if inside[-1] is ... else "list"
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return f"object of names, each with {_words(inside[1])}"
    return _WORDS.get(kind, "object")


def _tables() -> Iterator[FormatDescription]:
    for name, about, columns in export_csv.TABLES:
        yield FormatDescription(
            name, f"benchapp export --csv FILE --table {name}", about, True,
            tuple(FormatField(column, "text", meaning, unit) for column, meaning, unit in columns))
