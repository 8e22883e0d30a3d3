"""What people say of a sheet, read: the number it bears, and where it goes. Pure."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from benchapp.edition import actions as a
from benchapp.edition.holding import IN_STUDIO, OUT
from benchapp.edition.roman import read_roman
from benchapp.edition.state import KINDS_OF_PROOF, NUMBERED, Edition

#: Why what was said of a place is not so: it was said again.
TOLD_AGAIN: Final = "told again"
#: A number in figures, with or without the total behind it.
FIGURE: Final = re.compile(r"([0-9]{1,4})(?:/([0-9]{1,4}))?")
_LONGEST: Final = 100


def read_pencilled_number(said: str) -> int | None:
    """A number as it is pencilled, in figures or Roman, with or without the total; None: none."""
    if len(said) > _LONGEST:
        return None
    found = FIGURE.fullmatch(said)
    if found is not None:
        return int(found[1]) or None
    number, slash, total = said.partition("/")
    return None if slash and read_roman(total) is None else read_roman(number)


def read_total(said: str) -> int | None:
    """The total behind a number, as the 40 of `12/40`; None: none is written."""
    _, slash, total = said[:_LONGEST].partition("/")
    return read_pencilled_number(total.strip()) if slash and "/" not in total else None


def read_claim(said: str) -> tuple[str, int | None] | None:
    """The kind and number of `12`, `12/40`, `AP 2`, `AP II/IV`, `BAT`; None: it is none."""
    words = said[:_LONGEST + 1].replace("E.V.", "").split()
    kinds = {k.casefold(): k for k in KINDS_OF_PROOF}
    for length in (2, 1):
        kind = kinds.get(" ".join(words[:length]).casefold()) if len(words) >= length else None
        if kind is None or len(words) > length + 1:
            continue
        if len(words) == length:
            return kind, None
        number = read_pencilled_number(words[-1])
        return None if number is None else (kind, number)
    number = read_pencilled_number(words[0]) if len(words) == 1 else None
    return None if number is None else (NUMBERED, number)


def parse_move(e: Edition, sheet: str, place: str, *, terms: str | None = None,
               day: str | None = None,
               due: str | None = None, words: Mapping[str, str] | None = None,
               ) -> a.HandOut | a.TakeIn | a.Put | a.CorrectPlace:
    """What it is that a sheet is somewhere now: out, come back, or elsewhere in the studio.

    Terms and the day it is due back belong to a gallery, and are left aside elsewhere. Of one
    that is there already what is said is told again, in place of what was said before.
    """
    own = words or {}
    held = e.holdings.get(sheet)
    stay = None if held is None else held.place
    if held is not None and stay is not None and stay.place == place and not held.astray and (
            not _goes_on(held.words_at(stay), place, own)):
        again = {k: v for k, v in (("terms", terms), ("day", day), ("due", due)) if v is not None}
        if again or own or place == "gallery":
            return a.CorrectPlace(e.id, sheet, again, TOLD_AGAIN, own)
    away = stay is not None and stay.place not in IN_STUDIO
    if place in OUT:
        return a.HandOut(e.id, sheet, place, terms, day, due, own)  # type: ignore[arg-type]
    if away and place in IN_STUDIO:
        return a.TakeIn(e.id, sheet, place, day, own)  # type: ignore[arg-type]
    return a.Put(e.id, sheet, place, day, own)  # type: ignore[arg-type]


def _goes_on(known: Mapping[str, str], place: str, said: Mapping[str, str]) -> bool:
    """Whether it goes from one gallery to another, by the name that is said."""
    before, to = known.get("to", ""), said.get("to", "")
    return place == "gallery" and bool(before and to) and before.casefold() != to.casefold()
