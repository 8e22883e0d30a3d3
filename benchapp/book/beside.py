"""A book and a log that do not fit: a log without its book, or a book without its log.

SQLite replays any log it finds beside a file. So the log is checked before the file is opened.
"""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path
from typing import Final

from benchapp.book.append import no_fault
from benchapp.book.errors import BookDamaged, disk_error
from benchapp.book.lock import is_free, is_opening, lock_file
from benchapp.book.reserve import Reserve

#: Where a SQLite file says which kind of journal it is written with, and what it says if that is
#: not a write-ahead log (sqlite.org, "Database File Format", 1.3.3).
_KIND_AT: Final = 18
_NO_LOG: Final = b"\1\1"


def log_of(path: Path) -> Path:
    """The write-ahead log of the book at `path`."""
    return path.with_name(path.name + "-wal")


def refuse_strange_log(path: Path) -> None:
    """Hold that the log beside `path`, if there is one, is that of the file.

    A file that is written with a log says so in its first bytes, before the log is made and until
    it is gone. These are read only while nobody writes: closing the file again lets go of the
    locks this process holds on it.

    Raises:
        BookDamaged: It is not; neither has been touched.
    """
    log = log_of(path)
    if not _size(log):
        return
    if not _size(path):
        raise BookDamaged(
            f"The book {path} is gone, but its log {log.name} is still there. Put the book back "
            "beside its log. If you can't, restore a backup: benchapp book restore FILE"
        )
    if not is_free(path):
        return
    try:
        with path.open("rb") as file:
            kind = file.read(_KIND_AT + len(_NO_LOG))[_KIND_AT:]
    except OSError as error:
        raise disk_error(error, path, "looking at the book") from error
    if kind == _NO_LOG:
        raise BookDamaged(
            f"The log {log} does not belong to the book {path}: another file was put in the "
            "book's place. Opened together they would spoil each other, so nothing was opened. "
            f"Give {path.name} another name, then: benchapp book restore THAT-NAME"
        )


def log_lies_there(path: Path) -> bool:
    """Whether there is a log beside `path`, or a program that writes would have made one by now."""
    log = log_of(path)
    # Unlike Path.exists() these say no where the system does not let us look.
    # A writer that was cut off while it opened the book had not come to its log.
    return (bool(_size(log)) or all(map(os.path.exists, (log, lock_file(path))))
            or is_opening(path))


def making_cut_off(path: Path) -> bool:
    """Whether a blank file at `path` may be all that a program made of a book before it was killed.

    It had the lock, and did not come to the reserve, which is there before the first entry is.
    """
    return lock_file(path).exists() and not Reserve(path, no_fault).path.exists()


def missing_log(path: Path, connection: sqlite3.Connection) -> str:
    """What to know of a file that was copied without its log; empty: it was not.

    Args:
        path: The file; `log_lies_there` said no before it was opened.
        connection: To it.
    """
    if connection.execute("PRAGMA journal_mode").fetchone() != ("wal",):
        return ""
    return (
        f"{path.name} may be a copy of a book that was open. Its log is not beside it, so what "
        "was written last may be missing. Copy an open book with: benchapp book backup FILE"
    )


def lost_text(path: Path, count: int) -> str:
    """What to know of a book that has fewer entries than were on disk."""
    what = "The last entry" if count == 1 else f"The last {count} entries"
    return (
        f"{what} written in {path.name} {'is' if count == 1 else 'are'} missing: the log "
        f"{log_of(path).name} was damaged, or an older book was put in the book's place. Read the "
        "last session back (benchapp review) and note again what is missing. The text mirror may "
        "have it: benchapp book rebuild --help"
    )


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return 0
