"""Finding words again: over notes, tags, settings, marks, prints and dates of every session.

A piece is one text with its place. All words asked for must stand in one impression's pieces,
those of its session among them (print, date, settings, its own notes); each piece that holds
one of them is an answer. What was taken back, or taken off again, is not found.
"""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any, Final

from benchapp.book.errors import told
from benchapp.book.schema import OPENING, WORDED

#: Kinds with words, and what their place is called.
_PLACES: Final = {"noted": "note", "tagged": "tag", "marked": "mark", "setting changed": "setting",
                  "reworked": "plate", "left off": "left off"}
#: The questions; their two conditions must be the very ones of the indexes.
_HEADS: Final = """SELECT stream, sequence, wall_ms, offset_min, json_extract(body, '$.session'),
    json_extract(body, '$.print'), json_extract(body, '$.artist'), json_extract(body, '$.letters')
    FROM entries WHERE kind = 'opened' AND (opening)
    AND stream >= 'session/' AND stream < 'session0'""".replace("(opening)", OPENING)
_VOID: Final = """SELECT stream, json_extract(body, '$.action') FROM entries
    WHERE kind = 'taken back' AND (opening)""".replace("(opening)", OPENING)
_WORDS: Final = """SELECT stream, position, action, body FROM entries
    WHERE kind = ? AND (worded) AND stream BETWEEN ? AND ?
    AND body LIKE ? ESCAPE '!'""".replace("(worded)", WORDED)
_PULLED: Final = """SELECT json_extract(body, '$.impression'), json_extract(body, '$.number'),
    json_extract(body, '$.mark') FROM entries
    WHERE kind = 'pulled' AND (worded) AND stream = ?""".replace("(worded)", WORDED)
_MARK: Final = re.compile(r"([a-z]{1,3})([1-9][0-9]{0,4})")
#: Sessions are gone through from the newest, so many at first, then ever more: the first
#: answers come while the rest need not be looked at.
_FIRST: Final = 64
#: With fewer sessions than this left, the other words are looked for in each of these alone.
_FEW: Final = 400
_GROWS: Final = 4


@dataclass(frozen=True, slots=True)
class Hit:
    """One text that was found.

    Attributes:
        session: The session's name.
        id: Its id.
        print: The print's title.
        impression: The number of the sheet; None: it is the session's own.
        where: `note`, `tag`, `mark`, `setting`, `plate`, `left off`, `print` or `date`.
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


@dataclass(frozen=True, slots=True)
class _Head:
    """What a session is called and dated by."""

    stream: str
    order: int
    name: str
    title: str
    artist: str
    letters: str
    day: date

    def pieces(self) -> Iterator[_Piece]:
        """Its own texts; they stand for every impression of it."""
        yield _Piece(self.stream, None, 0, "date", self.name)
        yield _Piece(self.stream, None, 0, "print", f"{self.title}, {self.artist}")


@dataclass(frozen=True, slots=True)
class _Piece:
    """A text: of the impression begun as the `ordinal`-th, or (None) of the session."""

    stream: str
    ordinal: int | None
    position: int
    where: str
    text: str


_Unit = tuple[str, int | None]


class Finder:
    """A book to be searched, as it was when this was made: at each key only the words are read."""

    def __init__(self, connection: sqlite3.Connection, path: Path) -> None:
        self._connection, self._path = connection, path
        self._heads = sorted(_heads(connection), key=lambda h: (h.stream, h.order), reverse=True)
        self._void = _void(connection)

    def find(
        self,
        words: str,
        *,
        print_: str | None = None,
        since: date | None = None,
        until: date | None = None,
        most: int | None = None,
    ) -> list[Hit]:
        """Where all of `words` stand, the newest session first; see `Book.search`.

        Raises:
            BookError: The book cannot be read.
        """
        with told(self._path):
            return self._find(words, print_, since, until, most)

    def _find(self, words: str, print_: str | None, since: date | None, until: date | None,
              most: int | None) -> list[Hit]:
        wanted = sorted(dict.fromkeys(words.lower().split()), key=len, reverse=True)
        heads = [h for h in self._heads if _meant(h, print_, since, until)]
        out: list[Hit] = []
        at, many = 0, _FIRST
        while wanted and at < len(heads) and (most is None or len(out) < most):
            some = {h.stream: h for h in heads[at : at + many]}
            out += self._in(some, wanted)
            at, many = at + many, many * _GROWS
        return out[:most]

    def _in(self, heads: dict[str, _Head], wanted: Sequence[str]) -> list[Hit]:
        """What these sessions hold; they follow one another by name."""
        found: list[list[_Piece]] = []
        left = heads
        for word in wanted:
            alone = len(left) < min(_FEW, len(heads))
            pieces = list(_of_word(self._connection, word, left, self._void, alone=alone))
            found.append(pieces)
            streams = {p.stream for p in pieces}
            left = {stream: head for stream, head in left.items() if stream in streams}
            if not left:
                return []
        return _hits(self._connection, found, left)


def _meant(head: _Head, print_: str | None, since: date | None, until: date | None) -> bool:
    return ((print_ is None or print_.lower() in head.title.lower())
            and (since is None or head.day >= since) and (until is None or head.day <= until))


def _heads(connection: sqlite3.Connection) -> Iterator[_Head]:
    rows = connection.execute(_HEADS)
    for stream, order, wall_ms, offset, name, title, artist, letters in rows:
        at = datetime.fromtimestamp(0, UTC) + timedelta(milliseconds=wall_ms, minutes=offset)
        yield _Head(stream, order, str(name), str(title), str(artist), str(letters), at.date())


def _void(connection: sqlite3.Connection) -> set[tuple[str, str]]:
    """The actions taken back, with their streams."""
    rows = connection.execute(_VOID)
    return {(stream, action) for stream, action in rows}


# -- one word -------------------------------------------------------------------------------


def _of_word(
    connection: sqlite3.Connection,
    word: str,
    heads: dict[str, _Head],
    void: set[tuple[str, str]],
    *,
    alone: bool,
) -> Iterator[_Piece]:
    """Every piece of these sessions that holds a word; `alone`: they lie far from one another."""
    yield from (p for h in heads.values() for p in h.pieces() if word in p.text.lower())
    yield from _marked(connection, word, heads)
    off = {(p.stream, p.ordinal, p.text): p.position
           for p in _pieces(connection, "untagged", word, heads, void, alone=alone)}
    for kind in _PLACES:
        for p in _pieces(connection, kind, word, heads, void, alone=alone):
            if kind != "tagged" or p.position > off.get((p.stream, p.ordinal, p.text), 0):
                yield p


def _pieces(
    connection: sqlite3.Connection,
    kind: str,
    word: str,
    heads: dict[str, _Head],
    void: set[tuple[str, str]],
    *,
    alone: bool,
) -> Iterator[_Piece]:
    """The pieces of one kind, straight from the index; each read again for the word itself."""
    pattern = _pattern(word)
    spans = [(stream, stream) for stream in heads] if alone else [(min(heads), max(heads))]
    rows = (row for low, high in spans
            for row in connection.execute(_WORDS, (kind, low, high, pattern)))
    for stream, position, action, body in rows:
        if stream in heads and (stream, action) not in void:
            ordinal, text = _text(kind, json.loads(body))
            if word in text.lower():
                yield _Piece(stream, ordinal, position, _PLACES.get(kind, "tag"), text)


def _pattern(word: str) -> str:
    """A pattern that no text with the word escapes, in whatever case or spelling of JSON.

    The file knows the two cases of ASCII alone. Other signs may stand there in another case,
    so anything is let through for them; so is any one sign for k and i, which two letters
    beyond ASCII become when they are made small (the sign of kelvin, and I with a dot).
    """
    return f"%{''.join(map(_sign, word))}%"


def _sign(c: str) -> str:
    if c in "%_!":
        return f"!{c}"
    if c in "ki":
        return "_"
    return c if c.isascii() and c.isprintable() and c not in '"\\' else "%"


def _text(kind: str, body: dict[str, Any]) -> tuple[int | None, str]:
    """Which impression a piece belongs to, and what it says."""
    match kind:
        case "tagged" | "untagged":
            return body["impression"], str(body["tag"])
        case "marked":
            return body["impression"], str(body["mark"])
        case "setting changed":
            return None, f"{body['name']}: {body['value']}"
        case "reworked":
            words = (body["plate"], body["state"], body["what"])
            return None, " ".join(str(w) for w in words if w is not None)
        case "left off":
            return None, str(body["text"])
    return body["impression"], str(body["text"])


def _marked(
    connection: sqlite3.Connection, word: str, heads: dict[str, _Head]
) -> Iterator[_Piece]:
    """The sheets a mark such as `k7` may mean: letters of the session, number of the pull."""
    found = _MARK.fullmatch(word)
    if found is None:
        return
    for head in heads.values():
        if head.letters.lower() == found[1]:
            for ordinal, number, mark in _pulled(connection, head.stream):
                if number == int(found[2]):
                    yield _Piece(head.stream, ordinal, 0, "mark", mark)


def _pulled(connection: sqlite3.Connection, stream: str) -> list[tuple[int, int, str]]:
    """(ordinal, number, mark) of each pull of a session."""
    rows = connection.execute(_PULLED, (stream,))
    return [(o, n, str(m)) for o, n, m in rows if isinstance(o, int) and isinstance(n, int)]


# -- all words --------------------------------------------------------------------------------


def _hits(
    connection: sqlite3.Connection, found: Sequence[Sequence[_Piece]], heads: dict[str, _Head]
) -> list[Hit]:
    """The pieces of the units in which every word stands, the newest session first."""
    units: list[set[_Unit]] = [{(p.stream, p.ordinal) for p in pieces} for pieces in found]
    chosen = {p: None for pieces in found for p in pieces if p.stream in heads
              and all((p.stream, p.ordinal) in u or (p.stream, None) in u for u in units)}
    places = {stream: n for n, stream in enumerate(heads)}
    ordered = sorted(chosen, key=lambda p: (places[p.stream], p.ordinal or 0, p.position))
    numbers: dict[str, dict[int, int]] = {}
    out = []
    for p in ordered:
        if p.ordinal is not None and p.stream not in numbers:
            numbers[p.stream] = {o: n for o, n, _ in _pulled(connection, p.stream)}
        number = None if p.ordinal is None else numbers[p.stream].get(p.ordinal)
        head = heads[p.stream]
        out.append(Hit(head.name, p.stream.partition("/")[2], head.title, number, p.where, p.text))
    return out
