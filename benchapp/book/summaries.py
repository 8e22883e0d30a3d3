"""What folding a stream came to, kept beside its last digest so that nothing folds it again.

A list of ten years would fold every session there was to say how many it pulled, and the room
every pack to find that it is used up. Nothing rests on these rows: a row counts only while the
stream ends as it did when it was told, what is missing is folded, and all may be thrown away.
They are written when a book that was written in is closed, and never in a day's way.
"""

from __future__ import annotations

import json
import sqlite3
import zlib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from typing import Any, Final

from benchapp.book import read
from benchapp.drying import stacks
from benchapp.events.entry import Entry, canonical_json
from benchapp.events.streams import SAID, is_said, stream_family, told_of
from benchapp.recipe.problems import RecipeError
from benchapp.session.counting import count_impressions, count_pulled
from benchapp.session.edition_links import pack_sheets, recipe_print_id, said_packed, session_sheets
from benchapp.session.fold import replay_entries
from benchapp.session.names import session_id

#: What is known of a stream: of a session how many it `pulled` and how many are `counting`; of a
#: pack or a stack that it is `over`, with no sheet in it or lying open; of a clock that it ended.
Told = Mapping[str, int | bool]

#: Before the name of a session, for what its sheets are: read where editions are, and never with
#: the list of sessions.
SHEETS: Final = "sheets/"

#: In each row, a checksum of all else in it: a row that was damaged is as good as none. Rows of
#: older versions have none.
_SUM: Final = "sum"

#: So many are written in one go: a long book that is told of for the first time may be cut off.
_AT_ONCE: Final = 200
#: Each row with the digest its stream ends with now.
_KNOWN: Final = """SELECT stream, sha256, told, (SELECT sha256 FROM entries
    WHERE entries.stream = substr(derived.stream, ?) ORDER BY position DESC LIMIT 1)
    FROM derived WHERE stream >= ? AND stream < ?"""
_PUT: Final = """INSERT INTO derived VALUES (?, ?, ?)
    ON CONFLICT (stream) DO UPDATE SET sha256 = excluded.sha256, told = excluded.told"""


def summarize_stream(name: str, entries: tuple[Entry, ...]) -> Told:
    """What the entries of a stream come to.

    Args:
        name: The stream.
        entries: Its own, and of a session what other books tell of it.
    """
    return next((told for row, told in _told(name, entries) if row == name), {})


def _told(name: str, entries: tuple[Entry, ...]) -> Iterator[tuple[str, dict[str, Any]]]:
    """The rows kept of a stream: their names, and what stands in them."""
    match stream_family(name):
        case "session":
            s = replay_entries(entries).sessions.get(session_id(name))
            yield name, {} if s is None else {"pulled": count_pulled(s),
                                              "counting": count_impressions(s)}
            yield SHEETS + name, {} if s is None else {
                "print": recipe_print_id(s.recipe), "says": said_packed(s.recipe),
                "sheets": pack_sheets(session_sheets(s))}
        case "pack":
            packs = replay_entries(entries).packs.values()
            yield name, {"over": all(not p.there and not p.open for p in packs)}
        case "clock":
            yield name, {"over": not replay_entries(entries).timers}
        case "stack":
            yield name, {"over": not stacks.replay_boards(entries).up}


def known_summaries(connection: sqlite3.Connection, start: str) -> dict[str, Told]:
    """What is known, and still holds, of the streams whose names begin with `start`."""
    found = {name: _read(told) for name, told in _rows(connection, start)}
    return {name: told for name, told in found.items()
            if told and all(isinstance(x, int) for x in told.values())}


def known_sheets(connection: sqlite3.Connection) -> dict[str, dict[str, Any]]:
    """What is known, and still holds, of the sheets of each session, by its stream."""
    return {name.removeprefix(SHEETS): _read(told)
            for name, told in _rows(connection, f"{SHEETS}session/")}


def _rows(connection: sqlite3.Connection, start: str) -> list[tuple[str, str]]:
    before = len(SHEETS) if start.startswith(SHEETS) else 0
    try:
        rows = connection.execute(_KNOWN, (before + 1, start, f"{start}\U0010ffff")).fetchall()
    except sqlite3.OperationalError:  # a book of an earlier layout, opened for reading
        return []
    about = stream_family(start[before:])
    said = _said(read.streams_from(connection, f"{about}/")) if rows and about in SAID else {}
    return [(name, told) for name, sha256, told, end in rows if sha256 == (
        _end(connection, name[before:], said) if name[before:] in said else end)]


def _read(text: str) -> dict[str, Any]:
    """A row as it was written; nothing of one that cannot be read, or was damaged."""
    try:
        found = json.loads(text)
    except ValueError:
        return {}
    if not isinstance(found, dict):
        return {}
    kept = found.pop(_SUM, None)
    return found if kept in (None, _sum_of(found)) else {}


def _row(told: Mapping[str, Any]) -> str:
    """What is kept of a stream, with its checksum."""
    plain = json.loads(canonical_json(dict(told)))
    return canonical_json({**plain, _SUM: _sum_of(plain)} if plain else plain)


def _sum_of(plain: Mapping[str, Any]) -> int | None:
    """The checksum of what is kept; None: no row of ours has such a text in it."""
    try:
        return zlib.crc32(canonical_json(plain).encode())
    except ValueError:
        return None


def refresh_summaries(connection: sqlite3.Connection, heads: Mapping[str, tuple[int, str]]) -> None:
    """Tell anew of every stream that went on since it was told of.

    Args:
        connection: To write with.
        heads: The last position and digest of each stream.

    Raises:
        sqlite3.Error: It cannot be written; what was written holds.
    """
    before = dict(connection.execute("SELECT stream, sha256 FROM derived"))
    anew = [x for x in _ends(heads) if before.get(x[0]) != x[1] or (
        stream_family(x[0]) == "session" and before.get(SHEETS + x[0]) != x[1])]
    for at in range(0, len(anew), _AT_ONCE):
        connection.execute("BEGIN IMMEDIATE")
        for stream, end, streams in anew[at : at + _AT_ONCE]:
            with suppress(RecipeError):  # a text of an older program
                for name, told in _told(stream, read.read_entries(connection, streams, 0)):
                    connection.execute(_PUT, (name, end, _row(told)))
        connection.execute("COMMIT")


def _ends(heads: Mapping[str, tuple[int, str]]) -> Iterator[tuple[str, str, list[str]]]:
    """Each stream that can be told of, the digests it ends with, and what it is told from."""
    said = _said(sorted(heads))
    for name in heads:
        if stream_family(name) in ("session", "pack", "stack", "clock") and not is_said(name):
            streams = [name, *said.get(name, ())]
            yield name, ",".join(heads[x][1] for x in streams), streams


def _said(names: Iterable[str]) -> dict[str, list[str]]:
    """The streams in which other books tell, by what they tell of, in the order given."""
    out: dict[str, list[str]] = {}
    for name in filter(is_said, names):
        out.setdefault(told_of(name), []).append(name)
    return out


def _end(connection: sqlite3.Connection, stream: str, said: Mapping[str, list[str]]) -> str:
    return ",".join(read.stream_head(connection, x)[1] for x in (stream, *said.get(stream, ())))
