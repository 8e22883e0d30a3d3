"""The commands that open on a screen: the Studio, and the demo's."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from benchapp import files
from benchapp.book import Book, BookDamaged
from benchapp.clock import SystemClock
from benchapp.commands.context import (
    Arguments,
    Refused,
    book_path,
    has_terminal,
    keep_unsaved,
    need_terminal,
    problems_text,
    say,
    warn,
    write_book,
)
from benchapp.commands.show import read_whole_session, session_line, session_values
from benchapp.copies.beside import copies_beside
from benchapp.recipe.problems import RecipeError
from benchapp.service.sessions import SessionService
from benchapp.settings import Preferences, load_preferences

if TYPE_CHECKING:
    from benchapp.screens.opening import Opening


def find_preferences() -> Preferences:
    """The printer's preferences.

    Raises:
        Refused: Their file has problems; the message lists all.
    """
    try:
        return load_preferences()
    except RecipeError as error:
        raise Refused(problems_text(str(files.preferences_file()), error)) from None


def show_studio(arguments: Arguments) -> int:
    """The Studio: what is at the press, in the water, under boards, on the shelf."""
    need_terminal("benchapp run RECIPE --plain works by lines; benchapp --help lists the commands.")
    settings = find_preferences()
    with _studio_book(arguments) as book:
        book.watch()
        workshop = SessionService(book, SystemClock())
        with copies_made(workshop, arguments):
            return on_screen(workshop, "studio", settings)


@contextmanager
def _studio_book(arguments: Arguments) -> Iterator[Book]:
    """The book to write in; a damaged one to read in, with what to do as its banner.

    Raises:
        BookError: It cannot be used.
    """
    with ExitStack() as stack:
        try:
            book = stack.enter_context(write_book(arguments, shown=True))
        except BookDamaged as damaged:
            book = stack.enter_context(Book.reading(book_path(arguments), because=str(damaged)))
        yield book


def learn_switch(arguments: Arguments) -> int:
    """What the pedals send, learnt and kept in the preferences; no book is touched."""
    need_terminal("To learn a pedal, run this in a terminal. To find its preferences: "
                  "benchapp files")
    with Book.in_memory() as book:
        return on_screen(SessionService(book, SystemClock()), "switch", find_preferences(),
                         lasting=False)


@contextmanager
def copies_made(workshop: SessionService, arguments: Arguments) -> Iterator[None]:
    """Have the book's text mirror and its backups made beside what is done in the workshop."""
    with copies_beside(workshop, book_path(arguments).expanduser().absolute()) as beside:
        yield
    if beside.problem:
        warn(beside.problem)


def on_screen(workshop: SessionService, start: str, settings: Preferences, *,
              home: Path | None = None,
              rehearsal: bool = False, lasting: bool = True, pace: float = 1.0,
              opening: Opening | Mapping[str, Any] | None = None) -> int:
    """Show the screens over a workshop until they are left. Gives the exit code.

    Args:
        workshop: Over the open book.
        start: `studio`, `bench`, `set-up`, or a screen by itself.
        settings: The printer's preferences.
        home: Another folder than the printer's own.
        rehearsal: Whether it is a rehearsal, in no book.
        lasting: Whether the book is there afterwards.
        pace: How many times as fast as the world its clock runs.
        opening: What a screen over the Studio is about; of `set-up`, what is opened.
    """
    from benchapp.screens.app import show_screens
    from benchapp.screens.sounding import on_this_machine

    waits = False
    try:
        code = show_screens(home=None if rehearsal else home or files.home_folder(),
                            workshop=workshop,
                            start=start, rehearsal=rehearsal, lasting=lasting, settings=settings,
                            opening=opening, open_file=files.open_in_viewer,
                            sounding=on_this_machine(workshop.clock, settings, pace=pace))
        waits = code == 0
    finally:
        keep_unsaved(workshop.book, waits=waits)
    return code


def show_demo(arguments: Arguments) -> int:
    """A throw-away studio of an invented year, and its Studio to look round in.

    Where no screen can be shown, its sessions and the last closed one are read out.
    """
    from benchapp.demo.year import make_year

    settings = find_preferences()
    with tempfile.TemporaryDirectory(prefix="benchapp-demo-", ignore_cleanup_errors=True) as folder:
        clock = SystemClock()
        path = make_year(Path(folder), clock.now())
        # Whatever is written from the demo's Studio goes the way of the demo.
        os.environ["BENCHAPP_HOME"] = folder
        with Book.open(path, write=True, state=files.state_folder()) as book:
            code = (on_screen(SessionService(book, clock), "studio", settings, home=Path(folder),
                              lasting=False) if has_terminal() else _read_out(book))
    say("That was the demo: its book is thrown away, yours is untouched.")
    return code


def _read_out(book: Book) -> int:
    """The demo's year for a pipe or a terminal that shows lines only."""
    from benchapp.reports.review_blocks import review_text

    say("An invented year of Tollerbank Etching Room. In a terminal this opens as its Studio.", "",
        *map(session_line, session_values(book)), "")
    last = [row for row in book.sessions() if row.closed][-1]
    say(*review_text(read_whole_session(book, last)))
    return 0
