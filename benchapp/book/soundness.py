"""Is the book sound enough to be written in? Asked before it is, and beside the work.

Quickly, before anything is written: after a writer was cut off, and once a day. In full, each
entry against what was written: once a day beside the work, and before anything is written where
damage was found.
"""

from __future__ import annotations

import json
import sqlite3
import threading
from collections.abc import Sequence
from contextlib import closing, suppress
from dataclasses import asdict
from pathlib import Path
from typing import Final

from benchapp.book import verify
from benchapp.book.connection import connect_reading, harden_connection, is_blank
from benchapp.book.errors import BookDamaged, only_book_errors
from benchapp.book.lock import CUT_OFF, DAMAGED, WriterLock
from benchapp.events.entry import Moment, canonical_json
from benchapp.events.moments import local_time

#: Where the book keeps when it was last checked.
QUICK: Final = "checked"
FULL: Final = "checked in full"

#: How long a check beside the work waits first, seconds: the first view comes before, and a
#: command of a moment never begins one.
LATER_S: Final = 5.0
#: How long it rests between a hundred entries, seconds, so that no key waits for it.
_REST_S: Final = 0.005
#: How long whoever closes the book waits for it, seconds.
_END_S: Final = 2.0


def hold_sound(path: Path, lock: WriterLock, now: Moment | None) -> bool:
    """Check the book at `path` before it is written in, where that is due; it is only read.

    Args:
        path: The file; there is one.
        lock: The right to write in it.
        now: The clocks; None: it is not looked up whether a day has gone by.

    Returns:
        Whether it was checked.

    Raises:
        BookDamaged: It is not sound; the message says what to do.
        BookError: It cannot be read.
    """
    full = lock.left == DAMAGED
    with only_book_errors(path), closing(connect_reading(path)) as connection:
        harden_connection(connection, path)
        if is_blank(connection, path):
            return False
        due = full or lock.left == CUT_OFF or _has_log(path) or is_day_over(
            last_checked(connection, QUICK), now)
        problems = (verify.find_problems(connection, full=full) if due else
                    verify.layout_problems(connection))
    if problems:
        lock.mark_damaged()
        raise BookDamaged(damage_text(path, problems))
    if full:
        lock.mark_sound()
    return due


def damage_text(path: Path, problems: Sequence[str]) -> str:
    """That the book is damaged, and what to do."""
    more = f", and {len(problems) - 1} more" if len(problems) > 1 else ""
    return (
        f"The book {path} is damaged. It can be read, but nothing is written in it. First save "
        "what can be read: benchapp export --private --jsonl FILE. Then restore a backup: "
        "benchapp book restore FILE. It keeps the damaged file too. "
        f"What is wrong: {problems[0]}{more}"
    )


def emptied_text(path: Path) -> str:
    """That a file is empty that was a book: a reserve is made only beside one."""
    return (
        f"The book {path} is empty, but it was a book before. Nothing is written in it. "
        "Restore a backup: benchapp book restore FILE"
    )


def last_checked(connection: sqlite3.Connection, which: str) -> Moment | None:
    """When the book was last found sound; None: never, or it cannot be read.

    Raises:
        sqlite3.Error: The book cannot be read.
    """
    row = connection.execute("SELECT value FROM meta WHERE key = ?", (which,)).fetchone()
    with suppress(ValueError, TypeError):
        return Moment(**json.loads(row[0])) if row else None
    return None


def write_checked(connection: sqlite3.Connection, which: str, now: Moment) -> None:
    """Keep that the book was found sound now. A disk that refuses it is no error."""
    with suppress(sqlite3.Error):
        connection.execute("INSERT INTO meta VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET "
                           "value = excluded.value", (which, canonical_json(asdict(now))))


def is_day_over(last: Moment | None, now: Moment | None) -> bool:
    """Whether `now` is of another day than `last`, by the clock on the wall."""
    if now is None:
        return False
    return last is None or local_time(last).date() != local_time(now).date()


def _has_log(path: Path) -> bool:
    """Whether a writer was cut off that had no lock file to say so."""
    try:
        return path.with_name(path.name + "-wal").stat().st_size > 0
    except OSError:
        return False


class FullCheck:
    """The full check of a book that is open, in a thread and by a connection of its own."""

    def __init__(self, path: Path, later_s: float) -> None:
        """Begin it after `later_s` seconds; whoever closes the book ends it first."""
        self._path = path
        self._later_s = later_s
        self._stop = threading.Event()
        self._connection: sqlite3.Connection | None = None
        self._problems: list[str] | None = None
        self._ended = False
        self._thread = threading.Thread(target=self._work, name="check", daemon=True)
        self._thread.start()

    @property
    def ended(self) -> bool:
        """Whether it has ended, whatever came of it."""
        return self._ended

    @property
    def problems(self) -> list[str] | None:
        """What it found; None: it has found nothing out."""
        return self._problems if self._ended else None

    def stop(self) -> None:
        """End it, so that the book can be put to rest."""
        self._stop.set()
        with suppress(sqlite3.Error, AttributeError):
            if self._connection is not None:
                self._connection.interrupt()
        self._thread.join(_END_S)

    def _work(self) -> None:
        try:
            if not self._stop.wait(self._later_s):
                self._problems = self._found()
        except (sqlite3.Error, _Stopped):
            self._problems = None  # it could not be looked at: that says nothing about it
        finally:
            self._ended = True

    def _found(self) -> list[str]:
        with closing(connect_reading(self._path)) as connection:
            self._connection = connection
            harden_connection(connection, self._path)
            try:
                return verify.find_problems(connection, full=True, pause=self._rest)
            finally:
                self._connection = None

    def _rest(self) -> None:
        if self._stop.wait(_REST_S):
            raise _Stopped


class _Stopped(Exception):  # noqa: N818 - no error
    """The check was ended."""
