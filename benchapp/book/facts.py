"""What the file of a book and its disk say of themselves, for a report: no texts, no names."""

from __future__ import annotations

import os
import secrets
import sqlite3
from collections.abc import Iterable
from contextlib import closing, suppress
from pathlib import Path
from typing import Final

from benchapp.book.beside import refuse_strange_log
from benchapp.book.connection import connect, make_durable
from benchapp.book.copies import open_copy
from benchapp.book.errors import BookError, only_book_errors

#: What is read of the file, and what a connection that writes sets.
_OF_THE_FILE: Final = ("journal_mode", "page_size", "page_count", "freelist_count", "encoding",
                       "auto_vacuum", "user_version", "application_id")
_OF_A_WRITER: Final = ("journal_mode", "synchronous", "fullfsync", "checkpoint_fullfsync",
                       "busy_timeout", "wal_autocheckpoint", "recursive_triggers",
                       "trusted_schema", "cell_size_check", "locking_mode", "mmap_size")
Pragmas = dict[str, str | int]


def sqlite_version() -> str:
    """The version of the SQLite library in use."""
    return sqlite3.sqlite_version


def pragmas_of(path: Path) -> Pragmas:
    """The settings of the book at `path` as they are read back.

    Raises:
        BookError: It cannot be read.
    """
    refuse_strange_log(path)
    with only_book_errors(path), closing(open_copy(path)) as connection:
        return _read(connection, _OF_THE_FILE)


def streams_by_family(path: Path) -> dict[str, int]:
    """How many streams of each family the book at `path` has.

    Raises:
        BookError: It cannot be read.
    """
    with only_book_errors(path), closing(open_copy(path)) as connection:
        return dict(connection.execute(
            "SELECT substr(stream, 1, instr(stream, '/') - 1), count(DISTINCT stream) "
            "FROM entries GROUP BY 1 ORDER BY 1"))


def pragmas_here(folder: Path) -> Pragmas | str:
    """The settings a writer gets on the disk of `folder`, by a file that is gone again.

    Returns:
        The settings as they are read back; or why there is no such file, in a few words.
    """
    path = folder / f".{secrets.token_hex(8)}.part"
    try:
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    except OSError as error:
        return f"cannot be tried: {error.strerror}"
    try:
        with closing(connect(path, "mode=rw")) as connection:
            make_durable(connection, path)
            connection.execute("CREATE TABLE tried (x)")
            return _read(connection, _OF_A_WRITER)
    except (sqlite3.Error, BookError):
        return "cannot be tried: SQLite refuses this disk"
    finally:
        for end in ("", "-wal", "-shm", "-journal"):
            with suppress(OSError):
                path.with_name(path.name + end).unlink(missing_ok=True)


def _read(connection: sqlite3.Connection, names: Iterable[str]) -> Pragmas:
    found: Pragmas = {}
    for name in names:
        # A setting that this SQLite does not know answers with no row.
        if (row := connection.execute(f"PRAGMA {name}").fetchone()) is not None:
            found[name] = row[0]
    return found
