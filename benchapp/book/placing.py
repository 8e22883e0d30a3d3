"""A restored book takes its place, and the one before goes aside with all its side files.

The new book waits beside the place, whole and checked, under a name of its own. From then on the
move can be cut off anywhere: whoever opens the book to write finishes it first, and whoever only
reads reads the book that waits. An old log is never left beside a new book: SQLite would replay
it over it.
"""

from __future__ import annotations

import json
import os
import sqlite3
from pathlib import Path
from typing import Final

from benchapp.book.append import Fault, no_fault
from benchapp.book.connection import connect, sync_folder
from benchapp.book.errors import disk_error, only_book_errors
from benchapp.book.spill import hand_over, places_of, stem_of
from benchapp.events.entry import canonical_json

#: The file itself, and what SQLite keeps beside it.
SIDES: Final = ("", "-wal", "-journal", "-shm")
_KEY: Final = "restored"


def waiting_path(path: Path) -> Path:
    """Where the new book of the place `path` waits."""
    return path.with_name(path.name + "-restoring")


def is_waiting(path: Path) -> bool:
    """Whether a restore was cut off, or goes on just now."""
    return os.path.lexists(waiting_path(path))


def write_move(connection: sqlite3.Connection, aside: str, origin: str) -> None:
    """Tell a book that will wait how the one before is put aside.

    Args:
        connection: To the book that will wait.
        aside: The name of the one before.
        origin: Whose waiting entries go with it; empty: they belong to the new book too.
    """
    text = canonical_json({"aside": aside, "origin": origin})
    connection.execute("INSERT OR REPLACE INTO meta VALUES (?, ?)", (_KEY, text))


def finish_placing(path: Path, state: Path | None, temp: Path | None,
                   fault: Fault = no_fault) -> Path:
    """Put the book that waits in its place; the writer's lock must be held.

    Args:
        path: The place.
        state: See `Book.open`; entries kept there for the old book go with it.
        temp: The same.
        fault: Called with the name of each point where the world may fail.

    Returns:
        Where the old book is now.

    Raises:
        BookDamaged: The book that waits cannot be read.
        BookDisk: A file cannot be moved.
    """
    new = waiting_path(path)
    aside, origin = _move_of(new)
    old = path.with_name(aside)
    try:
        if origin:
            hand_over(stem_of(origin), places_of(path, state, temp),
                      places_of(old, state, temp))
        for side in SIDES:
            fault(f"move{side}")
            _move(path.with_name(path.name + side), old.with_name(old.name + side))
        sync_folder(path.parent)
        fault("place")
        new.replace(path)
        fault("placed")
        sync_folder(path.parent)
    except OSError as error:
        raise disk_error(error, path, "putting the backup in its place") from error
    return old


def _move_of(new: Path) -> tuple[str, str]:
    with only_book_errors(new):
        connection = connect(new, "mode=ro")
        try:
            row = connection.execute("SELECT value FROM meta WHERE key = ?", (_KEY,)).fetchone()
        finally:
            connection.close()
    said = json.loads(row[0]) if row else {}
    return str(said["aside"]), str(said["origin"])


def _move(one: Path, to: Path) -> None:
    """Move a file that may not be there, over none."""
    if not os.path.lexists(one):
        return
    while os.path.lexists(to):
        to = to.with_name(to.name + "~")
    one.rename(to)


def free_aside(path: Path, stamp: str) -> str:
    """The name under which the book at `path` goes aside; no file has it, or one like it."""
    stem, count = f"{path.name}-before-{stamp}", 1
    while any(os.path.lexists(path.with_name(stem + side)) for side in SIDES):
        count += 1
        stem = f"{path.name}-before-{stamp}-{count}"
    return stem

