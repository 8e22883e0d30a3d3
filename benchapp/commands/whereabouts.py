"""The command that says where a sheet is, or takes down where it went."""

from __future__ import annotations

from benchapp.commands.desk import Arguments, Refused, WrongUse, say, say_json
from benchapp.commands.meaning import (
    claim_meant,
    label_of,
    print_meant,
    reading,
    sheet_meant,
    taken,
    writing,
)
from benchapp.edition import acts as a
from benchapp.edition import view
from benchapp.edition.holding import OUT
from benchapp.edition.numbers import bearers, sheet_words
from benchapp.edition.spoken import moved
from benchapp.edition.view import Found, standing, where_words
from benchapp.editions import Editions


def _found(editions: Editions, arguments: Arguments) -> tuple[Found, ...]:
    """Every answer to the question.

    Raises:
        Refused: Nothing bears that number.
    """
    said = " ".join(arguments.number)
    print_ = print_meant(editions, arguments.print_)
    try:
        kind, number = claim_meant(said)
    except WrongUse:
        return (_of_mark(editions, arguments, said),)
    e = editions.register.edition(print_)
    if number is None:
        found = tuple(f for h in bearers(e, kind, None)
                      for f in (_told(editions, print_, h.sheet, arguments),))
    else:
        found = view.where_is(editions.register, print_, number, kind, private=arguments.private)
    if not found:
        raise Refused(f"{label_of(editions, print_, kind, number)} has been given to no sheet")
    return found


def _of_mark(editions: Editions, arguments: Arguments, said: str) -> Found:
    meant = None if arguments.print_ is None else print_meant(editions, arguments.print_)
    sheet = sheet_meant(editions, said, meant)
    return _told(editions, meant or _print_of(editions, sheet), sheet, arguments)


def _print_of(editions: Editions, sheet: str) -> str:
    """The print in whose register a sheet is, else the one it was pulled for."""
    for e in editions.register.editions.values():
        if sheet in e.holdings:
            return e.id
    return editions.register.sheets[sheet].print


def _told(editions: Editions, print_: str, sheet: str, arguments: Arguments) -> Found:
    e = editions.register.edition(print_)
    held = e.holdings.get(sheet)
    if held is None:
        known = editions.register.sheets[sheet]
        return Found(print_, sheet, f"{sheet_words(known)} has no number, and where it is, is not "
                                    "said")
    head = "" if held.bears is None else f" is {label_of(editions, print_, *held.bears.claim)}"
    where = where_words(held, private=arguments.private) or "where it is, is not said"
    return Found(print_, sheet, f"{sheet_words(held)}{head}: {standing(e, held)}, {where}")


def where_is(arguments: Arguments) -> int:
    """Say where it is; with --now, take down where it went first."""
    if arguments.now is None:
        if any((arguments.to, arguments.note, arguments.terms, arguments.on, arguments.due)):
            raise WrongUse("Say with it where the sheet is now: --now PLACE")
        with reading(arguments) as editions:
            return _show(arguments, _found(editions, arguments))
    with writing(arguments) as editions:
        found = _found(editions, arguments)
        if len(found) > 1:
            raise Refused(f"{'; '.join(f.text for f in found)}. Name the sheet by its mark")
        taken(editions.do(_moved(editions, arguments, found[0])))
        return _show(arguments, _found(editions, arguments))


def _moved(editions: Editions, arguments: Arguments, found: Found) -> a.Action:
    """What the move is: out of the studio, back into it, or elsewhere in it."""
    if found.sheet is None:
        raise Refused(found.text)
    words = {k: v for k, v in (("to", arguments.to), ("note", arguments.note)) if v}
    place = arguments.now
    e = editions.register.edition(found.print)
    if place in OUT:
        return moved(e, found.sheet, place, terms=arguments.terms, day=arguments.on,
                     due=arguments.due, words=words)
    if arguments.terms is not None or arguments.due is not None:
        raise WrongUse("--terms and --due belong to --now gallery")
    return moved(e, found.sheet, place, day=arguments.on, words=words)


def _show(arguments: Arguments, found: tuple[Found, ...]) -> int:
    if arguments.json:
        say_json([{"print": f.print, "sheet": f.sheet, "text": f.text} for f in found])
    else:
        say(*(f.text for f in found))
    return 0
