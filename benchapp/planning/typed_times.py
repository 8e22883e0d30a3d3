"""Times of a planned day as they are typed: a break, a length. Pure.

A time of day is given as minutes after midnight, because a day to come has no moments yet.
"""

from __future__ import annotations

import re
from typing import Final

from benchapp.quantities import QuantityError, quote_text, read_duration, read_minutes

_BREAK: Final = re.compile(
    r"(noon|[0-9:.]{1,5}(?: ?[ap]\.?m\.?)?)\s+(.{1,80})", re.IGNORECASE)
_LONGEST: Final = 24 * 60 * 60_000
_AT_MOST: Final = 100


def read_break(text: str) -> tuple[int, int]:
    """When a break begins, in minutes after midnight, and how many seconds it takes.

    Raises:
        QuantityError: It is none.
    """
    found = _BREAK.fullmatch(text.strip()) if len(text) <= _AT_MOST else None
    if found is None:
        raise QuantityError(f"{quote_text(text)} is no break",
                            'write when and how long, such as "13:00 45 min"')
    return read_minutes(found[1]), read_seconds(found[2])


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
