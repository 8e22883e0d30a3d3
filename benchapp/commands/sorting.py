"""The command that goes through a day's dry sheets: as a screen, or as a list to number from."""

from __future__ import annotations

from typing import Any

from benchapp.book.sessions import find_session
from benchapp.clock import SystemClock
from benchapp.commands.context import Arguments, Refused, has_terminal, say, say_json, write_book
from benchapp.commands.resolve import print_meant, reading_editions
from benchapp.commands.screens import find_preferences, on_screen
from benchapp.edition.ending import is_cancellation_proof, to_number
from benchapp.edition.numbers import sheet_words
from benchapp.edition.state import CANCELLATION, Sheet
from benchapp.edition.view import propose_numbers, running_list
from benchapp.events.moments import local_time
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService


def sort_sheets(arguments: Arguments) -> int:
    """Sort the sheets of a session or a print; without a terminal, list what is to be sorted."""
    with reading_editions(arguments) as editions:
        print_, session = _meant(editions, arguments)
        if arguments.json or arguments.list or not has_terminal():
            return _list(editions, arguments, print_, session)
    with write_book(arguments) as book:
        about = {"print_": print_} if session is None else {"session": session}
        return on_screen(SessionService(book, SystemClock()), "sort", find_preferences(),
                         opening=about)


def _meant(editions: EditionService, arguments: Arguments) -> tuple[str, str | None]:
    """The print, and the session if one is named; without a word the last that pulled a sheet.

    Raises:
        Refused: Nothing is named, and no sheet was pulled yet.
        WrongUse: No session and no print is called so.
    """
    said = " ".join(arguments.what)
    pulled = [d for d in editions.days if d.sheets]
    if not said:
        if not pulled:
            raise Refused("No sheet was pulled yet; open a session with: benchapp run RECIPE")
        return pulled[-1].print, pulled[-1].row.id
    found = find_session(said, [d.row for d in editions.days],
                         local_time(SystemClock().now()).date())
    if found is None:
        return print_meant(editions, said), None
    return next(d.print for d in editions.days if d.row.id == found.id), found.id


def _list(editions: EditionService, arguments: Arguments, print_: str, session: str | None) -> int:
    register = editions.register
    mine = None if session is None else {
        s.id for d in editions.days if d.row.id == session for s in d.sheets}
    waiting = [s for s in to_number(register, print_) if mine is None or s.id in mine]
    proof = [s for s in register.pulled(print_) if (mine is None or s.id in mine)
             and is_cancellation_proof(register, print_, s)]
    kept = [s.id for s in waiting if s.verdict == "keep"]
    pairs = propose_numbers(register, print_, kept)
    numbers = dict(pairs)
    rows = [_row(s, numbers.get(s.id), None) for s in waiting]
    rows += [_row(s, None, CANCELLATION) for s in proof]
    title = editions.title(print_)[0]
    if arguments.json:
        say_json("sort/1", {"print": title, "to_sort": rows})
        return 0
    say(f"{title} · {len(rows)} to sort")
    written = dict(zip(numbers, running_list(register, print_, pairs), strict=True))
    say(*(f"  {written.get(s.id, sheet_words(s))} · {s.verdict or 'not judged'}" for s in waiting),
        *(f"  {sheet_words(s)} → the {CANCELLATION}" for s in proof))
    if waiting:
        name = _typed(waiting[0])
        say(f"Give a number: benchapp number {name} · keep as a proof: benchapp number {name} "
            "--as AP")
    return 0


def _typed(s: Sheet) -> str:
    return f'"{sheet_words(s)}"' if " " in sheet_words(s) else sheet_words(s)


def _row(s: Sheet, number: int | None, kind: str | None) -> dict[str, Any]:
    """A sheet with what is proposed for it; nothing is where it was not judged keep."""
    return {"sheet": s.id, "who": sheet_words(s), "verdict": s.verdict, "number": number,
            "kind": kind}
