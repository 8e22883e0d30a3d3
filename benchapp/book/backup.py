"""A copy of the book that is a book: whole, checked, and never over another file."""

from __future__ import annotations

import os
import secrets
import sqlite3
from pathlib import Path

from benchapp.book.connection import sync_folder
from benchapp.book.errors import BookDamaged, BookDisk, disk_error, only_book_errors
from benchapp.book.placing import SIDES


def copy_book(source: sqlite3.Connection, to: Path) -> None:
    """Copy the book behind `source`, also while it is written in, to the new file `to`.

    Raises:
        BookDisk: `to` exists already, or cannot be written.
        BookDamaged: The copy failed its check.
    """
    if to.exists() or to.is_symlink():
        raise BookDisk(f"{to} is there already, so nothing was written. Choose another name.")
    part = to.with_name(f"{to.name}.{secrets.token_hex(4)}.part")
    try:
        to.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        os.close(os.open(part, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
        try:
            with only_book_errors(part):
                _fill(source, part)
            _sync(part)
            publish_copy(part, to)
        finally:
            remove_with_sides(part)
        sync_folder(to.parent)
    except OSError as error:
        raise disk_error(error, to, "writing the copy of the book") from error


def _fill(source: sqlite3.Connection, part: Path) -> None:
    target = sqlite3.connect(part, isolation_level=None)
    try:
        source.backup(target)
        # The copy is one file: it takes the kind of journal along that the live book has.
        target.execute("PRAGMA journal_mode = delete").fetchone()
        if target.execute("PRAGMA integrity_check(1)").fetchone() != ("ok",):
            raise BookDamaged(
                "The copy failed its check and was deleted: the book itself may be damaged. "
                "To find out: benchapp book check --full"
            )
    finally:
        target.close()


def remove_with_sides(part: Path) -> None:
    """Remove a file that is not wanted any more, and what SQLite keeps beside it.

    Raises:
        OSError: The system refuses.
    """
    for side in SIDES:
        part.with_name(part.name + side).unlink(missing_ok=True)


def _sync(part: Path) -> None:
    descriptor = os.open(part, os.O_RDWR)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def publish_copy(part: Path, to: Path) -> None:
    """Give the finished copy its name, unless the name has been taken meanwhile.

    Raises:
        OSError: It has, or the system refuses.
    """
    try:
        os.link(part, to)
    except FileExistsError:
        raise
    except OSError:
        # Some disks have no links: there the name is taken first, then given its content.
        os.close(os.open(to, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
        part.replace(to)
