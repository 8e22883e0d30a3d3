"""Finding words again: over all that was written down in every session, while they are typed.

A piece is one text with its place. All words asked for must stand in one impression's pieces,
those of its session among them (print, date, settings, its own notes); each piece that holds
one of them is an answer.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, Final, TypedDict, Unpack

from benchapp.book.errors import told
from benchapp.book.words import Head, Piece, Words, heads_of
from benchapp.journal import told_of

#: Sessions are gone through from the newest, so many at first, then ever more: the first
#: answers come while the rest need not be looked at.
_FIRST: Final = 64
#: With fewer sessions than this left, the other words are looked for in each of these alone.
_FEW: Final = 400
_GROWS: Final = 4


class Narrowed(TypedDict, total=False):
    """What is left out of an answer.

    Attributes:
        print_: Only prints with this in their title.
        since / until: Only sessions opened from this day on, up to this day.
        most: How many are wanted; None: all.
    """

    print_: str | None
    since: date | None
    until: date | None
    most: int | None


@dataclass(frozen=True, slots=True)
class Hit:
    """One text that was found.

    Attributes:
        session: The session's name.
        id: Its id.
        print: The print's title.
        impression: The number of the sheet; None: it is the session's own.
        where: `note`, `tag`, `verdict`, `mark`, `setting`, `plate`, `left off`, `print` or `date`.
        text: The text.
    """

    session: str
    id: str
    print: str
    impression: int | None
    where: str
    text: str

    def json(self) -> dict[str, Any]:
        """As plain values."""
        return {"session": self.session, "impression": self.impression, "where": self.where,
                "text": self.text}


_Unit = tuple[str, int | None]


class Finder:
    """A book to be searched, as it was when this was made: at each key only the words are read."""

    def __init__(self, connection: sqlite3.Connection, path: Path) -> None:
        self._path = path
        self._words = Words(connection)
        self._heads = sorted(heads_of(connection), key=lambda h: (h.stream, h.order), reverse=True)

    def find(self, words: str, **narrowed: Unpack[Narrowed]) -> list[Hit]:
        """Where all of `words` stand, the newest session first.

        Args:
            words: Parts of words, in any order, great or small letters alike.
            narrowed: What is left out.

        Raises:
            BookError: The book cannot be read.
        """
        with told(self._path):
            return self._find(sorted(dict.fromkeys(words.lower().split()), key=len, reverse=True),
                              narrowed)

    def _find(self, wanted: list[str], narrowed: Narrowed) -> list[Hit]:
        most = narrowed.get("most")
        whole = not any(narrowed.get(x) for x in ("print_", "since", "until"))
        heads = self._heads if whole else [h for h in self._heads if _meant(h, narrowed)]
        out: list[Hit] = []
        at, many = 0, _FIRST
        while wanted and at < len(heads) and (most is None or len(out) < most):
            some = {h.stream: h for h in heads[at : at + many]}
            found = self._in(some, wanted)
            out += found
            # The rarest of these sessions is looked for first in those that follow.
            at, many = at + many, many * _GROWS
        return out[:most]

    def _in(self, heads: dict[str, Head], wanted: list[str]) -> list[Hit]:
        """What these sessions hold; they follow one another by name. `wanted` comes back sorted
        by how many of them hold each word, as far as that was looked up."""
        found: list[list[Piece]] = []
        rare: dict[str, int] = {}
        left = heads
        for word in wanted:
            alone = len(left) < min(_FEW, len(heads))
            pieces = list(self._words.holding(word, left, alone=alone))
            found.append(pieces)
            streams = {told_of(p.stream) for p in pieces}
            rare[word] = len(streams)
            left = {stream: head for stream, head in left.items() if stream in streams}
            if not left:
                break
        wanted.sort(key=lambda word: rare.get(word, len(heads)))
        return self._hits(found, left) if left else []

    def _hits(self, found: Sequence[Sequence[Piece]], heads: dict[str, Head]) -> list[Hit]:
        """The pieces of the units in which every word stands, the newest session first."""
        units: list[set[_Unit]] = [{_unit(p) for p in pieces} for pieces in found]
        chosen = {p: None for pieces in found for p in pieces if told_of(p.stream) in heads
                  and all(_unit(p) in u or (told_of(p.stream), None) in u for u in units)}
        places = {stream: n for n, stream in enumerate(heads)}
        ordered = sorted(chosen, key=lambda p: (
            places[told_of(p.stream)], p.ordinal or 0, p.stream, p.position))
        numbers: dict[str, dict[int, int]] = {}
        out = []
        for p in ordered:
            day = told_of(p.stream)
            if p.ordinal is not None and day not in numbers:
                numbers[day] = {o: n for o, n, _ in self._words.pulled(day)}
            number = None if p.ordinal is None else numbers[day].get(p.ordinal)
            head = heads[day]
            out.append(Hit(head.name, day.partition("/")[2], head.title, number, p.where, p.text))
        return out


def _unit(p: Piece) -> _Unit:
    return told_of(p.stream), p.ordinal


def _meant(head: Head, narrowed: Narrowed) -> bool:
    print_, since, until = narrowed.get("print_"), narrowed.get("since"), narrowed.get("until")
    return ((print_ is None or print_.lower() in head.title.lower())
            and (since is None or head.day >= since) and (until is None or head.day <= until))
