"""The commands that number, sign, void: one sheet or a whole sitting."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from benchapp.commands.desk import Arguments, Refused, WrongUse, say, say_json, warn
from benchapp.commands.meaning import (
    ask_line,
    borne_by,
    can_ask,
    is_number,
    label_of,
    number_meant,
    print_meant,
    sheet_meant,
    sure,
    taken,
    total_fits,
    writing,
)
from benchapp.edition import acts as a
from benchapp.edition.holding import Bears
from benchapp.edition.numbers import sheet_words
from benchapp.edition.signing import ToSign
from benchapp.edition.state import KINDS_OF_PROOF, NUMBERED
from benchapp.editions import Editions

_HOW_TO_SIGN: Final = ("This can't be taken back. Write yes to record them, or the figures of "
                       "those to leave out: ")


def number(arguments: Arguments) -> int:
    """Give sheets their numbers, keep them as proofs, take that back, or correct the book."""
    named = list(arguments.words)
    # A last word in figures is a number; alone it would be no sheet.
    figure = named.pop() if len(named) > 1 and is_number(named[-1]) else None
    if figure is not None and len(named) > 1:
        raise WrongUse("A number belongs to one sheet; without it several take the next in turn")
    with writing(arguments) as editions:
        print_, sheets = _sheets(editions, arguments, named)
        wanted = None if figure is None else number_meant(figure)
        if figure is not None and arguments.kind is None and arguments.correct is None:
            total_fits(editions.register.edition(print_), figure)
        for action in _actions(arguments, print_, sheets, wanted):
            taken(editions.do(action))
        _told(editions, arguments, print_, sheets)
    return 0


def _actions(arguments: Arguments, print_: str, sheets: list[str],
             wanted: int | None) -> list[a.Action]:
    kind = _kind(arguments.kind)
    if arguments.back:
        return [a.TakeNumberBack(print_, s) for s in sheets]
    if arguments.correct is not None:
        bears = None if kind is None and wanted is None else Bears(kind or NUMBERED, wanted)
        return [a.Correct(print_, s, bears, arguments.correct) for s in sheets]
    if kind is not None and kind != NUMBERED:
        return [a.GiveProof(print_, s, kind, wanted, arguments.by, arguments.whose)
                for s in sheets]
    if arguments.by is not None or arguments.whose is not None:
        raise WrongUse("--by and --whose belong to a proof; say --as too, such as --as AP")
    return [a.GiveNumbers(print_, tuple((s, wanted) for s in sheets))]


def _kind(said: str | None) -> str | None:
    """The kind as the trade writes it, however it was typed; another is left to the rules."""
    if said is None:
        return None
    return next((k for k in KINDS_OF_PROOF if k.casefold() == said.casefold()), said)


def _sheets(editions: Editions, arguments: Arguments,
            named: list[str]) -> tuple[str, list[str]]:
    """The print and the sheets; all have to be of one print.

    Raises:
        Refused: They are not, or there are none such.
    """
    meant = None if arguments.print_ is None else print_meant(editions, arguments.print_)
    sheets = [sheet_meant(editions, x, meant) for x in named]
    if meant is not None:
        return meant, sheets
    known = editions.register.sheets
    prints = {known[s].print for s in sheets if s in known} or {print_meant(editions, None)}
    if len(prints) > 1:
        raise Refused("These sheets are of several prints; say which with --print PRINT")
    return prints.pop(), sheets


def _told(editions: Editions, arguments: Arguments, print_: str, sheets: list[str]) -> None:
    """What stands on each sheet now."""
    rows = [_row(editions, print_, s) for s in sheets]
    if arguments.json:
        say_json({"print": editions.title(print_)[0], "sheets": rows})
        return
    say(*(f"{r['who']} → {r['label'] or 'nothing'}" + (", signed" if r["signed"] else "")
          for r in rows))


def _row(editions: Editions, print_: str, sheet: str) -> dict[str, Any]:
    e = editions.register.edition(print_)
    held, known = e.holdings.get(sheet), editions.register.sheets.get(sheet)
    who = held if held is not None and held.mark else known or held
    bears = None if held is None else held.bears
    return {"sheet": sheet, "mark": None if who is None else who.mark or None,
            "who": sheet if who is None else sheet_words(who),
            "kind": None if bears is None else bears.kind,
            "number": None if bears is None else bears.number,
            "label": borne_by(editions, print_, sheet),
            "signed": held is not None and held.signed is not None}


def sign(arguments: Arguments) -> int:
    """Record that sheets were signed: all of them, or none."""
    with writing(arguments) as editions:
        print_, sheets = _sheets(editions, arguments, arguments.sheets)
        action = a.Sign(print_, tuple(sheets))
        refused = editions.would(action).refusal
        if refused is not None:
            raise Refused(str(refused))
        chosen = _sure_of_list(arguments, editions, action)
        refused = editions.do(chosen).refusal
        if refused is not None:
            raise Refused(str(refused))
        _told(editions, arguments, print_, list(chosen.sheets))
    return 0


def _sure_of_list(arguments: Arguments, editions: Editions, action: a.Sign) -> a.Sign:
    """The sheets that the printer confirms, shown with their numbers and every warning.

    Raises:
        WrongUse: There is no terminal to ask on, and no --yes; the list is shown all the same.
        Refused: The answer is no.
    """
    listed, about = editions.to_sign(action)
    kept = list(listed)
    if arguments.yes:
        warn(*about, *(f"{x.words}: {w}" for x in kept for w in x.warnings))
        return action
    if not can_ask():
        warn(*_list_lines(kept, about))
        raise WrongUse("Signing can't be taken back: say --yes if all of this list was signed")
    while kept:
        warn(*_list_lines(kept, about))
        answer = ask_line(_HOW_TO_SIGN).casefold()
        if answer in ("yes", "y"):
            return a.Sign(action.print, tuple(x.sheet for x in kept))
        places = _places(answer, len(kept))
        if places is None:
            break
        kept = [x for n, x in enumerate(kept, 1) if n not in places]
    raise Refused("Nothing was signed")


def _list_lines(listed: Iterable[ToSign], about: Iterable[str]) -> list[str]:
    lines = ["Record as signed:"]
    for n, x in enumerate(listed, 1):
        lines += [f"  {n}  {x.words}", *(f"       ! {w}" for w in x.warnings)]
    return [*lines, *(f"  ! {w}" for w in about)]


def _places(answer: str, most: int) -> set[int] | None:
    """The places on the list that an answer names; None: it names anything else."""
    words = answer.replace(",", " ").split()
    if not words or not all(w.isascii() and w.isdigit() for w in words):
        return None
    found = {int(w[:6]) for w in words}
    return found if all(1 <= n <= most for n in found) else None


def void(arguments: Arguments) -> int:
    """Record that a number is never used, or that a sheet was destroyed."""
    with writing(arguments) as editions:
        action, what = _voided(editions, arguments)
        refused = editions.would(action).refusal
        if refused is not None:
            raise Refused(str(refused))
        sure(arguments, f"Record as {'destroyed' if arguments.destroyed else 'void'}: {what}.")
        taken(editions.do(action))
        if arguments.json:
            say_json({"print": editions.title(action.print)[0], "what": what,
                      "void": not arguments.destroyed, "destroyed": arguments.destroyed,
                      "why": arguments.why})
        else:
            say(f"{what} is {'destroyed' if arguments.destroyed else 'void'}: {arguments.why}")
    return 0


def _voided(editions: Editions, arguments: Arguments) -> tuple[a.Void | a.Destroy, str]:
    if arguments.destroyed:
        print_, sheets = _sheets(editions, arguments, [arguments.what])
        row = _row(editions, print_, sheets[0])
        label = "" if row["label"] is None else f", {row['label']}"
        return a.Destroy(print_, sheets[0], arguments.why), f"{row['who']}{label}"
    print_ = print_meant(editions, arguments.print_)
    n = number_meant(arguments.what)
    return a.Void(print_, n, arguments.why), label_of(editions, print_, NUMBERED, n)
