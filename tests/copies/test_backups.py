"""Backups that are made by themselves: checked, none twice, few, and never in the way."""

from __future__ import annotations

import sqlite3
import threading
from argparse import Namespace
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from benchapp import files
from benchapp.book import Book
from benchapp.book.schema import latest_step, version_of
from benchapp.clock import FakeClock
from benchapp.commands.context import write_book
from benchapp.copies.backups import Backup, back_up, backups_of, backups_to_keep
from benchapp.copies.beside import CopyMaker
from benchapp.copies.mirrors import mirror_files, write_mirrors
from benchapp.service.outcome import Outcome
from tests.book.samples import closed, moment, note, opened, raw
from tests.commands.test_cli import Call, call

__all__ = ["call"]


def days(*dates: str, origin: str = "a") -> list[Backup]:
    """Backups of one book, made on these days."""
    return [Backup(row, day, origin, Path(f"{origin}{row}"), 1) for row, day in enumerate(dates, 1)]


def test_ten_stay_and_of_the_rest_one_a_month_and_one_a_year() -> None:
    """Four years, two a month: ten newest, the last of each of twelve months, of each year."""
    made = days(*(f"{y}-{m:02}-{d}" for y in range(2023, 2027) for m in range(1, 13)
                  for d in ("03", "20")))
    stay = [one.day for one in backups_to_keep(made)]
    assert stay[-10:] == [one.day for one in made[-10:]]
    assert stay[:-10] == ["2023-12-20", "2024-12-20", "2025-12-20",
                          *(f"2026-{m:02}-20" for m in range(1, 8))]


def test_a_clock_that_was_wrong_and_another_book_push_nothing_out() -> None:
    """The newest is the one with most rows; what an earlier book left is kept for itself."""
    made = [*days(*["2026-05-03"] * 12, "1970-01-01"), *days("2025-05-03", origin="b")]
    stay = backups_to_keep(made)
    assert made[12] in stay
    assert made[13] in stay
    assert len(stay) == 11


def test_a_backup_is_made_once_and_is_sound(path: Path) -> None:
    """Also of an open book; nothing new, no new one; what was cut off is cleared away."""
    with Book.open(path, write=True, create=True) as book:
        assert back_up(path, moment()) == ""
        assert backups_of(path) == []
        book.append([opened(), note("cold")], moment(), "open")
        assert back_up(path, moment()) == ""
        (one,) = backups_of(path)
        cut_off = one.path.with_name(f".{'a' * 16}.part.0123abcd.part")
        cut_off.write_text("")
        own = one.path.with_name("mine.book")
        own.write_text("of the printer")
        assert back_up(path, moment(60)) == ""
        assert backups_of(path) == [one]
        book.append([closed()], moment(60), "close")
        assert back_up(path, moment(120)) == ""
        assert [x.row for x in backups_of(path)] == [2, 3]
        assert not cut_off.exists()
        assert own.read_text() == "of the printer"
        with Book.open(backups_of(path)[-1].path, write=False) as copy:
            assert copy.entries() == book.entries()
    assert files.what_is_kept(one.path, path) == "in the folder of the backups"
    mirror = files.mirrors_folder(path) / "session" / "x.jsonl"
    assert files.what_is_kept(mirror, path) == "in the text mirror of the book"


def test_backups_take_a_tenth_of_the_free_space(path: Path) -> None:
    """Where it is little the oldest go; where not one has room, that is said."""
    with Book.open(path, write=True, create=True) as book:
        for n in range(4):
            book.append([note(str(n))], moment(n), "note")
            assert back_up(path, moment(n), free_bytes=10**9) == ""
        size = backups_of(path)[-1].size
        book.append([note("4")], moment(4), "note")
        assert back_up(path, moment(4), free_bytes=20 * size) == ""
        assert [x.row for x in backups_of(path)] == [4, 5]  # of (20 + 4) sizes a tenth
        book.append([note("5")], moment(5), "note")
        why = back_up(path, moment(5), free_bytes=0)
        assert why.startswith("No backup was made: it takes ")
        assert [x.row for x in backups_of(path)] == [4, 5]


def test_a_damaged_book_pushes_no_backup_out(path: Path) -> None:
    """The copy is read through: what is not as it was written is not kept, and it is said."""
    with Book.open(path, write=True, create=True) as book:
        book.append([opened(), note("cold")], moment(), "open")
    assert back_up(path, moment()) == ""
    with Book.open(path, write=True) as book:
        book.append([closed()], moment(9), "close")
    file = raw(path)
    file.execute("DROP TRIGGER entries_never_change")
    file.execute("UPDATE entries SET word = 'other' WHERE sequence = 2")
    file.close()
    assert "benchapp book check --full" in back_up(path, moment(60))
    assert [x.row for x in backups_of(path)] == [2]
    assert len(list(files.backups_folder(path).iterdir())) == 1


def test_the_end_of_a_session_makes_both_beside_what_one_does(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The mirror after any writing that is over; a backup after a session alone."""
    done = threading.Event()

    def write(*args: Any) -> bool:
        told = write_mirrors(*args)
        done.set()
        return told

    monkeypatch.setattr("benchapp.copies.beside.write_mirrors", write)
    with Book.open(path, write=True, create=True) as book:
        beside = CopyMaker(path, FakeClock(), idle_s=0)
        beside.hear(Outcome(book.append([opened()], moment(), "open")))
        beside.hear(Outcome(book.append([note("cold")], moment(), "note")))
        assert done.wait(60)
        assert len(mirror_files(files.mirrors_folder(path))) == 1
        assert backups_of(path) == []
        beside.hear(Outcome(book.append([closed()], moment(), "close")))
        beside.leave()
        assert beside.problem == ""
        (one,) = backups_of(path)
        assert one.row == 3


def test_a_book_is_backed_up_before_its_layout_changes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An old book, opened to write: the backup has the layout from before."""
    path = tmp_path / "studio.book"
    with Book.open(path, write=True, create=True) as book:
        book.append([opened()], moment(), "open")
    file = raw(path)
    file.executescript("DROP TABLE words; DELETE FROM migrations WHERE number = 4; "
                       "PRAGMA user_version = 3; CREATE INDEX entries_of_words ON entries (kind)")
    file.close()
    with write_book(Namespace(book=str(path))):
        pass
    (one,) = backups_of(path)
    with closing(sqlite3.connect(one.path)) as copy:
        assert version_of(copy) == 3
    with closing(sqlite3.connect(path)) as now:
        assert version_of(now) == latest_step()
    assert capsys.readouterr().err == ""


def test_a_day_by_lines_leaves_a_mirror_and_a_backup(call: Call, home: Path) -> None:
    """Both have all of it, and `book rebuild` gives the book back, to be put in its place."""
    assert call("run", "three-steps", "--plain", "--wanted", "1", stdin="\n" * 200).code == 0
    book, new = home / "studio.book", home.parent / "new.book"
    (one,) = backups_of(book)
    done = call("book", "rebuild", "--from", str(home / "mirrors" / "studio.book"),
                "--into", str(new))
    assert (done.code, done.err) == (0, "")
    assert f"benchapp book restore {new}" in done.out
    for path in (one.path, new):
        with Book.open(path, write=False) as copy, Book.open(book, write=False) as now:
            assert copy.entries() == now.entries()
            assert copy.verify() == []
    assert call("book", "rebuild", "--from", str(home / "mirrors"), "--into", str(new)).code == 1
    assert call("book", "rebuild", "--from", str(home / "none"), "--into", "x.book").code == 2
    assert call("sessions", "--json", "--book", str(new)).json == call("sessions", "--json").json
