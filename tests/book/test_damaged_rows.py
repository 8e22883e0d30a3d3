"""Of a damaged book: what is as it was written, what is not, and where streams are known to end."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.book.append import INSERT
from benchapp.book.beyond import ends_of_streams, entries_beyond, readable_entries
from benchapp.book.errors import BookDamaged
from benchapp.book.read import entry_of, entry_row
from benchapp.book.salvage import AsWritten
from benchapp.book.schema import migrate
from benchapp.book.verify import find_problems, is_chained
from benchapp.events.entry import Entry
from tests.book.samples import DAY, moment, note

OTHER = "session/2026-05-04"


def five() -> tuple[Entry, ...]:
    """Three notes of a day and two of another."""
    book = Book.in_memory("x")
    for n, stream in enumerate((DAY, OTHER, DAY, OTHER, DAY)):
        book.append([note(f"note {n + 1}", stream)], moment(n), "note")
    return book.entries()


def copied(entries: Collection[Entry], *changes: str) -> sqlite3.Connection:
    """A book with these entries, whatever was done to it since."""
    connection = sqlite3.connect(":memory:", isolation_level=None)
    migrate(connection, "x")
    connection.executemany(INSERT, map(entry_row, entries))
    for trigger in ("entries_never_change", "entries_never_go"):
        connection.execute(f"DROP TRIGGER {trigger}")
    for change in changes:
        connection.execute(change)
    return connection


@pytest.fixture
def sound() -> Iterator[sqlite3.Connection]:
    """The five, as they were written."""
    with closing(copied(five())) as connection:
        yield connection


CHANGED = "UPDATE entries SET body = replace(body, 'note 3', 'note 8') WHERE sequence = 3"


def salvaged(streams: Collection[str] | None, *changes: str) -> tuple[list[int], AsWritten]:
    """The rows that come through, and what is said of the others."""
    with closing(copied(five(), *changes)) as connection:
        read = AsWritten(Path("book.db"), connection, streams)
        return [int(entry.id.partition(":")[2]) for entry in read], read


def test_a_sound_book_comes_through_whole() -> None:
    """All of it, or the streams asked for."""
    rows, read = salvaged(None)
    assert (rows, read.whole, read.unread, read.wrong, read.ends) == ([1, 2, 3, 4, 5], True, 0, [],
                                                                      {})
    rows, read = salvaged([OTHER])
    assert (rows, read.whole, read.ends) == ([2, 4], True, {})


def test_a_changed_entry_is_named_and_the_others_come_through() -> None:
    """Also what comes after it, as far as it is known to be written so."""
    rows, read = salvaged(None, CHANGED)
    assert rows == [1, 2, 4, 5]
    assert (read.wrong, read.unread, read.whole) == ([f"{DAY}, entry 2"], 0, False)
    assert read.ends == {DAY: 3}


def test_a_missing_entry_is_told_by_the_end_of_its_stream() -> None:
    """What comes after the gap may leave all the same."""
    rows, read = salvaged(None, "DELETE FROM entries WHERE sequence = 3")
    assert rows == [1, 2, 4, 5]
    assert (read.wrong, read.whole, read.ends) == ([], False, {DAY: 3})


def test_a_row_that_is_no_entry_is_counted_in_its_book() -> None:
    """It names no stream that could be trusted; another stream asked for is whole."""
    rows, read = salvaged(None, "UPDATE entries SET body = '{' WHERE sequence = 4")
    assert (rows, read.wrong, read.whole) == ([1, 2, 3, 5], ["entry 4 of the book"], False)
    rows, read = salvaged([DAY], "UPDATE entries SET body = '{' WHERE sequence = 4")
    assert (rows, read.whole) == ([1, 3, 5], True)


def test_what_can_be_read_is_read_after_a_row(sound: sqlite3.Connection) -> None:
    """And what cannot is counted."""
    found, unread = readable_entries(sound, 3)
    assert ([x.id for x in found], unread) == (["x:4", "x:5"], 0)
    with closing(copied(five(), "UPDATE entries SET body = '[]' WHERE sequence IN (2, 4)")) as one:
        found, unread = readable_entries(one)
        assert ([x.id for x in found], unread) == (["x:1", "x:3", "x:5"], 2)
    assert ends_of_streams(sound) == {DAY: 3, OTHER: 2}


@pytest.mark.parametrize("shared", range(6))
def test_what_a_copy_holds_beyond_another(shared: int) -> None:
    """However many both begin with."""
    entries = five()
    with closing(copied(entries)) as other, closing(copied(entries[:shared])) as known:
        found, unread = entries_beyond(other, known)
        assert ([x.id for x in found], unread) == ([x.id for x in entries[shared:]], 0)
        assert entries_beyond(known, other) == ([], 0)


def test_copies_that_part_hold_each_their_own() -> None:
    """From the row on where they were written apart."""
    entries = five()
    with closing(copied(entries, CHANGED, "UPDATE entries SET sha256 = 'y' WHERE sequence = 3")
                 ) as other, closing(copied(entries)) as known:
        found, _ = entries_beyond(other, known)
        assert [x.sha256 for x in found] == ["y"]


def test_a_stream_is_chained_when_each_entry_follows() -> None:
    """Not with a gap, an entry twice, or one that was exchanged."""
    a, b, c, d, e = five()
    assert is_chained([a, b, c, d, e])
    assert is_chained([b, d, a, c, e])
    assert is_chained([])
    assert not is_chained([a, e])
    assert not is_chained([c, e])
    assert not is_chained([a, a])
    assert not is_chained([a, c, b, e, e])


def test_an_entry_that_cannot_be_read_is_named_with_what_to_do() -> None:
    """Which it is, where it stands, and how to get a good one back."""
    row = entry_row(five()[2])
    for body in ("{", "[]", "1", None):
        with pytest.raises(BookDamaged, match=(
                rf"Entry x:3 \({DAY}, number 2\) is damaged\. Restore a backup of the book: "
                r"benchapp book restore FILE\. It keeps the damaged one\.")):
            entry_of((*row[:11], body, *row[12:]))  # type: ignore[arg-type]


def test_a_gap_in_the_rows_is_told_with_how_many_there_should_be() -> None:
    """A quick check finds it too; a full one names the entry."""
    with closing(copied(five(), "DELETE FROM entries WHERE sequence = 3")) as connection:
        missing = "of 5 entries of the book 1 are missing"
        assert find_problems(connection, full=False) == [missing]
        assert find_problems(connection) == [
            missing, f"{DAY}: entry 2 is missing (next is 3)"]
    with closing(copied(five(), "DELETE FROM migrations WHERE number = 4")) as connection:
        problem, = find_problems(connection, full=False)
        assert problem == "the layout: the file says 4, its list of steps ends at 3"
