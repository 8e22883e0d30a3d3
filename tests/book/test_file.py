"""The file: whose it is, how it is laid out, what is left of it at rest."""

from __future__ import annotations

import os
import sqlite3
import stat
import sys
from contextlib import closing
from pathlib import Path

import pytest

from benchapp.book import (
    Book,
    BookDamaged,
    BookDisk,
    BookError,
    BookForeign,
    BookNewer,
    NoBook,
)
from benchapp.book.connection import connect, make_durable
from benchapp.book.schema import MIGRATIONS, Migration, latest_step, migrate, version_of
from tests.book.samples import moment, note, raw, writing

posix = pytest.mark.skipif(sys.platform == "win32", reason="rights of files are POSIX")


def _left(path: Path) -> set[str]:
    return {found.name for found in path.parent.iterdir()}


def _made(path: Path) -> Path:
    with writing(path) as book:
        book.append([note("a"), note("b")], moment(), "note")
    return path


def test_header_says_whose_it_is(path: Path) -> None:
    """The application id spells `etch`, the layout is the last step's, the steps are recorded."""
    _made(path)
    with raw(path) as file:
        assert file.execute("PRAGMA application_id").fetchone()[0] == int.from_bytes(b"etch", "big")
        assert version_of(file) == MIGRATIONS[-1].number
        assert file.execute("SELECT number, name FROM migrations").fetchall() == [
            (step.number, step.name) for step in MIGRATIONS]
    file.close()


def test_tables_are_strict(path: Path) -> None:
    """No column takes a value of another type."""
    _made(path)
    file = raw(path)
    tables = file.execute("SELECT sql FROM sqlite_master WHERE type = 'table'").fetchall()
    file.close()
    assert len(tables) == 5
    assert all(sql.endswith("STRICT") for sql, in tables)


@pytest.mark.parametrize(("statement", "says"), [
    ("UPDATE entries SET body = '{}'", "never changed"),
    ("DELETE FROM entries WHERE sequence = 2", "never deleted"),
    ("INSERT OR REPLACE INTO entries SELECT * FROM entries WHERE sequence = 1", "after all others"),
    ("INSERT INTO entries SELECT 9, 'x:9', stream, 9, action, word, kind, wall_ms, offset_min,"
     " boot_ns, boot_id, mono_ns, body, sha256 FROM entries WHERE sequence = 1", "without a gap"),
    ("INSERT OR REPLACE INTO entries SELECT 9, id, 'pack/1', 1, action, word, kind, wall_ms,"
     " offset_min, boot_ns, boot_id, mono_ns, body, sha256 FROM entries WHERE sequence = 1",
     "after all others"),
    ("UPDATE meta SET value = 'x' WHERE key = 'origin'", "origin of a book never changes"),
    ("DELETE FROM meta WHERE key = 'origin'", "origin of a book never goes"),
])
def test_append_only_for_everyone(path: Path, statement: str, says: str) -> None:
    """Also another program can't change, drop, replace or skip an entry."""
    _made(path)
    file = raw(path)
    before = file.execute("SELECT * FROM entries").fetchall()
    with pytest.raises(sqlite3.IntegrityError, match=says):
        file.execute(statement)
    assert file.execute("SELECT * FROM entries").fetchall() == before
    file.close()


def test_durable_settings_are_had(path: Path) -> None:
    """Write-ahead log and full synchronisation, as SQLite itself answers."""
    _made(path)
    file = connect(path, "mode=rw")
    assert make_durable(file, path) == ""
    answers = {name: file.execute(f"PRAGMA {name}").fetchone()[0] for name in (
        "journal_mode", "synchronous", "wal_autocheckpoint", "trusted_schema")}
    file.close()
    assert answers == {"journal_mode": "wal", "synchronous": 2, "wal_autocheckpoint": 1000,
                       "trusted_schema": 0}


def test_live_book_has_a_log(path: Path) -> None:
    """While it is written in, the book is in write-ahead mode, as another program sees it."""
    with writing(path):
        file = raw(path)
        assert file.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        file.close()


@posix
def test_disk_without_a_log(path: Path) -> None:
    """Where there can be no write-ahead log the older way is used as safely, and told."""
    path.parent.mkdir()
    path.touch()
    file = connect(path, "mode=rw", vfs="unix-dotfile")
    notice = make_durable(file, path)
    migrate(file, "abc")
    assert "does not support a write-ahead log" in notice
    assert file.execute("PRAGMA journal_mode").fetchone() == ("truncate",)
    assert file.execute("PRAGMA synchronous").fetchone() == (2,)
    file.close()


def test_setting_not_taken(path: Path) -> None:
    """A setting that SQLite does not take stops the opening, by name."""
    _made(path)
    file = connect(path, "mode=rw")
    file.execute("BEGIN")  # synchronous can't be changed inside a transaction
    with pytest.raises((BookDisk, sqlite3.OperationalError), match=r"synchronous|Safety level"):
        make_durable(file, path)
    file.close()


def test_one_file_at_rest(path: Path) -> None:
    """After close the file alone is the book; the lock and the reserve hold nothing."""
    _made(path)
    assert _left(path) == {"book.db", "book.db-lock", "book.db-reserve"}
    away = path.parent.parent / "carried.db"
    away.write_bytes(path.read_bytes())
    with Book.reading(away) as book:
        assert len(book.entries()) == 2


def test_reading_makes_nothing(path: Path) -> None:
    """A reader leaves no file behind, beside a book or where there is none."""
    with Book.reading(path) as book:
        assert book.entries() == ()
        assert book.sessions() == []
        assert book.streams("session") == []
        assert book.last_heartbeat() is None
        assert (book.origin, book.last_sequence(), book.verify()) == ("", 0, [])
    assert not path.parent.exists()
    _made(path)
    before = _left(path)
    with Book.reading(path) as book:
        assert len(book.entries()) == 2
    assert _left(path) == before


def test_reader_open_while_the_writer_closes(path: Path) -> None:
    """A reader in the way of tidying up costs nothing: the next writer does it."""
    writer = writing(path)
    writer.append([note("a")], moment(), "note")
    with Book.reading(path) as reader:
        assert len(reader.entries()) == 1
        writer.close()
        assert len(reader.entries()) == 1
    writing(path).close()
    assert _left(path) == {"book.db", "book.db-lock", "book.db-reserve"}


@posix
def test_for_this_person_alone(path: Path) -> None:
    """The folder made is 0700 and every file in it 0600, also while the book is open."""
    with writing(path) as book:
        book.append([note("a")], moment(), "note")
        modes = {found.name: stat.S_IMODE(found.stat().st_mode) for found in path.parent.iterdir()}
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
    assert set(modes) >= {"book.db", "book.db-wal", "book.db-lock", "book.db-reserve"}
    assert set(modes.values()) == {0o600}


@posix
def test_a_folder_of_the_printer_is_left_as_it_is(path: Path) -> None:
    """A folder that was there keeps its rights."""
    path.parent.mkdir(mode=0o755)
    path.parent.chmod(0o755)
    _made(path)
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o755


def test_no_book(path: Path) -> None:
    """Opening what is not there says so, and makes nothing unless asked to."""
    for write in (False, True):
        with pytest.raises(NoBook, match=r"There is no book at .*book\.db yet"):
            Book.open(path, write=write)
    with pytest.raises(NoBook):
        Book.open(path, write=False, create=True)
    assert not path.parent.exists()


def test_an_empty_file_is_a_start_cut_off(path: Path) -> None:
    """A file without anything in it reads as no book, and becomes one at the next start."""
    path.parent.mkdir()
    path.touch()
    with Book.reading(path) as book:
        assert book.entries() == ()
    with pytest.raises(NoBook):
        Book.open(path, write=False)
    _made(path)
    with Book.reading(path) as book:
        assert len(book.entries()) == 2


def test_each_book_has_its_own_origin() -> None:
    """Origins differ, are short, and hold nothing that is misread."""
    origins = {Book.in_memory().origin for _ in range(50)}
    assert len(origins) == 50
    assert all(len(origin) == 8 and not set(origin) & set("01aeilouy:") for origin in origins)


def test_names_with_signs_in_them(tmp_path: Path) -> None:
    """A path may hold what means something else in an address."""
    path = tmp_path / "a? b#c%20&mode=memory é" / "book?x=1.db"
    _made(path)
    assert path.stat().st_size > 0
    with Book.reading(path) as book:
        assert len(book.entries()) == 2


def _foreign(path: Path) -> None:
    path.parent.mkdir(exist_ok=True)
    file = raw(path)
    file.execute("PRAGMA journal_mode = wal")
    file.execute("CREATE TABLE recipes (soup TEXT)")
    file.execute("INSERT INTO recipes VALUES ('leek')")
    file.close()


def _both_refuse(path: Path, kind: type[BookError], says: str) -> None:
    before = path.read_bytes()
    for write in (False, True):
        with pytest.raises(kind, match=says) as caught:
            Book.open(path, write=write, create=write)
        assert "book.db" in str(caught.value)
    assert path.read_bytes() == before


def test_foreign_file(path: Path) -> None:
    """Another program's SQLite file is refused, unchanged, and nothing is put beside it."""
    _foreign(path)
    _both_refuse(path, BookForeign, "belongs to another program")
    assert not {"book.db-lock", "book.db-reserve"} & _left(path)


def test_foreign_file_with_an_owner(path: Path) -> None:
    """So is one that bears another program's id and the look of a layout."""
    _foreign(path)
    file = raw(path)
    file.execute("PRAGMA application_id = 77")
    file.execute("PRAGMA user_version = 1")
    file.close()
    _both_refuse(path, BookForeign, "belongs to another program")


def test_newer_book(path: Path) -> None:
    """A later version's book is refused, unchanged, with both layouts named."""
    _made(path)
    file = raw(path)
    file.execute("PRAGMA user_version = 99")
    file.close()
    _both_refuse(path, BookNewer, rf"later benchapp \(layout 99; this one knows {latest_step()}\)")


def test_text_file(path: Path) -> None:
    """A file of another kind is refused and not written over."""
    path.parent.mkdir()
    path.write_text("Dear diary, " * 500)
    _both_refuse(path, BookDamaged, "file of another kind, or its beginning is damaged")


def test_beginning_damaged(path: Path) -> None:
    """A book whose first bytes are gone is refused with what to do."""
    _made(path)
    data = bytearray(path.read_bytes())
    data[:16] = b"\xff" * 16
    path.write_bytes(data)
    _both_refuse(path, BookDamaged, "benchapp book restore FILE")


def test_inside_damaged(path: Path) -> None:
    """Pages scribbled over are told as damage when they are read, and by verify."""
    with writing(path) as book:
        book.append([note(f"{n} " * 20) for n in range(300)], moment(), "note")
    data = bytearray(path.read_bytes())
    for page in range(6, len(data) // 4096, 2):
        data[page * 4096 : page * 4096 + 200] = b"\xa5" * 200
    path.write_bytes(data)
    with Book.reading(path) as book:
        with pytest.raises(BookDamaged, match="is damaged"):
            book.entries()
        assert book.verify()


def test_cut_off_file(path: Path) -> None:
    """Half a file is damage, not a crash."""
    with writing(path) as book:
        book.append([note(f"{n} " * 20) for n in range(300)], moment(), "note")
    os.truncate(path, path.stat().st_size // 2 // 4096 * 4096)
    _both_refuse(path, BookDamaged, "is damaged .* benchapp book restore FILE")


def test_a_folder_is_no_book(path: Path) -> None:
    """A folder in the book's place is refused."""
    path.mkdir(parents=True)
    for write in (False, True):
        with pytest.raises(BookForeign, match="is a folder"):
            Book.open(path, write=write, create=write)


@posix
def test_a_pipe_is_no_book(path: Path) -> None:
    """Something that is no ordinary file is refused without waiting for it."""
    path.parent.mkdir()
    os.mkfifo(path)
    with pytest.raises(BookForeign, match="not an ordinary file"):
        Book.reading(path)


def test_a_file_where_the_folder_should_be(tmp_path: Path) -> None:
    """A folder that can't be is told as such, with what to do, to a reader too."""
    (tmp_path / "studio").write_text("")
    with pytest.raises(BookDisk, match="is a file, not a folder"):
        writing(tmp_path / "studio" / "book.db")
    with pytest.raises(BookDisk, match="is a file, not a folder"):
        Book.reading(tmp_path / "studio" / "book.db")


_READ_ONLY = """
import os, sys
from pathlib import Path
from benchapp.book import Book, BookDisk
path = Path(sys.argv[1])
os.setgid(65534); os.setuid(65534)
with Book.reading(path) as book:
    print(len(book.entries()), flush=True)
for place in (path, path.with_name("new.db")):
    try:
        Book.open(place, write=True, create=True)
    except BookDisk as error:
        print(error, flush=True)
"""


@posix
@pytest.mark.skipif(os.name == "posix" and os.getuid() != 0, reason="gives its rights away")
def test_folder_that_may_only_be_read(path: Path) -> None:
    """Where nothing may be written, reading works and writing says why not."""
    _made(path)
    for folder in path.parents:  # the folders of the tests, and of each test process, are private
        if folder.stat().st_uid == os.getuid() and not folder.stat().st_mode & 0o001:
            folder.chmod(0o755)
    path.chmod(0o644)
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        # Forked, not started anew: the other person may not be able to read this Python.
        os.dup2(write, 1)
        sys.argv = ["-", str(path)]
        sys.stdout = os.fdopen(1, "w")
        try:
            exec(_READ_ONLY, {})
        finally:
            os._exit(0)
    os.close(write)
    with os.fdopen(read) as told:
        lines = told.read().splitlines()
    os.waitpid(child, 0)
    assert lines[0] == "2"
    assert len(lines) == 3
    assert all("permission denied" in line and "--book" in line for line in lines[1:])


def test_steps_run_once_in_order_each_in_one_transaction(path: Path) -> None:
    """A later layout is reached step by step; a step that fails leaves the one before."""
    _made(path)
    here = latest_step()
    more = (*MIGRATIONS, Migration(here + 1, "shelf", ("CREATE TABLE shelf (a TEXT) STRICT",)))
    bad = ("CREATE TABLE good (a TEXT) STRICT", "CREATE nonsense")
    broken = (*more, Migration(here + 2, "bad", bad))
    file = raw(path)
    migrate(file, "unused", more)
    migrate(file, "unused", more)
    assert version_of(file) == here + 1
    with pytest.raises(sqlite3.OperationalError, match="nonsense"):
        migrate(file, "unused", broken)
    assert version_of(file) == here + 1
    assert file.execute("SELECT name FROM sqlite_master WHERE name = 'good'").fetchall() == []
    assert [name for name, in file.execute("SELECT name FROM migrations ORDER BY number")] == [
        *(m.name for m in MIGRATIONS), "shelf"]
    file.close()


def test_a_book_whose_making_was_cut_off_before_its_log_is_made(path: Path) -> None:
    """The file says that it has a log, and the program was killed before it made one."""
    path.parent.mkdir()
    with closing(sqlite3.connect(path)) as begun:
        begun.execute("PRAGMA journal_mode = wal").fetchone()
    path.with_name(path.name + "-lock").touch()
    assert path.stat().st_size
    with writing(path) as book:
        assert not book.notice
        book.append([note("first")], moment(), "note")
    with Book.reading(path) as book:
        assert len(book.entries()) == 1
