"""Copies of a book: which there are in a folder, and a look into one."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterable
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from benchapp.book.connection import connect_reading, harden_connection, is_blank
from benchapp.book.errors import BookError, NoBook, only_book_errors
from benchapp.book.placing import waiting_path
from benchapp.book.read import last_sequence, read_entries
from benchapp.book.schema import APPLICATION_ID
from benchapp.book.verify import find_problems
from benchapp.events.entry import Entry

#: Of a folder that holds copies so many files are looked at, the newest.
_MOST_COPIES: Final = 200
#: How every SQLite file begins, and where it says whose it is (sqlite.org, "Database File
#: Format", 1.3). Another program's is not opened: SQLite might leave files beside it.
_DATABASE: Final = b"SQLite format 3\0"
_WHOSE_AT: Final = 68
_OURS: Final = APPLICATION_ID.to_bytes(4, "big")


def open_copy(file: Path) -> sqlite3.Connection:
    """A connection that reads the copy `file`.

    Raises:
        NoBook: It is empty.
        BookForeign: It is another program's.
        BookNewer: A later version wrote it.
        sqlite3.Error: It cannot be read.
    """
    connection = connect_reading(file)
    try:
        harden_connection(connection, file)
        if is_blank(connection, file):
            raise NoBook(f"{file} is empty, so it is not a backup. Nothing was changed.")
    except (sqlite3.Error, BookError):
        connection.close()
        raise
    return connection


def books_in(folders: Iterable[Path], known: Collection[Path]) -> list[Path]:
    """The books in these folders, but for those `known`, which may be open here."""
    found: dict[Path, None] = {}
    for folder in folders:
        with suppress(OSError):
            newest = sorted(((x.stat().st_mtime, x) for x in folder.iterdir() if x.is_file()),
                            reverse=True)[:_MOST_COPIES]
            others = (x.resolve() for _, x in newest)
            found.update((x, None) for x in others if x not in known and _is_book(x))
    return list(found)


@dataclass(frozen=True, slots=True)
class FoundBackup:
    """A copy of a book that can be brought back, as far as a look at it tells.

    Attributes:
        file: The file.
        entries: How many entries it holds.
        last: The last of them.
        sound: Whether a quick check found nothing wrong with the file.
    """

    file: Path
    entries: int
    last: Entry
    sound: bool


def backups_near(path: Path, folders: Iterable[Path]) -> list[FoundBackup]:
    """The copies in the folder of the book at `path` and in `folders`, the newest first.

    Damaged ones come after all others.
    """
    found = []
    for file in books_in({path.parent, *folders}, (path.resolve(), waiting_path(path.resolve()))):
        with suppress(BookError), only_book_errors(file), closing(open_copy(file)) as copy:
            if last := read_entries(copy, None, last_sequence(copy) - 1):
                sound = not find_problems(copy, full=False)
                found.append(FoundBackup(file, last_sequence(copy), last[-1], sound))
    return sorted(found, key=lambda one: (one.sound, one.last.at.wall_ms), reverse=True)


def _is_book(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            head = file.read(_WHOSE_AT + len(_OURS))
    except OSError:
        return False
    return head.startswith(_DATABASE) and head[_WHOSE_AT:] == _OURS
