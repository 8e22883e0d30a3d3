"""What a writer that was cut off leaves: a log not begun yet, or one that was damaged since."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.book.beside import log_of
from benchapp.book.lock import lock_file
from benchapp.book.restore import prepare_restore
from tests.book.samples import moment, opened, writing

_KILLED = """
import os, sys
from pathlib import Path
from benchapp.book import Book, database
from tests.book.samples import moment, note, opened
path, when, notes = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
if when == "before its log":
    database.migrate = lambda *_: os._exit(9)
book = Book.open(path, write=True, create=True)
if when == "opened":
    os._exit(9)
if not book.last_sequence():
    book.append([opened()], moment(), "open")
for n in range(notes):
    book.append([note(f"note {n}")], moment(n), "note")
os._exit(9)
"""


def killed(path: Path, when: str, notes: int = 0) -> None:
    """A program that wrote in the book, killed then."""
    done = subprocess.run([sys.executable, "-c", _KILLED, str(path), when, str(notes)],
                          cwd=Path(__file__).parents[2], timeout=60, check=False)
    assert done.returncode == 9


@pytest.mark.parametrize("write", [False, True])
def test_a_book_opened_and_killed_before_its_log_is_no_copy(path: Path, write: bool) -> None:
    """The file says that it has a log, and none is there: nothing was lost, and nothing is said."""
    writing(path).close()
    killed(path, "before its log")
    log_of(path).unlink(missing_ok=True)
    assert path.read_bytes()[18] == 2  # written with a log (sqlite.org, file format, 1.3.3)
    with Book.open(path, write=write) as book:
        assert book.notice == ""


def test_a_new_book_killed_before_its_log_is_begun_again(path: Path) -> None:
    """The first start of all, cut off at the same point."""
    path.parent.mkdir()
    killed(path, "before its log")
    log_of(path).unlink(missing_ok=True)
    with Book.open(path, write=True, create=True) as book:
        book.append([opened()], moment(), "open")
        assert book.notice == ""


def test_the_file_alone_of_a_book_at_work_is_still_told(path: Path) -> None:
    """Once the log was there, a file without it may lack what was written last."""
    killed(path, "at work", 3)
    log_of(path).unlink()
    path.with_name(path.name + "-shm").unlink()
    assert "opening" not in lock_file(path).read_text()
    with pytest.raises(Exception, match="may be a copy of a book that was open"):
        Book.open(path, write=True)


@pytest.mark.parametrize("end", [1, 60])
def test_entries_that_a_damaged_log_has_no_more_are_missed(path: Path, end: int) -> None:
    """Whatever damages the last of a log, SQLite reads the rest as sound: the lock knows more."""
    writing(path).close()
    killed(path, "at work", 5)
    log = log_of(path)
    data = bytearray(log.read_bytes())
    data[-end] ^= 0xFF
    log.write_bytes(data)
    with Book.open(path, write=True) as book:
        held = len(book.entries())
        assert held < 6
        assert book.notice.startswith(
            "The last entry written" if held == 5 else f"The last {6 - held} entries written")
        assert "benchapp review" in book.notice
    with Book.open(path, write=True) as book:
        assert book.notice == ""


def test_what_is_missed_is_missed_after_a_second_kill_too(path: Path) -> None:
    """The next program is killed before its first entry; the log is damaged then."""
    writing(path).close()
    killed(path, "at work", 5)
    killed(path, "opened", 0)
    log = log_of(path)
    data = bytearray(log.read_bytes())
    data[-60] ^= 0xFF
    log.write_bytes(data)
    with Book.open(path, write=True) as book:
        assert len(book.entries()) < 6
        assert "written in" in book.notice


def test_nothing_is_missed_after_a_kill_alone(path: Path) -> None:
    """All that was told as on disk is there."""
    killed(path, "at work", 5)
    with Book.open(path, write=True) as book:
        assert (len(book.entries()), book.notice) == (6, "")


def test_nothing_is_missed_in_a_backup_put_in_the_place_of_a_killed_book(
    path: Path, tmp_path: Path
) -> None:
    """What a restore puts there is what the printer chose."""
    with writing(path) as book:
        book.append([opened()], moment(), "open")
        book.backup(tmp_path / "backup.db")
    killed(path, "at work", 5)
    with prepare_restore(path, tmp_path / "backup.db", state=tmp_path / "state",
                         temp=tmp_path / "temp") as ready:
        ready.put_in_place("2026-05-03")
    with Book.open(path, write=True) as book:
        assert book.notice == ""
