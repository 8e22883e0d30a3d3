"""A session of a book read back with all that belongs to it: packs, prints, the days before it."""

from __future__ import annotations

from typing import Final

from benchapp.book import Book
from benchapp.book.queries import (
    check_readable,
    print_of_row,
    read_related_entries,
    read_session_entries,
)
from benchapp.book.read import SessionRow
from benchapp.edition import decide as register
from benchapp.edition.standard import held_against, what_it_is
from benchapp.edition.state import Edition
from benchapp.edition.streams import print_stream
from benchapp.events.session import SessionOpened
from benchapp.reports.plate_life import PlateLife, plate_life
from benchapp.reports.review import Review, review_session
from benchapp.session.fold import replay_entries

#: Days of the same print, right before, that a day is set against.
EARLIER: Final = 6


def read_back(book: Book, row: SessionRow, *, earlier: bool = True) -> Review:
    """One session of a book, with the packs its sheets came from.

    Args:
        book: Where it is.
        row: Which it is.
        earlier: Whether it is set against the days before.

    Raises:
        BookError: The book cannot be read, or not this session of it.
    """
    check_readable(row)
    before = days_before(book, row) if earlier else ()
    return review_session(read_related_entries(book, row), row.id,
                          [read_session_entries(book, x) for x in before])


def print_sessions(book: Book, row: SessionRow) -> list[SessionRow]:
    """Every session of the same print, itself too, in the order opened in whatever book.

    A print is known by its title and artist. Of the discarded ones only itself.
    """
    def named(x: SessionRow) -> tuple[str, str]:
        opened = SessionOpened.from_entry(x.opened)
        return opened.print, opened.artist

    return sorted((x for x in book.all_sessions() if named(x) == named(row)
                   and (not x.discarded or x.id == row.id)), key=_order)


def days_before(book: Book, row: SessionRow) -> list[SessionRow]:
    """The last sessions of the same print that were opened before it, the oldest first."""
    return [x for x in print_sessions(book, row) if _order(x) < _order(row)][-EARLIER:]


def _order(row: SessionRow) -> tuple[int, str]:
    """By the wall clock, so that books that took each other in agree."""
    return row.opened.at.wall_ms, row.id


def find_session_row(book: Book, session: str) -> SessionRow | None:
    """The row of the session of that id."""
    return next((x for x in book.all_sessions() if x.id == session), None)


def row_or_last(book: Book, session: str | None) -> SessionRow | None:
    """The row of the session of that id, else of the last opened; None: there is none yet."""
    rows = book.sessions()
    return find_session_row(book, session or "") or (rows[-1] if rows else None)


def standard_of(book: Book, print_: str) -> tuple[str, str] | None:
    """The sheet others of a print are held against: its id, and `BAT` or `standard`."""
    e = _edition(book, print_)
    sheet = None if e is None else held_against(e)
    return None if e is None or sheet is None else (sheet, what_it_is(e, sheet))


def _edition(book: Book, print_: str) -> Edition | None:
    """What was made of the sheets of a print, from its own streams alone."""
    streams = book.streams_from(print_stream(print_, ""))
    return register.replay_register(book.entries(streams=streams), "").editions.get(print_)


def lives_of(book: Book, row: SessionRow) -> list[PlateLife]:
    """The life of every plate of the print a session was for, over all its days.

    They come in the order the last recipe has the plates.

    Raises:
        BookError: The book cannot be read.
    """
    rows = print_sessions(book, row)
    folded = [s for r in rows
              if (s := replay_entries(read_session_entries(book, r)).sessions.get(r.id))]
    known = _edition(book, print_of_row(row))
    before = {} if known is None else {n: x.before or 0 for n, x in known.plates.items()}
    names = dict.fromkeys(
        [p.name for s in folded[-1:] for p in s.recipe.plates]
        + [name for s in folded for i in s.impressions for p in i.pulls for name in p.plates])
    opened = SessionOpened.from_entry(row.opened)
    return [plate_life(folded, name, before.get(name, 0), title=opened.print,
                       artist=opened.artist) for name in names]
