"""What the words of a command mean: which print, which sheet, which number; and questions."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Final

from benchapp.clock import SystemClock
from benchapp.commands.context import (
    Arguments,
    Refused,
    WrongUse,
    book_path,
    read_book,
    suggest_names,
    warn,
    write_book,
)
from benchapp.decision import Refusal
from benchapp.edition.holding import SheetLabel
from benchapp.edition.naming import print_of_sheet, split_names
from benchapp.edition.numbers import label_text, number_words
from benchapp.edition.parse import read_pencilled_number, read_total
from benchapp.edition.state import NUMBERED, Edition
from benchapp.safe_text import sanitize
from benchapp.service.editions import EditionService
from benchapp.service.outcome import Outcome

_NONE_YET: Final = "The book has no session yet; open one with: benchapp run RECIPE"
#: How a print is begun that nobody prints any more, or not yet.
OR_OLD: Final = ("; an edition printed before there was this book is begun with: benchapp edition "
                  "TITLE --artist WHO --size N")


@contextmanager
def reading_editions(arguments: Arguments) -> Iterator[EditionService]:
    """The editions of the book that is meant, to read."""
    with read_book(arguments) as book:
        yield EditionService(book, SystemClock())


@contextmanager
def writing_editions(arguments: Arguments, *, begin: bool = False) -> Iterator[EditionService]:
    """The same, to write; no book is made for it, unless something is begun in it.

    Raises:
        Refused: There is none.
    """
    if not begin and not book_path(arguments).expanduser().exists():
        raise Refused(_NONE_YET + OR_OLD)
    with write_book(arguments) as book:
        yield EditionService(book, SystemClock())


# -- prints -----------------------------------------------------------------------------


def print_meant(editions: EditionService, said: str | None) -> str:
    """The print of that title; without one the last session's.

    Raises:
        WrongUse: No print is called so, or several are.
        Refused: The book has none.
    """
    if said is not None:
        return _named(editions, said)
    if editions.days:
        return editions.days[-1].print
    known = editions.prints()
    if len(known) == 1:
        return known[0]
    raise Refused(_NONE_YET if not known else "Say which print is meant: --print PRINT")


def _named(editions: EditionService, said: str) -> str:
    known = {p: editions.title(p) for p in editions.prints()}
    wanted = " ".join(said.split()).casefold()
    for fits in (lambda p, t: wanted in (p, t), lambda p, t: t.startswith(wanted),
                 lambda p, t: wanted in t):
        found = [p for p, (title, _) in known.items()
                 if fits(p, " ".join(title.split()).casefold())]
        if len(found) == 1:
            return found[0]
        if found:
            raise WrongUse(f"{said} may be several prints: {'; '.join(found)}. Write one of these")
    if not known:
        raise Refused(_NONE_YET + OR_OLD)
    raise WrongUse(
        f"No print is called {said}; {suggest_names(said, [t for t, _ in known.values()])}")


# -- sheets -----------------------------------------------------------------------------


def resolve_sheet(editions: EditionService, said: str, print_: str | None = None) -> str:
    """The id of the sheet meant by its mark, its number, or its session and pull.

    Args:
        editions: Where it is.
        said: `K7`, `12/40`, `AP II`, `last:3`.
        print_: The print that was named, by its id.

    Raises:
        Refused: There is none, or there are several.
        WrongUse: It is no name of a sheet.
    """
    found = editions.find_sheet(said, print_)
    if isinstance(found, str):
        return found
    raise no_sheet(editions, found)


def no_sheet(editions: EditionService, why: Refusal) -> Refused | WrongUse:
    """What ends a command that names no sheet of the book."""
    if not editions.days and not editions.prints():
        return Refused(_NONE_YET)
    return (WrongUse if why.rule == "use" else Refused)(str(why))


def sheets_meant(editions: EditionService, words: Iterable[str],
                 named: str | None = None) -> tuple[str, list[str]]:
    """The print and the sheets that are named; all have to be of one print.

    Args:
        editions: Where they are.
        words: Their names, as the command line splits them.
        named: The print, as it was named.

    Raises:
        Refused: They are not, or there are none such.
        WrongUse: It is no name of a sheet.
    """
    meant = None if named is None else print_meant(editions, named)
    sheets = list(dict.fromkeys(resolve_sheet(editions, x, meant) for x in split_names(words)))
    if meant is not None:
        return meant, sheets
    prints = {print_of_sheet(editions.register, s) for s in sheets}
    found = prints.pop() if prints else None
    if prints:
        raise Refused("These sheets are of several prints; say which with --print PRINT")
    return found or print_meant(editions, None), sheets


def number_meant(said: str) -> int:
    """A number as it is pencilled, with or without the total.

    Raises:
        WrongUse: It is none.
    """
    n = read_pencilled_number(said)
    if n is None:
        raise WrongUse(f"{said} is not a number; write such as 12 or 12/40")
    return n


def total_fits(e: Edition, said: str) -> None:
    """Hold that a total written behind the number is the edition's own.

    Raises:
        Refused: It is not.
    """
    total = read_total(said)
    if total is not None and e.size is not None and total != e.size:
        raise Refused(f"The edition is {e.size}, not {total}; write {said.partition('/')[0]} alone")


def borne_by(editions: EditionService, print_: str, sheet: str) -> str | None:
    """What stands on a sheet, as it is pencilled."""
    e = editions.register.edition(print_)
    held = e.holdings.get(sheet)
    return None if held is None or held.bears is None else label_text(e, held.bears)


def label_of(editions: EditionService, print_: str, kind: str, number: int | None) -> str:
    """A kind and number as they are pencilled."""
    e = editions.register.edition(print_)
    if kind == NUMBERED and number is not None:
        return number_words(e, number)
    return label_text(e, SheetLabel(kind, number))


# -- answers ----------------------------------------------------------------------------


def accept_answer(answer: Outcome) -> Outcome:
    """Go on where it was done, its warnings said.

    Raises:
        Refused: It was not.
    """
    warn(*answer.warnings)
    if answer.refusal is not None:
        raise Refused(str(answer.refusal))
    return answer


def confirm_or_stop(arguments: Arguments, what: str,
                    then: str = "This cannot be undone") -> None:
    """Go on only where the printer says yes to what can't be taken back.

    Args:
        arguments: With `yes` nothing is asked.
        what: What is to be done, as a sentence.
        then: What becomes of it.

    Raises:
        WrongUse: There is no terminal to ask on, and no --yes.
        Refused: The answer is no.
    """
    if arguments.yes:
        return
    if not can_ask():
        raise WrongUse(f"{what} {then}: add --yes if you mean it")
    answer = ask_line(f"{what} {then}. Write yes to go on: ")
    if answer.casefold() not in ("yes", "y"):
        raise Refused("Nothing was done")


def can_ask() -> bool:
    """Whether there is a terminal to ask on."""
    return sys.stdin.isatty() and sys.stderr.isatty()


def ask_line(question: str) -> str:
    """Ask on the terminal; the line written there, without blanks at its ends."""
    sys.stderr.write(sanitize(question))
    sys.stderr.flush()
    return sys.stdin.readline().strip()
