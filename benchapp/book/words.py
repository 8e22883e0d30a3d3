"""The pieces of text a search looks through, straight from the index of what has words.

What was taken back, taken off again or judged otherwise since is not among them. Where several
books tell of one session, the later word stands, as it does in the fold.
"""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any, Final

from benchapp.book.read import entries, streams_from
from benchapp.book.schema import OPENING, WORDED
from benchapp.journal import is_said, told_of
from benchapp.session.said import in_order

#: Kinds with words of their own, and what their place is called.
_PLACES: Final = {"noted": "note", "marked": "mark", "setting changed": "setting",
                  "read": "setting", "reworked": "plate", "left off": "left off"}
_TAGS: Final = ("tagged", "untagged")
#: There are no other verdicts: only a word that is part of one is looked for among them.
_VERDICTS: Final = ("keep", "doubtful", "spoiled")
#: The questions; their two conditions must be the very ones of the indexes.
_HEADS: Final = """SELECT stream, sequence, wall_ms, offset_min, json_extract(body, '$.session'),
    json_extract(body, '$.print'), json_extract(body, '$.artist'), json_extract(body, '$.letters')
    FROM entries WHERE kind = 'opened' AND (opening)
    AND stream >= 'session/' AND stream < 'session0'""".replace("(opening)", OPENING)
_VOID: Final = """SELECT stream, json_extract(body, '$.action') FROM entries
    WHERE kind = 'taken back' AND (opening)""".replace("(opening)", OPENING)
_WORDS: Final = """SELECT kind, stream, position, action, body FROM entries
    WHERE kind IN (kinds) AND (worded)
    AND stream BETWEEN ? AND ? AND body LIKE ? ESCAPE '!'""".replace("(worded)", WORDED)
_SAID: Final = _WORDS.replace("(kinds)", repr((*_PLACES, *_TAGS)))
_JUDGED: Final = _WORDS.replace("(kinds)", "('judged')")
_PULLED: Final = """SELECT json_extract(body, '$.impression'), json_extract(body, '$.number'),
    json_extract(body, '$.mark'), action FROM entries WHERE kind = 'pulled' AND (worded)
    AND stream = ?""".replace("(worded)", WORDED)
_MARK: Final = re.compile(r"([a-z]{1,3})([1-9][0-9]{0,4})")
_LAST: Final = "\U0010ffff"


@dataclass(frozen=True, slots=True)
class Piece:
    """A text: of the impression begun as the `ordinal`-th, or (None) of the session."""

    stream: str
    ordinal: int | None
    position: int
    where: str
    text: str


@dataclass(frozen=True, slots=True)
class Head:
    """What a session is called and dated by.

    Attributes:
        own: Its own texts, each with its small letters; they stand for every impression of it.
    """

    stream: str
    order: int
    name: str
    title: str
    letters: str
    day: date
    own: tuple[tuple[str, Piece], ...]


def heads_of(connection: sqlite3.Connection) -> Iterator[Head]:
    """Every session."""
    for stream, order, wall_ms, offset, name, title, artist, letters in connection.execute(_HEADS):
        at = datetime.fromtimestamp(0, UTC) + timedelta(milliseconds=wall_ms, minutes=offset)
        own = (Piece(stream, None, 0, "date", str(name)),
               Piece(stream, None, 0, "print", f"{title}, {artist}"))
        yield Head(stream, order, str(name), str(title), str(letters).lower(), at.date(),
                   tuple((p.text.lower(), p) for p in own))


class Words:
    """The words of a book as it was when this was made."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        """Look up what was taken back, and of which sessions other books tell."""
        self._connection = connection
        self._void = {(stream, action) for stream, action in connection.execute(_VOID)}
        self._shared = {told_of(x) for x in streams_from(connection, "session/") if is_said(x)}
        self._turns: dict[str, dict[tuple[str, int], int]] = {}

    def holding(self, word: str, heads: dict[str, Head], *, alone: bool) -> Iterator[Piece]:
        """Every piece of these sessions that holds a word; `alone`: they lie far apart."""
        spans = self._spans(heads, alone=alone)
        yield from (p for h in heads.values() for text, p in h.own if word in text)
        yield from self._by_mark(word, heads)
        tags: list[tuple[str, Piece]] = []
        for kind, piece in self._pieces(word, heads, spans):
            if kind in _TAGS:
                tags.append((kind, piece))
            else:
                yield piece
        yield from self._on(tags)
        if any(word in verdict for verdict in _VERDICTS):
            yield from self._verdicts(word, heads, spans)

    def pulled(self, stream: str) -> list[tuple[int, int, str]]:
        """(ordinal, number, mark) of each pull of a session that was not taken back."""
        rows = self._connection.execute(_PULLED, (stream,))
        return [(o, n, str(m)) for o, n, m, action in rows
                if isinstance(o, int) and isinstance(n, int) and (stream, action) not in self._void]

    def _pieces(self, word: str, heads: dict[str, Head],
                spans: Iterable[tuple[str, str]]) -> Iterator[tuple[str, Piece]]:
        """Pieces with their kinds, from the index; each read again for the word itself."""
        for kind, stream, position, body in self._rows(_SAID, _pattern(word), heads, spans):
            ordinal, text = _text(kind, body)
            if word in text.lower():
                yield kind, Piece(stream, ordinal, position, _PLACES.get(kind, "tag"), text)

    def _rows(self, question: str, pattern: str, heads: dict[str, Head],
              spans: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str, int, dict[str, Any]]]:
        for low, high in spans:
            rows = self._connection.execute(question, (low, high, pattern))
            for kind, stream, position, action, body in rows:
                if told_of(stream) in heads and (stream, action) not in self._void:
                    yield kind, stream, position, json.loads(body)

    def _on(self, tags: Iterable[tuple[str, Piece]]) -> Iterator[Piece]:
        """The tags that are on a sheet: put on, and not taken off since."""
        last: dict[tuple[str, int | None, str], tuple[int, str, Piece]] = {}
        for kind, p in tags:
            key = told_of(p.stream), p.ordinal, p.text
            turn = self._turn(p)
            if key not in last or turn > last[key][0]:
                last[key] = turn, kind, p
        yield from (p for _, kind, p in last.values() if kind == "tagged")

    def _verdicts(self, word: str, heads: dict[str, Head],
                  spans: Iterable[tuple[str, str]]) -> Iterator[Piece]:
        """The verdict each sheet has: the last that was said."""
        last: dict[tuple[str, int | None], tuple[int, Piece]] = {}
        for _, stream, position, body in self._rows(_JUDGED, "%", heads, spans):
            p = Piece(stream, body["impression"], position, "verdict", body["verdict"] or "")
            key, turn = (told_of(stream), p.ordinal), self._turn(p)
            if key not in last or turn > last[key][0]:
                last[key] = turn, p
        yield from (p for _, p in last.values() if word in p.text)

    def _spans(self, heads: dict[str, Head], *, alone: bool) -> list[tuple[str, str]]:
        """From where to where these sessions lie, with the streams that tell of them."""
        if not alone:
            return [(min(heads), f"{max(heads)}@{_LAST}")] if heads else []
        others = ((f"{x}@", f"{x}@{_LAST}") for x in heads if x in self._shared)
        return [*((x, x) for x in heads), *others]

    def _turn(self, p: Piece) -> int:
        """When a word counts; where one book alone tells of a session, its place says it."""
        day = told_of(p.stream)
        if day not in self._shared:
            return p.position
        if day not in self._turns:
            streams = [day, *streams_from(self._connection, f"{day}@")]
            told = in_order(entries(self._connection, streams, 0))
            self._turns[day] = {(e.stream, e.position): n for n, e in enumerate(told)}
        return self._turns[day].get((p.stream, p.position), -1)

    def _by_mark(self, word: str, heads: dict[str, Head]) -> Iterator[Piece]:
        """The sheets a mark such as `k7` may mean: letters of the session, number of the pull."""
        found = _MARK.fullmatch(word)
        if found is None:
            return
        for head in heads.values():
            if head.letters == found[1]:
                for ordinal, number, mark in self.pulled(head.stream):
                    if number == int(found[2]):
                        yield Piece(head.stream, ordinal, 0, "mark", mark)


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
        case "read":
            unit = f" {body['unit']}" if body["unit"] else ""
            return None, f"{body['name']}: {body['value']}{unit}"
        case "reworked":
            words = (body["plate"], body["state"], body["what"])
            return None, " ".join(str(w) for w in words if w is not None)
        case "left off":
            return None, str(body["text"])
    return body["impression"], str(body["text"])
