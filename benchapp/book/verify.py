"""Is the book what was written? Said in sentences, one a fault; none if all is well."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable

from benchapp.book.errors import BookDamaged
from benchapp.book.read import Row, all_by_stream, entry_of
from benchapp.journal import digest


def problems(connection: sqlite3.Connection, *, full: bool = True) -> list[str]:
    """Everything wrong with the file and, if `full`, with its indexes and each stream's chain."""
    try:
        found = _file(connection, "integrity_check" if full else "quick_check")
        return [*found, *_chains(all_by_stream(connection))] if full else found
    except sqlite3.DatabaseError as error:
        return [f"the file cannot be read to its end: {error}"]


def _file(connection: sqlite3.Connection, check: str) -> list[str]:
    answers = [str(row[0]) for row in connection.execute(f"PRAGMA {check}")]
    found = [f"the file: {answer}" for answer in answers if answer != "ok"]
    if not (connection.execute("SELECT value FROM meta WHERE key = 'origin'").fetchone()):
        found.append("the book has no origin")
    # Sequences have no gap either: this finds the end of a stream, or all of it, cut away.
    count, last = connection.execute("SELECT count(*), max(sequence) FROM entries").fetchone()
    if count != (last or 0):
        found.append(f"of {last} entries of the book {last - count} are missing")
    return found


def _chains(rows: Iterable[Row]) -> list[str]:
    found: list[str] = []
    stream, position, before = "", 0, ""
    for row in rows:
        if row[1] != stream:
            stream, position, before = row[1], 0, ""
        position += 1
        if row[2] != position:
            found.append(f"{stream}: entry {position} is missing (next is {row[2]})")
            position = row[2]
        elif problem := _entry(row, before):
            found.append(f"{stream}: entry {position} ({row[0]}) {problem}")
        before = row[12]
    return found


def _entry(row: Row, before: str) -> str:
    try:
        entry = entry_of(row)
        same = digest(before, entry) == entry.sha256
    except (BookDamaged, ValueError):
        return "cannot be read"
    return "" if same else "is not what was written, or what stands before it is not"
