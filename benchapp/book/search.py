"""Finding words again: over all that was written down, while they are typed.

A piece is one text with its place. All words asked for must stand in one sheet's pieces,
those of its session among them (print, date, settings, its own notes), or in those of one print
or stack; each piece that holds one of them is an answer.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, Final, TypedDict, Unpack

from benchapp.book.errors import only_book_errors
from benchapp.book.folding import fold_text
from benchapp.book.heads import HitHead, TextPiece, other_head, session_heads
from benchapp.book.search_pieces import Words
from benchapp.book.search_terms import WantedWord, wanted_words
from benchapp.events.edition import EditionDeclared
from benchapp.events.stack import StackBegun
from benchapp.events.streams import stream_family

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
        private: True: the printer's own words about people are looked through too.
    """

    print_: str | None
    since: date | None
    until: date | None
    most: int | None
    private: bool


@dataclass(frozen=True, slots=True)
class Hit:
    """One text that was found.

    Attributes:
        session: The session's name; empty: no session is meant.
        id: Its id; empty where the book does not have it.
        print: The print's title, or what the stack is called.
        impression: The number of the sheet; None: it is the session's own.
        where: `note`, `tag`, `verdict`, `mark`, `setting`, `number`, `where`, `weighing` …
        text: The text.
        sheet: The sheet's id, as editions have it; empty: it is of the whole.
        edition: The print whose edition tells it; empty: no edition does.
        stack: The stack it is of; empty: none.
    """

    session: str
    id: str
    print: str
    impression: int | None
    where: str
    text: str
    sheet: str = ""
    edition: str = ""
    stack: str = ""

    def json(self) -> dict[str, Any]:
        """As plain values."""
        return {"session": self.session or None, "print": self.print,
                "impression": self.impression, "where": self.where, "text": self.text}


_Unit = tuple[str, str]


class Finder:
    """A book to be searched, as it was when this was made: at each key only the words are read."""

    def __init__(self, connection: sqlite3.Connection, path: Path) -> None:
        self._path = path
        self._words = Words(connection)
        sessions = sorted(session_heads(connection), key=lambda h: (h.day, h.order), reverse=True)
        known = {h.day for h in sessions}
        others = list(self._others(known))
        # Each family lies together in the book: a span over two would run over the third.
        self._heads = (sessions, *([h for h in others if stream_family(h.day) == x]
                                   for x in ("session", "print", "stack", "clock")))

    def _others(self, known: Collection[str]) -> Iterator[HitHead]:
        """Prints, stacks, and sessions of which the book has no more than their sheets."""
        prints = self._words.last_said("print", "edition")
        stacks = self._words.last_said("stack", "stack")
        for day in self._words.days():
            if day not in known:
                match prints.get(day) or stacks.get(day):
                    case EditionDeclared(title=title, artist=artist):
                        yield other_head(day, title, artist)
                    case StackBegun(name=name):
                        yield other_head(day, name, "")
                    case _:
                        yield other_head(day, "", "")

    def find(self, words: str, **narrowed: Unpack[Narrowed]) -> list[Hit]:
        """Where all of `words` stand, the newest session first, then prints and stacks.

        Args:
            words: Parts of words, in any order, whatever their case and accents; numbers such
                as `12/40`, `AP II`, and marks.
            narrowed: What is left out.

        Raises:
            BookError: The book cannot be read.
        """
        with only_book_errors(self._path):
            return self._find(sorted(wanted_words(words), key=lambda w: len(w.text), reverse=True),
                              narrowed)

    def _find(self, words: list[WantedWord], narrowed: Narrowed) -> list[Hit]:
        most = narrowed.get("most")
        private = narrowed.get("private", False)
        out: list[Hit] = []
        for every in self._heads if words else ():
            heads = [h for h in every if _meant(h, narrowed)]
            at, many = 0, _FIRST
            while at < len(heads) and (most is None or len(out) < most):
                some = {h.day: h for h in heads[at : at + many]}
                out += self._in(some, words, private=private)
                # The rarest of these days is looked for first in those that follow.
                at, many = at + many, many * _GROWS
        return out[:most]

    def _in(self, heads: dict[str, HitHead], words: list[WantedWord], *,
            private: bool) -> list[Hit]:
        """What these days hold; they follow one another by name. `words` comes back sorted
        by how many of them hold each, as far as that was looked up."""
        found: list[list[TextPiece]] = []
        rare: dict[WantedWord, int] = {}
        left = heads
        for word in words:
            alone = len(left) < min(_FEW, len(heads))
            pieces = list(self._words.holding(word, left, alone=alone, private=private))
            found.append(pieces)
            days = {p.day for p in pieces}
            rare[word] = len(days)
            left = {day: head for day, head in left.items() if day in days}
            if not left:
                break
        words.sort(key=lambda word: rare.get(word, len(heads)))
        return self._hits(found, left) if left else []

    def _hits(self, found: Sequence[Sequence[TextPiece]], heads: dict[str, HitHead]) -> list[Hit]:
        """The pieces of the units in which every word stands, the newest session first."""
        units: list[set[_Unit]] = [{(p.day, p.sheet) for p in pieces} for pieces in found]
        chosen = {p: None for pieces in found for p in pieces if p.day in heads
                  and all((p.day, p.sheet) in u or (p.day, "") in u for u in units)}
        places = {day: n for n, day in enumerate(heads)}
        ordered = sorted(chosen, key=lambda p: (
            places[p.day], int(p.sheet) if p.sheet.isdecimal() else 0, p.sheet, p.stream,
            p.position))
        numbers: dict[str, dict[str, int]] = {}
        for p in ordered:
            if p.sheet and p.day not in numbers:
                numbers[p.day] = {str(o): n for o, n, _ in self._words.pulled(p.day)}
        return [_hit(p, heads[p.day], numbers.get(p.day, {}).get(p.sheet)) for p in ordered]


def _hit(p: TextPiece, head: HitHead, number: int | None) -> Hit:
    of, id_ = stream_family(p.day), p.day.partition("/")[2]
    sheet = f"{id_}#{p.sheet}" if of == "session" and p.sheet else p.sheet
    told = stream_family(p.stream)
    return Hit(head.name, "" if head.on is None else id_, head.title, number, p.where, p.text,
               sheet, p.about if told == "print" else id_ if of == "print" else "",
               p.about if told == "stack" else id_ if of == "stack" else "")


def _meant(head: HitHead, narrowed: Narrowed) -> bool:
    print_, since, until = narrowed.get("print_"), narrowed.get("since"), narrowed.get("until")
    return ((print_ is None or fold_text(print_) in fold_text(head.title))
            and (since is None or (head.on is not None and head.on >= since))
            and (until is None or (head.on is not None and head.on <= until)))
