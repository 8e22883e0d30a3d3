"""Times of a planned day as they are typed: a time of day, a break. Pure.

A time of day is given as minutes after midnight, because a day to come has no moments yet.
"""

from __future__ import annotations

import re
from typing import Final

from benchapp.quantities import QuantityError, quote_text, read_duration

_CLOCK: Final = re.compile(r"([0-9]{1,2}):([0-9]{2})")
_BREAK: Final = re.compile(r"([0-9:]{1,5})\s+(.{1,80})")
_MOST_HOURS: Final = 24
_LONGEST: Final = 24 * 60 * 60_000
_AT_MOST: Final = 100


def read_clock(text: str) -> int:
    """A time of day as minutes after midnight; 24:00 is the day's end.

    Raises:
        QuantityError: It is none.
    """
    found = _CLOCK.fullmatch(text.strip()) if len(text) <= _AT_MOST else None
    minutes = 60 * int(found[1]) + int(found[2]) if found else -1
    if found is None or int(found[2]) > 59 or not 0 <= minutes <= 60 * _MOST_HOURS:
        raise QuantityError(f"{quote_text(text)} is no time of day",
                            "write hours and minutes by the "
                            "24-hour clock, such as 09:30 or 17:00")
    return minutes


def read_break(text: str) -> tuple[int, int]:
    """When a break begins, in minutes after midnight, and how many seconds it takes.

    Raises:
        QuantityError: It is none.
    """
    found = _BREAK.fullmatch(text.strip()) if len(text) <= _AT_MOST else None
    if found is None:
        raise QuantityError(f"{quote_text(text)} is no break",
                            'write when and how long, such as "13:00 45 min"')
    return read_clock(found[1]), read_seconds(found[2])


def read_seconds(text: str) -> int:
    """A length inside a day, in seconds.

    Raises:
        QuantityError: It is none.
    """
    found = read_duration(text)
    if not 0 < found.ms <= _LONGEST:
        raise QuantityError(f"{quote_text(text)} is no length inside a day",
                            "write one such as 45 min or 1 h")
    return round(found.ms / 1000)
