"""What of the book belongs to a session or a print: read without what else there is."""

from __future__ import annotations

from collections.abc import Collection

from benchapp.book.errors import SessionUnreadable
from benchapp.book.read import SessionRow
from benchapp.book.store import Book
from benchapp.book.summaries import summarize_stream
from benchapp.edition.streams import print_id, print_stream
from benchapp.events.entry import Entry
from benchapp.events.impression import SheetTaken
from benchapp.events.session import WorkEvent
from benchapp.recipe.model import Print
from benchapp.recipe.problems import RecipeError
from benchapp.session.edition_links import recipe_print_id
from benchapp.session.fold import replay_entries
from benchapp.session.names import shape_of
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
        opening = row.opening
        return row.id not in but and (opening.print, opening.artist) == (meant.title, meant.artist)

    rows = filter(on_it, book.sessions())
    folded = (replay_entries(read_session_entries(book, row)).sessions.get(row.id) for row in rows)
    return tuple(s for s in folded if s is not None)


def check_readable(row: SessionRow) -> None:
    """Check that a session can be folded: no recipe, no session.

    Raises:
        SessionUnreadable: No recipe can be made of the text it keeps.
    """
    if (why := why_unreadable(row)) is not None:
        raise SessionUnreadable(
            f"The session {row.name} cannot be read: its recipe has a problem ({why}). It was "
            "probably written by a later benchapp: install that one to read it. Every other "
            "session of this book can be read, and `benchapp export --jsonl` keeps this one whole.")


def why_unreadable(row: SessionRow) -> str | None:
    """What is wrong with the recipe that a session keeps; None: it can be read."""
    try:
        shape_of(row.opening.recipe_text)
    except RecipeError as error:
        return error.problems[0].wrong if error.problems else "it is empty"
    return None


def read_session_entries(book: Book, row: SessionRow) -> tuple[Entry, ...]:
    """The entries of a session, and what other books tell of it."""
    return book.entries(streams=book.streams_of(row.id))


def read_related_entries(book: Book, row: SessionRow) -> tuple[Entry, ...]:
    """The same with the packs it damped or took sheets from, and with what was made of them.

    Raises:
        BookError: The book cannot be read.
    """
    return book.entries(streams={*book.streams_of(row.id), *packs_of(book, row.id),
                                 *book.streams_from(print_stream(print_of_row(row), ""))})


def packs_of(book: Book, session: str) -> set[str]:
    """The streams of the packs a session damped or took sheets from."""
    packs = (e.event.pack for e in book.stream(f"session/{session}")
             if isinstance(e.event, WorkEvent | SheetTaken))
    named = {f"pack/{pack}" for pack in packs if pack is not None}
    return {*book.streams_from(f"pack/{session}."), *named}


def emptied_streams(book: Book, family: str) -> frozenset[str]:
    """The streams of packs or stacks known to have no sheet in them any more."""
    return frozenset(x for x, told in book.derived(f"{family}/").items() if told.get("over"))


def session_tallies(book: Book) -> dict[str, tuple[int, int] | None]:
    """How many each session pulled, and how many count, by its stream; None: nobody can read it.

    What is not kept is folded, each session by itself: a long book is read in the time its
    sessions take.
    """
    known = book.derived("session/")
    out: dict[str, tuple[int, int] | None] = {}
    for row in book.all_sessions():
        found = known.get(row.stream, {})
        if not found.keys() >= {"pulled", "counting"}:
            found = summarize_stream(row.stream, read_session_entries(book, row))
        out[row.stream] = (int(found["pulled"]), int(found["counting"])) if found else None
    return out


def print_of_row(row: SessionRow) -> str:
    """The id of the print a session was for."""
    opening = row.opening
    try:
        return recipe_print_id(shape_of(opening.recipe_text).recipe)
    except RecipeError:  # a text of an older program
        return print_id(opening.print, opening.artist)
