"""When copies are made: beside what one does, never before a tread is answered.

A thread with its own way into the book writes the text mirror when a session has closed, or when
nothing was written for a while; after a session it makes a backup too.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from benchapp import files
from benchapp.book import Book, BookError
from benchapp.clock import Clock
from benchapp.copies.backups import back_up
from benchapp.copies.mirrors import write_mirrors
from benchapp.events.streams import stream_family
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService

#: The book idles when so long nothing was written.
IDLE_S: Final = 60.0
#: So long leaving a program may wait for a backup: there may be no other.
BACKUP_S: Final = 30.0


class CopyMaker:
    """Makes copies of the book at `path` in a thread of its own.

    Attributes:
        problem: Why there is no backup after the last session; empty: there is, or none is due.
    """

    def __init__(self, path: Path, clock: Clock, idle_s: float = IDLE_S) -> None:
        """Begin; nothing is made before something happens.

        Args:
            path: The book.
            clock: What a backup is dated by.
            idle_s: How long nothing must have been written before the mirror is.
        """
        self.problem = ""
        self._path = path
        self._clock = clock
        self._idle_s = idle_s
        self._news = threading.Condition()
        self._written = self._closed = self._leaving = False
        self._thread = threading.Thread(target=self._work, name="copies", daemon=True)
        self._thread.start()

    def hear(self, outcome: Outcome) -> None:
        """An action left entries."""
        with self._news:
            self._written = True
            self._closed |= any(e.kind == "closed" and stream_family(e.stream) == "session"
                                for e in outcome.entries)
            self._news.notify()

    def leave(self, patience_s: float = BACKUP_S) -> None:
        """Have what was begun come to its end, as far as `patience_s` lets it."""
        with self._news:
            self._leaving = True
            self._news.notify()
        self._thread.join(patience_s)

    def _work(self) -> None:
        while True:
            closed = self._wait()
            if closed is None:
                return
            with suppress(BookError, files.FileProblem), Book.open(self._path, write=False) as book:
                write_mirrors(book, files.mirrors_folder(self._path), self._may_go_on)
            if closed:
                self.problem = back_up(self._path, self._clock.now())

    def _may_go_on(self) -> bool:
        return not self._leaving

    def _wait(self) -> bool | None:
        """Wait until something is to be done: whether a session closed; None: nothing any more."""
        with self._news:
            while not (self._closed or self._leaving):
                # What is written now begins the wait anew.
                if not self._news.wait(self._idle_s if self._written else None) and self._written:
                    break
            closed, self._closed, self._written = self._closed, False, False
            return closed if closed or not self._leaving else None


@contextmanager
def copies_beside(workshop: SessionService, path: Path) -> Iterator[CopyMaker]:
    """Make copies of the book at `path` while its workshop is at work."""
    beside = CopyMaker(path, workshop.clock)
    workshop.listen(beside.hear)
    try:
        yield beside
    except BaseException:
        beside.leave(0)
        raise
    beside.leave()
