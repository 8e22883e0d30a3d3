"""One writer at a time, and readers beside it."""

from __future__ import annotations

import errno
import os
import platform
import re
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import pytest

from benchapp.book import Book, BookLocked, connection, lock
from benchapp.book.errors import BookDisk
from tests.book.samples import moment, note, raw, writing

_HOLDS = """
import sys
from pathlib import Path
from benchapp.book import Book
book = Book.open(Path(sys.argv[1]), write=True, create=True)
print("held", flush=True)
sys.stdin.read()
"""


def _holder(path: Path) -> subprocess.Popen[bytes]:
    child = subprocess.Popen([sys.executable, "-c", _HOLDS, str(path)], stdin=subprocess.PIPE,
                             stdout=subprocess.PIPE)
    assert child.stdout is not None
    assert child.stdout.readline() == b"held\n"
    return child


@pytest.mark.skipif(sys.platform == "win32", reason="links need a right there")
def test_a_link_in_the_place_of_the_lock_is_not_followed(path: Path, tmp_path: Path) -> None:
    """What it points to would be emptied when the book is closed."""
    victim = tmp_path / "victim"
    victim.write_text("mine", encoding="utf-8")
    path.parent.mkdir(parents=True, exist_ok=True)
    lock.lock_file(path).symlink_to(victim)
    with pytest.raises(BookDisk, match="is a link"):
        writing(path)
    assert victim.read_text(encoding="utf-8") == "mine"


def test_second_writer_in_one_program(path: Path) -> None:
    """A second writer is told where the first is; the first goes on undisturbed."""
    with writing(path) as book:
        with pytest.raises(BookLocked, match=r"open in another benchapp \(.*\), and only one"):
            writing(path)
        book.append([note("a")], moment(), "note")
    with writing(path) as book:
        assert book.last_sequence() == 1


def test_second_writer_in_another_program(path: Path) -> None:
    """The lock holds between programs, and readers may come in."""
    child = _holder(path)
    try:
        with pytest.raises(BookLocked):
            writing(path)
        with Book.reading(path) as book:
            assert book.entries() == ()
    finally:
        child.communicate(b"")
    writing(path).close()


def test_the_message_names_who_holds_the_book_and_since_when(path: Path) -> None:
    """The process and the machine, and the time on the wall when the book was opened."""
    child = _holder(path)
    try:
        os.utime(path.with_name("book.db-lock"), (0, 1_000_000))
        since = datetime.fromtimestamp(1_000_000).astimezone()
        with pytest.raises(BookLocked, match=re.escape(
                f" (process {child.pid} on {platform.node()}, since {since:%d %b %H:%M}),")):
            writing(path)
    finally:
        child.communicate(b"")


def test_a_program_that_only_looks_hinders_no_writer(
        path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It has the lock for an instant; a writer who comes just then tries again."""
    writing(path).close()
    real, refused = lock._take, [BlockingIOError(errno.EAGAIN, "busy")] * 2

    def take(descriptor: int) -> None:
        if refused:
            raise refused.pop()
        real(descriptor)

    monkeypatch.setattr(lock, "_take", take)
    writing(path).close()
    assert refused == []


@pytest.mark.parametrize("call", ["lockf", "flock"])
def test_a_disk_that_keeps_no_locks_is_refused_at_once_with_what_to_do(
        path: Path, monkeypatch: pytest.MonkeyPatch, call: str) -> None:
    """SQLite would try for half a minute; nothing is written."""
    def no_locks(*_: object) -> None:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(lock.fcntl, call, no_locks)
    with pytest.raises(BookDisk, match=r"without file locks .* Move the book to a disk"):
        writing(path)
    assert path.stat().st_size == 0
    monkeypatch.undo()
    writing(path).close()


def test_lock_of_the_dead(path: Path) -> None:
    """A writer that was killed holds nothing; its lock file stays and is used again."""
    child = _holder(path)
    child.kill()
    child.communicate()
    file = path.with_name("book.db-lock")
    inode = file.stat().st_ino
    writing(path).close()
    assert file.stat().st_ino == inode


def test_one_lock_by_whatever_way_it_is_reached(path: Path) -> None:
    """A link to the book leads to the same lock."""
    with writing(path):
        link = path.parent.parent / "link.db"
        link.symlink_to(path)
        with pytest.raises(BookLocked):
            writing(link)


def test_lock_is_let_go_when_opening_fails(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An opening that fails leaves the lock free."""
    monkeypatch.setattr(connection, "OPENING_PATIENCE_MS", 10)
    writing(path).close()
    file = raw(path)
    file.execute("BEGIN EXCLUSIVE")
    with pytest.raises(BookLocked, match="in use by another program"):
        writing(path)
    file.execute("ROLLBACK")
    file.close()
    writing(path).close()


def test_closing_twice(path: Path) -> None:
    """A second close does nothing, also when another writes meanwhile."""
    book = writing(path)
    book.close()
    with writing(path) as other:
        book.close()
        other.append([note("a")], moment(), "note")
        with pytest.raises(BookLocked):
            writing(path)
