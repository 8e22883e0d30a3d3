"""`benchapp book`: the book's own file checked, copied and brought back, as a printer does it."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest

from benchapp.book import Book
from tests.book.samples import Faults, disk_full, moment, note, raw
from tests.commands.test_cli import Call, call

__all__ = ["call"]


def _print_day(call: Call) -> None:
    assert call("run", "three-steps", "--plain", "--wanted", "1", stdin="\n" * 200).code == 0


def _damage(path: Path) -> None:
    """Change one entry behind the book's back."""
    file = raw(path)
    file.execute("DROP TRIGGER entries_never_change")
    file.execute("UPDATE entries SET word = 'other' WHERE sequence = 2")
    file.close()


def test_a_book_is_checked_and_backed_up(call: Call, home: Path) -> None:
    """Sound is 0; a changed entry is found by the full check: 3, and the way back is named."""
    assert call("book", "check").code == 3
    _print_day(call)
    book, copy = home / "studio.book", home.parent / "copy.book"
    with Book.open(book, write=True):  # also while it is open
        done = call("book", "backup", str(copy))
    assert (done.code, done.err) == (0, "")
    assert call("book", "check", "--full", "--book", str(copy)).code == 0
    again = call("book", "backup", str(copy))
    assert again.code == 1
    assert "Choose another name" in again.err
    assert "is sound" in call("book", "check").out
    _damage(book)
    told = call("book", "check", "--full")
    assert told.code == 3
    assert "was changed since" in told.out
    assert "benchapp book restore FILE" in told.out


def test_a_word_that_is_none_is_told(call: Call) -> None:
    """As for every command: 2, and what there is."""
    assert "chek" in call("book", "chek").err
    assert call("book").code == 2


def _marks(home: Path) -> list[str]:
    with Book.reading(home / "studio.book") as book:
        return [str(e.body["mark"]) for e in book.entries() if e.kind == "pulled"]


def test_restored_printed_and_merged(call: Call, home: Path) -> None:
    """Nothing of either book is lost, no mark is given twice, and a session has one name."""
    book, backup = home / "studio.book", home.parent / "backup.book"
    _print_day(call)
    call("book", "backup", str(backup))
    _print_day(call)
    with Book.reading(book) as found:
        lost = found.entries()
    asked = call("book", "restore", str(backup))
    assert asked.code == 2
    assert "add --yes" in asked.err
    counted = re.findall(r"^  \d{4}-\d\d-\d\d  .*  (\d+) entr", asked.out, re.MULTILINE)
    assert sum(map(int, counted)) == len(lost) // 2  # how many of each day and session
    assert "add --list" in asked.out
    listed = call("book", "restore", str(backup), "--list")
    assert listed.out.count("\n  ") == len(lost) // 2  # every entry that only the old book has
    done = call("book", "restore", str(backup), "--yes")
    assert done.code == 0
    aside = next(home.glob("studio.book-before-*"))
    assert f"benchapp book merge {aside}" in " ".join(done.out.split())
    assert len(_marks(home)) == 3
    _print_day(call)
    assert call("book", "merge", str(aside)).code == 0
    with Book.reading(book) as found:
        assert found.verify() == []
        assert {e.id for e in lost} < {e.id for e in found.entries()}
        names = [row.name for row in found.sessions()]
    marks = _marks(home)
    assert len(marks) == len(set(marks)) == 9
    assert len(names) == len(set(names)) == 3
    again = call("book", "merge", str(aside))
    assert "0 entries imported" in again.out


def _books_away(home: Path) -> None:
    """The book is lost, with all that SQLite and the program keep of it; the mirror is not."""
    for file in [*home.glob("studio.book*"), *(home / "backups").iterdir()]:
        file.unlink()


def test_what_only_the_mirror_holds_is_given_to_nothing_else(call: Call, home: Path) -> None:
    """The book is lost and an older backup restored: the mirror's day is listed, and comes back."""
    book, backup = home / "studio.book", home.parent / "backup.book"
    mirror, new = home / "mirrors" / "studio.book", home / "studio-rebuilt.book"
    _print_day(call)
    call("book", "backup", str(backup))
    _print_day(call)
    with Book.reading(book) as found:
        lost = found.entries()
    _books_away(home)
    done = call("book", "restore", str(backup), "--yes")
    assert done.code == 0
    assert f"{len(lost) // 2} entries only in the text mirror {mirror}" in done.out
    assert "add --list" in done.out
    commands = (("book", "rebuild", "--from", str(mirror), "--into", str(new)),
                ("book", "merge", str(new)))
    assert all(f"benchapp {' '.join(x)}" in done.out for x in commands)
    _print_day(call)
    assert [call(*x).code for x in commands] == [0, 0]
    with Book.reading(book) as found:
        assert found.verify() == []
        assert {e.id for e in lost} < {e.id for e in found.entries()}
        names = [row.name for row in found.sessions()]
    marks = _marks(home)
    assert len(marks) == len(set(marks)) == 9
    assert len(names) == len(set(names)) == 3
    again = call("book", "restore", str(new), "--into", str(home.parent / "other.book"))
    assert "only in the text mirror" not in again.out


def test_what_was_put_aside_in_a_mirror_counts_too(call: Call, home: Path) -> None:
    """A backup put in the place by hand went on: what the mirror had of the lost day is aside."""
    book, backup = home / "studio.book", home.parent / "backup.book"
    _print_day(call)
    call("book", "backup", str(backup))
    _print_day(call)
    _books_away(home)
    shutil.copyfile(backup, book)
    _print_day(call)  # goes by the name and the letters of the lost day
    aside = next(home.glob("mirrors/studio.book/session/*.aside"))
    given = _marks(home)
    _books_away(home)
    done = call("book", "restore", str(backup), "--yes")
    assert f"only in the file put aside in the text mirror {aside}" in done.out
    _print_day(call)
    assert not set(given[3:]) & set(_marks(home))
    with Book.reading(book) as found:
        assert len(found.taken_elsewhere().names) == 2


def test_a_command_that_is_named_can_be_typed_as_it_stands(call: Call, home: Path) -> None:
    """Where a folder's name has a blank, as the system's own for data may have."""
    backup = home.parent / "my copies" / "one.book"
    _print_day(call)
    call("book", "backup", str(backup))
    shutil.copyfile(backup, home / "older one.book")
    listed = call("book", "restore").out
    assert str(home / "older one.book") in shlex.split(listed)
    command = shlex.split(listed.partition("The text mirror may go further: ")[2])
    assert call(*command[1:-1], str(home.parent / "new one.book")).code == 0


def test_the_mirror_of_another_book_is_not_listed(call: Call, home: Path) -> None:
    """Its marks are not given either; what it holds is nothing to restore here."""
    backup = home.parent / "backup.book"
    _print_day(call)
    call("book", "backup", str(backup))
    assert call("--book", str(home / "guest.book"), "run", "three-steps", "--plain",
                "--wanted", "1", stdin="\n" * 200).code == 0
    assert (home / "mirrors" / "guest.book").is_dir()
    done = call("book", "restore", str(backup), "--yes")
    assert done.code == 0
    assert "text mirror" not in done.out


@pytest.mark.parametrize("name", ["studio.book-wal", "studio.book-journal", "preferences.yaml",
                                  "mirrors/studio.book/my.book", "../copy.book-wal"])
def test_no_copy_takes_a_name_that_is_needed(call: Call, home: Path, name: str) -> None:
    """A copy in the place of a book's log would keep that book shut: none is made there."""
    _print_day(call)
    copy, new = home.parent / "copy.book", str(home / name)
    call("book", "backup", str(copy))
    for words in (("backup", new), ("restore", str(copy), "--into", new),
                  ("rebuild", "--from", str(home / "mirrors" / "studio.book"), "--into", new)):
        told = call("book", *words)
        assert (told.code, "Choose another" in told.err) == (1, True), words
        assert not (home / name).exists()
    assert call("book", "check", "--full").code == 0
    assert call("book", "check", "--full", "--book", str(copy)).code == 0


def test_your_own_copy_may_be_made_among_the_backups(call: Call, home: Path) -> None:
    """The folder is there to find copies in; a copy that is there is not written over."""
    _print_day(call)
    copy = str(home / "backups" / "mine.book")
    assert [call("book", "backup", copy).code for _ in range(2)] == [0, 1]


def test_restore_and_merge_say_what_is_no_use(call: Call, home: Path) -> None:
    """The file itself, none, a damaged backup, one that is open: told, and nothing is changed."""
    _print_day(call)
    book, backup = home / "studio.book", home.parent / "backup.book"
    call("book", "backup", str(backup))
    assert call("book", "merge", str(book)).code == 2
    assert call("book", "merge", "none.book").code == 2
    assert call("book", "restore", str(book), "--yes").code == 3
    assert call("book", "restore", "none.book", "--yes").code == 3
    assert call("book", "restore", str(backup), "--into", str(backup)).code == 1
    with Book.open(book, write=True):
        assert "is open in another benchapp" in call("book", "restore", str(backup), "--yes").err
    into = call("book", "restore", str(backup), "--into", str(home.parent / "new.book"))
    assert (into.code, "is as it was" in into.out) == (0, True)
    before = book.read_bytes()
    _damage(backup)
    told = call("book", "restore", str(backup), "--yes")
    assert told.code == 3
    assert "is not sound" in told.err
    assert book.read_bytes() == before


def test_backups_are_listed_and_what_waits_is_told(call: Call, home: Path) -> None:
    """Without a file restore names those there are; a copy that lacks entries says so."""
    assert "There is no backup in" in call("book", "restore").err
    _print_day(call)
    book, backup = home / "studio.book", home / "backups" / "one.book"
    call("book", "backup", str(backup))
    listed = call("book", "restore")
    assert (listed.code, f"{backup}  " in listed.out) == (0, True)
    newer = home / "backups" / "newer.book"
    _print_day(call)
    call("book", "backup", str(newer))
    data = newer.read_bytes()
    at = data.index(b"step finished") // 4096 * 4096
    newer.write_bytes(data[:at] + bytes(4096) + data[at + 4096:])
    told = call("book", "restore").out
    assert ", damaged" in told.partition(f"{backup}  ")[2].partition(f"{newer}  ")[2]
    faults = Faults()
    with Book.open(book, write=True, state=home / "state", fault=faults) as found:
        faults.plan("insert", disk_full)
        found.append([note("waits", found.sessions()[0].stream)], moment(), "note")
    assert "1 entry waits beside the book" in call("book", "check").out
    again = call("book", "backup", str(home / "two.book"))
    assert (again.code, "not in the backup" in again.err) == (0, True)


def test_a_copy_without_its_log_is_told_by_every_command(call: Call, home: Path) -> None:
    """Those that read and those that write say that it may lack what was written last."""
    _print_day(call)
    book, copy = home / "studio.book", home.parent / "copy.book"
    with Book.open(book, write=True):
        shutil.copyfile(book, copy)
    for argv in (["--book", str(copy), "sessions"], ["book", "restore", str(copy)],
                 ["book", "merge", str(copy)], ["--book", str(copy), "book", "merge", str(book)]):
        assert "Its log is not beside it" in call(*argv).err, argv
    assert call("--book", str(copy), "sessions").err == ""


def test_a_damaged_book_that_lost_its_own_name_is_merged(call: Call, home: Path) -> None:
    """What restoring lists as only in the old book can be taken in, as it says."""
    book, backup = home / "studio.book", str(home.parent / "copy.book")
    _print_day(call)
    call("book", "backup", backup)
    assert call("run", "three-steps", "--plain", stdin="\nquit\n").code == 0
    with Book.reading(book) as found:
        name, entries = found.origin, found.last_sequence()
    data = book.read_bytes()
    at = data.index(b"origin" + name.encode()) // 4096 * 4096
    book.write_bytes(data[:at] + bytes(4096) + data[at + 4096:])
    done = call("book", "restore", backup, "--yes")
    aside = done.out.partition("benchapp book merge ")[2].split()[0]
    assert call("book", "merge", aside).code == 0
    with Book.reading(book) as found:
        assert found.last_sequence() == entries


def test_a_damaged_book_is_brought_back_by_what_it_says(call: Call, home: Path) -> None:
    """Check, list, restore, merge: each names the next; the day that is not whole is named."""
    book = home / "studio.book"
    _print_day(call)
    call("book", "backup", str(home / "backups" / "one.book"))
    for _ in range(3):
        _print_day(call)
    further = call("book", "restore", str(home / "backups" / "one.book")).err
    assert "Another copy goes further" in further
    for made_by_itself in (home / "backups").glob("studio-*"):
        made_by_itself.unlink()
    with Book.reading(book) as found:
        lost = found.sessions()[2]
    data = book.read_bytes()
    at = data.rindex(b"step finished", 0, data.rindex(lost.id.encode())) // 4096 * 4096
    book.write_bytes(data[:at] + bytes(4096) + data[at + 4096:])
    told = call("book", "check")
    assert (told.code, "benchapp book restore FILE" in told.out) == (3, True)
    file = call("book", "restore").out.split("\n")[1].split()[0]
    done = call("book", "restore", file, "--yes")
    assert "is damaged. At least" in done.err
    aside = done.out.partition("benchapp book merge ")[2].split()[0]
    merged = call("book", "merge", aside)
    assert (merged.code, "Left out, because it is not whole" in merged.out) == (0, True)
    assert call("book", "check", "--full").code == 0
    with Book.reading(book) as found:
        names = [row.name for row in found.sessions()]
    assert 1 < len(names) < 4
    assert f"benchapp --book {aside} sessions" in merged.out
    assert call("--book", aside, "sessions").code == 0
    more = done.out.partition("To add what only the text mirror has: ")[2].splitlines()[0]
    assert [call(*command.split()[1:]).code for command in more.split(", then: ")] == [0, 0]
    with Book.reading(book) as found:
        assert lost.name in {row.name for row in found.sessions()}
        assert len(found.sessions()) == 4
