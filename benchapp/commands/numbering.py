"""The commands that number, sign, void: one sheet or a whole sitting."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from benchapp.commands.context import Arguments, Refused, WrongUse, say, say_json, warn
from benchapp.commands.resolve import (
    accept_answer,
    ask_line,
    borne_by,
    can_ask,
    confirm_or_stop,
    label_of,
    number_meant,
    print_meant,
    sheets_meant,
    total_fits,
    writing_editions,
)
from benchapp.edition import actions as a
from benchapp.edition.naming import split_names
from benchapp.edition.numbers import sheet_words
from benchapp.edition.parse import read_claim, read_pencilled_number
from benchapp.edition.state import KINDS_OF_PROOF, NUMBERED
from benchapp.service.editions import EditionService
from benchapp.views.signing import ToSign

_HOW_TO_SIGN: Final = ("This cannot be undone. Write yes to record them, or the figures of "
                       "those to leave out: ")


def number_sheets(arguments: Arguments) -> int:
    """Give sheets their numbers, keep them as proofs, or take that back."""
    named = split_names(arguments.words)
    if arguments.correct is not None:
        raise WrongUse("To correct it, write: "
                       + _instead(arguments, named))
    with writing_editions(arguments) as editions:
        # A last word that is a number is the sheet's new one; alone it names a sheet.
        figure = named.pop() if (len(named) > 1 and not arguments.back
                                 and _is_new_number(editions, named[-1])) else None
        if figure is not None and len(named) > 1:
            raise WrongUse("A number belongs to one sheet; leave it out, and several take the "
                           "next in turn")
        print_, sheets = sheets_meant(editions, named, arguments.print_)
        wanted = None if figure is None else number_meant(figure)
        if figure is not None and arguments.kind is None:
            total_fits(editions.register.edition(print_), figure)
        for action in _actions(arguments, print_, sheets, wanted):
            accept_answer(editions.do(action))
        _told(editions, arguments, print_, sheets)
    return 0


def _instead(arguments: Arguments, named: list[str]) -> str:
    """The correction that was meant, of a number or of a kind; else the list of all."""
    sheet, *rest = named
    if not rest and arguments.kind is None:
        return f"benchapp correct {sheet} lists what can be wrong about it"
    what = f"purpose {arguments.kind}" if arguments.kind else f"number {rest[0]}"
    return f'benchapp correct {sheet} {what} --why "{arguments.correct}"'


def _is_new_number(editions: EditionService, said: str) -> bool:
    """Whether a word is a number of the edition, and no mark that is written on a sheet."""
    claim = read_claim(said)
    if claim is None or claim[1] is None:
        return False
    if claim[0] != NUMBERED:
        raise WrongUse(f"{said} is a proof; say that a sheet becomes one with --as {claim[0]}")
    return all(s.mark.casefold() != said.casefold() for s in editions.register.sheets.values())


def _actions(arguments: Arguments, print_: str, sheets: list[str],
             wanted: int | None) -> list[a.Action]:
    kind = _kind(arguments.kind)
    if arguments.back:
        return [a.TakeNumberBack(print_, s) for s in sheets]
    if arguments.instead is not None and kind != "BAT":
        raise WrongUse("--replace goes with --as BAT; add it")
    if kind is not None and kind != NUMBERED:
        return [a.GiveProof(print_, s, kind, wanted, arguments.by, arguments.whose,
                            arguments.instead)
                for s in sheets]
    if arguments.by is not None or arguments.whose is not None:
        raise WrongUse("--by and --whose belong to a proof; say --as too, such as --as AP")
    return [a.GiveNumbers(print_, tuple((s, wanted) for s in sheets))]


def _kind(said: str | None) -> str | None:
    """The kind as the trade writes it, however it was typed; another is left to the rules."""
    if said is None:
        return None
    return next((k for k in KINDS_OF_PROOF if k.casefold() == said.casefold()), said)


def _told(editions: EditionService, arguments: Arguments, print_: str, sheets: list[str]) -> None:
    """What stands on each sheet now."""
    rows = [_row(editions, print_, s) for s in sheets]
    if arguments.json:
        say_json("number/1", {"print": editions.title(print_)[0], "sheets": rows})
        return
    say(*(f"{r['who']} → {r['label'] or 'nothing'}" + (", signed" if r["signed"] else "")
          for r in rows))


def _row(editions: EditionService, print_: str, sheet: str) -> dict[str, Any]:
    e = editions.register.edition(print_)
    held, known = e.holdings.get(sheet), editions.register.sheets.get(sheet)
    who = held if held is not None and held.mark else known or held
    bears = None if held is None else held.bears
    return {"sheet": sheet, "mark": None if who is None else who.mark or None,
            "who": sheet if who is None else sheet_words(who),
            "kind": None if bears is None else bears.kind,
            "number": None if bears is None else bears.number,
            "label": borne_by(editions, print_, sheet),
            "signed": None if held is not None and held.perhaps_signed else (
                held is not None and held.signed is not None)}


def sign_sheets(arguments: Arguments) -> int:
    """Record that sheets were signed: all of them, or none."""
    with writing_editions(arguments) as editions:
        print_, sheets = sheets_meant(editions, arguments.sheets, arguments.print_)
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


def _sure_of_list(arguments: Arguments, editions: EditionService, action: a.Sign) -> a.Sign:
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
        raise WrongUse("Signing cannot be undone: add --yes if all of this list was signed")
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


def void_number(arguments: Arguments) -> int:
    """Record that a number is void, never used or its sheet destroyed."""
    with writing_editions(arguments) as editions:
        action, what, so = _voided(editions, arguments)
        refused = editions.would(action).refusal
        if refused is not None:
            raise Refused(str(refused))
        confirm_or_stop(arguments, f"Record that {so}.")
        accept_answer(editions.do(action))
        if arguments.json:
            say_json("void/1", {"print": editions.title(action.print)[0], "what": what,
                      "void": not arguments.destroyed, "destroyed": arguments.destroyed,
                      "why": arguments.why})
        else:
            say(f"{so}: {arguments.why}")
    return 0


def _voided(editions: EditionService,
            arguments: Arguments) -> tuple[a.VoidNumber | a.Destroy, str, str]:
    """What is done, what it is done to, and what is so then."""
    if arguments.destroyed:
        print_, sheets = sheets_meant(editions, arguments.what, arguments.print_)
        if len(sheets) > 1:
            raise WrongUse("Destroy one sheet at a time; name only that one")
        row = _row(editions, print_, sheets[0])
        who, label = row["who"], row["label"]
        number = "" if row["number"] is None or label is None else f", and {label} is void"
        return (a.Destroy(print_, sheets[0], arguments.why),
                who if label is None else f"{who}, {label}", f"{who} is destroyed{number}")
    print_, n = _number_to_void(editions, arguments)
    label = label_of(editions, print_, NUMBERED, n)
    return a.VoidNumber(print_, n, arguments.why), label, f"{label} is void"


def _number_to_void(editions: EditionService, arguments: Arguments) -> tuple[str, int]:
    """The number, as it is written or as the sheet has it that is named."""
    said = " ".join(arguments.what)
    print_ = print_meant(editions, arguments.print_)
    n = read_pencilled_number(said)
    if n is not None:
        total_fits(editions.register.edition(print_), said)
        return print_, n
    print_, (sheet, *_) = sheets_meant(editions, [said], arguments.print_)
    held = editions.register.edition(print_).holdings.get(sheet)
    bears = None if held is None else held.bears
    if bears is None or bears.kind != NUMBERED or bears.number is None:
        raise Refused(f"{said} has no number of the edition; if it was destroyed, say --destroyed")
    return print_, bears.number
