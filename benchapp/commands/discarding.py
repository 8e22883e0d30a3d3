"""The command that puts a session with nothing pulled out of the lists."""

from __future__ import annotations

from benchapp.book import Book
from benchapp.clock import SystemClock
from benchapp.commands.context import (
    Arguments,
    Refused,
    WrongUse,
    say,
    session_row,
    warn,
    write_book,
)
from benchapp.commands.resolve import ask_line, can_ask
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.discarding import before_discarding


def discard_session(arguments: Arguments) -> int:
    """Discard a session in which nothing was pulled; asked first, or told by --yes."""
    with write_book(arguments) as book:
        name = _discarded(book, arguments)
    say(f"{name} is discarded. Its entries stay in the book; to list it: benchapp sessions --all")
    return 0


def _discarded(book: Book, arguments: Arguments) -> str:
    """Do it; gives the session's name.

    Raises:
        Refused: Something was pulled in it, or the answer is no.
        WrongUse: There is no terminal to ask on, and no --yes.
    """
    row = session_row(book, arguments.session)
    workshop = SessionService(book, SystemClock())
    workshop.look_at(row.id)
    refusal = workshop.refuses(a.Discard(), row.id)
    if refusal is None:
        if not arguments.yes:
            _ask(workshop, row.id)
        refusal = workshop.do(a.Discard(), session=row.id).refusal
    if refusal is not None:
        raise Refused(str(refusal))
    return row.name


def _ask(workshop: SessionService, session: str) -> None:
    s = workshop.room.sessions[session]
    warn(f"Discard {s.name}, {s.recipe.print.title}?", *before_discarding(workshop.room, s))
    if not can_ask():
        raise WrongUse("There is no terminal to ask on; add --yes to discard it")
    if ask_line("This can't be undone. Write yes to discard it: ").casefold() != "yes":
        raise Refused("Nothing was discarded")
