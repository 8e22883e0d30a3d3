"""The commands that check the book's own file and copy it."""

from __future__ import annotations

import importlib
from pathlib import Path

from benchapp import files
from benchapp.book import Book, NoBook
from benchapp.book.spill import entries_left
from benchapp.commands.book_words import WORDS
from benchapp.commands.context import (
    Arguments,
    as_typed,
    book_path,
    read_book,
    refuse_taken,
    say,
    warn,
)
from benchapp.commands.photo_copies import back_up_photos, photo_problems, refuse_folder
from benchapp.quantities import items_text

#: What a book that is not sound ends a command with, as an error of the book does.
_NOT_SOUND = 3


def run_book_command(arguments: Arguments) -> int:
    """Do what the word after `book` says."""
    module, function = WORDS[arguments.word]
    called = getattr(importlib.import_module(f"benchapp.commands.{module}"), function)
    return int(called(arguments))


def check_book(arguments: Arguments) -> int:
    """Say whether the book is sound: 0, or 3 with every problem; 1: pictures are missing."""
    path = book_path(arguments).expanduser().absolute()
    _must_be_there(path)
    with read_book(arguments) as found:
        problems = found.verify(full=arguments.full)
        entries = found.last_sequence() if not problems else 0
        waiting = "" if problems else _waiting(found, path)
        missing = [] if problems else photo_problems(found, path, full=arguments.full)
    if problems:
        say(f"The book {path} is not sound.", *map(problem_sentence, problems),
            "Don't write in it. To restore a backup: benchapp book restore FILE")
        return _NOT_SOUND
    how = "every entry is as it was written" if arguments.full else (
        "to check every entry: benchapp book check --full")
    say(f"The book {path} is sound: {'1 entry' if entries == 1 else f'{entries} entries'}; {how}.")
    if waiting:
        say(f"{waiting} They go into the book when you next open benchapp.")
    if missing:
        say(f"{items_text(len(missing), 'picture')} beside it not as it should be:",
            *(f"  {x}" for x in missing),
            "To mend one, tie its file to the same thing again: benchapp photo")
    return 1 if missing else 0


def back_up_book(arguments: Arguments) -> int:
    """Copy the book, open or not, into a new file that is checked before it gets its name."""
    path = book_path(arguments).expanduser().absolute()
    _must_be_there(path)
    to = Path(arguments.file).expanduser().absolute()
    refuse_taken(to, path)
    if arguments.photos:
        refuse_folder(to)
    with read_book(arguments) as found:
        found.backup(to)
        waiting = _waiting(found, path)
        if arguments.photos:
            back_up_photos(found, path, to)
    say(f"The book is backed up: {to}", f"To restore it: benchapp book restore {as_typed(to)}")
    if waiting:
        warn(f"{waiting} They are not in the backup: open benchapp once, then back up again.")
    return 0


def _waiting(book: Book, path: Path) -> str:
    """That entries wait beside the book, which could not be written; empty: none do."""
    n = len(book.without(entries_left(book.origin, path, files.state_folder())))
    what = "1 entry waits" if n == 1 else f"{n} entries wait"
    return f"{what} beside the book, which could not be written." if n else ""


def problem_sentence(problem: str) -> str:
    """A problem as a sentence."""
    return f"{problem[:1].upper()}{problem[1:].rstrip('.')}."


def _must_be_there(path: Path) -> None:
    """Hold that there is a book at `path`.

    Raises:
        NoBook: There is none.
    """
    if not path.exists():
        raise NoBook(f"There is no book at {path} yet. Name another with --book FILE.")
