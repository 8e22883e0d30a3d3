"""The commands that work a session: run, resume, rehearse; on a screen or by lines."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import TYPE_CHECKING, Final

from benchapp import plain
from benchapp.book import Book
from benchapp.book.sessions import worked_on_last
from benchapp.clock import Clock, FastClock, SystemClock
from benchapp.commands.context import (
    Arguments,
    Refused,
    Stopped,
    WrongUse,
    book_path,
    keep_unsaved,
    need_terminal,
    read_book,
    recipe_text,
    session_row,
    warn,
    write_book,
)
from benchapp.commands.screens import copies_made, find_preferences, on_screen
from benchapp.commands.standard_lines import StandardLines
from benchapp.service.sessions import SessionService
from benchapp.session.names import after_closing

if TYPE_CHECKING:
    from benchapp.commands.speaking import Speaking

_NONE_OPEN: Final = "No session is open; open one with: benchapp run RECIPE"


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


def _by_lines(arguments: Arguments, workshop: SessionService, work: Callable[[StandardLines], int],
              *,
              pace: float = 1.0) -> int:
    """Work by the lines of standard input; with `--aloud` the machine speaks."""
    voice = _voice(workshop.clock, pace) if arguments.aloud else None
    try:
        with _stoppable():
            return work(StandardLines(voice, pace=pace))
    except plain.CannotBegin as error:
        raise Refused(str(error)) from None
    except Stopped:
        keep_unsaved(workshop.book, waits=False)
        raise
    finally:
        if voice is not None:
            voice.stop()


def _voice(clock: Clock, pace: float) -> Speaking:
    # Most days by lines are silent, and what plays and speaks is much to load.
    from benchapp.commands.speaking import make_voice, no_voice

    settings, none = find_preferences(), no_voice()
    if none is not None:
        warn(none)
    return make_voice(clock, settings, pace=pace)


def _silent_screen(arguments: Arguments) -> None:
    """Refuse `--aloud` on a screen: what speaks there is a preference."""
    if arguments.aloud and not arguments.plain:
        raise WrongUse("--aloud goes with --plain. On a screen the preferences decide: "
                       "benchapp calls --voice on")


def run_session(arguments: Arguments) -> int:
    """Open a new session on a recipe."""
    _silent_screen(arguments)
    name, text = recipe_text(arguments.recipe)
    if arguments.plain:
        with write_book(arguments, shown=True) as book:
            book.watch()
            workshop = SessionService(book, SystemClock())
            with copies_made(workshop, arguments):
                return _by_lines(arguments, workshop, lambda lines: plain.run_plain(
                    workshop, lines, name, text, arguments.wanted, lines))
    need_terminal(f"benchapp run {arguments.recipe} --plain works by lines.")
    settings = find_preferences()
    with write_book(arguments, shown=True) as book:
        book.watch()
        workshop = SessionService(book, SystemClock())
        refusal = workshop.refuses_to_open(name, text, typed=True)
        if refusal is not None:
            raise Refused(str(refusal))
        # Only the screens need what a screen is; lines begin without.
        from benchapp.screens.opening import Opening

        with copies_made(workshop, arguments):
            return on_screen(workshop, "set-up", settings,
                             opening=Opening(name, text, arguments.wanted, typed=True))


def resume_session(arguments: Arguments) -> int:
    """Go on with the session named, or the one worked on last."""
    _silent_screen(arguments)
    if not arguments.plain:
        need_terminal("benchapp resume --plain works by lines.")
    if not book_path(arguments).expanduser().exists():  # none is made to find it empty
        with read_book(arguments):
            raise Refused(_NONE_OPEN)
    with write_book(arguments, shown=True) as book:
        book.watch()
        session = _to_resume(book, arguments.session)
        workshop = SessionService(book, SystemClock())
        with copies_made(workshop, arguments):
            if arguments.plain:
                return _by_lines(arguments, workshop, lambda lines: plain.resume_plain(
                    workshop, lines, session, lines))
            row = next(r for r in book.sessions() if r.id == session)
            outcome = workshop.resume_session(row)
            if outcome.refusal is not None:
                raise Refused(str(outcome.refusal))
            return on_screen(workshop, "bench", find_preferences())


def _to_resume(book: Book, said: str | None) -> str:
    """The id of the session to go on with."""
    if said is None:  # what another book opened is gone on with there
        row = worked_on_last([r for r in book.sessions() if r.id.endswith(f"@{book.origin}")])
    else:
        row = session_row(book, said)
    if row is None:
        closed = [r.name for r in book.sessions() if r.closed]
        raise Refused(_NONE_OPEN + (f". {closed[-1]} is closed; {after_closing(closed[-1])}"
                                    if closed else ""))
    if row.discarded:
        raise Refused(f"{row.name} is discarded; read it back with: benchapp review {row.name}")
    if row.closed:
        raise Refused(f"{row.name} is closed; {after_closing(row.name)}")
    return row.id


def rehearse_day(arguments: Arguments) -> int:
    """A day on a fast clock; it goes into no book."""
    _silent_screen(arguments)
    name, text = recipe_text(arguments.recipe)
    clock = SystemClock()
    if not arguments.plain:
        need_terminal(f"benchapp rehearse {arguments.recipe} --plain works by lines.")
    with Book.in_memory() as book:
        fast = FastClock(arguments.speed, clock.now(), clock)
        workshop = SessionService(book, fast)
        if arguments.plain:
            return _by_lines(arguments, workshop, lambda lines: plain.rehearse_plain(
                workshop, lines, name, text, lines), pace=float(arguments.speed))
        workshop.open_session(name, text)
        return on_screen(workshop, "bench", find_preferences(), rehearsal=True,
                         pace=float(arguments.speed))
