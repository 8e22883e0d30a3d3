"""Numbering the entries of an action, and writing them in one transaction."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from benchapp.book import search_index as worded
from benchapp.book.read import entry_row, sequence_of
from benchapp.events.entry import Draft, Entry, Moment, entry_digest

#: Called with the name of each point where the world may fail; tests make it raise there.
Fault = Callable[[str], None]

INSERT: Final = (
    "INSERT INTO entries (id, stream, position, action, word, kind, wall_ms, offset_min, boot_ns, "
    "boot_id, mono_ns, body, sha256, sequence) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
)


def no_fault(_point: str) -> None:
    """The fault of every day: none."""


@dataclass(slots=True)
class StreamEnds:
    """Where the book ends: its last sequence, and of each stream the last position and digest.

    The one writer keeps it in memory, so entries can be numbered and chained also
    while the disk refuses them.
    """

    origin: str
    sequence: int = 0
    heads: dict[str, tuple[int, str]] = field(default_factory=dict)

    def numbered(self, drafts: Sequence[Draft], at: Moment, word: str) -> tuple[Entry, ...]:
        """The entries these drafts become. Changes nothing: see `advance`."""
        heads: dict[str, tuple[int, str]] = {}
        action = f"{self.origin}:{self.sequence + 1}"
        entries = []
        for number, draft in enumerate(drafts, self.sequence + 1):
            position, before = heads.get(draft.stream) or self.heads.get(draft.stream, (0, ""))
            bare = Entry(f"{self.origin}:{number}", draft.stream, position + 1, action, word,
                         draft.kind, at, draft.body)
            entry = replace(bare, sha256=entry_digest(before, bare))
            heads[draft.stream] = (entry.position, entry.sha256)
            entries.append(entry)
        return tuple(entries)

    def advance(self, entries: Iterable[Entry]) -> None:
        """These entries are kept now; the next ones come after them."""
        for entry in entries:
            self.sequence = max(self.sequence, sequence_of(entry))
            self.heads[entry.stream] = (entry.position, entry.sha256)

    def follows(self, entry: Entry) -> bool:
        """Whether `entry` is just what could come next here."""
        position, before = self.heads.get(entry.stream, (0, ""))
        return (
            entry.id == f"{self.origin}:{sequence_of(entry)}"
            and sequence_of(entry) == self.sequence + 1
            and entry.position == position + 1
            and entry.sha256 == entry_digest(before, entry)
        )


def commit_entries(
    connection: sqlite3.Connection, entries: Iterable[Entry], fault: Fault = no_fault
) -> None:
    """Write `entries` and return when they are on disk: all of them, or none and an error.

    Raises:
        sqlite3.Error: They are not written; the connection can go on.
    """
    try:
        fault("begin")
        connection.execute("BEGIN IMMEDIATE")
        fault("insert")
        entries = tuple(entries)
        connection.executemany(INSERT, (entry_row(entry) for entry in entries))
        worded.index_entries(connection, ((entry, sequence_of(entry)) for entry in entries))
        fault("commit")
        connection.execute("COMMIT")
    except sqlite3.Error:
        roll_back(connection)
        raise


def roll_back(connection: sqlite3.Connection) -> None:
    """End a transaction that failed, if SQLite has not done so itself."""
    if connection.in_transaction:
        connection.execute("ROLLBACK")
