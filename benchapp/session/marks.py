"""Sheet marks: what is pencilled on the back of a sheet, session letters and pull number.

I and O are left out of the letters: in pencil they are taken for 1 and 0.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final

LETTERS: Final = "ABCDEFGHJKLMNPQRSTUVWXYZ"

_MARK: Final = re.compile(r"([A-Za-z]+)\s*([0-9]{1,6})")


def letters(n: int) -> str:
    """The letters of the session opened after `n` others: A … Z, then AA, AB …

    Raises:
        ValueError: `n` is negative.
    """
    if n < 0:
        raise ValueError(f"no session comes before the first: {n}")
    text = ""
    rest = n + 1
    while rest:
        rest, place = divmod(rest - 1, len(LETTERS))
        text = LETTERS[place] + text
    return text


def mark(session_letters: str, number: int) -> str:
    """The mark of the sheet pulled as `number` in a session: `K7`."""
    return f"{session_letters}{number}"


def free_mark(session_letters: str, number: int, given: Collection[str]) -> str:
    """The mark of that sheet, or where another bears it already, the first free of `K7b`, `K7c` …

    Another bears it where the printer had pencilled it there and said so.
    """
    base = mark(session_letters, number)
    if base not in given:
        return base
    n = 1
    while (other := base + letters(n).lower()) in given:
        n += 1
    return other


def read_mark(text: str) -> str | None:
    """A mark as the printer types it (`k7`, `K 7`, `K07`) in its one spelling, or None.

    Only marks of the form given out here are known; any other text on a sheet is
    compared as it is.
    """
    found = _MARK.fullmatch(text.strip())
    if found is None or int(found[2]) == 0:
        return None
    head = found[1].upper()
    return mark(head, int(found[2])) if set(head) <= set(LETTERS) else None
