"""Days as people say them: `friday`, `3 May`, `+2`, `yesterday`, `2026-05-03`.

A word alone does not say which year or week; where it is typed does. What already happened
leans to the past, what is planned or due to what is coming. What can still be read two ways is
refused with both readings. What is kept and exchanged stays ISO 8601.
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import Final, Literal

from benchapp.quantities.errors import QuantityError, quote_text

#: Where a day without its year or week is looked for; today counts for a date on both sides.
Lean = Literal["past", "coming"]

_WEEKDAYS: Final = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_MONTHS: Final = ("january", "february", "march", "april", "may", "june", "july", "august",
                  "september", "october", "november", "december")
_NEAR: Final = {"yesterday": -1, "today": 0, "tomorrow": 1}
_AT_MOST: Final = 40
#: The longest stretch between two 29 Februaries is eight years (1896 to 1904, 2096 to 2104).
_YEARS: Final = 9
_ISO: Final = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_FROM_TODAY: Final = re.compile(r"([-+\u2212])\s?([0-9]{1,4})(?: days?)?")
_DAY_FIRST: Final = re.compile(
    r"([0-9]{1,2})(?:st|nd|rd|th)?\.?(?: of)? ([a-z]+)\.?(?:,? ([0-9]{4}))?")
_MONTH_FIRST: Final = re.compile(r"([a-z]+)\.? ([0-9]{1,2})(?:st|nd|rd|th)?(?:,? ([0-9]{4}))?")
_FIGURES: Final = re.compile(
    r"([0-9]{1,2}) ?[./-] ?([0-9]{1,2})(?: ?[./-] ?([0-9]{2}|[0-9]{4})?)?")
_SUCH: Final = "write one such as 2026-05-03, 3 May, friday, yesterday or +2"


def read_day(text: str, today: date, lean: Lean) -> date:
    """The day a printer means.

    Args:
        text: `2026-05-03`, `today`, `yesterday`, `tomorrow`, `friday`, `last friday`, `3 May`,
            `May 3 2026`, or days from today such as `+2` and `-3`.
        today: The local date.
        lean: Whether a weekday, or a date without its year, is past or coming. A weekday is
            never today itself.

    Raises:
        QuantityError: It is not a day, or can be read two ways; it says how to write it.
    """
    plain = " ".join(text.lower().split()) if len(text) <= _AT_MOST else ""
    try:
        found = _read(plain, today, lean)
    except (ValueError, OverflowError) as error:
        if isinstance(error, QuantityError):
            raise
        found = None
    if found is None:
        raise QuantityError(f"{quote_text(text)} is not a day", _SUCH)
    return found


def _read(plain: str, today: date, lean: Lean) -> date | None:
    if plain in _NEAR:
        return today + timedelta(days=_NEAR[plain])
    if _ISO.fullmatch(plain):
        return date.fromisoformat(plain)
    if found := _FROM_TODAY.fullmatch(plain):
        return today + timedelta(days=int(found[2]) * (1 if found[1] == "+" else -1))
    if found := _DAY_FIRST.fullmatch(plain):
        return _dated(found[1], found[2], found[3], today, lean)
    if found := _MONTH_FIRST.fullmatch(plain):
        return _dated(found[2], found[1], found[3], today, lean)
    if found := _FIGURES.fullmatch(plain):
        _refuse_figures(plain, int(found[1]), int(found[2]))
    return _weekday(plain, today, lean)


def _named(word: str, names: tuple[str, ...]) -> int | None:
    """The place of the one name that begins with the word, of three letters or more."""
    if len(word) < 3:
        return None
    return next((n for n, name in enumerate(names) if name.startswith(word)), None)


def _dated(day: str, month: str, year: str | None, today: date, lean: Lean) -> date | None:
    number = _named(month, _MONTHS)
    if number is None:
        return None
    if year is not None:
        return date(int(year), number + 1, int(day))
    step = 1 if lean == "coming" else -1
    for years in range(_YEARS):
        try:
            found = date(today.year + step * years, number + 1, int(day))
        except ValueError:  # 29 February is not in every year
            continue
        if (found - today).days * step >= 0:
            return found
    return None


def _weekday(plain: str, today: date, lean: Lean) -> date | None:
    before, _, word = plain.rpartition(" ")
    number = _named(word, _WEEKDAYS) if before in ("", "last", "this", "next", "on") else None
    if number is None:
        return None
    back = (today.weekday() - number) % 7
    past, coming = today - timedelta(days=back or 7), today + timedelta(days=7 - back)
    if before == "last":
        return past
    if before in ("this", "next"):
        later = coming + timedelta(days=7)
        raise QuantityError(f"{quote_text(plain)} can be read two ways",
                            f"write {coming.isoformat()} or {later.isoformat()}")
    found = past if lean == "past" else coming
    if back == 0:
        raise QuantityError(f"Today is {_WEEKDAYS[number].capitalize()}",
                            f"write today or {found.isoformat()}")
    return found


def _refuse_figures(plain: str, first: int, second: int) -> None:
    """Figures alone: some put the day first, some the month."""
    meant = [f"{day} {_MONTHS[month - 1].capitalize()}"
             for day, month in ((first, second), (second, first))
             if 1 <= month <= 12 and 1 <= day <= 31]
    if meant:
        raise QuantityError(f"{quote_text(plain)} does not say which figure is the month",
                            f"write {' or '.join(dict.fromkeys(meant))}")
