"""Times of the day by the clock on the wall: `18:00`, `17`, `5 pm`, and spans: `21:00-08:00`.

An hour alone is taken only where it can mean one time: `5` may be morning or afternoon. Nor is
12 am or 12 pm read, as people differ about both (NIST, Times of Day FAQs); `noon` is 12:00.
"""

from __future__ import annotations

import re
from datetime import time
from typing import Final

from benchapp.quantities.errors import QuantityError, quote_text

_TIME: Final = re.compile(r"([0-9]{1,2}):([0-9]{2})")
_HOUR: Final = re.compile(r"[0-9]{1,2}")
_HALVES: Final = re.compile(r"([0-9]{1,2})(?:[:.]([0-9]{2}))? ?([ap])\.?m\.?", re.IGNORECASE)
_DAY_END: Final = 24 * 60
_AT_MOST: Final = 40
_MEND: Final = "write one such as 09:30, 17:00, 17 or 5 pm"


def read_minutes(text: str) -> int:
    """A time of day as minutes after midnight; 24:00 is the day's end.

    Raises:
        QuantityError: It is none, or could be morning or afternoon.
    """
    plain = text.strip() if len(text) <= _AT_MOST else ""
    if plain.lower() == "noon":
        return _DAY_END // 2
    if found := _HALVES.fullmatch(plain):
        return _of_halves(text, int(found[1]), int(found[2] or 0), found[3].lower() == "p")
    if _HOUR.fullmatch(plain):
        return _of_hour(text, plain)
    found = _TIME.fullmatch(plain)
    minutes = 60 * int(found[1]) + int(found[2]) if found else -1
    if found is None or int(found[2]) > 59 or minutes > _DAY_END:
        raise _not_a_time(text)
    return minutes


def _not_a_time(text: str) -> QuantityError:
    return QuantityError(f"{quote_text(text)} is not a time of day", _MEND)


def _of_halves(text: str, hour: int, minute: int, afternoon: bool) -> int:
    if not 1 <= hour <= 12 or minute > 59:
        raise _not_a_time(text)
    if hour == 12 and not minute:
        raise QuantityError(f"{quote_text(text)} can be noon or midnight", "write 12:00 or 00:00")
    return 60 * (hour % 12 + (12 if afternoon else 0)) + minute


def _of_hour(text: str, figure: str) -> int:
    hour = int(figure)
    if hour > 24:
        raise _not_a_time(text)
    if 1 <= hour < 12 and figure[0] != "0":
        raise QuantityError(f"{quote_text(text)} can be morning or afternoon",
                            f"write {hour:02}:00 or {hour + 12}:00, {hour} am or {hour} pm")
    return 60 * hour


def read_daytime(text: str) -> time:
    """A time of day, before midnight.

    Raises:
        QuantityError: It is none, or could be morning or afternoon.
    """
    minutes = read_minutes(text)
    if minutes == _DAY_END:
        raise _not_a_time(text)
    return time(*divmod(minutes, 60))


def read_daytimes(text: str) -> tuple[time, time]:
    """From when until when, which may lie over midnight.

    Raises:
        QuantityError: It is none.
    """
    parts = text.split("-") if len(text) <= _AT_MOST else []
    if len(parts) != 2:
        raise QuantityError(f"{quote_text(text)} is not a span of the day",
                            "write such as 21:00-08:00")
    return read_daytime(parts[0]), read_daytime(parts[1])


def daytime_text(at: time) -> str:
    """`18:00`."""
    return f"{at:%H:%M}"
