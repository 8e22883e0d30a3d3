"""The studio's one file: what happened, appended and on disk before anyone moves on.

This room writes, reads, checks and copies entries; it knows their shape and nothing
of what they mean. Only the edges (command line, screens, papers) come in here.

The book's own class brings the rooms with it that an append keeps its indexes by. It is
imported when it is first asked for, so that a program that only catches errors begins without.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from benchapp.book.errors import (
    BookDamaged,
    BookDisk,
    BookError,
    BookForeign,
    BookLocked,
    BookNewer,
    NoBook,
    Unwritable,
)

if TYPE_CHECKING:
    from benchapp.book.read import SessionRow
    from benchapp.book.store import Book

__all__ = [
    "Book",
    "BookDamaged",
    "BookDisk",
    "BookError",
    "BookForeign",
    "BookLocked",
    "BookNewer",
    "NoBook",
    "SessionRow",
    "Unwritable",
]


def __getattr__(name: str) -> Any:
    if name == "Book":
        from benchapp.book.store import Book

        return Book
    if name == "SessionRow":
        from benchapp.book.read import SessionRow

        return SessionRow
    raise AttributeError(f"module {__name__} has no attribute {name}")
