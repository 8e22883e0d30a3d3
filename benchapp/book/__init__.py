"""The studio's one file: what happened, appended and on disk before anyone moves on.

This room writes, reads, checks and copies entries; it knows their shape and nothing
of what they mean. Only the edges (command line, screens, papers) come in here.
"""

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
