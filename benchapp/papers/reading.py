"""A session of a book read back with all that belongs to it: packs, prints, the days before it."""

from __future__ import annotations

from typing import Any, Final

from benchapp.book import Book
from benchapp.book.read import SessionRow
from benchapp.edition import register
from benchapp.edition.numbers import holders
from benchapp.edition.streams import print_id
from benchapp.papers.review import review
from benchapp.recipe.problems import RecipeError
from benchapp.recipe.reader import read
from benchapp.session.handed_on import print_of

#: Days of the same print, right before, that a day is set against.
EARLIER: Final = 6


def read_back(book: Book, row: SessionRow, *, earlier: bool = True) -> dict[str, Any]:
    """One session of a book, with the packs its sheets came from.

    Args:
        book: Where it is.
        row: Which it is.
        earlier: Whether it is set against the days before.

    Raises:
        BookError: The book cannot be read.
    """
    others = [*book.streams("pack"), *book.streams("print")]
    before = days_before(book, row) if earlier else ()
    return review(book.entries(streams=[row.stream, *others]), row.id,
                  [book.stream(x.stream) for x in before])


def days_of(book: Book, row: SessionRow) -> list[SessionRow]:
    """Every session of the same print, itself too, in the order opened in whatever book.

    A print is known by its title and artist.
    """
    def named(x: SessionRow) -> tuple[object, object]:
        return x.opened.body["print"], x.opened.body["artist"]

    return sorted((x for x in book.sessions() if named(x) == named(row)), key=_order)


def days_before(book: Book, row: SessionRow, most: int = EARLIER) -> list[SessionRow]:
    """The last sessions of the same print that were opened before it, the oldest first."""
    return [x for x in days_of(book, row) if _order(x) < _order(row)][-most:]


def _order(row: SessionRow) -> tuple[int, str]:
    """By the wall clock, so that books that took each other in agree."""
    return row.opened.at.wall_ms, row.id


def row_of(book: Book, session: str) -> SessionRow | None:
    """The row of the session of that id."""
    return next((x for x in book.sessions() if x.id == session), None)


def print_of_row(row: SessionRow) -> str:
    """The id of the print a session was for."""
    body = row.opened.body
    try:
        return print_of(read(str(body["recipe_text"]).encode()))
    except RecipeError:  # a text of an older program
        return print_id(str(body["print"]), str(body["artist"]))


def standard_of(book: Book, print_: str) -> str | None:
    """The id of the sheet others of a print are held against: the one named, else the BAT."""
    e = register.replay(book.entries(streams=book.streams("print")), "").editions.get(print_)
    if e is None:
        return None
    return e.standard or next((h.sheet for h in holders(e, "BAT") if h.destroyed is None), None)
