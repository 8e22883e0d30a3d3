"""The table of words, straight from a connection: kept with its entries, made anew, or for now."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing

import pytest

from benchapp.book import Book, search_index
from benchapp.book.append import INSERT
from benchapp.book.read import entry_row
from benchapp.book.schema import migrate
from benchapp.events.entry import Draft, Entry
from tests.book.samples import DAY, draft, moment, note, taken_back


def written(*actions: list[Draft]) -> tuple[Entry, ...]:
    """The entries of these actions."""
    book = Book.in_memory("x")
    for n, drafts in enumerate(actions):
        book.append(drafts, moment(n), "word")
    return book.entries()


def untold(entries: tuple[Entry, ...]) -> sqlite3.Connection:
    """A book with these entries, and no words of them yet."""
    connection = sqlite3.connect(":memory:", isolation_level=None)
    migrate(connection, "x")
    connection.executemany(INSERT, map(entry_row, entries))
    return connection


def words(connection: sqlite3.Connection, table: str = "main.words") -> list[tuple[object, ...]]:
    """What the table holds."""
    return connection.execute(
        f"SELECT day, sequence, part, text FROM {table} ORDER BY sequence").fetchall()


@pytest.fixture
def connection() -> Iterator[sqlite3.Connection]:
    """Two notes, of which the first was taken back, and a tag."""
    entries = written([note("Café noir")], [note("second")], [taken_back("x:1")],
                      [draft(DAY, "tagged", impression=1, tag="Crevé")])
    with closing(untold(entries)) as made:
        yield made


RIGHT = [(DAY, 2, "note", "second"), (DAY, 4, "tag", "creve")]


def test_the_words_of_a_book_without_any_are_made_and_stay(connection: sqlite3.Connection) -> None:
    """What was taken back has none; the book says that it has them, and no change is left open."""
    assert not search_index.is_indexed(connection)
    search_index.rebuild_index(connection)
    assert words(connection) == RIGHT
    assert search_index.is_indexed(connection)
    assert not connection.in_transaction


def test_words_that_are_there_are_left_as_they_are(connection: sqlite3.Connection) -> None:
    """Of this version; those of another are made anew, without what was there."""
    search_index.rebuild_index(connection)
    connection.execute("INSERT INTO words VALUES ('x', 9, 'note', '', 'by hand')")
    search_index.rebuild_index(connection)
    assert ("x", 9, "note", "by hand") in words(connection)
    connection.execute("UPDATE meta SET value = '1' WHERE key = 'words'")
    search_index.rebuild_index(connection)
    assert words(connection) == RIGHT


def test_a_disk_that_refuses_the_words_is_no_error(connection: sqlite3.Connection) -> None:
    """None are there then, and the book can be written in."""
    connection.execute("CREATE TRIGGER full BEFORE INSERT ON words WHEN NEW.sequence = 4 BEGIN "
                       "SELECT RAISE(ABORT, 'full'); END")
    search_index.rebuild_index(connection)
    assert (words(connection), search_index.is_indexed(connection)) == ([], False)
    assert not connection.in_transaction


def test_for_now_they_are_made_beside_the_book(connection: sqlite3.Connection) -> None:
    """The book's own table stays empty, and a connection that only reads goes on doing so."""
    for guarded in (1, 0):
        connection.execute(f"PRAGMA query_only = {guarded}")
        search_index.make_for_now(connection)
        assert connection.execute("PRAGMA query_only").fetchone() == (guarded,)
        assert words(connection, "temp.words") == RIGHT
        assert words(connection) == []


def test_a_body_that_cannot_be_read_has_no_words_and_the_rest_has() -> None:
    """As in a damaged book."""
    first, second = written([note("first")], [note("second")])
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
        migrate(connection, "x")
        connection.execute(INSERT, (*entry_row(first)[:11], "{", *entry_row(first)[12:]))
        connection.execute(INSERT, entry_row(second))
        search_index.rebuild_index(connection)
        assert words(connection) == [RIGHT[0]]


def test_what_is_taken_back_loses_its_own_words_alone() -> None:
    """Those of that action in that stream, as it comes in."""
    entries = written([note("one"), note("two"), note("other", "session/2026-05-04")],
                      [note("three")], [taken_back("x:1")])
    with closing(untold(entries)) as connection:
        told = [(entry, place) for place, entry in enumerate(entries, 1)]
        search_index.index_entries(connection, told[:4])
        assert [x[3] for x in words(connection)] == ["one", "two", "other", "three"]
        search_index.index_entries(connection, told[4:])
        assert [x[3] for x in words(connection)] == ["other", "three"]
