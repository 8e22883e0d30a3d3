"""What is wrong with a book is said with where it is and what to do."""

from __future__ import annotations

import errno
import re
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from benchapp.book import Book, BookDamaged, BookLocked
from benchapp.book.backup import copy_book
from benchapp.book.beside import making_cut_off, missing_log, refuse_strange_log
from benchapp.book.connection import has_file, is_blank
from benchapp.book.copies import open_copy
from benchapp.book.errors import (
    BookDisk,
    BookError,
    BookForeign,
    BookNewer,
    NoBook,
    disk_error,
)
from benchapp.book.lock import CLEAN, CUT_OFF, DAMAGED, WriterLock, is_free, lock_file
from benchapp.book.placing import free_aside, is_waiting, waiting_path
from benchapp.book.restore import prepare_restore
from benchapp.book.schema import APPLICATION_ID
from benchapp.book.soundness import damage_text, emptied_text
from tests.book.samples import moment, note, raw, writing


@pytest.fixture
def book(path: Path) -> Path:
    """A book at rest, with an entry."""
    with writing(path) as made:
        made.append([note("rain")], moment(), "note")
    return path


def says(kind: type[BookError], what: str, do: Callable[[], object]) -> None:
    """It is refused with these facts in their order; `…` stands for whatever comes between."""
    with pytest.raises(BookError) as told:
        do()
    assert type(told.value) is kind
    assert has(str(told.value), what)


def has(text: str, what: str) -> bool:
    """Whether a text has these facts in their order."""
    return re.search(".*".join(map(re.escape, what.split("…"))), text, re.DOTALL) is not None


def test_a_book_that_is_not_there(path: Path) -> None:
    """How it comes to be, and how to name another."""
    says(NoBook, f"no book at {path}…benchapp run…--book", lambda: Book.open(path, write=True))


def test_what_is_no_file_or_another_programs(path: Path, tmp_path: Path) -> None:
    """Nothing of it is touched."""
    says(BookForeign, f"{tmp_path} is a folder…--book",
         lambda: has_file(tmp_path))
    file = tmp_path / "a file"
    file.write_text("x")
    says(BookDisk, f"{file / 'book.db'}…is a file, not a folder…BENCHAPP_HOME…--book",
         lambda: has_file(file / "book.db"))
    assert (has_file(file), has_file(path)) == (True, False)


@pytest.mark.parametrize(("owner", "version", "kind", "what"), [
    (7, 0, BookForeign, "belongs to another program…--book"),
    (0, 4, BookForeign, "belongs to another program"),
    (APPLICATION_ID, 99, BookNewer, "…later benchapp (layout 99; this one knows 4)…"),
])
def test_whose_file_it_is(owner: int, version: int, kind: type[BookError], what: str) -> None:
    """Another program's, or a later version's."""
    with closing(sqlite3.connect(":memory:")) as connection:
        assert is_blank(connection, Path("b.db"))
        connection.execute(f"PRAGMA application_id = {owner}")
        connection.execute(f"PRAGMA user_version = {version}")
        says(kind, f"b.db {what}", lambda: is_blank(connection, Path("b.db")))


def test_a_damaged_and_an_emptied_book() -> None:
    """Save first, then restore; how much is wrong."""
    told = damage_text(Path("b.db"), ["row 4 was changed", "x", "y"])
    assert has(told, "book b.db is damaged…benchapp export --private --jsonl FILE…"
                     "benchapp book restore FILE…row 4 was changed, and 2 more")
    assert has(emptied_text(Path("b.db")), "book b.db is empty…benchapp book restore FILE")


def test_what_the_system_refuses() -> None:
    """Where, at what, why, and what to look at."""
    error = OSError(errno.ENOSPC, "No space left on device")
    assert has(str(disk_error(error, Path("b.db"), "making the book")),
               "b.db…making the book…no space left on device…--book")


def test_a_copy_is_never_written_over_a_file(book: Path, tmp_path: Path) -> None:
    """Nor over a link; a folder on the way is made, and nothing but the copy is left."""
    link, copy = tmp_path / "link.db", tmp_path / "far" / "off" / "copy.db"
    link.symlink_to("nowhere")
    with closing(raw(book)) as source:
        for there in (link, book):
            says(BookDisk, f"{there} is there already…another name",
                 lambda there=there: copy_book(source, there))  # type: ignore[misc]
        copy_book(source, copy)
    assert [x.name for x in copy.parent.iterdir()] == ["copy.db"]
    assert copy.stat().st_mode & 0o777 == 0o600
    with Book.reading(copy) as read:
        assert len(read.entries()) == 1


# -- a log and a book that do not fit ----------------------------------------------------------


def test_a_log_without_its_book(path: Path) -> None:
    """Gone, or empty."""
    path.parent.mkdir()
    log = path.with_name("book.db-wal")
    log.write_bytes(b"x")
    for _ in range(2):
        says(BookDamaged, f"book {path} is gone…book.db-wal…benchapp book restore FILE",
             lambda: refuse_strange_log(path))
        path.write_bytes(b"")
    log.write_bytes(b"")
    refuse_strange_log(path)


def test_a_log_beside_another_book(book: Path) -> None:
    """One that is written without a log; while a writer has it open it is not looked at."""
    log = book.with_name("book.db-wal")
    log.write_bytes(b"x")
    says(BookDamaged, f"log {log} does not belong to the book {book}…book.db…benchapp book restore",
         lambda: refuse_strange_log(book))
    lock = WriterLock(book)
    refuse_strange_log(book)
    lock.release()
    log.unlink()
    refuse_strange_log(book)


def test_a_copy_without_its_log_is_told_to_readers_and_writers(book: Path) -> None:
    """And one that is whole is not."""
    with closing(raw(book)) as connection:
        assert missing_log(book, connection) == ""
        connection.execute("PRAGMA journal_mode = wal")
        assert has(missing_log(book, connection), "book.db…copy…log…benchapp book backup FILE")
    for end in ("-lock", "-wal", "-shm"):
        book.with_name(book.name + end).unlink(missing_ok=True)
    with Book.open(book, write=False) as read:
        assert "benchapp book backup FILE" in read.notice
    for end in ("-wal", "-shm"):
        book.with_name(book.name + end).unlink(missing_ok=True)
    with writing(book) as written:
        assert "benchapp book backup FILE" in written.notice
        with Book.open(book, write=False) as read:
            assert read.notice == ""
    with writing(book) as written:
        assert written.notice == ""


def test_whether_the_making_of_a_book_was_cut_off(book: Path) -> None:
    """The lock is there and the reserve is not yet."""
    assert not making_cut_off(book)
    book.with_name("book.db-reserve").unlink()
    assert making_cut_off(book)
    lock_file(book).unlink()
    assert not making_cut_off(book)


# -- the lock ----------------------------------------------------------------------------------


def test_a_book_that_is_open_names_who_has_it(book: Path) -> None:
    """And goes on being open there; the lock lies beside the book."""
    assert lock_file(book) == book.with_name("book.db-lock")
    lock = WriterLock(book)
    assert not is_free(book)
    says(BookLocked, f"book {book} is open in another benchapp (process … on …, since …)",
         lambda: WriterLock(book))
    lock.release()
    lock.release()
    assert is_free(book)


def test_a_lock_that_cannot_be_made_is_told(path: Path) -> None:
    """Where, and at what."""
    path.parent.mkdir()
    lock_file(path).mkdir()
    says(BookDisk, f"{lock_file(path)}…is a directory",
         lambda: WriterLock(path))


def test_the_next_writer_is_told_how_the_last_one_left_it(path: Path) -> None:
    """Clean only if it said so; damage stays until it was checked in full."""
    path.parent.mkdir()
    left = []
    for end in ("clean", "cut", "damaged", "clean", "sound", "clean", "clean"):
        lock = WriterLock(path)
        left.append(lock.left)
        if end == "damaged":
            lock.mark_damaged()
        if end == "sound":
            lock.mark_sound()
        if end == "cut":
            lock.left = CUT_OFF  # as the system leaves it: the name stays
        lock.release(clean=end == "clean")
    assert left == [CLEAN, CLEAN, CUT_OFF, DAMAGED, DAMAGED, CUT_OFF, CLEAN]


# -- a backup and its place --------------------------------------------------------------------


def test_the_name_aside_is_one_no_file_has(path: Path) -> None:
    """Nor one of its side files."""
    path.parent.mkdir()
    assert waiting_path(path) == path.with_name("book.db-restoring")
    assert not is_waiting(path)
    waiting_path(path).symlink_to("nowhere")
    assert is_waiting(path)
    names = []
    for end in ("", "-wal", "-shm"):
        names.append(free_aside(path, "2026"))
        path.with_name(names[-1] + end).touch()
    assert names == ["book.db-before-2026", "book.db-before-2026-2", "book.db-before-2026-3"]


def test_what_is_no_backup_is_named(book: Path, tmp_path: Path) -> None:
    """One that is not there, the book itself, and an empty file."""
    def restored(file: Path) -> Callable[[], object]:
        return lambda: prepare_restore(book, file, state=tmp_path, temp=tmp_path).__enter__()

    gone, empty = tmp_path / "gone.db", tmp_path / "empty.db"
    empty.touch()
    says(NoBook, f"no backup at {gone}", restored(gone))
    says(BookDisk, f"{book} is the book itself…name", restored(book))
    says(NoBook, f"{empty} is empty…not a backup",
         lambda: open_copy(empty))
    assert is_free(book)
