"""Drafts, moments and faults that the tests of the book share."""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Callable
from pathlib import Path

from benchapp.book import Book
from benchapp.events.entry import Draft, Moment
from benchapp.events.kinds import KINDS
from benchapp.events.streams import stream_family

DAY = "session/2026-05-03"


def moment(seconds: int = 0, *, boot: str = "boot-a", wall_ms: int = 1_777_800_000_000) -> Moment:
    """The clocks `seconds` after the first of the tests: 2026-05-03 09:20 UTC, in Berlin."""
    ns = seconds * 1_000_000_000
    return Moment(wall_ms + seconds * 1000, 120, 5_000_000_000 + ns, boot, 4_000_000_000 + ns)


def note(text: str, stream: str = DAY) -> Draft:
    """A note of the session."""
    return Draft(stream, "noted", {"impression": None, "text": text})


def draft(stream: str, kind: str, **said: object) -> Draft:
    """An entry of any kind: fields not said are null, as the registry has them."""
    fields = KINDS[stream_family(stream), kind].fields
    return Draft(stream, kind, {**dict.fromkeys(fields), **said})


def opened(name: str = "2026-05-03") -> Draft:
    """The opening of a session."""
    return draft(f"session/{name}", "opened", session=name, letters="A", print="Slack Water",
                 recipe_text="recipe: 1\n", wanted=10)


def closed(name: str = "2026-05-03") -> Draft:
    """The closing of a session."""
    return draft(f"session/{name}", "closed")


def taken_back(action: str, name: str = "2026-05-03") -> Draft:
    """An action of a session taken back."""
    return draft(f"session/{name}", "taken back", action=action)


def sheet_out(pack: int = 7) -> Draft:
    """A sheet taken out of a pack."""
    return draft(f"pack/{pack}", "sheet out", pack=pack, by="2026-05-03")


def sqlite_error(code: int, text: str = "out of order") -> sqlite3.OperationalError:
    """An error as SQLite raises it, with its extended result code."""
    error = sqlite3.OperationalError(text)
    error.sqlite_errorcode = code
    return error


def disk_full() -> sqlite3.OperationalError:
    """What SQLite raises when the disk is full."""
    return sqlite_error(sqlite3.SQLITE_FULL, "database or disk is full")


def no_space() -> OSError:
    """What the system raises when the disk is full."""
    return OSError(errno.ENOSPC, "No space left on device")


class Faults:
    """A world that fails where it is told to, so many times, and records where it was asked."""

    def __init__(self) -> None:
        self.seen: list[str] = []
        self._planned: dict[str, tuple[Callable[[], Exception], int]] = {}

    def plan(self, point: str, make: Callable[[], Exception], times: int = 1_000_000) -> None:
        """Raise at `point`, the next `times` times."""
        self._planned[point] = (make, times)

    def clear(self) -> None:
        """Everything works again."""
        self._planned.clear()

    def __call__(self, point: str) -> None:
        self.seen.append(point)
        make, times = self._planned.get(point, (disk_full, 0))
        if times > 0:
            self._planned[point] = (make, times - 1)
            raise make()


def writing(path: Path, faults: Faults | None = None) -> Book:
    """The book at `path` to write in, made if need be; its other places are beside it."""
    return Book.open(
        path, write=True, create=True, state=path.parent / "state", temp=path.parent / "temp",
        fault=faults or Faults(),
    )


def raw(path: Path) -> sqlite3.Connection:
    """A connection as any other program would make it."""
    return sqlite3.connect(path, isolation_level=None)
