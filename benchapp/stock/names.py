"""What things of the stock are called, and what was meant by a name. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import SequenceMatcher
from typing import Final

_GSM: Final = re.compile(r"([0-9]) ?gsm\b")
#: How alike a name and what was typed have to be, from 0 to 1.
_ALIKE: Final = 0.6
#: So much of what was typed is compared.
_LONGEST: Final = 80

def item_key(name: str) -> str:
    """A name as it is compared: spaces, capitals, and gsm for g/m2 make no other thing of it."""
    return _GSM.sub(r"\1 g/m2", " ".join(name.split()).casefold())


def matching_names(said: str, known: Iterable[str]) -> tuple[str, ...]:
    """The names that are meant: the very one, else those that begin so, hold it, or all its words.
    """
    names = {item_key(x): x for x in known}
    wanted = item_key(said)
    if wanted in names:
        return (names[wanted],)
    for fits in (str.startswith, str.__contains__, _has_words):
        found = tuple(x for key, x in names.items() if wanted and fits(key, wanted))
        if found:
            return found
    return ()


def _has_words(name: str, wanted: str) -> bool:
    return all(word in name for word in wanted.replace(",", " ").split())


def nearest_names(said: str, known: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """The names most like what was typed, the most like first; none where none is like it.

    A printer types the beginning of a long name: so much of each name is compared.
    """
    wanted = item_key(said)[:_LONGEST]
    alike = [(_likeness(wanted, item_key(x)), x) for x in dict.fromkeys(known)]
    near = sorted((x for x in alike if x[0] >= _ALIKE), key=lambda x: -x[0])
    return tuple(name for _, name in near[:most])


def _likeness(wanted: str, name: str) -> float:
    return max(SequenceMatcher(None, wanted, part).ratio()
               for part in (name[: len(wanted)], name[:_LONGEST]))
