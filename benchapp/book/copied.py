"""A checked copy of a book, open or not, by a connection of its own; and where a book ends."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

from benchapp.book import backup, verify
from benchapp.book.beside import refuse_strange_log
from benchapp.book.connection import has_file
from benchapp.book.copies import open_copy
from benchapp.book.errors import BookDamaged, NoBook, only_book_errors
from benchapp.book.read import SELECT
from benchapp.book.reader import read_meta
from benchapp.book.schema import latest_step, version_of


@dataclass(frozen=True, slots=True)
class Ending:
    """Where a book's file ends.

    Attributes:
        origin: Its name.
        layout: The number of its layout.
        row: Its last row; 0: it has none.
        sha256: The digest of that row.
        size: How large it is, in bytes.
    """

    origin: str
    layout: int
    row: int = 0
    sha256: str = ""
    size: int = field(default=0, compare=False)

    @property
    def of_earlier_layout(self) -> bool:
        """Whether opening it to write changes its layout."""
        return self.layout < latest_step()


def ending_of(path: Path) -> Ending | None:
    """Where the book at `path` ends; None where there is none yet.

    Raises:
        BookError: It cannot be read.
    """
    refuse_strange_log(path)
    if not has_file(path):
        return None
    try:
        with only_book_errors(path), closing(open_copy(path)) as connection:
            row = connection.execute(f"{SELECT} ORDER BY sequence DESC LIMIT 1").fetchone()
            last = (int(row[13]), str(row[12])) if row else (0, "")
            pages, page = (int(connection.execute(f"PRAGMA {name}").fetchone()[0])
                           for name in ("page_count", "page_size"))
            return Ending(read_meta(connection, "origin") or "", version_of(connection), *last,
                          size=pages * page)
    except NoBook:
        return None


def copy_checked(path: Path, to: Path) -> None:
    """Copy the book at `path`, open or not, to the new file `to`, and read all of that again.

    Raises:
        BookDamaged: The copy is not sound; it is gone again.
        BookError: The book cannot be read, or the copy not written.
    """
    refuse_strange_log(path)
    with only_book_errors(path), closing(open_copy(path)) as source:
        backup.copy_book(source, to)
    try:
        with only_book_errors(to), closing(open_copy(to)) as made:
            _must_be_sound(made)
    except BaseException:
        to.unlink(missing_ok=True)
        raise


def _must_be_sound(made: sqlite3.Connection) -> None:
    if verify.find_problems(made):
        raise BookDamaged("The backup failed its check and was deleted. To check "
                          "the book: benchapp book check --full")
