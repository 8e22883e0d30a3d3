"""A backup brought back: exactly it is the book then, and what it replaced is whole beside it."""

from __future__ import annotations

import shutil
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from benchapp.book import Book, BookDamaged, BookDisk, BookLocked, NoBook
from benchapp.book.restore import Restore, prepare_restore
from tests.book.samples import (
    DAY,
    Faults,
    closed,
    disk_full,
    moment,
    note,
    opened,
    raw,
    writing,
)

_ROOT = Path(__file__).parents[2]
STAMP = "2026-05-03-1820"
#: Where a restore may be cut off, in its order.
_POINTS = ("copy", "wait", "move", "move-wal", "move-journal", "move-shm", "place", "placed")


def _ids(path: Path) -> list[str]:
    with Book.open(path, write=False) as book:
        assert book.verify() == []
        return [entry.id for entry in book.entries()]


def _copy_with_log(path: Path, to: Path) -> None:
    """What lies on the disk when the program is killed now: the file and its log."""
    for end in ("", "-wal"):
        shutil.copyfile(path.with_name(path.name + end), to.with_name(to.name + end))


@pytest.fixture
def backed(path: Path, tmp_path: Path) -> Path:
    """A backup of a day; the book went on after it and was cut off, its log beside it."""
    file, live = tmp_path / "backup.db", path.with_name("live.db")
    with writing(live) as book:
        book.append([opened(), note("one")], moment(), "open")
        book.append([closed()], moment(1), "close")
        book.backup(file)
        book.append([opened("2026-05-04"), note("two")], moment(2), "open")
        _copy_with_log(live, path)
    for end in ("", "-lock", "-reserve"):
        live.with_name(live.name + end).unlink()
    return file


def _restored(path: Path, file: Path, faults: Faults | None = None) -> tuple[Restore, Path | None]:
    with prepare_restore(path, file, state=path.parent / "state", temp=path.parent / "temp",
                         fault=faults or Faults()) as ready:
        return ready, ready.put_in_place(STAMP)


def test_the_old_log_goes_with_the_old_book(path: Path, backed: Path) -> None:
    """A log beside the book is never replayed over the backup; old and new are whole."""
    ready, aside = _restored(path, backed)
    assert [e.kind for e in ready.only_old] == ["opened", "noted"]
    assert not path.with_name(path.name + "-wal").exists()
    assert _ids(path) == _ids(backed)
    assert aside == path.with_name(f"{path.name}-before-{STAMP}")
    assert len(_ids(aside)) == 5


def test_what_comes_after_has_an_id_a_name_and_letters_of_its_own(
    path: Path, backed: Path
) -> None:
    """So the old book can be merged, and nothing of either is lost."""
    with writing(path) as book:
        book.append([note("M3 was on it", DAY), opened("2026-05-05")], moment(3), "note")
        old, origin = book.entries(), book.origin
    _, aside = _restored(path, backed)
    assert aside is not None
    with writing(path) as book:
        taken = book.taken_elsewhere()
        assert {"2026-05-03", "2026-05-04", "2026-05-05"} <= taken.names
        assert "A" in taken.letters
        (new,) = book.append([note("three", "session/2026-05-06")], moment(4), "note")
        assert new.id not in {e.id for e in old}
        assert not new.id.startswith(origin)
        book.append([note("judged", f"{DAY}@{book.origin}")], moment(5), "note")
        with closing(raw(aside)) as file:
            assert file.execute("SELECT count(*) FROM entries").fetchone() == (len(old),)


def test_a_backup_with_all_there_is_stays_the_same_book(path: Path, tmp_path: Path) -> None:
    """Where no readable copy goes further, an open session goes on as it was."""
    file = tmp_path / "backup.db"
    with writing(path) as book:
        book.append([opened(), note("one")], moment(), "open")
        book.backup(file)
        origin = book.origin
    ready, _ = _restored(path, file)
    assert (ready.only_old, ready.origin, ready.still_open) == ([], None, [])
    with writing(path) as book:
        assert book.origin == origin
        book.append([note("goes on")], moment(1), "note")


def test_a_newer_backup_that_is_not_chosen_counts_too(path: Path, tmp_path: Path) -> None:
    """The book is lost; of two backups the older is taken: the newer can still be merged."""
    older, newer = tmp_path / "older.db", tmp_path / "newer.db"
    with writing(path) as book:
        book.append([opened()], moment(), "open")
        book.backup(older)
        book.append([opened("2026-05-04")], moment(1), "open")
        book.backup(newer)
    path.unlink()
    ready, aside = _restored(path, older)
    assert (aside, ready.old, ready.only_old) == (None, False, [])
    with writing(path) as book:
        assert "2026-05-04" in book.taken_elsewhere().names
        with Book.reading(newer) as other:
            assert book.origin != other.origin


@pytest.mark.parametrize("point", _POINTS)
def test_cut_off_anywhere(path: Path, backed: Path, point: str) -> None:
    """Whoever opens the book next finds all of the old one or all of the backup; none is lost."""
    faults, old = Faults(), ["opened", "noted", "closed", "opened", "noted"]
    faults.plan(point, lambda: KeyboardInterrupt())  # type: ignore[arg-type, return-value]
    with pytest.raises(KeyboardInterrupt):
        _restored(path, backed, faults)
    restored = point not in ("copy", "wait")
    with Book.reading(path) as book:
        seen = [e.kind for e in book.entries()]
    with writing(path) as book:
        assert book.verify() == []
        assert [e.kind for e in book.entries()] == seen == (old[:3] if restored else old)
    aside = path.with_name(f"{path.name}-before-{STAMP}")
    assert len(_ids(aside if restored else path)) == len(old)
    _restored(path, backed)
    assert [x.name for x in path.parent.iterdir() if "restoring" in x.name] == []


@pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL")
@pytest.mark.parametrize("point", ["move-wal", *(
    pytest.param(x, marks=pytest.mark.full) for x in _POINTS if x != "move-wal")])
def test_killed(path: Path, backed: Path, point: str) -> None:
    """The same, killed by the system: no lock is left, and the next start finishes it."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.book.restore_child", str(path), str(backed), point],
        cwd=_ROOT, check=False)
    assert done.returncode == -9
    with writing(path) as book:
        kinds = [e.kind for e in book.entries()]
    assert kinds == ["opened", "noted", "closed"] or point in ("copy", "wait")
    assert len(kinds) == 5 or len(_ids(path.with_name(f"{path.name}-before-{STAMP}"))) == 5


def test_the_file_put_there_by_hand(path: Path, backed: Path) -> None:
    """Beside a stale log it is not opened; what the message says brings it back."""
    good = _ids(backed)
    shutil.copyfile(backed, path)
    log = path.with_name(path.name + "-wal")
    before = path.read_bytes(), log.read_bytes()
    for write in (False, True):
        with pytest.raises(BookDamaged, match="benchapp book restore THAT-NAME"):
            Book.open(path, write=write, create=write)
    assert before == (path.read_bytes(), log.read_bytes())
    with pytest.raises(BookDisk, match="give it another name first"):
        _restored(path, path)
    renamed = path.rename(path.with_name("good.db"))
    with pytest.raises(BookDamaged, match=r"its log .* is still there"):
        Book.open(path, write=True, create=True)
    _, aside = _restored(path, renamed)
    assert aside is not None
    assert aside.with_name(aside.name + "-wal").read_bytes() == before[1]
    assert _ids(path) == good


def test_a_copy_without_its_log_says_so(path: Path, tmp_path: Path) -> None:
    """The file alone of a book that was open lacks what is in the log; a backup lacks nothing."""
    copy = tmp_path / "hot.db"
    with writing(path) as book:
        book.append([opened()], moment(), "open")
        shutil.copyfile(path, tmp_path / "first.db")  # all of it is in the log still
        with pytest.raises(BookDamaged, match="may be a copy of a book that was open"):
            Book.reading(tmp_path / "first.db")
    with writing(path) as book:
        book.append([note("one")], moment(1), "note")
        shutil.copyfile(path, copy)
        with Book.reading(path) as live:
            assert live.notice == ""
        book.backup(tmp_path / "good.db")
    for _ in range(2):  # a reader leaves an empty log beside it
        with Book.reading(copy) as cold:
            assert "benchapp book backup FILE" in cold.notice
    with writing(copy) as cold:
        assert "what was written last may be missing" in cold.notice
    for whole in (path, copy, tmp_path / "good.db"):
        with Book.reading(whole) as book:
            assert book.notice == ""


def test_entries_that_waited_go_with_the_old_book(path: Path, tmp_path: Path) -> None:
    """What no disk let in is listed, and goes into the old book where it lies now."""
    file, faults = tmp_path / "backup.db", Faults()
    with writing(path, faults) as book:
        book.append([opened()], moment(), "open")
        book.backup(file)
        faults.plan("insert", disk_full)
        book.append([note("waits")], moment(1), "note")
    ready, aside = _restored(path, file)
    assert aside is not None
    assert [e.body["text"] for e in ready.only_old] == ["waits"]
    with writing(path) as book:
        assert (book.notice, book.last_sequence()) == ("", 1)
    with writing(aside) as book:
        assert [e.kind for e in book.entries()] == ["opened", "noted"]


def test_into_a_new_file(path: Path, backed: Path, tmp_path: Path) -> None:
    """The place stays as it is, and both are books of their own."""
    new = tmp_path / "new.db"
    with prepare_restore(path, backed, keep=True, temp=tmp_path) as ready:
        ready.put_into(new)
        with pytest.raises(BookDisk, match="is there already"):
            ready.put_into(new)
    assert _ids(new) == _ids(backed)
    assert len(_ids(path)) == 5
    with Book.reading(new) as one, Book.reading(path) as other:
        assert one.origin != other.origin


def test_a_damaged_book_is_replaced_and_what_can_be_read_is_listed(
    path: Path, tmp_path: Path
) -> None:
    """Pages of zeros in the old one hinder neither the list nor the restore."""
    file = tmp_path / "backup.db"
    with writing(path) as book:
        book.append([opened()], moment(), "open")
        book.backup(file)
        for n in range(400):
            book.append([note(f"{n} " + "x" * 200)], moment(n), "note")
    size = path.stat().st_size
    with path.open("r+b") as damaged:
        damaged.seek(size // 2 // 4096 * 4096)
        damaged.write(bytes(8192))
    ready, aside = _restored(path, file)
    assert 0 < len(ready.only_old) < 400
    assert ready.unread + len(ready.only_old) >= 400
    assert _ids(path) == _ids(file)
    assert aside is not None
    assert aside.stat().st_size == size
    path.write_bytes(b"no book at all")
    ready, _ = _restored(path, file)
    assert (ready.unread, ready.only_old) == (-1, [])
    assert ready.origin is not None


def test_what_is_no_sound_backup_changes_nothing(path: Path, backed: Path, tmp_path: Path) -> None:
    """It is said what is wrong, or who holds the book; the book is as it was."""
    before = path.read_bytes()
    file = raw(backed)
    file.execute("DROP TRIGGER entries_never_change")
    file.execute("UPDATE entries SET word = 'other' WHERE sequence = 2")
    file.close()
    with pytest.raises(BookDamaged, match=r"is not sound.*\n.*was changed since"):
        _restored(path, backed)
    with pytest.raises(NoBook, match="no backup at"):
        _restored(path, tmp_path / "none.db")
    (tmp_path / "empty.db").touch()
    with pytest.raises(NoBook, match="is empty"):
        _restored(path, tmp_path / "empty.db")
    assert path.read_bytes() == before
    with writing(path), pytest.raises(BookLocked):
        _restored(path, backed)


def test_of_a_damaged_book_whole_streams_are_merged(path: Path, tmp_path: Path) -> None:
    """A day with a gap is left out and named; every other day comes in as it was."""
    file, days = tmp_path / "backup.db", [f"2026-05-{n:02}" for n in range(4, 24)]
    with writing(path) as book:
        book.append([opened()], moment(), "open")
        book.backup(file)
        for day in days:
            for n in range(20):
                book.append([note(f"{n} " + "x" * 200, f"session/{day}")], moment(n), "note")
    size = path.stat().st_size
    with path.open("r+b") as damaged:
        damaged.seek(size // 2 // 4096 * 4096)
        damaged.write(bytes(8192))
    _, aside = _restored(path, file)
    assert aside is not None
    with Book.reading(aside) as other, writing(path) as book:
        entries, unread, ends = other.readable()
        told = book.merge_whole(entries, ends)
        assert set(ends.values()) == {1, 20}
        assert unread > 0
        assert 0 < len(told.left_out) < 5
        assert book.verify() == []
        for stream in (f"session/{day}" for day in days):
            assert len(book.stream(stream)) == (0 if stream in told.left_out else 20)
