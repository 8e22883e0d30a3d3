"""When the disk refuses: every rung down from the book, and the way back up."""

from __future__ import annotations

import contextlib
import json
import os
import sqlite3
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from benchapp.book import Book, BookDamaged, BookDisk
from benchapp.events.entry import Entry
from tests.book.samples import (
    DAY,
    Faults,
    disk_full,
    moment,
    no_space,
    note,
    opened,
    raw,
    sheet_out,
    sqlite_error,
    writing,
)


def _texts(path: Path) -> list[str]:
    """The notes in the file, in order, in a book found without fault."""
    with Book.reading(path) as book:
        assert book.verify() == []
        return [entry.body["text"] for entry in book.stream(DAY)]


def _spilled(folder: Path) -> list[Path]:
    return sorted(folder.glob("benchapp-spill-*")) if folder.exists() else []


def _cut_off(path: Path, faults: Faults, *texts: str) -> tuple[Entry, ...]:
    """A day on a disk that refuses to its end."""
    book = writing(path, faults)
    entries = tuple(book.append([note(text)], moment(), "note")[0] for text in texts)
    book.close()
    return entries


def test_a_passing_error_is_tried_again(path: Path) -> None:
    """One failure is not noticed: the second try puts the entry into the book."""
    faults = Faults()
    with writing(path, faults) as book:
        faults.plan("commit", lambda: sqlite_error(sqlite3.SQLITE_IOERR), times=1)
        book.append([note("a")], moment(), "note")
        assert (book.notice, book.banner) == ("", "")
        assert _texts(path) == ["a"]


def test_full_disk_lets_go_of_the_reserve(path: Path) -> None:
    """A full disk costs the reserve, not the entry, and the printer is told."""
    faults = Faults()
    reserve = path.with_name("book.db-reserve")
    with writing(path, faults) as book:
        assert reserve.stat().st_size == 1024 * 1024
        if sys.platform != "win32":
            assert reserve.stat().st_blocks * 512 >= 1024 * 1024  # really taken, not a hole
        faults.plan("insert", disk_full, times=2)
        book.append([note("a")], moment(), "note")
        assert not reserve.exists()
        assert "The disk is full" in book.notice
        assert _texts(path) == ["a"]
    writing(path).close()
    assert reserve.stat().st_size == 1024 * 1024


def test_an_error_of_another_kind_keeps_the_reserve(path: Path) -> None:
    """Room does not help where room was not the trouble."""
    faults = Faults()
    with writing(path, faults) as book:
        faults.plan("insert", lambda: sqlite_error(sqlite3.SQLITE_IOERR_READ))
        book.append([note("a")], moment(), "note")
        assert path.with_name("book.db-reserve").exists()
        assert len(_spilled(path.parent)) == 1
        faults.clear()


@pytest.mark.parametrize(("broken", "where"), [
    ([], ""), (["spill beside"], "state"), (["spill beside", "spill state"], "temp"),
])
def test_kept_in_the_best_place_left(path: Path, broken: list[str], where: str) -> None:
    """Beside the book, else the state folder, else the temporary one; named to the printer."""
    faults = Faults()
    with writing(path, faults) as book:
        book.append([note("in the book")], moment(), "note")
        faults.plan("begin", disk_full)
        for point in broken:
            faults.plan(point, no_space)
        entry, = book.append([note("waits")], moment(1), "note")
        assert entry.position == 2
        file, = _spilled(path.parent / where)
        assert str(file) in book.notice
        assert "cannot be written (the disk is full)" in book.notice
        assert "enough for today" not in book.notice
        assert book.banner == ""
        assert book.unsaved == ()
        if sys.platform != "win32":
            assert stat.S_IMODE(file.stat().st_mode) == 0o600
        head, *lines = filter(None, file.read_text().split("\n"))
        assert json.loads(head) == {"book": str(path)}
        assert [json.loads(line)[0]["id"] for line in lines] == [entry.id]
        assert [one.body["text"] for one in book.stream(DAY)] == ["in the book", "waits"]
        faults.clear()


def test_memory_and_a_banner_that_stays(path: Path) -> None:
    """With no place left entries stay in memory, and the banner stands until they are on a disk."""
    faults = Faults()
    with writing(path, faults) as book:
        faults.plan("begin", disk_full)
        for place in ("beside", "state", "temp"):
            faults.plan(f"spill {place}", no_space)
        one, = book.append([note("a")], moment(), "note")
        assert "1 entry is in memory only" in book.banner
        two, = book.append([note("b")], moment(), "note")
        assert "2 entries are in memory only" in book.banner
        assert book.unsaved == (one, two)
        assert book.stream(DAY) == (one, two)
        faults.plan("spill state", no_space, times=0)
        three, = book.append([note("c")], moment(), "note")
        assert (book.banner, book.unsaved) == ("", ())
        file, = _spilled(path.parent / "state")
        line = file.read_text().rstrip().split("\n")[-1]
        assert [plain["id"] for plain in json.loads(line)] == [one.id, two.id, three.id]
        faults.clear()
    assert _texts(path) == ["a", "b", "c"]


def test_a_retry_takes_any_place_that_has_room(path: Path) -> None:
    """What was only in memory is on a disk again, though the book takes nothing yet."""
    faults = Faults()
    with writing(path, faults) as book:
        faults.plan("begin", disk_full)
        for place in ("beside", "state", "temp"):
            faults.plan(f"spill {place}", no_space)
        book.append([note("a")], moment(), "note")
        faults.plan("spill temp", no_space, times=0)
        assert not book.retry()
        assert (book.banner, book.unsaved) == ("", ())
        faults.clear()
    assert _texts(path) == ["a"]


def test_closing_with_entries_on_no_disk(path: Path) -> None:
    """A close that would lose entries says so and leaves them to be shown."""
    faults = Faults()
    book = writing(path, faults)
    faults.plan("begin", disk_full)
    for place in ("beside", "state", "temp"):
        faults.plan(f"spill {place}", no_space)
    entries = book.append([note("a"), sheet_out()], moment(), "note")
    with pytest.raises(BookDisk, match="2 entries are in memory only"):
        book.close()
    assert book.unsaved == entries
    writing(path).close()


def test_all_goes_into_the_book_when_it_can(path: Path) -> None:
    """The next action takes what waits with it, in order, and the spill file goes."""
    faults = Faults()
    with writing(path, faults) as book:
        faults.plan("begin", disk_full)
        book.append([note("a"), note("b")], moment(), "note")
        book.append([note("c")], moment(), "note")
        assert _texts(path) == []
        faults.clear()
        book.append([note("d")], moment(), "note")
        assert _texts(path) == ["a", "b", "c", "d"]
        assert _spilled(path.parent) == []
        assert "cannot be written" not in book.notice


def test_retry_without_an_action(path: Path) -> None:
    """The book can be tried at a quiet moment."""
    faults = Faults()
    with writing(path, faults) as book:
        assert book.retry()
        faults.plan("commit", disk_full)
        book.append([note("a")], moment(), "note")
        assert not book.retry()
        faults.clear()
        assert book.retry()
        assert _texts(path) == ["a"]


def test_a_busy_book_does_not_stop_the_bench(path: Path) -> None:
    """When another program holds the file, entries wait beside it and go in afterwards."""
    with writing(path) as book:
        other = raw(path)
        other.execute("BEGIN IMMEDIATE")
        book.append([note("a")], moment(), "note")
        book.append([note("b")], moment(), "note")
        assert "another program holds it" in book.notice
        other.execute("ROLLBACK")
        other.close()
        book.append([note("c")], moment(), "note")
        assert _texts(path) == ["a", "b", "c"]


def test_taken_in_at_the_next_start(path: Path) -> None:
    """After a death the next start takes the spilled entries first; numbers and chain go on."""
    faults = Faults()
    with writing(path) as book:
        book.append([note("a")], moment(), "note")
    faults.plan("begin", disk_full)
    spilled = _cut_off(path, faults, "b", "c")
    with writing(path) as book:
        assert "2 entries of an earlier day" in book.notice
        assert book.stream(DAY)[1:] == spilled
        entry, = book.append([note("d")], moment(), "note")
        assert (entry.position, entry.id) == (4, f"{book.origin}:4")
    assert _texts(path) == ["a", "b", "c", "d"]
    assert _spilled(path.parent) == []


def test_taken_in_from_several_places(path: Path) -> None:
    """Entries that lie in different places come in by their order, not by their place."""
    faults = Faults()
    book = writing(path, faults)
    faults.plan("begin", disk_full)
    for text, broken in (("a", 2), ("b", 0), ("c", 1), ("d", 2)):
        for number, place in enumerate(("beside", "state")):
            faults.plan(f"spill {place}", no_space, times=int(number < broken))
        book.append([note(text)], moment(), "note")
    book.close()
    assert [len(_spilled(path.parent / folder)) for folder in ("", "state", "temp")] == [1, 1, 1]
    with writing(path) as book:
        assert book.notice == ("4 entries of an earlier day are in the book now. "
                               "benchapp could not write them that day.")
    assert _texts(path) == ["a", "b", "c", "d"]
    assert [len(_spilled(path.parent / folder)) for folder in ("", "state", "temp")] == [0, 0, 0]


def test_still_full_at_the_next_start(path: Path) -> None:
    """A start on a disk still full waits on: nothing is lost, nothing is numbered twice."""
    faults = Faults()
    faults.plan("begin", disk_full)
    _cut_off(path, faults, "a")
    _cut_off(path, faults, "b")
    book = writing(path, faults)
    assert [entry.body["text"] for entry in book.stream(DAY)] == ["a", "b"]
    faults.clear()
    book.close()
    assert _texts(path) == ["a", "b"]


def test_death_between_book_and_spill_file(path: Path) -> None:
    """A spill file that is already in the book is recognised by its ids and goes."""
    faults = Faults()
    faults.plan("begin", disk_full)
    _cut_off(path, faults, "a", "b")
    file, = _spilled(path.parent)
    kept = file.read_bytes()
    writing(path).close()
    file.write_bytes(kept)
    with writing(path) as book:
        assert book.notice == ""
    assert _texts(path) == ["a", "b"]
    assert _spilled(path.parent) == []


def test_torn_line(path: Path) -> None:
    """A line cut off half-way was never acknowledged: the others come in, the file is kept."""
    faults = Faults()
    faults.plan("begin", disk_full)
    _cut_off(path, faults, "a", "b", "c")
    file, = _spilled(path.parent)
    lines = file.read_text().split("\n")
    file.write_text("\n".join([*lines[:-2], lines[-2][:40]]))
    with writing(path) as book:
        assert f"{file}.aside" in book.notice
    assert _texts(path) == ["a", "b"]
    assert Path(f"{file}.aside").exists()
    with writing(path) as book:
        assert book.notice == ""


def test_torn_line_and_a_disk_still_full(path: Path) -> None:
    """A file is not set aside while it is the only place of its good lines."""
    faults = Faults()
    faults.plan("begin", disk_full)
    _cut_off(path, faults, "a")
    file, = _spilled(path.parent)
    file.write_text(file.read_text() + '[{"id": "x')
    _cut_off(path, faults)
    assert _spilled(path.parent) == [file]
    writing(path).close()
    assert _texts(path) == ["a"]


def test_older_copy_put_in_the_place(path: Path, tmp_path: Path) -> None:
    """Spilled entries that do not follow what is in the book are kept aside, not forced in."""
    faults = Faults()
    with writing(path) as book:
        book.backup(tmp_path / "copy.db")
        book.append([note("a")], moment(), "note")
    faults.plan("begin", disk_full)
    _cut_off(path, faults, "b")
    path.write_bytes((tmp_path / "copy.db").read_bytes())
    with writing(path) as book:
        assert "do not follow this book" in book.notice
        book.append([note("other a")], moment(), "note")
    assert _texts(path) == ["other a"]
    assert [file.suffix for file in _spilled(path.parent)] == [".aside"]


def test_another_books_entries_are_left_alone(path: Path, tmp_path: Path) -> None:
    """Books that share the temporary folder do not take each other's entries."""
    faults = Faults()
    faults.plan("begin", disk_full)
    book = writing(path, faults)
    book.append([note("a")], moment(), "note")
    book.close()
    with Book.open(path.with_name("other.db"), write=True, create=True, temp=tmp_path) as other:
        assert other.entries() == ()
    assert len(_spilled(path.parent)) == 1


@pytest.mark.skipif(sys.platform == "win32", reason="links and owners are POSIX")
def test_strange_files_in_the_temporary_folder(path: Path) -> None:
    """The temporary folder is everyone's: links, folders and rubbish there are not followed."""
    with writing(path) as book:
        origin = book.origin
    temp = path.parent / "temp"
    temp.mkdir()
    elsewhere = path.parent / "elsewhere"
    elsewhere.write_text("[]\n")
    (temp / f"benchapp-spill-{origin}-1.jsonl").symlink_to(elsewhere)
    (temp / f"benchapp-spill-{origin}-2.jsonl").mkdir()
    (temp / f"benchapp-spill-{origin}-3.jsonl").write_text('{"a": 1}\n[7]\n[{"at": 5}]\nnull\n')
    with writing(path) as book:
        assert book.entries() == ()
        assert "-3.jsonl.aside" in book.notice
    assert elsewhere.read_text() == "[]\n"


@pytest.mark.parametrize("code", [
    sqlite3.SQLITE_IOERR_FSYNC, sqlite3.SQLITE_IOERR_DIR_FSYNC, sqlite3.SQLITE_CORRUPT,
])
def test_failed_sync_is_damage(path: Path, code: int) -> None:
    """After a failed fsync the entry is kept elsewhere and the file opened anew and looked at."""
    faults = Faults()
    with writing(path, faults) as book:
        book.append([note("a")], moment(), "note")
        faults.plan("commit", lambda: sqlite_error(code), times=1)
        book.append([note("b")], moment(), "note")
        assert faults.seen.count("commit") == 2  # not simply tried again
        assert "reopen" in faults.seen
        assert len(_spilled(path.parent)) == 1
        book.append([note("c")], moment(), "note")
        assert _spilled(path.parent) == []
    assert _texts(path) == ["a", "b", "c"]


def test_commit_that_failed_and_is_there(path: Path) -> None:
    """An entry whose commit was answered with an error but lies in the file is not doubled."""
    faults = Faults()
    with writing(path, faults) as book:
        faults.plan("commit", lambda: sqlite_error(sqlite3.SQLITE_IOERR_FSYNC), times=1)
        entry, = book.append([note("a")], moment(), "note")
        file = raw(path)
        at = entry.at
        file.execute(
            "INSERT INTO entries VALUES (1, ?, ?, 1, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            (entry.id, DAY, entry.action, "note", "noted", at.wall_ms, at.offset_min, at.boot_ns,
             at.boot_id, at.mono_ns, json.dumps(dict(entry.body)), entry.sha256))
        file.close()
        book.append([note("b")], moment(), "note")
    assert _texts(path) == ["a", "b"]


def test_file_that_does_not_open_again(path: Path) -> None:
    """A file that stays broken is not touched any more; the day goes on beside it."""
    faults = Faults()
    book = writing(path, faults)
    faults.plan("commit", lambda: sqlite_error(sqlite3.SQLITE_CORRUPT), times=1)
    faults.plan("reopen", lambda: sqlite_error(sqlite3.SQLITE_CANTOPEN))
    book.append([note("a")], moment(), "note")
    faults.clear()
    book.append([note("b")], moment(), "note")
    assert "benchapp writes nothing more" in book.banner
    assert not book.retry()
    assert not book.heartbeat(moment())
    assert [e.body["text"] for e in book.entries()] == ["a", "b"]
    with pytest.raises(BookDamaged, match="is damaged"):
        book.close()
    # It was sound after all, so the full check at the next start lets it go on.
    writing(path).close()
    assert _texts(path) == ["a", "b"]


def test_another_program_wrote_in_between(path: Path) -> None:
    """When someone else takes the next place in the book, our entries are kept, not lost."""
    book = writing(path)
    book.append([note("a")], moment(), "note")
    file = raw(path)
    file.execute(
        "INSERT INTO entries SELECT 2, 'zz:9', stream, 2, action, word, kind, wall_ms,"
        " offset_min, boot_ns, boot_id, mono_ns, body, sha256 FROM entries")
    file.close()
    book.append([note("b")], moment(), "note")
    assert "benchapp writes nothing more" in book.banner
    assert len(_spilled(path.parent)) == 1
    with pytest.raises(BookDamaged):
        book.close()


@pytest.mark.parametrize("make", [disk_full, lambda: sqlite_error(sqlite3.SQLITE_IOERR_WRITE)])
def test_opening_on_a_full_disk(path: Path, make: Callable[[], Exception]) -> None:
    """The reserve also opens the book in the morning."""
    faults = Faults()
    writing(path).close()
    faults.plan("open", make, times=1)
    faults.plan("reserve", no_space)
    with writing(path, faults) as book:
        book.append([note("a")], moment(), "note")
        assert not path.with_name("book.db-reserve").exists()
    faults.plan("open", make, times=1)
    with pytest.raises(BookDisk, match="disk"):
        writing(path, faults)
    assert _texts(path) == ["a"]


def test_no_room_for_the_reserve(path: Path) -> None:
    """A disk without room for the reserve has none, and that is no error."""
    faults = Faults()
    faults.plan("reserve", no_space)
    with writing(path, faults) as book:
        book.append([note("a")], moment(), "note")
    assert not path.with_name("book.db-reserve").exists()


def _at_reserve(path: Path, kind: str) -> Path:
    """Put something of another's where the reserve would be; gives the file it can harm."""
    reserve, other = path.with_name("book.db-reserve"), path.with_name("letters.txt")
    other.write_text("dear Wren", encoding="utf-8")
    if kind == "link":
        reserve.symlink_to(other)
    elif kind == "hard link":
        reserve.hardlink_to(other)
    elif kind == "own file":
        other.rename(reserve)
        other = reserve
    return other


@pytest.mark.parametrize("kind", ["link", "hard link", "own file"])
def test_the_reserve_harms_no_file_that_has_its_name(path: Path, kind: str) -> None:
    """A link or a file where the reserve would be is neither followed, written nor removed."""
    writing(path).close()
    path.with_name("book.db-reserve").unlink()
    other = _at_reserve(path, kind)
    faults = Faults()
    with writing(path, faults) as book:
        faults.plan("commit", disk_full, times=2)
        book.append([note("a")], moment(), "note")
        faults.clear()
    assert other.read_text(encoding="utf-8") == "dear Wren"
    assert path.with_name("book.db-reserve").exists()
    assert _texts(path) == ["a"]


def test_an_empty_reserve_is_made_again(path: Path) -> None:
    """A program cut off while it made the reserve leaves an empty file: the next one fills it."""
    writing(path).close()
    reserve = path.with_name("book.db-reserve")
    reserve.write_bytes(b"")
    writing(path).close()
    assert reserve.stat().st_size == 1024 * 1024
    assert stat.S_IMODE(reserve.stat().st_mode) == 0o600


_LIMITED = """
import resource, sys
from pathlib import Path
from tests.book.samples import moment, note, writing
book = writing(Path(sys.argv[1]))
resource.setrlimit(resource.RLIMIT_FSIZE, (60_000, 60_000))
for n in range(400):
    print(book.append([note(f"{n} " + "x" * 200)], moment(n), "note")[0].id, flush=True)
print(bool(book.notice), repr(book.banner), len(book.unsaved), flush=True)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="limits are POSIX")
def test_a_limit_the_system_sets(path: Path) -> None:
    """No file may grow: the log stops, spill files take over, and the next start has it all."""
    child = subprocess.run([sys.executable, "-c", _LIMITED, str(path)], capture_output=True,
                           text=True, check=False, cwd=Path(__file__).parents[2])
    lines = child.stdout.splitlines()
    assert len(lines) == 401, child.stderr
    assert lines[-1].startswith("True ")
    on_disk = 400 - int(lines[-1].split()[-1])
    assert on_disk > 100  # the log's own share and a whole spill file beside it
    with writing(path) as book:
        assert book.verify() == []
        assert [entry.id for entry in book.entries()] == lines[:on_disk]


def _fill(filler: Path) -> None:
    with filler.open("wb", buffering=0) as file, contextlib.suppress(OSError):
        while True:
            file.write(b"x" * 4096)


@pytest.mark.full
@pytest.mark.skipif(sys.platform != "linux" or os.getuid() != 0, reason="needs to mount a disk")
def test_a_disk_that_is_really_full(tmp_path: Path) -> None:
    """On a disk of 3 MB that others fill, every entry acknowledged is there when there is room."""
    disk = tmp_path / "disk"
    disk.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=3m", "t", str(disk)],
                      check=False).returncode:
        pytest.skip("this system lets nobody mount")
    try:
        state = tmp_path / "state"
        path = disk / "book.db"
        with Book.open(path, write=True, create=True, state=state) as book:
            filler = disk / "filler"
            _fill(filler)
            entries = [entry for n in range(2500)
                       for entry in book.append([note(f"{n} " + "x" * 400)], moment(n), "note")]
            assert _spilled(state)
            assert book.stream(DAY) == tuple(entries)
            with Book.reading(path) as reader:
                assert len(reader.entries()) > 500  # what the reserve had room for
            filler.unlink()
            subprocess.run(["mount", "-o", "remount,size=30m", str(disk)], check=True)
        with Book.reading(path) as book:
            assert book.stream(DAY) == tuple(entries)
            assert book.verify() == []
        assert not _spilled(state)
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def test_opening_entry_spilled_first(path: Path) -> None:
    """A session that could be opened beside the book only is resumed from the book later."""
    faults = Faults()
    faults.plan("begin", disk_full)
    book = writing(path, faults)
    book.append([opened()], moment(), "open")
    book.close()
    with writing(path) as book:
        assert [row.name for row in book.sessions()] == ["2026-05-03"]


def _copied(path: Path, to: Path) -> Path:
    """A copy of the book at rest, as people copy files."""
    to.parent.mkdir(exist_ok=True)
    to.write_bytes(path.read_bytes())
    return to


def _only_in(path: Path, place: str, *texts: str) -> None:
    """A day of which all is kept in one of the other places."""
    faults = Faults()
    faults.plan("begin", disk_full)
    for other in {"beside", "state", "temp"} - {place}:
        faults.plan(f"spill {other}", no_space)
    _cut_off(path, faults, *texts)


@pytest.mark.parametrize("place", ["state", "temp"])
def test_a_copy_does_not_take_the_entries_of_the_book(path: Path, place: str) -> None:
    """Two copies share the folders; each gets back what was kept for it, and no other's."""
    with writing(path) as book:
        book.append([note("a")], moment(), "note")
    copy = _copied(path, path.with_name("copy.db"))
    _only_in(path, place, *(f"note {n}" for n in range(40)))
    with writing(copy) as book:
        assert "holds 40 entries of" in book.notice
        assert f"{path}, a copy of this book" in book.notice
        book.append([note("in the copy")], moment(), "note")
    with writing(path) as book:
        assert "40 entries of an earlier day" in book.notice
    assert _texts(path) == ["a", *(f"note {n}" for n in range(40))]
    assert _texts(copy) == ["a", "in the copy"]
    assert _spilled(path.parent / place) == []


def test_a_book_that_was_moved_finds_its_entries(path: Path) -> None:
    """What was kept elsewhere for a book that is no longer at its place follows it."""
    _only_in(path, "temp", "a")
    moved = path.with_name("moved.db")
    path.rename(moved)
    with writing(moved) as book:
        assert "1 entry of an earlier day" in book.notice
    assert _texts(moved) == ["a"]


def test_a_folder_copied_whole_brings_its_entries(path: Path) -> None:
    """What lies beside the book is read where the folder was copied to, and there stays here."""
    _only_in(path, "beside", "a")
    copy = _copied(path, path.parent / "stick" / path.name)
    file, = _spilled(path.parent)
    _copied(file, copy.with_name(file.name))
    for book in (path, copy):
        writing(book).close()
        assert _texts(book) == ["a"]


def test_a_file_of_an_older_version_is_taken_in(path: Path) -> None:
    """Named by the origin alone, without the line that says whose it is."""
    _only_in(path, "temp", "a", "b")
    file, = _spilled(path.parent / "temp")
    parts = file.name.split("-")
    file.rename(file.with_name("-".join([*parts[:3], parts[4]])))
    file, = _spilled(path.parent / "temp")
    file.write_text(file.read_text().split("\n", 1)[1])
    writing(path).close()
    assert _texts(path) == ["a", "b"]


def test_entries_after_a_gap_are_set_aside(path: Path) -> None:
    """Where an entry before them is lost, what comes after does not continue this book."""
    faults = Faults()
    faults.plan("begin", disk_full)
    _cut_off(path, faults, "a")
    lost, = _spilled(path.parent)
    book = writing(path, faults)
    book.append([note("b", "session/another")], moment(), "note")
    book.close()
    lost.unlink()
    with writing(path) as book:
        assert "do not follow this book" in book.notice
        assert book.entries() == ()
    assert [file.suffix for file in _spilled(path.parent)] == [".aside"]
