"""What a process does to files, counted in steps, so that it can be killed before any of them.

A step is a statement that changes a database or asks for it, a file that is opened to be written,
named, removed or seen onto the disk.
"""

from __future__ import annotations

import itertools
import os
import sqlite3
import sys
from collections.abc import Callable
from typing import Any

_WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC
_EVENTS = {"os.rename", "os.link", "os.remove", "os.mkdir", "os.rmdir", "os.truncate",
           "os.symlink"}
_ASKS = ("SELECT", "--", "PRAGMA query", "PRAGMA busy", "EXPLAIN")
#: Pages that a copy of a book takes between two steps.
_PAGES = 16


class Steps:
    """The steps of this process from now on, of all its threads.

    Attributes:
        count: How many there were.
    """

    def __init__(self, wanted: int, at: Callable[[], object]) -> None:
        """Begin to count; `at` is called before the step numbered `wanted`, from 1."""
        self.count = 0
        self._next = itertools.count(1)
        self._wanted, self._at = wanted, at
        connect, fsync = sqlite3.connect, os.fsync

        def counted(descriptor: int) -> None:
            self.step()
            fsync(descriptor)

        steps = self

        class Stepped(sqlite3.Connection):
            """A connection that counts its statements, and the pages of a copy."""

            def __init__(self, *args: Any, **kwargs: Any) -> None:
                super().__init__(*args, **kwargs)
                self.set_trace_callback(steps._statement)

            def backup(self, target: sqlite3.Connection, **kwargs: Any) -> None:
                super().backup(target, **{"pages": _PAGES, "progress": steps.step, **kwargs})

        sqlite3.connect = (  # type: ignore[assignment]
            lambda *a, **k: connect(*a, **{"factory": Stepped, **k}))
        os.fsync = counted
        sys.addaudithook(self._event)

    def step(self, *_: object) -> None:
        """One more."""
        self.count = next(self._next)
        if self.count == self._wanted:
            self._at()

    def _statement(self, sql: str) -> None:
        if not sql.lstrip().startswith(_ASKS):
            self.step()

    def _event(self, name: str, arguments: tuple[Any, ...]) -> None:
        written = name == "open" and isinstance(arguments[2], int) and arguments[2] & _WRITES
        if written or name in _EVENTS:
            self.step()
