"""Books of every layout brought up to today's, and cut off: what the tests of migrations do."""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import subprocess
from collections.abc import Iterator
from contextlib import closing, suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

from benchapp.book import Book, BookError, schema
from benchapp.book.connection import connect_reading
from benchapp.book.schema import latest_step, version_of
from tests.book.test_corpus import differences, restored, said_now
from tests.faults.apart import ended, forked
from tests.faults.steps import Steps

#: After so few kills it is not asked again what every session and edition says.
FEW = 5
_PAGE = 4096
#: In bytes: so large is the disk that becomes full.
_DISK = 4 * 1024 * 1024


def layout_of(file: Path, folder: Path) -> int:
    """The number of the layout that a book of the corpus has."""
    restored(file, folder / "looked at")
    with closing(sqlite3.connect(folder / "looked at")) as book:
        number = version_of(book)
    (folder / "looked at").unlink()
    return number


class Old:
    """A book of an earlier version, and what is read in it once it has today's layout."""

    def __init__(self, folder: Path, file: Path, *, log: bool) -> None:
        """Make it; with a log beside it if its writer was cut off."""
        self.folder = folder / "old"
        self.folder.mkdir()
        path = self.folder / "studio.book"
        if log:
            self.then = _cut_off(file, path)
        else:
            self.then = restored(file, path)
        with Book.reading(path) as book:
            self.digests = [entry.sha256 for entry in book.entries()]
        self.migrated = self._migrated(folder)
        assert self.digests

    def _migrated(self, folder: Path) -> list[str]:
        path = self.fresh(folder)
        migrate(path)
        assert [*self.wrong_reading(path)] == []
        with closing(sqlite3.connect(path)) as book:
            assert version_of(book) == latest_step()
            dump = [*book.iterdump()]
        shutil.rmtree(path.parent)
        return dump

    def fresh(self, folder: Path) -> Path:
        """The old book once more, in a folder of its own."""
        now = folder / "now"
        shutil.copytree(self.folder, now)
        return now / "studio.book"

    def wrong_reading(self, path: Path) -> Iterator[str]:
        """What somebody who only reads would not find as it was."""
        try:
            with Book.reading(path) as book:
                yield from book.verify()
                if [entry.sha256 for entry in book.entries()] != self.digests:
                    yield "an entry is gone"
        except BookError as error:
            yield str(error)

    def wrong_migrated(self, path: Path, *, in_words: bool = False) -> Iterator[str]:
        """What is not as in the one that was not cut off, once it is opened to write again."""
        try:
            migrate(path)
        except BookError as error:
            yield str(error)
            return
        yield from self.wrong_reading(path)
        if not self.is_migrated(path):
            yield "its tables are not those of one that was not cut off"
        if in_words:
            yield from self._wrong_sayings(path)

    def is_migrated(self, path: Path) -> bool:
        """Whether its tables are those of one that was not cut off."""
        with closing(connect_reading(path)) as book:
            return [*book.iterdump()] == self.migrated

    def _wrong_sayings(self, path: Path) -> Iterator[str]:
        with Book.reading(path) as book:
            yield from differences({key: self.then[key] for key in (
                "sessions", "reviews", "editions")}, said_now(book, self.then))


def _cut_off(file: Path, path: Path) -> dict[str, Any]:
    """The same book as its writer left it when it was killed: all of it in the log."""
    written = path.with_name("written")
    with closing(sqlite3.connect(written)) as open_still:  # so that nothing leaves the log
        open_still.execute("PRAGMA journal_mode = wal").fetchone()
        open_still.execute("SELECT count(*) FROM sqlite_master").fetchone()
        then = restored(file, written)
        for side in ("", "-wal"):
            shutil.copy(written.with_name(written.name + side), path.with_name(path.name + side))
    written.unlink()
    assert path.with_name(path.name + "-wal").stat().st_size > path.stat().st_size
    return then


def migrate(path: Path) -> None:
    """Open a book to write, as any command does, and close it."""
    with Book.open(path, write=True, state=path.parent / "state", temp=path.parent / "temp"):
        pass


# -- killed ---------------------------------------------------------------------------------


def kill_at_steps(folder: str, file: str, log: bool, most: int | None) -> tuple[int, list[str]]:
    """Killed before each step of opening it, or before some; how often, what is wrong after.

    Whether all it says is what its own version said is asked in the first, the middle and the last.

    Args:
        folder: Where all of it lies.
        file: The book of the corpus.
        log: Whether its log lies beside it.
        most: So many steps, spread over all; None: every one.
    """
    old = Old(Path(folder), Path(file), log=log)
    last = _steps(old, Path(folder))
    wrong: list[str] = []
    steps = range(1, last + 1, 1 if most is None else max(1, last // most))
    many = len(steps)
    for step in steps:
        path = old.fresh(Path(folder))
        code = ended(forked(_killed, path, step))
        if code != -signal.SIGKILL:
            wrong.append(f"step {step}: ended with {code}")
        in_words = many > FEW and step in (steps[0], steps[many // 2], steps[-1])
        wrong += [f"step {step}: {x}" for x in (
            *old.wrong_reading(path), *old.wrong_migrated(path, in_words=in_words))]
        shutil.rmtree(path.parent)
    return many, wrong


def kill_weakened(folder: str, file: str) -> tuple[int, list[str]]:
    """`kill_at_steps`, each statement of a new layout a transaction of its own."""
    begin = schema._run

    def in_parts(connection: sqlite3.Connection, step: schema.Migration, origin: str) -> None:
        for statement in step.statements[:-1]:
            connection.execute(statement)
        begin(connection, replace(step, statements=step.statements[-1:]), origin)

    schema._run = in_parts
    return kill_at_steps(folder, file, False, None)


def _killed(path: Path, step: int) -> None:
    Steps(step, lambda: os.kill(os.getpid(), signal.SIGKILL))
    migrate(path)


def _steps(old: Old, folder: Path) -> int:
    """How many steps opening it takes."""
    path = old.fresh(folder)
    out, into = os.pipe()

    def work() -> None:
        steps = Steps(0, lambda: None)
        migrate(path)
        os.write(into, str(steps.count).encode())

    assert ended(forked(work)) == 0
    shutil.rmtree(path.parent)
    return int(os.read(out, 20))


# -- the disk full --------------------------------------------------------------------------


def fill_disk(folder: str, file: str, log: bool, only: list[int] | None) -> tuple[int, list[str]]:
    """A disk with so many pages of 4 KiB free while it is opened, from none until all has room.

    Args:
        folder: Where the small disk is mounted, for this process alone.
        file: The book of the corpus.
        log: Whether its log lies beside it.
        only: How many pages; None: every number there is.

    Returns:
        How many were tried, and what is wrong.
    """
    disk = Path(folder) / "disk"
    disk.mkdir()
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={_DISK}", "none", str(disk)], check=True)
    old = Old(Path(folder), Path(file), log=log)
    wrong: list[str] = []
    many = 0
    for pages in only or range(_DISK // _PAGE):
        many += 1
        path = old.fresh(disk)
        _leave(disk, pages)
        with suppress(BookError):
            migrate(path)
        has_room = old.is_migrated(path)
        wrong += [f"{pages} pages free, full still: {x}" for x in old.wrong_reading(path)]
        (disk / "other").unlink()
        wrong += [f"{pages} pages free: {x}" for x in (
            *old.wrong_reading(path), *old.wrong_migrated(path))]
        shutil.rmtree(path.parent)
        if has_room and only is None:
            break
    return many, wrong


def _leave(disk: Path, pages: int) -> None:
    """Fill the disk but for so many pages."""
    with (disk / "other").open("wb") as other:
        free = shutil.disk_usage(disk).free - pages * _PAGE
        os.posix_fallocate(other.fileno(), 0, free)
