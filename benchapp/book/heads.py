"""What the days of a search are called and dated by, with the texts that stand for all of each."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Final

from benchapp.book.folding import fold_text
from benchapp.book.schema import OPENING

#: The condition must be the very one of the index.
_HEADS: Final = """SELECT stream, sequence, wall_ms, offset_min, json_extract(body, '$.session'),
    json_extract(body, '$.print'), json_extract(body, '$.artist'), json_extract(body, '$.letters')
    FROM entries WHERE kind = 'opened' AND (opening)
    AND stream >= 'session/' AND stream < 'session0'""".replace("(opening)", OPENING)


@dataclass(frozen=True, slots=True)
class TextPiece:
    """A text with its place.

    Attributes:
        day: The session, print or stack it belongs to.
        sheet: The sheet of it: the ordinal of an impression; empty: it is of the whole.
        stream / position: The entry.
        where: What its place is called.
        text: As it is shown.
        about: The print or stack its entry is about; empty: what was done in the session.
    """

    day: str
    sheet: str
    stream: str
    position: int
    where: str
    text: str
    about: str = ""


@dataclass(frozen=True, slots=True)
class HitHead:
    """What a session, a print or a stack is called and dated by.

    Attributes:
        day: What it is: `session/…`, `print/…`, `stack/…`.
        order: Of two, the one with the greater is the newer.
        name: The session's name; empty: it is none.
        title: The print's, or what the stack is called.
        letters: Those of the marks of its sheets, small.
        on: The day it was opened; None: it is no session.
        own: Its own texts, folded, each with its piece; they stand for every sheet of it.
    """

    day: str
    order: int
    name: str
    title: str
    letters: str
    on: date | None
    own: tuple[tuple[str, TextPiece], ...]


def session_heads(connection: sqlite3.Connection) -> Iterator[HitHead]:
    """Every session."""
    for stream, order, wall_ms, offset, name, title, artist, letters in connection.execute(_HEADS):
        at = datetime.fromtimestamp(0, UTC) + timedelta(milliseconds=wall_ms, minutes=offset)
        own = (TextPiece(stream, "", stream, 0, "date", str(name)),
               TextPiece(stream, "", stream, 0, "print", f"{title}, {artist}"))
        yield HitHead(stream, order, str(name), str(title), str(letters).lower(), at.date(),
                      tuple((fold_text(p.text), p) for p in own))


def other_head(day: str, title: str, artist: str) -> HitHead:
    """A print, a stack or a clock; or a session of which the book has no more than its sheets."""
    name = day.partition("/")[2].partition("@")[0] if day.startswith("session/") else ""
    title = "in the Studio" if day.startswith("clock/") else title
    text = f"{title}, {artist}" if artist else title
    own = ((fold_text(text), TextPiece(day, "", day, 0, "print", text)),) if artist else ()
    return HitHead(day, 0, name, title, "", None, own)
