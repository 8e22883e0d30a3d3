"""The blankets of a press, by what a book knows of them."""

from __future__ import annotations

from typing import Final

from benchapp.book import Book
from benchapp.events.session import BlanketsSeenTo, SessionActionTakenBack
from benchapp.session.blankets import BlanketUse, blanket_use, last_done

#: What says when they were washed or swapped.
_TELLS: Final = (BlanketsSeenTo.stored_kind, SessionActionTakenBack.stored_kind)


def blankets_at(book: Book, place: str) -> BlanketUse:
    """How many pulls the blankets had. Only the sessions that went on since are read.

    Raises:
        BookError: The book cannot be read.
    """
    done = last_done(book.entries_of_kinds(*_TELLS), place)
    begun = min((e.at.wall_ms for e in done if e is not None), default=None)
    streams = () if begun is None else [
        r.stream for r in book.all_sessions() if book.ended_ms(r.stream) >= begun]
    return blanket_use(book.entries(streams=streams), place)
