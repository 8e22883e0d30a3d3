"""The entries of a book that are as they were written, also where the book is damaged."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterator
from pathlib import Path

from benchapp.book.beyond import ends_of_streams, rows_after
from benchapp.book.errors import only_book_errors
from benchapp.book.read import Row, entry_of
from benchapp.book.verify import as_it_is, can_be_read, is_as_written
from benchapp.events.entry import Entry


class AsWritten:
    """Goes through a book once, in its order; what is damaged is passed by and counted.

    Attributes:
        unread: How many entries cannot be read, at least.
        wrong: Those that are not as they were written: `session/…, entry 5`.
        ends: Of each stream that is not whole, the last position it is known to have had.
    """

    def __init__(
        self, path: Path, connection: sqlite3.Connection, streams: Collection[str] | None
    ) -> None:
        self.unread = 0
        self.wrong: list[str] = []
        self.ends: dict[str, int] = {}
        self._path = path
        self._connection = connection
        self._streams = streams
        self._heads: dict[str, tuple[int, str]] = {}

    @property
    def whole(self) -> bool:
        """Whether nothing was passed by."""
        return not (self.unread or self.wrong or self.ends)

    def __iter__(self) -> Iterator[Entry]:
        """Read it.

        Raises:
            BookError: It cannot be read just now.
        """
        with only_book_errors(self._path), as_it_is(self._connection):
            for row in rows_after(self._connection, 0):
                if row is None:
                    self.unread += 1
                elif (self._streams is None or row[1] in self._streams) and self._is_sound(row):
                    yield entry_of(row)
            if not self.whole:
                self._look_for_ends()

    def _is_sound(self, row: Row) -> bool:
        """Whether a row can be read and, as far as it can be told, is as it was written."""
        if not can_be_read(row):
            self.wrong.append(f"entry {row[13]} of the book")
            return False
        stream, position = row[1], row[2]
        last, before = self._heads.get(stream, (0, ""))
        self._heads[stream] = max(last, position), row[12]
        if position != last + 1:  # what comes before it is missing: it may leave all the same
            self.ends[stream] = max(last, position)
            return True
        if is_as_written(row, before):
            return True
        self.wrong.append(f"{stream}, entry {position}")
        self.ends[stream] = position
        return False

    def _look_for_ends(self) -> None:
        for stream, position in ends_of_streams(self._connection).items():
            if (self._streams is None or stream in self._streams) and (
                    stream in self.ends or position != self._heads.get(stream, (0, ""))[0]):
                self.ends[stream] = position
