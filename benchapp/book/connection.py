"""Opening the file: whose it is, and that what is written there stays written.

The live file is only ever touched through SQLite. Opening it any other way and
closing it again would drop SQLite's own locks in this process.
"""

from __future__ import annotations

import os
import sqlite3
import stat
import sys
from contextlib import suppress
from pathlib import Path
from typing import Final

from benchapp.book.beside import log_lies_there, making_cut_off, missing_log
from benchapp.book.errors import (
    BookDamaged,
    BookDisk,
    BookForeign,
    BookNewer,
    disk_error,
    only_book_errors,
    primary_code,
)
from benchapp.book.schema import APPLICATION_ID, latest_step, version_of

#: How long an opening waits for another program, which may be looking through the whole book.
OPENING_PATIENCE_MS: Final = 3000

#: How long a writer waits later: the bench stands still for it.
BENCH_PATIENCE_MS: Final = 500

_EXTRA: Final = 3
_FULL: Final = 2


def connect(path: Path, how: str, vfs: str | None = None) -> sqlite3.Connection:
    """A connection to the existing file at `path`.

    Args:
        path: The file.
        how: Options of SQLite's file names, e.g. `mode=ro`.
        vfs: Another of SQLite's file layers than the usual.

    Raises:
        sqlite3.Error: The file cannot be opened.
    """
    uri = f"{path.absolute().as_uri()}?{how}" + (f"&vfs={vfs}" if vfs else "")
    return sqlite3.connect(uri, uri=True, isolation_level=None, timeout=OPENING_PATIENCE_MS / 1000)


def connect_reading(path: Path) -> sqlite3.Connection:
    """A connection that only reads, also of a book whose writer was cut off.

    Raises:
        sqlite3.Error: The file cannot be read.
    """
    try:
        return _tried(path, "mode=ro")
    except sqlite3.OperationalError as error:
        if primary_code(error) == sqlite3.SQLITE_READONLY:
            # A change was cut off half-way: only a connection that may write can undo it.
            return _tried(path, "mode=rw")
        log = path.with_name(path.name + "-wal")
        if primary_code(error) == sqlite3.SQLITE_CANTOPEN and not log.exists():
            # A folder nobody may write in, as on a read-only disk: nothing there can change.
            return _tried(path, "mode=ro&immutable=1")
        if primary_code(error) == sqlite3.SQLITE_IOERR:
            # No room for the index of the log, as on a full disk: it can be kept in memory, if
            # nobody else has the file open meanwhile.
            with suppress(sqlite3.Error):
                return _tried(path, "mode=rw", alone=True)
        raise


def _tried(path: Path, how: str, *, alone: bool = False) -> sqlite3.Connection:
    connection = connect(path, how)
    try:
        if alone:
            connection.execute("PRAGMA locking_mode = exclusive").fetchone()
        connection.execute("PRAGMA query_only = 1")
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except sqlite3.Error:
        connection.close()
        raise
    except UnicodeDecodeError as error:
        # SQLite quotes a damaged layout in its message, and that is no text.
        connection.close()
        raise sqlite3.DatabaseError("malformed database schema") from error
    return connection


def has_file(path: Path) -> bool:
    """Whether there is a file at `path` that might be a book.

    Raises:
        BookForeign: There is something there that is no file.
        BookDisk: The system does not let us look.
    """
    try:
        mode = path.stat().st_mode
    except FileNotFoundError:
        return False
    except NotADirectoryError as error:
        raise BookDisk(
            f"There can be no book at {path}: one of these names is a file, not a folder. Move "
            "that file, or name another folder with BENCHAPP_HOME or another book with --book."
        ) from error
    except OSError as error:
        raise disk_error(error, path, "looking for the book") from error
    if not stat.S_ISREG(mode):
        what = "a folder" if stat.S_ISDIR(mode) else "not an ordinary file"
        raise BookForeign(f"{path} is {what}, so it cannot be a book. Name a file with --book.")
    return True


def is_blank(connection: sqlite3.Connection, path: Path) -> bool:
    """Whether the file is empty still; False: it is a book this program can read.

    A start that was cut off leaves a blank file, and the next start makes it a book.

    Raises:
        BookForeign: Another program's SQLite file.
        BookNewer: A book of a later version.
        sqlite3.Error: It is no SQLite file, or damaged.
    """
    owner = int(connection.execute("PRAGMA application_id").fetchone()[0])
    version = version_of(connection)
    empty = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0] == 0
    if empty and owner == 0 and version == 0:
        return True
    if owner != APPLICATION_ID:
        raise BookForeign(
            f"{path} belongs to another program and is not a book of benchapp. It has not been "
            "touched. Name the right book with --book."
        )
    if version > latest_step():
        raise BookNewer(
            f"{path} was written by a later benchapp (layout {version}; this one knows "
            f"{latest_step()}). It has not been touched. Use the later version to open it."
        )
    return False


def inspect_file(path: Path) -> bool:
    """Look at an existing file without changing anything in it: `is_blank`, told to a printer.

    Raises:
        BookDamaged: It is blank because all it held is in a log that is not there.
        BookError: It cannot be read as a book.
    """
    with only_book_errors(path):
        whole = log_lies_there(path)
        connection = connect_reading(path)
        try:
            blank = is_blank(connection, path)
            if blank and not (whole or making_cut_off(path)) and (
                    why := missing_log(path, connection)):
                raise BookDamaged(why)
            return blank
        finally:
            connection.close()


def make_durable(connection: sqlite3.Connection, path: Path) -> str:
    """Ask for commits that outlive a power cut, and read back that they are had.

    Returns:
        A sentence for the printer if the file system allows no write-ahead log, else "".

    Raises:
        BookDisk: SQLite did not take a setting that the book depends on.
        sqlite3.Error: The file cannot be written.
    """
    # Changing the journal is itself a transaction with the older kind of journal, whose removal
    # only EXTRA makes certain.
    _set(connection, path, "synchronous", _EXTRA)
    notice = ""
    if _answer(connection, "journal_mode", "wal") != "wal":
        if _answer(connection, "journal_mode", "truncate") != "truncate":
            raise BookDisk(_not_taken(path, "journal_mode"))
        notice = (
            f"This disk does not support a write-ahead log, so writing to {path.name} is slower. "
            "Everything is just as safe; a local disk is faster."
        )
    _set(connection, path, "synchronous", _FULL)
    if sys.platform == "darwin":
        # There fsync alone leaves data in the drive's cache.
        _set(connection, path, "fullfsync", 1)
        _set(connection, path, "checkpoint_fullfsync", 1)
    _set(connection, path, "recursive_triggers", 1)
    _set(connection, path, "busy_timeout", BENCH_PATIENCE_MS)
    harden_connection(connection, path)
    return notice


def harden_connection(connection: sqlite3.Connection, path: Path) -> None:
    """Trust nothing that a strange or damaged file may carry in its layout."""
    _set(connection, path, "trusted_schema", 0)
    _set(connection, path, "cell_size_check", 1)


def settle_file(connection: sqlite3.Connection) -> None:
    """Bring everything into the one file, so that it alone is the book at rest.

    The write-ahead log is switched off as well: a reader of a file left in that mode
    makes two files beside it and, not being allowed to write, leaves them there. When
    a reader has the book open that is not possible, and the next writer does it.
    """
    connection.execute("PRAGMA busy_timeout = 0")
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    connection.execute(f"PRAGMA synchronous = {_EXTRA}")
    try:
        connection.execute("PRAGMA journal_mode = delete").fetchone()
    except sqlite3.OperationalError:
        return


def make_file(path: Path) -> None:
    """Make an empty file for a new book, and its folder, both for this person alone.

    Raises:
        BookDisk: The folder or the file cannot be made.
    """
    try:
        make_book_folder(path.parent)
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
        sync_folder(path.parent)
    except FileExistsError as error:
        if not path.is_file():
            raise disk_error(error, path, "making the book") from error
    except OSError as error:
        raise disk_error(error, path, "making the book") from error


def make_book_folder(folder: Path) -> None:
    """Make the folder of a book, for this person alone, if it is not there.

    Raises:
        OSError: It cannot be made.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)


def sync_folder(folder: Path) -> None:
    """Make a new name in `folder` outlive a power cut, where the system has a way to."""
    if sys.platform == "win32":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _answer(connection: sqlite3.Connection, name: str, value: str | int) -> object:
    row = connection.execute(f"PRAGMA {name} = {value}").fetchone()
    return row[0] if row else None


def _set(connection: sqlite3.Connection, path: Path, name: str, value: int) -> None:
    connection.execute(f"PRAGMA {name} = {value:d}")
    if connection.execute(f"PRAGMA {name}").fetchone() != (value,):
        raise BookDisk(_not_taken(path, name))


def _not_taken(path: Path, name: str) -> str:
    return (
        f"The book {path} cannot be opened safely: SQLite {sqlite3.sqlite_version} did not take "
        f"the setting {name}. Put the book on a local disk, or use another Python."
    )
