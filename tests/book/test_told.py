"""What a book tells of itself: its damage, whose rows it holds, and what a search found."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from benchapp.book import Book, BookDamaged
from benchapp.book.queries import print_of_row
from benchapp.book.rebuild import make_anew
from benchapp.book.rows import of_others
from benchapp.book.search import Hit
from benchapp.book.soundness import damage_text
from benchapp.edition.streams import print_id
from tests.book.samples import draft, moment, note


@pytest.mark.parametrize(("problems", "end"), [
    (["row 4 was changed"], "What is wrong: row 4 was changed"),
    (["row 4 was changed", "row 5 is missing"], "What is wrong: row 4 was changed, and 1 more"),
])
def test_damage_is_told_with_how_much_more_there_is(problems: list[str], end: str) -> None:
    """The first problem in words, the others as a number, none where there is none."""
    assert damage_text(Path("book.db"), problems).endswith(end)


def test_rows_of_other_books_are_told_in_runs() -> None:
    """A run goes on while row and number both rise by one; own rows end it."""
    with closing(sqlite3.connect(":memory:")) as connection:
        connection.execute("CREATE TABLE entries (sequence INTEGER, id TEXT)")
        connection.executemany("INSERT INTO entries VALUES (?, ?)", [
            (1, "home:1"), (2, "away:7"), (3, "away:8"), (4, "away:9"), (5, "home:2"),
            (6, "away:10"), (7, "away:12"), (8, "third:1")])
        assert of_others(connection, "home") == [
            (2, "away", 7, 3), (6, "away", 10, 1), (7, "away", 12, 1), (8, "third", 1, 1)]
        assert of_others(connection, "home", since=3) == [
            (4, "away", 9, 1), (6, "away", 10, 1), (7, "away", 12, 1), (8, "third", 1, 1)]


def test_a_hit_has_its_names_in_json() -> None:
    """What is of no session names none; the sheet is told by its number."""
    assert Hit("", "", "Slack Water", 3, "note", "a hair in the nip").json() == {
        "session": None, "print": "Slack Water", "impression": 3, "where": "note",
        "text": "a hair in the nip"}


def test_the_print_of_a_session_whose_recipe_cannot_be_read() -> None:
    """Its title and artist are in its opening too."""
    book = Book.in_memory()
    book.append([draft("session/2026-05-03", "opened", session="2026-05-03", print="Slack Water",
                       artist="Wren Halloran", recipe_text="recipe: 9")], moment(), "open")
    row, = book.sessions()
    assert print_of_row(row) == print_id("Slack Water", "Wren Halloran")


def test_a_book_that_cannot_be_rebuilt_is_named_and_not_made(tmp_path: Path) -> None:
    """An entry whose place is not the next one goes into no book."""
    path, book = tmp_path / "anew.db", Book.in_memory()
    book.append([note("a"), note("b")], moment(), "note")
    with pytest.raises(BookDamaged, match=r"The book .*anew\.db is damaged"):
        make_anew(path, None, book.entries()[1:])
    assert list(tmp_path.iterdir()) == []
