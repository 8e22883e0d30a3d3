"""How the file is opened where the disk, its folder or SQLite stand in the way."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from benchapp.book import BookDamaged, BookDisk, BookLocked
from benchapp.book.beside import log_lies_there
from benchapp.book.connection import connect, connect_reading, make_durable
from benchapp.book.errors import BookError, translate_error
from benchapp.book.facts import pragmas_here, pragmas_of, streams_by_family
from benchapp.book.lock import CLEAN, CUT_OFF, DAMAGED, WriterLock, is_free
from benchapp.book.reserve import SIZE_BYTES, Reserve
from tests.book.samples import Faults, moment, note, opened, sheet_out, sqlite_error, writing

Opened = list[str]


@pytest.fixture
def book(path: Path) -> Path:
    """A book of a few entries, at rest."""
    with writing(path) as made:
        made.append([opened(), note("a"), sheet_out(1), sheet_out(2)], moment(), "open")
    return path


def refusing(monkeypatch: pytest.MonkeyPatch, *codes: int) -> Opened:
    """Have SQLite refuse so many openings, with these codes; how each was asked for."""
    asked: Opened = []
    connect_it: Callable[..., sqlite3.Connection] = sqlite3.connect
    left = list(codes)

    def connect_or_refuse(database: Any, **how: Any) -> sqlite3.Connection:
        asked.append(str(database).partition("?")[2])
        if left:
            raise sqlite_error(left.pop(0))
        return connect_it(database, **how)

    monkeypatch.setattr(sqlite3, "connect", connect_or_refuse)
    return asked


@pytest.mark.parametrize(("code", "ways", "locking"), [
    (sqlite3.SQLITE_READONLY, ["mode=ro", "mode=rw"], "normal"),
    (sqlite3.SQLITE_CANTOPEN, ["mode=ro", "mode=ro&immutable=1"], "normal"),
    (sqlite3.SQLITE_IOERR, ["mode=ro", "mode=rw"], "exclusive"),
    (sqlite3.SQLITE_IOERR_READ, ["mode=ro", "mode=rw"], "exclusive"),
])
def test_a_reader_that_is_refused_tries_the_way_that_fits(
        book: Path, monkeypatch: pytest.MonkeyPatch, code: int, ways: Opened,
        locking: str) -> None:
    """A change cut off, a folder only for reading, no room for an index; and never to write."""
    asked = refusing(monkeypatch, code)
    connection = connect_reading(book)
    assert asked == ways
    assert connection.execute("SELECT count(*) FROM entries").fetchone() == (4,)
    assert connection.execute("PRAGMA query_only").fetchone() == (1,)
    assert connection.execute("PRAGMA locking_mode").fetchone() == (locking,)
    connection.close()


def test_a_reader_gives_up_where_no_way_is_left(
        book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Damage is not tried twice; a book whose log is there is never read without it."""
    asked = refusing(monkeypatch, sqlite3.SQLITE_CORRUPT)
    with pytest.raises(sqlite3.OperationalError):
        connect_reading(book)
    assert len(asked) == 1
    asked = refusing(monkeypatch, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_BUSY)
    with pytest.raises(sqlite3.OperationalError) as caught:
        connect_reading(book)
    assert (caught.value.sqlite_errorcode, len(asked)) == (sqlite3.SQLITE_IOERR, 2)
    book.with_name("book.db-wal").write_bytes(b"log")
    asked = refusing(monkeypatch, sqlite3.SQLITE_CANTOPEN)
    with pytest.raises(sqlite3.OperationalError):
        connect_reading(book)
    assert len(asked) == 1


def test_a_file_that_can_be_kept_in_no_journal_is_refused(path: Path) -> None:
    """SQLite keeps one in memory of what is in memory: that outlives nothing."""
    memory = sqlite3.connect(":memory:", isolation_level=None)
    says = r"book\.db cannot be opened safely: SQLite 3.* journal_mode"
    with pytest.raises(BookDisk, match=says):
        make_durable(memory, path)
    memory.close()


@pytest.mark.parametrize(("system", "value"), [("darwin", 1), ("linux", 0)])
def test_where_a_drive_has_a_cache_of_its_own_it_is_emptied_too(
        book: Path, monkeypatch: pytest.MonkeyPatch, system: str, value: int) -> None:
    """On macOS alone a sync of the file leaves it in the drive."""
    monkeypatch.setattr("benchapp.book.connection.sys.platform", system)
    file = connect(book, "mode=rw")
    make_durable(file, book)
    names = ("fullfsync", "checkpoint_fullfsync")
    assert [file.execute(f"PRAGMA {x}").fetchone()[0] for x in names] == [value, value]
    file.close()


def test_what_a_disk_gives_is_tried_and_nothing_is_left(tmp_path: Path, book: Path) -> None:
    """The settings of a writer, read back; or in a few words why not."""
    folder = tmp_path / "disk"
    folder.mkdir()
    found = pragmas_here(folder)
    assert not isinstance(found, str)
    assert (found["journal_mode"], found["synchronous"], found["busy_timeout"]) == ("wal", 2, 500)
    assert found["trusted_schema"] == 0
    assert found["cell_size_check"] == found["recursive_triggers"] == 1
    assert list(folder.iterdir()) == []
    assert pragmas_here(tmp_path / "none") == "cannot be tried: No such file or directory"
    assert pragmas_of(book)["application_id"] == int.from_bytes(b"etch", "big")
    assert pragmas_of(book)["journal_mode"] == "delete"
    assert streams_by_family(book) == {"pack": 2, "session": 1}


def test_a_disk_that_sqlite_refuses_is_told(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And the file it was tried with is gone."""
    refusing(monkeypatch, sqlite3.SQLITE_CANTOPEN)
    assert pragmas_here(tmp_path) == "cannot be tried: SQLite refuses this disk"
    assert not list(tmp_path.glob(".*"))


@pytest.mark.parametrize(("code", "kind", "says"), [
    (sqlite3.SQLITE_NOTADB, BookDamaged, "file of another kind, or its beginning is damaged"),
    (sqlite3.SQLITE_BUSY, BookLocked, "in use by another program just now. Close that program"),
    (sqlite3.SQLITE_LOCKED, BookLocked, "in use by another program just now. Close that program"),
    (sqlite3.SQLITE_FULL, BookDisk, "The disk is full, so the book .* Free some space"),
    (sqlite3.SQLITE_READONLY, BookDisk, "may be read here but not written. Make the file and its"),
    (sqlite3.SQLITE_PERM, BookDisk, "may be read here but not written. Make the file and its"),
    (sqlite3.SQLITE_AUTH, BookDisk, "may be read here but not written. Make the file and its"),
    (sqlite3.SQLITE_CANTOPEN, BookDisk,
     r"\(out of order\)\. See that the disk is connected and the folder is yours, then do this"),
    (sqlite3.SQLITE_IOERR_READ, BookDisk,
     r"\(out of order\)\. See that the disk is connected and the folder is yours, then do this"),
    (sqlite3.SQLITE_CORRUPT, BookDamaged, r"is damaged \(out of order\)\. Leave the file as it is"),
])
def test_what_sqlite_says_is_said_to_a_printer(
        path: Path, code: int, kind: type[BookError], says: str) -> None:
    """What is wrong, with which book, and what to do."""
    error = translate_error(sqlite_error(code), path)
    assert type(error) is kind
    assert str(path) in str(error)
    with pytest.raises(kind, match=says):
        raise error


def test_whether_a_log_is_beside_a_book(path: Path) -> None:
    """One with something in it; an empty one only where a writer made it."""
    path.parent.mkdir()
    log, lock = path.with_name("book.db-wal"), path.with_name("book.db-lock")
    assert not log_lies_there(path)
    log.write_bytes(b"")
    assert not log_lies_there(path)
    lock.touch()
    assert log_lies_there(path)
    log.unlink()
    assert not log_lies_there(path)
    lock.unlink()
    log.write_bytes(b"log")
    assert log_lies_there(path)


def test_a_reserve_takes_its_room_where_the_system_cannot_be_asked_for_it(
        path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is written is no row of zeros, which some disks would keep in no room."""
    path.parent.mkdir()
    monkeypatch.delattr("os.posix_fallocate", raising=False)
    reserve = Reserve(path, Faults())
    reserve.make()
    assert len(set(reserve.path.read_bytes())) > 200
    assert reserve.path.stat().st_size == SIZE_BYTES
    assert reserve.release()
    assert not reserve.path.exists()
    assert not reserve.release()


def test_how_a_book_was_left_is_told_to_the_next(path: Path) -> None:
    """Clean, cut off or damaged; letting go twice closes nothing else."""
    path.parent.mkdir()
    lock = WriterLock(path)
    assert (lock.left, is_free(path)) == (CLEAN, False)
    lock.release()
    assert is_free(path)
    other = path.open("wb", buffering=0)
    lock.release()
    lock.release(clean=True)
    assert other.write(b"x") == 1
    assert os.fstat(1)
    other.close()
    lock = WriterLock(path)
    lock.release(clean=True)
    assert lock.path.read_bytes() == b""
    lock.path.write_text("\nprocess 7 on anvil\n")
    lock = WriterLock(path)
    assert lock.left == CUT_OFF
    lock.mark_damaged()
    lock.release(clean=True)
    lock = WriterLock(path)
    assert lock.left == DAMAGED
    lock.mark_sound()
    lock.release()
    lock = WriterLock(path)
    assert lock.left == CUT_OFF
    lock.release()
