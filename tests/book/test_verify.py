"""The chain finds what was changed behind the book's back; a copy is a whole book."""

from __future__ import annotations

import stat
import sys
from pathlib import Path

import pytest

from benchapp.book import Book, BookDisk
from tests.book.samples import (
    DAY,
    Faults,
    disk_full,
    moment,
    note,
    opened,
    raw,
    sheet_out,
    writing,
)

_COLUMNS = {
    "id": "'zz:2'", "action": "'x'", "word": "'other'", "kind": "'noted!'",
    "wall_ms": "wall_ms + 1",
    "offset_min": "0", "boot_ns": "boot_ns + 1", "boot_id": "'b'", "mono_ns": "0",
    "sha256": "upper(sha256)",
}


def _made(path: Path) -> Path:
    with writing(path) as book:
        for n in range(5):
            book.append([note(f"note {n}"), sheet_out()], moment(n), "note")
    return path


def _tampered(path: Path, *statements: str) -> list[str]:
    """What verify says after another program has taken the triggers off and done this."""
    file = raw(path)
    for name, in file.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        file.execute(f"DROP TRIGGER {name}")
    for statement in statements:
        file.execute(statement)
    file.close()
    with Book.reading(path) as book:
        return book.verify()


def test_nothing_is_wrong(path: Path) -> None:
    """A book as it was written has no fault, from inside and outside."""
    assert _tampered(_made(path)) == []


def test_one_changed_byte(path: Path) -> None:
    """One letter changed in one body is found and placed."""
    problem, = _tampered(
        _made(path), "UPDATE entries SET body = replace(body, 'note 2', 'note 7')")
    assert problem.startswith(f"{DAY}: entry 3 (")
    assert "was changed since" in problem


@pytest.mark.parametrize("column", sorted(_COLUMNS))
def test_every_column_counts(path: Path, column: str) -> None:
    """No column of an entry can be changed unseen."""
    where = f"WHERE stream = '{DAY}' AND position = 2"
    problems = _tampered(_made(path), f"UPDATE entries SET {column} = {_COLUMNS[column]} {where}")
    assert any(problem.startswith(f"{DAY}: entry 2 (") for problem in problems)


def test_body_that_is_no_json(path: Path) -> None:
    """A body that can't be read is told, and the rest is looked at all the same."""
    first, second = _tampered(
        _made(path), "UPDATE entries SET body = '{' WHERE position = 2",)
    assert first.startswith("pack/7: entry 2 (")
    assert second.startswith(f"{DAY}: entry 2 (")
    assert "cannot be read" in first


@pytest.mark.parametrize(("position", "says"), [
    (1, f"{DAY}: entry 1 is missing (next is 2)"), (3, f"{DAY}: entry 3 is missing (next is 4)"),
])
def test_missing_entry(path: Path, position: int, says: str) -> None:
    """An entry taken out is missed."""
    where = f"WHERE stream = '{DAY}' AND position = {position}"
    assert says in _tampered(_made(path), f"DELETE FROM entries {where}")


@pytest.mark.parametrize(("where", "says"), [
    ("stream = 'pack/7'", "of 9 entries of the book 4 are missing"),
    (f"stream = '{DAY}' AND position > 3", "of 10 entries of the book 2 are missing"),
])
def test_end_cut_away(path: Path, where: str, says: str) -> None:
    """A stream that is gone, or its end, leaves no gap in a chain and is missed all the same."""
    extra = ["DELETE FROM entries WHERE sequence = 10"] if "pack" in where else []
    assert _tampered(_made(path), *extra, f"DELETE FROM entries WHERE {where}") == [says]


def test_entries_exchanged(path: Path) -> None:
    """Two entries that changed places are both found."""
    problems = _tampered(
        _made(path),
        f"UPDATE entries SET position = -position WHERE stream = '{DAY}' AND position IN (2, 3)",
        "UPDATE entries SET position = 5 + position WHERE position < 0")
    assert [problem[:27] for problem in problems][:2] == [
        f"{DAY}: entry 2", f"{DAY}: entry 3"]


def test_no_origin(path: Path) -> None:
    """A book that lost its name is told."""
    assert _tampered(_made(path), "DELETE FROM meta") == ["the book has no origin"]


def test_copy_of_a_book_in_use(path: Path, tmp_path: Path) -> None:
    """A copy taken while the book is written is a whole book of the same origin, in one file."""
    to = tmp_path / "copies" / "copy.db"
    with writing(path) as book:
        book.append([opened(), note("a")], moment(), "open")
        book.backup(to)
        book.append([note("after")], moment(), "note")
        origin = book.origin
    assert [found.name for found in to.parent.iterdir()] == ["copy.db"]
    with Book.reading(to) as copy:
        assert (copy.origin, copy.last_sequence(), copy.verify()) == (origin, 2, [])
    if sys.platform != "win32":
        assert stat.S_IMODE(to.stat().st_mode) == 0o600
    with writing(to) as copy:
        copy.append([note("goes on")], moment(), "note")


def test_copy_by_a_reader(path: Path, tmp_path: Path) -> None:
    """A reader may copy too."""
    _made(path)
    with Book.reading(path) as book:
        book.backup(tmp_path / "copy.db")
    with Book.reading(tmp_path / "copy.db") as copy:
        assert copy.last_sequence() == 10


def test_copy_over_nothing(path: Path, tmp_path: Path) -> None:
    """A copy never takes the place of a file or a link, least of all the book's own."""
    (tmp_path / "old.db").write_text("kept")
    (tmp_path / "link.db").symlink_to(tmp_path / "nowhere")
    with writing(_made(path)) as book:
        for to in (path, tmp_path / "old.db", tmp_path / "link.db"):
            with pytest.raises(BookDisk, match="is there already, so nothing was written"):
                book.backup(to)
    assert (tmp_path / "old.db").read_text() == "kept"
    assert not list(tmp_path.glob("*.part"))


def test_copy_to_nowhere(path: Path, tmp_path: Path) -> None:
    """A folder that can't be made is told, and nothing is left."""
    (tmp_path / "file").write_text("")
    with writing(path) as book, pytest.raises(BookDisk, match="writing the copy of the book"):
        book.backup(tmp_path / "file" / "copy.db")


def test_copy_while_entries_wait(path: Path, tmp_path: Path) -> None:
    """A copy that would lack what happened last is refused until that is in the book."""
    faults = Faults()
    with writing(path, faults) as book:
        faults.plan("commit", disk_full)
        book.append([note("waits")], moment(), "note")
        with pytest.raises(BookDisk, match="Entries are waiting"):
            book.backup(tmp_path / "copy.db")
        faults.clear()
        book.backup(tmp_path / "copy.db")
    with Book.reading(tmp_path / "copy.db") as copy:
        assert copy.last_sequence() == 1


def test_an_index_that_lacks_an_entry(path: Path) -> None:
    """A full check goes through the indexes too, a quick one does not."""
    _made(path)
    file = raw(path)
    file.execute("CREATE INDEX of_words ON entries (word)")
    file.execute("PRAGMA writable_schema = 1")
    file.execute("UPDATE sqlite_master SET sql = 'CREATE INDEX of_words ON entries (kind)' "
                 "WHERE name = 'of_words'")
    file.close()
    with Book.reading(path) as book:
        problems = book.verify()
        assert len(problems) >= 10
        assert all(problem.startswith("the file: ") for problem in problems)
        assert book.verify(full=False) == []


def test_some_streams_as_they_were_written(path: Path) -> None:
    """Those asked for, whole; what another program changed, and what is cut away, is told."""
    _made(path)
    with Book.reading(path) as book:
        some = book.as_written({"pack/7"})
        assert [(x.stream, x.position) for x in some] == [("pack/7", n) for n in range(1, 6)]
        assert some.whole
        assert len(list(book.as_written())) == 10
    _tampered(path, "UPDATE entries SET body = replace(body, 'note 2', 'note 7')",
              "DELETE FROM entries WHERE stream = 'pack/7' AND position = 1")
    with Book.reading(path) as book:
        some = book.as_written({"pack/7"})
        assert [x.position for x in some] == [2, 3, 4, 5]
        assert (some.whole, some.wrong, some.ends) == (False, [], {"pack/7": 5})
        every = book.as_written()
        assert [x.position for x in list(every) if x.stream == DAY] == [1, 2, 4, 5]
        assert (every.unread, every.wrong) == (0, [f"{DAY}, entry 3"])
