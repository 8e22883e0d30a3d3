"""What every command stands on: words to the printer, the book, and recipes by name."""

from __future__ import annotations

import json
import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from benchapp import files
from benchapp.book import Book, BookError
from benchapp.book.read import SessionRow
from benchapp.book.sessions import find_session
from benchapp.clock import SystemClock
from benchapp.commands.answers import (
    Arguments,
    NotPrinted,
    Refused,
    Stopped,
    WrongUse,
    suggest_names,
    warn,
)
from benchapp.commands.folding import fold_rows
from benchapp.events.moments import local_time
from benchapp.recipe.problems import RecipeError
from benchapp.reports.json_form import name_format
from benchapp.safe_text import escape_json, sanitize

__all__ = [
    "WHY_SAID",
    "Arguments",
    "NotPrinted",
    "Refused",
    "Stopped",
    "WrongUse",
    "as_typed",
    "book_path",
    "has_terminal",
    "keep_unsaved",
    "need_terminal",
    "problems_text",
    "read_book",
    "recipe_bytes",
    "recipe_text",
    "say",
    "say_json",
    "session_row",
    "suggest_names",
    "warn",
    "write_book",
]


#: Said where what an answer rests on is folded away.
WHY_SAID: Final = "What this rests on: add --why"


def say(*lines: str) -> None:
    """Print lines of whatever text; on a terminal long ones are folded between words.

    Raises:
        NotPrinted: The system does not take them.
    """
    columns = _columns()
    for line in lines:
        _print(fold_rows(sanitize(line), columns) + "\n")


def _columns() -> int:
    """Cells a row of the terminal has; 0 where the output goes elsewhere, or nowhere."""
    with suppress(AttributeError, ValueError):
        if sys.stdout.isatty():
            return shutil.get_terminal_size().columns
    return 0


def _print(text: str) -> None:
    try:
        sys.stdout.write(text)
    except BrokenPipeError:
        raise
    except OSError as error:
        raise NotPrinted(files.system_said(error)) from None


def as_typed(path: Path) -> str:
    """A file as it is typed in a command: quoted where a shell would take it apart."""
    if os.name == "nt":
        return f'"{path}"' if " " in str(path) else str(path)
    import shlex

    return shlex.quote(str(path))


def say_json(format_name: str, document: object) -> None:
    """Print one JSON document, readable and in UTF-8 whatever the locale.

    Args:
        format_name: What each object of it is, with its version, as `review/1`.
        document: A report, an object or a list of them.
    """
    reconfigure = getattr(sys.stdout, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(encoding="utf-8", errors="replace")
    text = json.dumps(name_format(format_name, document), ensure_ascii=False, allow_nan=False,
                      indent=2)
    _print(escape_json(text) + "\n")


def keep_unsaved(book: Book, *, waits: bool) -> None:
    """Print what is on no disk, once the screens or the lines are left.

    Args:
        book: Open to write.
        waits: Whether somebody can free space meanwhile; else it is only printed.
    """
    from benchapp.reports.unsaved import unsaved_lines, wait_for_disk

    def give(line: str) -> None:
        _print(line + "\n")
        sys.stdout.flush()

    if waits:
        wait_for_disk(book, give, lambda: sys.stdin.readline() or None)
    else:
        warn(*unsaved_lines(book))


# -- the terminal -----------------------------------------------------------------------


def has_terminal() -> bool:
    """Whether a screen can be shown here."""
    return sys.stdin.isatty() and sys.stdout.isatty() and os.environ.get("TERM") != "dumb"


def need_terminal(instead: str) -> None:
    """Go on only where a screen can be shown.

    Raises:
        WrongUse: There is none; `instead` says what works without.
    """
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise WrongUse(f"There is no terminal here to show a screen on. {instead}")
    if os.environ.get("TERM") == "dumb":
        raise WrongUse(f"This terminal shows lines only (TERM is dumb). {instead}")


# -- the book ---------------------------------------------------------------------------


def book_path(arguments: Arguments) -> Path:
    """The book that is meant: of `--book`, else the studio's."""
    named = getattr(arguments, "book", None)
    return Path(named) if named else files.book_file()


def refuse_taken(new: Path, book: Path) -> None:
    """Hold that a copy of a book may be made at `new`.

    Also where nothing is yet: a copy in the place of the book's own log would make the book
    unreadable. The folder of the backups may have copies that the printer made.

    Args:
        new: The new file.
        book: The book in use; need not be there.

    Raises:
        Refused: Something is there already, or the name is kept for something else.
    """
    there = new.exists() or new.is_symlink()
    beside = Path(os.path.realpath(new)).parent == Path(os.path.realpath(
        files.backups_folder(book)))
    kept = None if beside and not there else files.what_is_kept(new, book)
    if there or kept is not None:
        raise Refused(f"{new} is {kept or 'there already'}, so nothing was written. "
                      "Choose another name.")


@contextmanager
def write_book(arguments: Arguments, *, shown: bool = False) -> Iterator[Book]:
    """The book to write in, made where there is none; its text mirror follows at the end.

    Args:
        arguments: Of the command.
        shown: What is to be known of it is shown in another way, and not said here.

    Raises:
        BookDamaged: It is not sound, so it can only be read.
        BookError: It cannot be used.
    """
    # Only what writes needs these: commands that read begin without.
    from benchapp.copies.mirrors import mirror_on_leaving

    path = book_path(arguments).expanduser().absolute()
    clock = SystemClock()
    _back_up_earlier(path, clock)
    with Book.open(path, write=True, create=True, state=files.state_folder(),
                   now=clock.now()) as book:
        for warning in files.disk_warnings(path):
            # Every start of a day says it; the small commands once, and `files` always.
            if shown or files.is_first_time(warning):
                book.mind(warning)
        if book.notice and not shown:
            warn(*book.notice.split("\n"))
        before = book.last_sequence()
        try:
            yield book
        finally:
            if not shown:
                keep_unsaved(book, waits=False)
        if not book.damaged and book.last_sequence() != before:
            mirror_on_leaving(book, path, clock)


def _back_up_earlier(path: Path, clock: SystemClock) -> None:
    """Back a book up whose layout changes when it is opened to write."""
    from benchapp.book.copied import ending_of
    from benchapp.copies.backups import back_up

    with suppress(BookError):  # told when it is opened
        end = ending_of(path)
        if end is not None and end.of_earlier_layout and (problem := back_up(path, clock.now())):
            warn(f"{problem} benchapp opens the book all the same: its layout changes in one step, "
                 "or not at all.")


def read_book(arguments: Arguments) -> Book:
    """The book to read in; nothing is made. One named by `--book` has to be there.

    Raises:
        WrongUse: There is no such file.
        BookError: It cannot be used.
    """
    path = book_path(arguments)
    if getattr(arguments, "book", None) and not path.expanduser().exists():
        raise WrongUse(f"{path}: no such file; name the book with --book FILE")
    book = Book.reading(path)
    if book.notice:
        warn(*book.notice.split("\n"))
    return book


def session_row(book: Book, said: str) -> SessionRow:
    """The session a printer means by a name, `last` or `yesterday`.

    Raises:
        Refused: There is none to be meant by `last` or `yesterday`.
        WrongUse: No session is called so.
    """
    rows = book.sessions()
    found = find_session(said, book.all_sessions(), local_time(SystemClock().now()).date())
    if found is not None:
        return found
    if not rows:
        raise Refused("The book has no session yet; open one with: benchapp run RECIPE")
    if said.lower() in ("last", "yesterday"):
        raise Refused(f"No session was opened before today; the last is {rows[-1].name}")
    raise WrongUse(f"No session is called {said}; " + suggest_names(said, [r.name for r in rows]))


# -- recipes ----------------------------------------------------------------------------


def recipe_bytes(name: str) -> tuple[Path, bytes]:
    """The file of the recipe meant, and what is in it.

    Raises:
        FileProblem: There is none, or it cannot be read.
        Refused: It is too large to be a recipe.
    """
    path = files.find_recipe(name)
    if path.is_file() and path.stat().st_size > files.MOST_BYTES:
        raise Refused(f"{path}:1:1: is larger than {files.MOST_BYTES // 1024} KiB; "
                      "keep one print in one file")
    return path, files.read_bytes(path)


def recipe_text(name: str) -> tuple[str, str]:
    """The name and the text of the recipe meant, read and found whole.

    Raises:
        FileProblem: There is none, or it cannot be read.
        Refused: It has problems; the message lists all.
    """
    from benchapp.recipe.reader import read_recipe

    path, data = recipe_bytes(name)
    try:
        read_recipe(data)
    except RecipeError as error:
        raise Refused(problems_text(str(path), error)) from None
    return path.stem, data.decode("utf-8-sig")


def problems_text(file: str, error: RecipeError) -> str:
    """Every problem on a line of its own, `file:line:column: …`."""
    return "\n".join(p.at(file) for p in error.problems)
