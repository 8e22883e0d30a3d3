"""What one copy of a book holds that another does not, read also from a damaged file."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import suppress
from typing import Final

from benchapp.book.errors import BookDamaged
from benchapp.book.read import SELECT, Row, entry_of
from benchapp.book.verify import is_unreadable
from benchapp.events.entry import Entry

#: After so many entries in a row that cannot be read, nothing more is looked for: a damaged page
#: holds a few dozen, and where the way to them is damaged none is found.
_MOST_UNREAD: Final = 5_000


def entries_beyond(
    other: sqlite3.Connection, known: sqlite3.Connection
) -> tuple[list[Entry], int]:
    """The entries of `other` that `known` does not have, in order.

    Returns:
        The entries, and how many could not be read.

    Raises:
        sqlite3.Error: `known` cannot be read.
    """
    found, unread = readable_entries(other, _shared(other, known))
    return [entry for entry in found if _digest_of(known, entry.id) != entry.sha256], unread


def readable_entries(
    connection: sqlite3.Connection, after: int = 0
) -> tuple[list[Entry], int]:
    """Every entry after the row `after` that can be read, and how many cannot, at least."""
    found: list[Entry] = []
    unread = 0
    for row in rows_after(connection, after):
        try:
            if row is None:
                unread += 1
            else:
                found.append(entry_of(row))
        except BookDamaged:
            unread += 1
    return found, unread


def ends_of_streams(connection: sqlite3.Connection) -> dict[str, int]:
    """The last position of each stream, from the index alone, as far as that can be read.

    Where a row is damaged its line in the index often is not: so a lost end is seen.
    """
    ends: dict[str, int] = {}
    with suppress(sqlite3.DatabaseError):
        question = "SELECT stream, max(position) FROM entries GROUP BY stream"
        ends.update(connection.execute(question))
    return ends


def _shared(other: sqlite3.Connection, known: sqlite3.Connection) -> int:
    """How many rows both begin with: entries are only ever added, so copies part once."""
    low = 0
    high = int(known.execute("SELECT coalesce(max(sequence), 0) FROM entries").fetchone()[0])
    while low < high:
        middle = (low + high + 1) // 2
        if _digest_at(other, middle) == _digest_at(known, middle):
            low = middle
        else:
            high = middle - 1
    return low


def _digest_at(connection: sqlite3.Connection, sequence: int) -> object:
    question = "SELECT sha256 FROM entries WHERE sequence = ?"
    try:
        return connection.execute(question, (sequence,)).fetchone()
    except sqlite3.DatabaseError:
        # Equal to nothing: what cannot be read is looked at row by row.
        return connection


def _digest_of(connection: sqlite3.Connection, id_: str) -> str | None:
    row = connection.execute("SELECT sha256 FROM entries WHERE id = ?", (id_,)).fetchone()
    return str(row[0]) if row else None


def rows_after(connection: sqlite3.Connection, sequence: int) -> Iterator[Row | None]:
    """The rows after `sequence`; None for each that cannot be read.

    Raises:
        sqlite3.Error: They cannot be looked at just now, which says nothing about the file.
    """
    failed = 0
    while failed < _MOST_UNREAD:
        question = f"{SELECT} WHERE sequence > ? ORDER BY sequence"
        try:
            for row in connection.execute(question, (sequence,)):
                sequence, failed = row[13], 0
                yield row
        except sqlite3.DatabaseError as error:
            if not is_unreadable(error):
                raise
            failed += 1
            sequence += 1
            yield None
        else:
            return
