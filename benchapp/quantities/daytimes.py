"""Times of the day by the clock on the wall: `18:00`, and spans of them: `21:00-08:00`."""

from __future__ import annotations

import re
from datetime import time
from typing import Final

from benchapp.quantities.errors import QuantityError, quote_text

_TIME: Final = re.compile(r"([0-9]{1,2}):([0-9]{2})")
_AT_MOST: Final = 40
_MEND: Final = "write hours and minutes by the 24-hour clock, such as 18:00"


def read_daytime(text: str) -> time:
    """A time of day by the 24-hour clock.

    Raises:
        QuantityError: It is none.
    """
    found = _TIME.fullmatch(text.strip()) if len(text) <= _AT_MOST else None
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        raise QuantityError(f"{quote_text(text)} is no time of day", _MEND)
    return time(int(found[1]), int(found[2]))


def read_daytimes(text: str) -> tuple[time, time]:
    """From when until when, which may lie over midnight.

    Raises:
        QuantityError: It is none.
    """
    parts = text.split("-") if len(text) <= _AT_MOST else []
    if len(parts) != 2:
        raise QuantityError(f"{quote_text(text)} is no span of the day",
                            "write such as 21:00-08:00")
    return read_daytime(parts[0]), read_daytime(parts[1])


def daytime_text(at: time) -> str:
    """`18:00`."""
    return f"{at:%H:%M}"
