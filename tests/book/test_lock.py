"""One writer at a time, and readers beside it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from benchapp.book import Book, BookLocked, connection
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


def test_second_writer_in_one_program(path: Path) -> None:
    """A second writer is told where the first is; the first goes on undisturbed."""
    with writing(path) as book:
        with pytest.raises(BookLocked, match="open in another benchapp, and only one may write"):
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


def test_lock_of_the_dead(path: Path) -> None:
    """A writer that was killed holds nothing; its lock file stays and is used again."""
    child = _holder(path)
    child.kill()
    child.communicate()
    lock = path.with_name("book.db-lock")
    inode = lock.stat().st_ino
    writing(path).close()
    assert lock.stat().st_ino == inode


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
