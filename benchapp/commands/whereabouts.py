"""The command that says where sheets are, or takes down where they went."""

from __future__ import annotations

from benchapp.commands.desk import Arguments, Refused, WrongUse, say, say_json
from benchapp.commands.meaning import (
    print_meant,
    reading,
    sheet_meant,
    sheets_meant,
    taken,
    writing,
)
from benchapp.edition import acts as a
from benchapp.edition import view
from benchapp.edition.holding import OUT
from benchapp.edition.naming import print_of, split_names
from benchapp.edition.numbers import bearers, holders, sheet_words
from benchapp.edition.spoken import moved, read_claim
from benchapp.edition.state import NUMBERED
from benchapp.edition.view import Found
from benchapp.editions import Editions


def _found(editions: Editions, arguments: Arguments) -> tuple[Found, ...]:
    """Every answer to the question.

    Raises:
        Refused: No sheet is called so.
    """
    named = split_names(arguments.number)
    return tuple(f for said in named for f in _answers(editions, arguments, said))


def _answers(editions: Editions, arguments: Arguments, said: str) -> tuple[Found, ...]:
    """Where the sheet of that name is; of a kind of proof all of them, of a clash both."""
    meant = None if arguments.print_ is None else print_meant(editions, arguments.print_)
    found = editions.find_sheet(said, meant)
    if isinstance(found, str):
        return (_told(editions, meant or print_of(editions.register, found) or "", found,
                      arguments),)
    claim = read_claim(said)
    print_ = meant or editions.print_last()
    if claim is not None and print_ is not None:
        e = editions.register.edition(print_)
        several = holders(e, claim[0]) if claim[1] is None else bearers(e, *claim)
        if all_ := tuple(_told(editions, print_, h.sheet, arguments) for h in several):
            return all_
        if claim[0] == NUMBERED and claim[1] in e.voids:
            return view.where_is(editions.register, print_, claim[1] or 0)
    sheet_meant(editions, said, meant)  # refuses, and says why
    return ()


def _told(editions: Editions, print_: str, sheet: str, arguments: Arguments) -> Found:
    e = editions.register.edition(print_)
    held = e.holdings.get(sheet)
    if held is None:
        known = editions.register.sheets[sheet]
        return Found(print_, sheet, f"{sheet_words(known)} has no number, and where it is, is not "
                                    "said")
    return view.found(e, held, private=arguments.private)


def where_is(arguments: Arguments) -> int:
    """Say where sheets are; with --now, take down where they went first: all of them, or none."""
    if arguments.now is None:
        if any((arguments.to, arguments.note, arguments.terms, arguments.on, arguments.due)):
            raise WrongUse("Say with it where the sheet is now: --now PLACE")
        with reading(arguments) as editions:
            return _show(arguments, _found(editions, arguments))
    with writing(arguments) as editions:
        print_, sheets = sheets_meant(editions, arguments.number, arguments.print_)
        moves = [_moved(editions, arguments, print_, s) for s in sheets]
        for move in moves:
            refused = editions.would(move).refusal
            if refused is not None:
                raise Refused(str(refused))
        for move in moves:
            taken(editions.do(move))
        return _show(arguments, tuple(_told(editions, print_, s, arguments) for s in sheets))


def _moved(editions: Editions, arguments: Arguments, print_: str, sheet: str) -> a.Action:
    """What the move is: out of the studio, back into it, or elsewhere in it."""
    words = {k: v for k, v in (("to", arguments.to), ("note", arguments.note)) if v}
    place = arguments.now
    e = editions.register.edition(print_)
    if place in OUT:
        return moved(e, sheet, place, terms=arguments.terms, day=arguments.on,
                     due=arguments.due, words=words)
    if arguments.terms is not None or arguments.due is not None:
        raise WrongUse("--terms and --due belong to --now gallery")
    return moved(e, sheet, place, day=arguments.on, words=words)


def _show(arguments: Arguments, found: tuple[Found, ...]) -> int:
    if arguments.json:
        say_json([{"print": f.print, "sheet": f.sheet, "text": f.text} for f in found])
    else:
        say(*(f.text for f in found))
    return 0
