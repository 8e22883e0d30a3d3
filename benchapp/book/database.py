"""The open file: one connection, replaced when it can no longer be trusted."""

from __future__ import annotations

import contextlib
import secrets
import sqlite3
from pathlib import Path
from typing import Final

from benchapp.book import beside, verify
from benchapp.book import connection as files
from benchapp.book import search_index as worded
from benchapp.book.append import Fault
from benchapp.book.errors import BookDamaged, BookError, is_full, only_book_errors
from benchapp.book.reserve import Reserve
from benchapp.book.schema import migrate

#: No vowels and nothing that is easily taken for another: origins are read aloud.
_LETTERS: Final = "23456789bcdfghjkmnpqrstvwxz"


def new_origin() -> str:
    """A name for a new book that no other has: 8 of 27 signs, one in 280 thousand million."""
    return "".join(secrets.choice(_LETTERS) for _ in range(8))


class Database:
    """The connection to the book at `path`.

    Attributes:
        notice: What the file system could not do as wished, for the printer; or empty.
        closed: Whether `close` was called.
    """

    def __init__(self, path: Path, connection: sqlite3.Connection, fault: Fault) -> None:
        self.path = path
        self.notice = ""
        self._connection: sqlite3.Connection | None = connection
        self.closed = False
        self._fault = fault
        self._only_read = False

    @classmethod
    def reading(cls, path: Path, fault: Fault, *, whole: bool = True) -> Database:
        """Open the existing book at `path` to read in.

        Args:
            path: The file.
            fault: See `Book.open`.
            whole: Whether a log that the file may need was there (`beside.log_lies_there`).

        Raises:
            BookError: It cannot be read.
        """
        with only_book_errors(path):
            connection = files.connect_reading(path)
            files.harden_connection(connection, path)
            database = cls(path, connection, fault)
            database.notice = "" if whole else beside.missing_log(path, connection)
            return database

    @classmethod
    def empty(cls, path: Path, fault: Fault, origin: str = "") -> Database:
        """A book in memory, for where there is none."""
        connection = sqlite3.connect(":memory:", isolation_level=None)
        migrate(connection, origin)
        worded.rebuild_index(connection)
        return cls(path, connection, fault)

    @classmethod
    def writing(
        cls, path: Path, reserve: Reserve, fault: Fault, *, whole: bool = True
    ) -> Database:
        """Open the file at `path` to write in; an empty one becomes a book.

        Args:
            path: The file.
            reserve: Let go of where the disk is full.
            fault: See `Book.open`.
            whole: See `reading`.

        Raises:
            BookError: It is no book, or cannot be written.
        """
        with only_book_errors(path):
            try:
                return cls._written(path, fault, whole=whole)
            except sqlite3.OperationalError as error:
                if not (is_full(error) and reserve.release()):
                    raise
                return cls._written(path, fault, whole=whole)

    @classmethod
    def _written(cls, path: Path, fault: Fault, *, whole: bool = True) -> Database:
        fault("open")
        connection = files.connect(path, "mode=rw")
        try:
            blank = files.is_blank(connection, path)
            database = cls(path, connection, fault)
            lost = "" if whole or blank else beside.missing_log(path, connection)
            database.notice = "\n".join(filter(None, (
                lost, files.make_durable(connection, path))))
            migrate(connection, new_origin())
            worded.rebuild_index(connection)
        except (sqlite3.Error, BookError):
            connection.close()
            raise
        return database

    @property
    def connection(self) -> sqlite3.Connection:
        """The connection.

        Raises:
            BookDamaged: The file could not be opened again after it failed.
            ValueError: It has been closed.
        """
        if self.closed:
            raise ValueError(f"the book {self.path} is closed")
        if self._connection is None:
            raise BookDamaged(
                f"The book {self.path} failed and cannot be opened again. Close benchapp; what "
                "happened meanwhile is kept beside it and goes into the book at the next start."
            )
        return self._connection

    def reopen(self) -> bool:
        """Open the file again after it failed; False: it is not sound, nothing more is written."""
        try:
            self._fault("reopen")
            # Looked at before the file is let go of: closing a connection that writes, writes.
            with contextlib.closing(files.connect_reading(self.path)) as looked_at:
                if verify.find_problems(looked_at, full=False):
                    return False
            if self._connection is not None:
                with contextlib.suppress(sqlite3.Error):
                    self._connection.close()
            self._connection = None
            self._connection = self._written(self.path, self._fault).connection
        except (sqlite3.Error, BookError):
            return False
        return True

    def has_log(self) -> bool:
        """Whether it is written with a log: else a long reader would keep writers waiting."""
        row = self.connection.execute("PRAGMA journal_mode").fetchone()
        return bool(row == ("wal",))

    def stop_writing(self) -> None:
        """Only read from now on: nothing more goes into the file, not even when it is closed.

        What its log holds stays there: while another connection has the file open, none that
        closes brings the log into it.
        """
        self._only_read = True
        writing, self._connection = self._connection, None
        try:
            self._connection = files.connect_reading(self.path)
            files.harden_connection(self._connection, self.path)
        except (sqlite3.Error, BookError):
            pass  # it is told when something is asked
        if writing is not None:
            with contextlib.suppress(sqlite3.Error):
                writing.close()

    def close(self, *, settle: bool) -> None:
        """Close the file; a writer settles it first. Closing twice is allowed."""
        self.closed = True
        connection, self._connection = self._connection, None
        if connection is None:
            return
        try:
            if settle and not self._only_read:
                files.settle_file(connection)
        except sqlite3.Error:
            # The log stays beside the book and is read with it: nothing is lost by that.
            return
        finally:
            connection.close()
