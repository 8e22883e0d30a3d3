"""Sheet marks: what is pencilled on the back of a sheet, session letters and pull number.

I and O are left out of the letters: in pencil they are taken for 1 and 0. So are A, B, C
and F: A4, B5 and C5 are paper sizes, F3 is a key. Pairs that are the names of proofs are
left out too. Books begun before have such letters, and keep them.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from itertools import count, islice, product
from typing import Final

LETTERS: Final = "DEGHJKLMNPQRSTUVWXYZ"

#: What a mark may be read with: also the letters of older books.
_READ: Final = frozenset("ABCDEFGHJKLMNPQRSTUVWXYZ")

#: Names of proofs, in English and French; whether or not LETTERS can spell them today.
_PROOFS: Final = ("AP", "BAT", "CP", "EA", "EE", "EV", "HC", "PP", "RTP", "SP", "TP", "VE", "WP")

_MARK: Final = re.compile(r"([A-Za-z]+)\s*([0-9]{1,6})")


def free_letters(n: int, taken: Collection[str]) -> str:
    """The letters of the session opened after `n` others, or the first after them not `taken`.

    Raises:
        ValueError: `n` is negative.
    """
    if n < 0:
        raise ValueError(f"no session comes before the first: {n}")
    return next(text for text in islice(_all_letters(), n, None) if text not in taken)


def sheet_mark(session_letters: str, number: int) -> str:
    """The mark of the sheet pulled as `number` in a session: `K7`."""
    return f"{session_letters}{number}"


def free_mark(session_letters: str, number: int, given: Collection[str]) -> str:
    """The mark of that sheet, or where another bears it already, the first free of `K7b`, `K7c` …

    Another bears it where the printer had pencilled it there and said so.
    """
    base = sheet_mark(session_letters, number)
    return next(m for tail in _tails() if (m := base + tail) not in given)


def read_mark(text: str) -> str | None:
    """A mark as the printer types it (`k7`, `K 7`, `K07`) in its one spelling, or None.

    Only marks of the form given out here are known; any other text on a sheet is
    compared as it is.
    """
    found = _MARK.fullmatch(text.strip())
    if found is None or int(found[2]) == 0:
        return None
    head = found[1].upper()
    return sheet_mark(head, int(found[2])) if set(head) <= _READ else None


def _all_letters() -> Iterator[str]:
    """The letters of all sessions in order: one letter, then pairs, then threes."""
    for size in count(1):
        for each in product(LETTERS, repeat=size):
            text = "".join(each)
            if text not in _PROOFS:
                yield text


def _tails() -> Iterator[str]:
    """What tells sheets of one mark apart: nothing, then b, c … z, then aa, ab …"""
    yield ""
    small = "abcdefghjklmnpqrstuvwxyz"
    yield from small[1:]
    for size in count(2):
        yield from ("".join(each) for each in product(small, repeat=size))
