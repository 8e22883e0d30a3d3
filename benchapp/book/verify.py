"""Is the book what was written? Said in sentences, one a fault; none if all is well."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable
from typing import Final

from benchapp.book.errors import BookDamaged, code_of, primary_code
from benchapp.book.read import Row, all_by_stream, entry_of
from benchapp.book.schema import version_of
from benchapp.events.entry import Entry, entry_digest

#: Between so many entries whoever checks beside other work lets that go on.
_AT_ONCE: Final = 100

#: SQLITE_ERROR too: the questions are always the same, so it is the layout that does not fit.
_DAMAGED: Final = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_ERROR)
_UNREADABLE: Final = (sqlite3.SQLITE_IOERR_READ, sqlite3.SQLITE_IOERR_SHORT_READ,
                      sqlite3.SQLITE_IOERR_CORRUPTFS)


def find_problems(
    connection: sqlite3.Connection, *, full: bool = True, pause: Callable[[], None] | None = None
) -> list[str]:
    """Everything wrong with the file and, if `full`, with its indexes and each stream's chain.

    Args:
        connection: Of the book.
        full: Hold every entry against what was written too.
        pause: Called every so many entries.

    Raises:
        sqlite3.Error: It cannot be looked at just now, which says nothing about the file.
    """
    try:
        with as_it_is(connection):
            found = _file(connection, "integrity_check" if full else "quick_check")
            return [*found, *_chains(all_by_stream(connection), pause)] if full else found
    except sqlite3.DatabaseError as error:
        if not is_unreadable(error):
            raise
        return [f"the file cannot be read to its end: {error}"]


def is_unreadable(error: sqlite3.Error) -> bool:
    """Whether an error of reading says that the file is damaged, or the disk under it."""
    code = code_of(error)
    if code == 0:  # what is no text carries none
        return not isinstance(error, sqlite3.ProgrammingError)
    return primary_code(error) in _DAMAGED or code in _UNREADABLE


class as_it_is:  # noqa: N801 - used as a word
    """While it lasts, texts that are none are read with their stray bytes as half characters."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def __enter__(self) -> None:
        self._before = self._connection.text_factory
        self._connection.text_factory = lambda text: text.decode("utf-8", "surrogateescape")

    def __exit__(self, *_: object) -> None:
        self._connection.text_factory = self._before


def _file(connection: sqlite3.Connection, check: str) -> list[str]:
    answers = [str(row[0]) for row in connection.execute(f"PRAGMA {check}")]
    found = [f"the file: {answer}" for answer in answers if answer != "ok"]
    found += layout_problems(connection)
    if not (connection.execute("SELECT value FROM meta WHERE key = 'origin'").fetchone()):
        found.append("the book has no origin")
    # Sequences have no gap either: this finds the end of a stream, or all of it, cut away.
    count, last = connection.execute("SELECT count(*), max(sequence) FROM entries").fetchone()
    if count != (last or 0):
        found.append(f"of {last} entries of the book {last - count} are missing")
    return found


def layout_problems(connection: sqlite3.Connection) -> list[str]:
    """Whether the steps the book has been through lead to its layout.

    Raises:
        sqlite3.Error: It cannot be read.
    """
    version = version_of(connection)
    (done,) = connection.execute("SELECT max(number) FROM migrations").fetchone()
    if done == version:
        return []
    return [f"the layout: the file says {version}, its list of steps ends at {done}"]


def _chains(rows: Iterable[Row], pause: Callable[[], None] | None) -> list[str]:
    found: list[str] = []
    stream, position, before = "", 0, ""
    for count, row in enumerate(rows):
        if pause is not None and count % _AT_ONCE == 0:
            pause()
        if row[1] != stream:
            stream, position, before = row[1], 0, ""
        position += 1
        if row[2] != position:
            found.append(f"{stream}: entry {position} is missing (next is {row[2]})")
            position = row[2]
        elif not is_as_written(row, before):
            what = ("cannot be read" if not can_be_read(row) else
                    "was changed since, or the entry before it was")
            found.append(f"{stream}: entry {position} ({row[0]}) {what}")
        before = row[12]
    return found


def is_as_written(row: Row, before: str) -> bool:
    """Whether a row is what was written after the entry of the digest `before`. Total."""
    try:
        entry = entry_of(row)
        return entry_digest(before, entry) == entry.sha256
    except (BookDamaged, ValueError, TypeError, RecursionError):
        return False


def is_chained(entries: Iterable[Entry]) -> bool:
    """Whether each of these whole streams is as it was written."""
    heads: dict[str, tuple[int, str]] = {}
    for entry in entries:
        position, before = heads.get(entry.stream, (0, ""))
        if entry.position != position + 1 or entry_digest(before, entry) != entry.sha256:
            return False
        heads[entry.stream] = entry.position, entry.sha256
    return True


def can_be_read(row: Row) -> bool:
    """Whether a row is an entry at all, damaged or not. Total."""
    texts = all(isinstance(row[n], str) for n in (0, 1, 3, 4, 5, 9, 11, 12))
    numbers = all(isinstance(row[n], int) for n in (2, 6, 7, 8, 10, 13))
    try:
        entry_digest("", entry_of(row))
    except (BookDamaged, ValueError, TypeError, RecursionError):
        return False
    return texts and numbers
