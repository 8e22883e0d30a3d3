"""The types of the fields of events, and what each lets a field hold. Pure.

A field's annotation is the whole rule: `Count | None` is a whole number from 1 to 9,999, or null.
`rule_of` reads it, so that nothing else has to say it again.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, datetime
from enum import Enum
from types import NoneType
from typing import Annotated, Any, Final, NamedTuple, TypeAlias, TypedDict, TypeVar, get_args

from benchapp.events import words

T = TypeVar("T")
D = TypeVar("D")


class Absent(Enum):
    """The value of a field that an entry does not have."""

    ABSENT = "absent"


#: An entry of before, or one where it was not meant, has no such field. A stored null is None.
ABSENT: Final = Absent.ABSENT


def given(value: T | Absent, default: D) -> T | D:
    """The value of an optional field, or `default` where the entry has none."""
    return default if value is ABSENT else value


class Rule(NamedTuple):
    """What a field may hold: a test of a JSON value, and what it must be, for a refusal."""

    fits: Callable[[object], bool]
    must: str


def rule_of(hint: Any) -> Rule:
    """The rule of a field's type, as `typing.get_type_hints` gives it with its extras.

    Raises:
        TypeError: No rule can be read from a type like that.
    """
    for extra in getattr(hint, "__metadata__", ()):
        if isinstance(extra, Rule):
            return extra
    if hint in _PLAIN:
        return _PLAIN[hint]
    sides = [side for side in get_args(hint) if side not in (Absent, NoneType)]
    if len(sides) != 1:
        raise TypeError(f"no rule for {hint}")
    rule = rule_of(sides[0])
    return _or_null(rule) if NoneType in get_args(hint) else rule


def _or_null(rule: Rule) -> Rule:
    return Rule(lambda v: v is None or rule.fits(v), f"{rule.must}, or null")


def _whole(low: int, high: int, must: str) -> Rule:
    return Rule(lambda v: isinstance(v, int) and not isinstance(v, bool) and low <= v <= high, must)


def _one_of(allowed: tuple[str, ...]) -> Rule:
    return Rule(lambda v: isinstance(v, str) and v in allowed, f"one of {', '.join(allowed)}")


def _is_text(value: object) -> bool:
    return isinstance(value, str)


def _is_bool(value: object) -> bool:
    return isinstance(value, bool)


def _are_texts(value: object) -> bool:
    return isinstance(value, (list, tuple)) and all(isinstance(x, str) for x in value)


def _is_digest(value: object) -> bool:
    return isinstance(value, str) and len(value) == 64 and not set(value) - set("0123456789abcdef")


def _is_taken(value: object) -> bool:
    try:
        return isinstance(value, str) and (
            datetime.fromisoformat(value).isoformat(timespec="seconds") == value)
    except ValueError:
        return False


def _are_facts(value: object) -> bool:
    return isinstance(value, (list, tuple)) and all(
        isinstance(x, str) and x in words.ABOUT for x in value)


def _are_named_texts(value: object) -> bool:
    return isinstance(value, Mapping) and all(isinstance(x, str) for x in value.values())


def _is_day(value: object) -> bool:
    try:
        return isinstance(value, str) and date.fromisoformat(value).isoformat() == value
    except ValueError:
        return False


#: Nothing here is counted further: sheets, impressions, numbers; grams and milligrams.
_MOST: Final = 9_999
_HEAVIEST: Final = 10_000_000
#: A hundred years, in milliseconds; the last moment a date can have, in the year 9998.
_LONGEST_MS: Final = 100 * 366 * 24 * 3_600_000
LAST_MS: Final = 253_370_764_800_000

_TEXTS: Final = Rule(_are_texts, "a list of texts")
_PLAIN: Final[Mapping[Any, Rule]] = {
    str: Rule(_is_text, "a text"),
    bool: Rule(_is_bool, "true or false"),
    tuple[str, ...]: _TEXTS,
}
_COUNT: Final = _whole(1, _MOST, f"a whole number from 1 to {_MOST}")
_CAP: Final = _whole(0, _MOST, "")
_LASTS: Final = _whole(1, _LONGEST_MS, "milliseconds above 0")
_LABEL: Final = _one_of(words.LABELS)


def _are_caps(value: object) -> bool:
    return isinstance(value, Mapping) and all(
        k in words.MAY_BE_CAPPED and isinstance(c, Mapping) and c.keys() == {"cap", "inside"}
        and _CAP.fits(c["cap"]) and _is_bool(c["inside"]) for k, c in value.items())


def _is_label(value: object) -> bool:
    count = _or_null(_COUNT)
    return isinstance(value, Mapping) and value.keys() == {"kind", "number", "of"} and (
        _LABEL.fits(value["kind"]) and count.fits(value["number"]) and count.fits(value["of"]))


def _are_changes(value: object) -> bool:
    names = {"do", "after_ms", "every_ms", "for_ms"}
    return isinstance(value, (list, tuple)) and all(
        isinstance(d, Mapping) and d.keys() == names and _is_text(d["do"])
        and all(_or_null(_LASTS).fits(d[x]) for x in names - {"do"}) for d in value)


def _are_parts(value: object) -> bool:
    mass = _or_null(_whole(0, _HEAVIEST, ""))
    return isinstance(value, (list, tuple)) and all(
        isinstance(x, Mapping) and x.keys() == {"name", "mg"} and _is_text(x["name"])
        and mass.fits(x["mg"]) for x in value)


#: Sheets, impressions, numbers.
Count: TypeAlias = Annotated[int, _COUNT]
#: Which of a list, from 0.
Place: TypeAlias = Annotated[int, _whole(0, _MOST, "a whole number, none below 0")]
#: Grams or milligrams; impressions before this book.
Amount: TypeAlias = Annotated[int, _whole(0, _HEAVIEST, f"a whole number from 0 to {_HEAVIEST}")]
#: Milliseconds that passed.
Milliseconds: TypeAlias = Annotated[int, _whole(0, _LONGEST_MS, "milliseconds, none below 0")]
#: Milliseconds that something lasts.
Lasts: TypeAlias = Annotated[int, _LASTS]
#: Milliseconds that something is moved by, either way.
Shift: TypeAlias = Annotated[int, _whole(-LAST_MS, LAST_MS, "milliseconds")]
#: Milliseconds since 1970 UTC.
WallTime: TypeAlias = Annotated[int, _whole(0, LAST_MS, "milliseconds since 1970")]
#: A day such as 2026-05-03.
IsoDay: TypeAlias = Annotated[str, Rule(_is_day, "a day such as 2026-05-03")]

#: The SHA-256 of a file, in hexadecimal.
Digest: TypeAlias = Annotated[str, Rule(_is_digest, "a SHA-256 of 64 hexadecimal digits")]
#: When a picture was taken: `2026-05-03T14:05:10`, with `+02:00` where its camera knew that.
TakenText: TypeAlias = Annotated[
    str, Rule(_is_taken, "a time such as 2026-05-03T14:05:10, or one with +02:00")]
#: Who says when: the camera, inside the picture, or the file.
TakenBy: TypeAlias = Annotated[str, _one_of(words.TAKEN_BY)]

Hands: TypeAlias = Annotated[words.HandsWord, _one_of(words.HANDS)]
Purpose: TypeAlias = Annotated[str, _one_of(words.PURPOSES)]
PurposeBy: TypeAlias = Annotated[str, _one_of(words.PURPOSE_BY)]
Verdict: TypeAlias = Annotated[words.VerdictWord, _one_of(words.VERDICTS)]
BlanketsDone: TypeAlias = Annotated[words.BlanketsWord, _one_of(words.BLANKETS_DONE)]
SheetEnd: TypeAlias = Annotated[words.SheetEndWord, _one_of(words.SHEET_ENDS)]
StockUnit: TypeAlias = Annotated[str, _one_of(words.STOCK_UNITS)]
EditionForm: TypeAlias = Annotated[str, _one_of(words.EDITION_FORMS)]
#: What stands on a sheet: `edition`, or a kind of proof.
LabelKind: TypeAlias = Annotated[str, _LABEL]

#: Which of what is told of a sheet.
Facts: TypeAlias = Annotated[
    tuple[str, ...], Rule(_are_facts, "a list of " + ", ".join(sorted(words.ABOUT)))]
#: Texts by name.
NamedTexts: TypeAlias = Annotated[Mapping[str, str], Rule(_are_named_texts, "texts by name")]


class CapFields(TypedDict):
    """How many of a kind of proof there may be, and whether they count inside the edition."""

    cap: int
    inside: bool


class LabelFields(TypedDict):
    """What a sheet bears: its kind, its number among them, and the total written beside it."""

    kind: str
    number: int | None
    of: int | None


class ChangeFields(TypedDict):
    """One line of a list of changes; times from the last sheet on, in milliseconds."""

    do: str
    after_ms: int | None
    every_ms: int | None
    for_ms: int | None


class BatchPartFields(TypedDict):
    """What was mixed into a batch of ink, in milligrams; null: it was not weighed."""

    name: str
    mg: int | None


#: Kinds of proof, each with its cap.
Caps: TypeAlias = Annotated[Mapping[str, CapFields], Rule(_are_caps, "proofs with their caps")]
#: What a sheet bears.
Label: TypeAlias = Annotated[LabelFields, Rule(_is_label, "the number or kind of a sheet")]
#: A list of changes.
Changes: TypeAlias = Annotated[tuple[ChangeFields, ...], Rule(_are_changes, "a list of changes")]
#: What was mixed into a batch of ink.
BatchParts: TypeAlias = Annotated[
    tuple[BatchPartFields, ...], Rule(_are_parts, "a list of names with milligrams or null")]
