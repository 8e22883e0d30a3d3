"""The commands that work a session: run, resume, rehearse; on a screen or by lines."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Final

from benchapp import plain
from benchapp.book import Book
from benchapp.book.sessions import worked_on_last
from benchapp.clock import FastClock, SystemClock
from benchapp.commands.desk import (
    Arguments,
    Refused,
    Stopped,
    book_path,
    need_terminal,
    read_book,
    recipe_text,
    session_row,
    write_book,
)
from benchapp.commands.screened import on_screen, preferences
from benchapp.plain.loop import LONGEST
from benchapp.workshop import Workshop

_NONE_OPEN: Final = "No session is open; open one with: benchapp run RECIPE"


class _Standard:
    """Lines from standard input, to standard output."""

    def take(self) -> str | None:
        """The next line; None at the end of the input."""
        line = sys.stdin.readline(LONGEST + 2)
        if not line:
            return None
        more = line
        while more and not more.endswith("\n") and len(more) == LONGEST + 2:
            more = sys.stdin.readline(LONGEST + 2)  # the rest of it is not kept: it is refused
        return line.rstrip("\r\n")

    def give(self, text: str) -> None:
        """Print one line now."""
        sys.stdout.write(text + "\n")
        sys.stdout.flush()


@contextmanager
def _stoppable() -> Iterator[None]:
    """Have the signals that ask the program to end do so at a line's end, the book put away."""

    def stop(number: int, frame: FrameType | None) -> None:
        raise Stopped(number)

    asked = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    before = {number: signal.signal(number, stop) for number in asked}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _by_lines(work: Callable[[plain.Lines], int]) -> int:
    try:
        with _stoppable():
            return work(_Standard())
    except plain.CannotBegin as error:
        raise Refused(str(error)) from None


def run(arguments: Arguments) -> int:
    """Open a new session on a recipe."""
    name, text = recipe_text(arguments.recipe)
    if arguments.plain:
        with write_book(arguments) as book:
            workshop = Workshop(book, SystemClock())
            return _by_lines(
                lambda lines: plain.run(workshop, lines, name, text, arguments.wanted))
    need_terminal(f"benchapp run {arguments.recipe} --plain works by lines.")
    settings = preferences()
    with write_book(arguments) as book:
        workshop = Workshop(book, SystemClock())
        refusal = workshop.refuses_to_open(name, text, typed=True)
        if refusal is not None:
            raise Refused(str(refusal))
        # Only the screens need what a screen is; lines begin without.
        from benchapp.screens.opening import Opening

        return on_screen(workshop, "set-up", settings,
                         opening=Opening(name, text, arguments.wanted, typed=True))


def resume(arguments: Arguments) -> int:
    """Go on with the session named, or the one worked on last."""
    if not arguments.plain:
        need_terminal("benchapp resume --plain works by lines.")
    if not book_path(arguments).expanduser().exists():  # none is made to find it empty
        with read_book(arguments):
            raise Refused(_NONE_OPEN)
    with write_book(arguments) as book:
        session = _to_resume(book, arguments.session)
        workshop = Workshop(book, SystemClock())
        if arguments.plain:
            return _by_lines(lambda lines: plain.resume(workshop, lines, session))
        row = next(r for r in book.sessions() if r.id == session)
        outcome = workshop.resume_session(row)
        if outcome.refusal is not None:
            raise Refused(str(outcome.refusal))
        return on_screen(workshop, "bench", preferences())


def _to_resume(book: Book, said: str | None) -> str:
    """The id of the session to go on with."""
    if said is None:  # what another book opened is gone on with there
        row = worked_on_last([r for r in book.sessions() if r.id.endswith(f"@{book.origin}")])
    else:
        row = session_row(book, said)
    if row is None:
        raise Refused(_NONE_OPEN)
    if row.discarded:
        raise Refused(f"{row.name} is discarded; read it back with: benchapp review {row.name}")
    if row.closed:
        raise Refused(f"{row.name} is closed; read it back with: benchapp review {row.name}")
    return row.id


def rehearse(arguments: Arguments) -> int:
    """A day on a fast clock; it goes into no book."""
    name, text = recipe_text(arguments.recipe)
    clock = SystemClock()
    if not arguments.plain:
        need_terminal(f"benchapp rehearse {arguments.recipe} --plain works by lines.")
    with Book.in_memory() as book:
        workshop = Workshop(book, FastClock(arguments.speed, clock.now(), clock))
        if arguments.plain:
            return _by_lines(lambda lines: plain.rehearse(workshop, lines, name, text))
        workshop.open_session(name, text)
        return on_screen(workshop, "bench", preferences(), rehearsal=True,
                         pace=float(arguments.speed))
