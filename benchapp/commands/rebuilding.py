"""The command that makes a new book from the text mirror."""

from __future__ import annotations

from pathlib import Path

from benchapp import files
from benchapp.commands.context import (
    Arguments,
    Refused,
    WrongUse,
    as_typed,
    book_path,
    refuse_taken,
    say,
    warn,
)
from benchapp.copies.rebuild import NoMirror
from benchapp.copies.rebuild import rebuild_from_mirror as made_anew
from benchapp.events.moments import local_time


def rebuild_book(arguments: Arguments) -> int:
    """Make a book from the text mirror in a folder; the book in use is not touched."""
    folder = Path(arguments.from_).expanduser().absolute()
    new = Path(arguments.into).expanduser().absolute()
    if not folder.is_dir():
        raise WrongUse(f"{folder}: no such folder. Name the one with the text mirror: "
                       "benchapp files shows it")
    refuse_taken(new, book_path(arguments).expanduser().absolute())
    if new.is_relative_to(folder):
        raise Refused(f"{new} is in the folder of the mirror, so nothing was written. "
                      "Choose another place.")
    try:
        told = made_anew(folder, new)
    except NoMirror as wrong:
        raise WrongUse(str(wrong)) from None
    except OSError as error:
        raise files.system_problem(folder, "cannot be read", error) from None
    warn(*(f"{problem}." for problem in told.left_out))
    if not told.whole:
        warn("The mirror is not complete, so the book has a new name. You can read and judge "
             "sessions that were open; you cannot continue them.")
    say(f"Rebuilt: {new}, {told.entries} entries in {told.streams} streams; the last is from "
        f"{local_time(told.until):%Y-%m-%d %H:%M}.",
        f"To put it in the place of the book: benchapp book restore {as_typed(new)}")
    return 0
