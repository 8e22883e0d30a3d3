"""The sessions a print has had, folded one by one: what the day's arithmetic learns from."""

from __future__ import annotations

from collections.abc import Collection

from benchapp.book.read import SessionRow
from benchapp.book.store import Book
from benchapp.recipe.model import Print
from benchapp.session.fold import replay
from benchapp.session.state import Session


def sessions_of(book: Book, meant: Print, *, but: Collection[str] = ()) -> tuple[Session, ...]:
    """Every session on a print, open ones too, in the order opened.

    Each is folded by itself, so that a long book takes the time its sessions take. A print is
    known by its title and artist.

    Args:
        book: Where they are.
        meant: The print.
        but: Ids of sessions that are held elsewhere.

    Raises:
        BookError: The book cannot be read.
    """
    def on_it(row: SessionRow) -> bool:
        body = row.opened.body
        return row.id not in but and (body["print"], body["artist"]) == (meant.title, meant.artist)

    rows = filter(on_it, book.sessions())
    folded = (replay(book.stream(row.stream)).sessions.get(row.id) for row in rows)
    return tuple(s for s in folded if s is not None)
