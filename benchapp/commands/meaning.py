"""What the words of a command mean: which print, which sheet, which number; and questions."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from benchapp.book.sessions import resolve
from benchapp.clock import SystemClock
from benchapp.commands.desk import (
    Arguments,
    Refused,
    WrongUse,
    book_path,
    near,
    read_book,
    warn,
    write_book,
)
from benchapp.edition.holding import Bears
from benchapp.edition.numbers import bearers, label, number_words, sheet_words
from benchapp.edition.spoken import FIGURE, read_claim, read_number
from benchapp.edition.state import NUMBERED, Edition
from benchapp.editions import Answer, Day, Editions
from benchapp.moments import local
from benchapp.session.marks import read_mark
from benchapp.shown import visible

_NONE_YET: Final = "The book has no session yet; open one with: benchapp run RECIPE"
#: How a print is begun that nobody prints any more, or not yet.
OR_OLD: Final = ("; an edition printed before there was this book is begun with: benchapp edition "
                  "TITLE --artist WHO --size N")


@contextmanager
def reading(arguments: Arguments) -> Iterator[Editions]:
    """The editions of the book that is meant, to read."""
    with read_book(arguments) as book:
        yield Editions(book, SystemClock())


@contextmanager
def writing(arguments: Arguments, *, begin: bool = False) -> Iterator[Editions]:
    """The same, to write; no book is made for it, unless something is begun in it.

    Raises:
        Refused: There is none.
    """
    if not begin and not book_path(arguments).expanduser().exists():
        raise Refused(_NONE_YET + OR_OLD)
    with write_book(arguments) as book:
        yield Editions(book, SystemClock())


# -- prints -----------------------------------------------------------------------------


def print_meant(editions: Editions, said: str | None) -> str:
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


def _named(editions: Editions, said: str) -> str:
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
    raise WrongUse(f"No print is called {said}; {near(said, [t for t, _ in known.values()])}")


# -- sheets -----------------------------------------------------------------------------


def sheet_meant(editions: Editions, said: str, print_: str | None = None) -> str:
    """The id of the sheet meant by a mark, by session and pull, or by its number.

    Args:
        editions: Where it is.
        said: `K7`, `last:3`, `12/40`, `AP 2`.
        print_: The print that was named, by its id.

    Raises:
        Refused: There is none, or there are two.
        WrongUse: It is no name of a sheet.
    """
    if ":" in said:
        return _by_session(editions, said, print_)
    mark = read_mark(said) or said.strip()
    found = [s for s in editions.register.sheets.values()
             if s.mark.casefold() == mark.casefold()]
    if len(found) > 1 and print_ is not None:
        found = [s for s in found if s.print == print_] or found
    if len(found) > 1:
        who = " and ".join(sheet_words(s) for s in found)
        raise Refused(f"{len(found)} sheets bear {said}: {who}; name one by its session, such as "
                      f"{found[0].session}:3")
    if found:
        return found[0].id
    borne = _by_number(editions, said, print_)
    if borne is not None:
        return borne
    raise Refused(f"No sheet {said} is in the book; name one by its mark (K7), or by session and "
                  "pull (last:3)")


def _by_session(editions: Editions, said: str, print_: str | None) -> str:
    name, _, pull = said.rpartition(":")
    day = _day(editions, name, print_)
    if not (pull.isascii() and pull.isdigit()):
        raise WrongUse(f"{said} is no sheet; after the session write which pull, as last:3")
    n = int(pull[:9])
    if not 1 <= n <= len(day.sheets):
        count = "1 sheet" if len(day.sheets) == 1 else f"{len(day.sheets)} sheets"
        raise Refused(f"{day.row.name} has no pull {n}: {count} were pulled")
    return day.sheets[n - 1].id


def _day(editions: Editions, name: str, print_: str | None) -> Day:
    """The session of that name; `last` is the last of the print that was named."""
    by_id = {d.row.id: d for d in editions.days}
    if name in by_id:
        return by_id[name]
    days = [d for d in editions.days if d.print == print_] or list(editions.days)
    today = local(editions.clock.now()).date()
    found = resolve(name, [d.row for d in days], today) or resolve(
        name, [d.row for d in editions.days], today)
    if found is None:
        if not editions.days:
            raise Refused(_NONE_YET)
        raise WrongUse(f"No session is called {name}; "
                       f"{near(name, ['last', *(d.row.name for d in editions.days)])}")
    return by_id[found.id]


def _by_number(editions: Editions, said: str, print_: str | None) -> str | None:
    try:
        claim = claim_meant(said)
    except WrongUse:
        return None
    if claim[0] == NUMBERED and "/" not in said:
        return None
    e = editions.register.edition(print_ or print_meant(editions, None))
    borne = bearers(e, *claim)
    return borne[0].sheet if len(borne) == 1 else None


def claim_meant(said: str) -> tuple[str, int | None]:
    """The kind and number of `12`, `12/40`, `AP 2`, `AP II/IV`, `BAT`.

    Raises:
        WrongUse: It is none.
    """
    claim = read_claim(said)
    if claim is None:
        raise WrongUse(f"{said} is no number; write such as 12, 12/40, AP 2 or BAT")
    return claim


def number_meant(said: str) -> int:
    """A number as it is pencilled, with or without the total.

    Raises:
        WrongUse: It is none.
    """
    n = read_number(said)
    if n is None:
        raise WrongUse(f"{said} is no number; write such as 12 or 12/40")
    return n


def is_number(said: str) -> bool:
    """Whether a word is a number in figures, with or without its total."""
    return FIGURE.fullmatch(said) is not None


def total_fits(e: Edition, said: str) -> None:
    """Hold that a total written behind the number is the edition's own.

    Raises:
        Refused: It is not.
    """
    found = FIGURE.fullmatch(said)
    if found and found[2] and e.size is not None and int(found[2]) != e.size:
        raise Refused(f"The edition is {e.size}, not {found[2]}; write {found[1]} alone")


def borne_by(editions: Editions, print_: str, sheet: str) -> str | None:
    """What stands on a sheet, as it is pencilled."""
    e = editions.register.edition(print_)
    held = e.holdings.get(sheet)
    return None if held is None or held.bears is None else label(e, held.bears)


def label_of(editions: Editions, print_: str, kind: str, number: int | None) -> str:
    """A kind and number as they are pencilled."""
    e = editions.register.edition(print_)
    if kind == NUMBERED and number is not None:
        return number_words(e, number)
    return label(e, Bears(kind, number))


# -- answers ----------------------------------------------------------------------------


def taken(answer: Answer) -> Answer:
    """Go on where it was done, its warnings said.

    Raises:
        Refused: It was not.
    """
    warn(*answer.said)
    if answer.refusal is not None:
        raise Refused(str(answer.refusal))
    return answer


def sure(arguments: Arguments, what: str) -> None:
    """Go on only where the printer says yes to what can't be taken back.

    Raises:
        WrongUse: There is no terminal to ask on, and no --yes.
        Refused: The answer is no.
    """
    if arguments.yes:
        return
    if not can_ask():
        raise WrongUse(f"{what} This can't be taken back: say --yes if it is meant")
    answer = ask_line(f"{what} This can't be taken back. Write yes to go on: ")
    if answer.casefold() not in ("yes", "y"):
        raise Refused("Nothing was done")


def can_ask() -> bool:
    """Whether there is a terminal to ask on."""
    return sys.stdin.isatty() and sys.stderr.isatty()


def ask_line(question: str) -> str:
    """Ask on the terminal; the line written there, without blanks at its ends."""
    sys.stderr.write(visible(question))
    sys.stderr.flush()
    return sys.stdin.readline().strip()
