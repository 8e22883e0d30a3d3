"""A book made anew from its entries: each with its digest and in its row."""

from __future__ import annotations

import secrets
import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path

from benchapp.book import search_index as worded
from benchapp.book import verify
from benchapp.book.append import INSERT, roll_back
from benchapp.book.backup import publish_copy, remove_with_sides
from benchapp.book.connection import connect, make_file, sync_folder
from benchapp.book.database import new_origin
from benchapp.book.errors import BookDamaged, BookDisk, disk_error, only_book_errors
from benchapp.book.read import entry_row
from benchapp.book.schema import migrate
from benchapp.events.entry import Entry


def make_anew(path: Path, origin: str | None, entries: Iterable[Entry]) -> str:
    """Write `entries`, in their order, into a new book; whole, checked, or not at all.

    Args:
        path: The new file.
        origin: Whose entries have their own numbers as rows; None: no book's, it gets a new name.
        entries: From the first on; one is in the row of its place.

    Returns:
        The name of the book.

    Raises:
        BookDisk: Something is at `path`, or the disk refuses.
        BookDamaged: What was written does not read as given.
    """
    path = path.expanduser().absolute()
    if path.exists() or path.is_symlink():
        raise BookDisk(f"{path} is there already, so nothing was written. Choose another name.")
    # Whoever is cut off half-way leaves no book of that name.
    part = path.with_name(f"{path.name}.{secrets.token_hex(4)}.part")
    name = origin or new_origin()
    try:
        make_file(part)
        try:
            with only_book_errors(path), closing(connect(part, "mode=rw")) as connection:
                _fill(connection, name, entries)
                _must_be_sound(connection)
            publish_copy(part, path)
            sync_folder(path.parent)
        finally:
            remove_with_sides(part)
    except OSError as error:
        raise disk_error(error, path, "writing the rebuilt book") from error
    return name


def _fill(connection: sqlite3.Connection, origin: str, entries: Iterable[Entry]) -> None:
    connection.execute("PRAGMA synchronous = EXTRA")
    migrate(connection, origin)
    worded.rebuild_index(connection)
    connection.execute("BEGIN IMMEDIATE")
    try:
        for row, entry in enumerate(entries, 1):
            connection.execute(INSERT, (*entry_row(entry)[:-1], row))
            worded.index_entries(connection, [(entry, row)])
        connection.execute("COMMIT")
    except BaseException:
        roll_back(connection)
        raise


def _must_be_sound(connection: sqlite3.Connection) -> None:
    if problems := verify.find_problems(connection):
        raise BookDamaged("\n".join((
            "The rebuilt book failed its check and was deleted.", *problems)))
