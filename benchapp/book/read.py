"""Reading entries back: rows of the file to entries, and the few questions asked of it."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from operator import itemgetter

from benchapp.book.errors import BookDamaged
from benchapp.events.entry import Entry, Moment, canonical_json
from benchapp.events.session import SessionOpened

Row = tuple[str, str, int, str, str, str, int, int, int, str, int, str, str, int]

#: The columns of a `Row`, in its order.
SELECT = (
    "SELECT id, stream, position, action, word, kind, wall_ms, offset_min, boot_ns, boot_id, "
    "mono_ns, body, sha256, sequence FROM entries"
)


@dataclass(frozen=True, slots=True)
class SessionRow:
    """One session as a list shows it.

    Attributes:
        stream: Its stream, `session/2026-05-03`.
        opened: The entry that opened it.
        closed: Whether it has been closed and that was not taken back.
        last_sequence: The sequence of its last entry: the largest was worked on last.
        discarded: Whether it is out of the lists: nothing was pulled in it.
        said_sequence: That of the last entry in which another book tells of it; 0: none.
    """

    stream: str
    opened: Entry
    closed: bool
    last_sequence: int
    said_sequence: int = 0
    discarded: bool = False

    @property
    def opening(self) -> SessionOpened:
        """What it was opened on: its print, its recipe."""
        return SessionOpened.from_entry(self.opened)

    @property
    def name(self) -> str:
        """What the printer calls it, `2026-05-03b`."""
        return self.opening.session

    @property
    def id(self) -> str:
        """What names it in every book: its name and the book it was opened in."""
        return self.stream.partition("/")[2]


def sequence_of(entry: Entry) -> int:
    """The sequence in an entry's id, 0 where the id has none."""
    number = entry.id.rpartition(":")[2]
    return int(number) if number.isascii() and number.isdigit() else 0


def entry_row(entry: Entry) -> Row:
    """An entry as the columns of its row, its body as text, its own sequence last."""
    at = entry.at
    return (entry.id, entry.stream, entry.position, entry.action, entry.word, entry.kind,
            at.wall_ms, at.offset_min, at.boot_ns, at.boot_id, at.mono_ns,
            canonical_json(dict(entry.body)), entry.sha256, sequence_of(entry))


def entry_of(row: Row) -> Entry:
    """A row as an entry.

    Raises:
        BookDamaged: Its body is not what was written.
    """
    try:
        body = json.loads(row[11])
    except (ValueError, TypeError, RecursionError) as error:
        raise BookDamaged(_unreadable(row)) from error
    if not isinstance(body, dict):
        raise BookDamaged(_unreadable(row))
    at = Moment(row[6], row[7], row[8], row[9], row[10])
    return Entry(row[0], row[1], row[2], row[3], row[4], row[5], at, body, row[12])


def _unreadable(row: Row) -> str:
    return (
        f"Entry {row[0]} ({row[1]}, number {row[2]}) is damaged. Restore a backup of the book: "
        "benchapp book restore FILE. It keeps the damaged one."
    )


def read_stream(connection: sqlite3.Connection, name: str) -> tuple[Entry, ...]:
    """The entries of one stream, in order."""
    return tuple(map(entry_of, _rows_of(connection, name)))


def read_entries(
    connection: sqlite3.Connection, streams: Collection[str] | None, since: int
) -> tuple[Entry, ...]:
    """The entries after the sequence `since` of these streams (None: of all), in order."""
    if streams is None:
        rows = connection.execute(f"{SELECT} WHERE sequence > ? ORDER BY sequence", (since,))
        return tuple(map(entry_of, rows))
    # Stream by stream over the index, however many others there are.
    picked = [row for name in set(streams) for row in _rows_of(connection, name)]
    return tuple(entry_of(row) for row in sorted(picked, key=itemgetter(13)) if row[13] > since)


def each_entry(
    connection: sqlite3.Connection, streams: Collection[str] | None
) -> Iterator[Entry]:
    """The entries of these streams (None: of all) in order, never all of them held at once."""
    rows: Iterator[Row] = connection.execute(f"{SELECT} ORDER BY sequence")
    for row in rows:
        if streams is None or row[1] in streams:
            yield entry_of(row)


def entries_of_kinds(
    connection: sqlite3.Connection, kinds: Collection[str]
) -> tuple[Entry, ...]:
    """The entries of these kinds, in order. It looks at each row, and reads only those."""
    marks = ", ".join("?" * len(kinds))
    question = f"{SELECT} WHERE kind IN ({marks}) ORDER BY sequence"
    return tuple(map(entry_of, connection.execute(question, tuple(kinds))))


def stream_head(connection: sqlite3.Connection, name: str) -> tuple[int, str]:
    """The last position and digest of one stream; (0, "") where there is none."""
    question = (
        "SELECT position, sha256 FROM entries WHERE stream = ? ORDER BY position DESC LIMIT 1"
    )
    row = connection.execute(question, (name,)).fetchone()
    return (int(row[0]), str(row[1])) if row else (0, "")


def stream_end_ms(connection: sqlite3.Connection, name: str) -> int:
    """When the last entry of one stream was written, wall milliseconds; 0 where there is none."""
    question = "SELECT wall_ms FROM entries WHERE stream = ? ORDER BY position DESC LIMIT 1"
    row = connection.execute(question, (name,)).fetchone()
    return int(row[0]) if row else 0


def _rows_of(connection: sqlite3.Connection, name: str) -> Iterator[Row]:
    question = f"{SELECT} WHERE stream = ? ORDER BY position"
    rows: Iterator[Row] = connection.execute(question, (name,))
    return rows


def all_by_stream(connection: sqlite3.Connection) -> Iterator[Row]:
    """Every row, stream by stream, without holding them all."""
    rows: Iterator[Row] = connection.execute(f"{SELECT} ORDER BY stream, position")
    return rows


def last_sequence(connection: sqlite3.Connection) -> int:
    """The sequence of the last entry, 0 in an empty book."""
    return int(connection.execute("SELECT coalesce(max(sequence), 0) FROM entries").fetchone()[0])


def streams_from(connection: sqlite3.Connection, start: str = "") -> list[str]:
    """The names of the streams that begin with `start` (of all, if empty), sorted.

    Steps from name to name over the index, so the length of the streams does not count.
    """
    rows = connection.execute(
        """WITH RECURSIVE name(stream) AS (
            SELECT min(stream) FROM entries WHERE stream >= :low
            UNION ALL
            SELECT (SELECT min(stream) FROM entries WHERE stream > name.stream)
            FROM name WHERE name.stream < :high
        ) SELECT stream FROM name WHERE stream < :high""",
        {"low": start, "high": f"{start}\U0010ffff"},
    )
    return [row[0] for row in rows]


def stream_heads(connection: sqlite3.Connection) -> dict[str, tuple[int, str]]:
    """The last position and digest of every stream."""
    question = (
        "SELECT position, sha256 FROM entries WHERE stream = ? ORDER BY position DESC LIMIT 1"
    )
    names = streams_from(connection)
    return {name: connection.execute(question, (name,)).fetchone() for name in names}
