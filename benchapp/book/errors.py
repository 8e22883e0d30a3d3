"""What can be wrong with a book, said so that a printer knows what to do.

SQLite's own errors never leave the room: `only_book_errors` turns each into one of these.
"""

# The names say what the printer is told, so they do without the word Error.
# ruff: noqa: N818

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


class BookError(Exception):
    """Something is wrong with the book itself; the message is for the printer."""


class NoBook(BookError):
    """There is no book at this place."""


class BookForeign(BookError):
    """The file belongs to another program; it has not been touched."""


class BookNewer(BookError):
    """The book was written by a later version; it has not been touched."""


class BookDamaged(BookError):
    """The book, or a part of it, cannot be read as it should."""


class SessionUnreadable(BookError):
    """One session cannot be read; the rest of the book can."""


class BookLocked(BookError):
    """Another program is writing in the book."""


class BookDisk(BookError):
    """The disk, the folder or its rights do not let the book be used."""


class Unwritable(ValueError):
    """An entry that no book can hold; nothing of its action has been written."""


def code_of(error: sqlite3.Error) -> int:
    """The extended result code of SQLite, 0 where the error carries none."""
    return int(getattr(error, "sqlite_errorcode", 0) or 0)


def primary_code(error: sqlite3.Error) -> int:
    """The primary result code: the low byte of the extended one."""
    return code_of(error) & 0xFF


def is_full(error: sqlite3.Error) -> bool:
    """Whether more room on the disk might help.

    A quota or a size limit comes back as a write error, so that counts too.
    """
    return (primary_code(error) == sqlite3.SQLITE_FULL
            or code_of(error) == sqlite3.SQLITE_IOERR_WRITE)


def is_damage(error: sqlite3.Error) -> bool:
    """Whether the file can no longer be trusted through this connection.

    A failed fsync counts: the kernel may have dropped the pages it could not write
    and will report success next time, so nothing may be assumed of what lies there.
    """
    damaged = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CONSTRAINT)
    unsynced = (sqlite3.SQLITE_IOERR_FSYNC, sqlite3.SQLITE_IOERR_DIR_FSYNC)
    return primary_code(error) in damaged or code_of(error) in unsynced


def translate_error(error: sqlite3.Error, path: Path) -> BookError:
    """The printer's error for one of SQLite's, about the book at `path`."""
    code = primary_code(error)
    if code == sqlite3.SQLITE_NOTADB:
        return BookDamaged(
            f"{path} cannot be read as a book: it is a file of another kind, or its beginning is "
            "damaged. Nothing in it was changed. Name the right book with --book, or restore "
            "a backup: benchapp book restore FILE"
        )
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return BookLocked(
            f"The book {path} is in use by another program just now. Close that program, "
            "then do this again."
        )
    if code == sqlite3.SQLITE_FULL:
        return BookDisk(
            f"The disk is full, so the book {path} cannot be written. Free some space, "
            "then do this again."
        )
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_AUTH):
        return BookDisk(
            f"The book {path} may be read here but not written. Make the file and its folder "
            "writable, or use another book with --book."
        )
    if code in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_IOERR):
        return BookDisk(
            f"The disk does not let the book {path} be used ({error}). See that the disk is "
            "connected and the folder is yours, then do this again."
        )
    return BookDamaged(
        f"The book {path} is damaged ({error}). Leave the file as it is. List your backups: "
        "benchapp book restore. Then restore one: benchapp book restore FILE. It keeps the "
        "damaged one: much of it can often be read."
    )


def disk_error(error: OSError, path: Path, doing: str) -> BookDisk:
    """The printer's error for one of the system's, met while `doing` something at `path`."""
    why = error.strerror or type(error).__name__
    return BookDisk(
        f"{path}: {doing} did not work: {why[:1].lower() + why[1:]}. See that the disk has "
        "room and that you may write in the folder. Or use another book with --book."
    )


@contextmanager
def only_book_errors(path: Path) -> Iterator[None]:
    """Let only printer's errors about the book at `path` out of the block.

    Wrong use of a connection stays what it is, a programming error.
    """
    try:
        yield
    except sqlite3.ProgrammingError:
        raise
    except sqlite3.Error as error:
        raise translate_error(error, path) from error
