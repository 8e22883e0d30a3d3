"""The command that says where sheets are, or takes down where they went."""

from __future__ import annotations

from benchapp.commands.context import Arguments, Refused, WrongUse, say, say_json
from benchapp.commands.exports import write_out
from benchapp.commands.pipes import STANDARD, say_written
from benchapp.commands.resolve import (
    accept_answer,
    no_sheet,
    print_meant,
    reading_editions,
    sheets_meant,
    writing_editions,
)
from benchapp.edition import actions as a
from benchapp.edition import view
from benchapp.edition.holding import OUT
from benchapp.edition.naming import print_of_sheet, split_names
from benchapp.edition.numbers import kind_holders, number_bearers, sheet_words
from benchapp.edition.parse import parse_move, read_claim
from benchapp.edition.view import FoundSheet
from benchapp.edition.whereabouts import place_groups
from benchapp.events.moments import local_time
from benchapp.quantities import items_text
from benchapp.reports.editions import register_row
from benchapp.reports.whereabouts import (
    Lent,
    LentSheet,
    SheetAnswer,
    WhereReport,
    lent_lines,
    lent_page,
    lent_report,
    lent_table,
    where_lines,
    where_report,
    with_galleries,
)
from benchapp.service.editions import EditionService


def _found(editions: EditionService, arguments: Arguments) -> tuple[FoundSheet, ...]:
    """Every answer to the question.

    Raises:
        Refused: No sheet is called so.
    """
    named = split_names(arguments.number)
    return tuple(f for said in named for f in _answers(editions, arguments, said))


def _answers(editions: EditionService, arguments: Arguments, said: str) -> tuple[FoundSheet, ...]:
    """Where the sheet of that name is; of a kind of proof all of them, of a clash both."""
    meant = None if arguments.print_ is None else print_meant(editions, arguments.print_)
    found = editions.find_sheet(said, meant)
    if isinstance(found, str):
        return (_told(editions, meant or print_of_sheet(editions.register, found) or "", found,
                      arguments),)
    print_ = meant or editions.print_last()
    e = editions.register.edition(print_ or "")
    kind, number = read_claim(said) or ("", None)
    several = tuple(kind_holders(e, kind) if number is None else number_bearers(e, kind, number))
    if several and (number is None or (found.rule == "several" and len(several) > 1)):
        return tuple(_told(editions, e.id, h.sheet, arguments) for h in several)
    if found.rule == "void" and number is not None:
        return view.where_number_is(editions.register, e.id, number)
    raise no_sheet(editions, found)


def _told(editions: EditionService, print_: str, sheet: str, arguments: Arguments) -> FoundSheet:
    e = editions.register.edition(print_)
    held = e.holdings.get(sheet) or e.withdrawn.get(sheet)
    if held is None:
        known = editions.register.sheets[sheet]
        return FoundSheet(print_, sheet,
                          f"{sheet_words(known)} has no number, place not recorded")
    return view.found_sheet(e, held, private=arguments.private)


def show_whereabouts(arguments: Arguments) -> int:
    """Say where sheets are; with --now, take down where they went first: all of them, or none."""
    about = (arguments.to, arguments.note, arguments.terms, arguments.on, arguments.due)
    if arguments.now is None and any(about):
        raise WrongUse("Say also where the sheet is now: --now PLACE")
    if arguments.now is not None and not arguments.number:
        raise WrongUse("Say which sheets went there: benchapp where-is 12/40 --now PLACE")
    if arguments.gallery is None and (arguments.html or arguments.csv):
        raise WrongUse("--html and --csv write one gallery's list; say which with --gallery WHO")
    if arguments.now is not None:
        return _move(arguments)
    with reading_editions(arguments) as editions:
        if arguments.gallery is not None:
            return _gallery(editions, arguments)
        if arguments.number:
            return _show(editions, arguments, _found(editions, arguments))
        return _all(editions, arguments)


def _move(arguments: Arguments) -> int:
    if arguments.gallery is not None:
        raise WrongUse("--gallery shows a list; --to says who has a sheet")
    with writing_editions(arguments) as editions:
        print_, sheets = sheets_meant(editions, arguments.number, arguments.print_)
        moves = [_moved(editions, arguments, print_, s) for s in sheets]
        for move in moves:
            wrong = editions.would(move).refusal
            if wrong is not None:
                raise Refused(str(wrong))
        for move in moves:
            accept_answer(editions.do(move))
        return _show(editions, arguments,
                     tuple(_told(editions, print_, s, arguments) for s in sheets))


def _prints(editions: EditionService, arguments: Arguments) -> tuple[str, ...]:
    """The print that was named, else all of them."""
    return editions.prints() if arguments.print_ is None else (
        print_meant(editions, arguments.print_),)


def _all(editions: EditionService, arguments: Arguments) -> int:
    """Every edition: how many are where, and each place with its sheets."""
    today = local_time(editions.clock.now()).date()
    found = [(p, editions.title(p)[0], place_groups(editions.register, p, today,
                                                    private=arguments.private))
             for p in _prints(editions, arguments)]
    if arguments.json:
        say_json(WhereReport.FORMAT, [where_report(*x) for x in found])
    elif not found:
        say("No print yet; open a session with: benchapp run RECIPE")
    else:
        say(*(line for _, title, places in found for line in where_lines(title, places)))
    return 0


def _gallery(editions: EditionService, arguments: Arguments) -> int:
    """One gallery's list, as lines or JSON; as a page or a table to send along."""
    if arguments.number:
        raise WrongUse("--gallery lists every sheet it has; leave out the sheet names")
    named = [(p, *editions.title(p)) for p in _prints(editions, arguments)]
    sheets = _with(with_galleries(editions.register, named), arguments.gallery)
    if arguments.html:
        today = local_time(editions.clock.now()).date().isoformat()
        write_out(arguments.html, lent_page(sheets, today), arguments)
    if arguments.csv:
        write_out(arguments.csv, lent_table(sheets), arguments)
    if arguments.json:
        say_json(LentSheet.FORMAT, lent_report(sheets))
    elif arguments.html or arguments.csv:
        written = ", ".join(x for x in (arguments.html, arguments.csv) if x)
        say_written(STANDARD if STANDARD in (arguments.html, arguments.csv) else written,
                    f"Written: {written} ({items_text(len(sheets), 'sheet')})")
    else:
        say(*lent_lines(sheets))
    return 0


def _with(found: list[tuple[str, Lent]], said: str) -> list[Lent]:
    """The sheets with the gallery of that name; an empty name is one nobody said.

    Raises:
        Refused: None has any. The names that are known stay at home, so none is listed.
    """
    wanted = " ".join(said.split()).casefold()
    of = {to for to, _ in found if to.casefold() == wanted} or {
        to for to, _ in found if wanted and wanted in to.casefold()}
    sheets = [x for to, x in found if to in of]
    if len(of) == 1:
        return sheets
    if of:
        raise Refused(f"{said} fits several galleries; write the full words you gave with --to")
    raise Refused(f"No sheet is with {said}; benchapp where-is --private shows who has which"
                  if wanted else "The gallery of every sheet is known; write its name")


def _moved(editions: EditionService, arguments: Arguments, print_: str, sheet: str) -> a.Action:
    """What the move is: out of the studio, back into it, or elsewhere in it."""
    words = {k: v for k, v in (("to", arguments.to), ("note", arguments.note)) if v}
    place = arguments.now
    e = editions.register.edition(print_)
    if place in OUT:
        return parse_move(e, sheet, place, terms=arguments.terms, day=arguments.on,
                          due=arguments.due, words=words)
    if arguments.terms is not None or arguments.due is not None:
        raise WrongUse("--terms and --due belong to --now gallery")
    return parse_move(e, sheet, place, day=arguments.on, words=words)


def _show(editions: EditionService, arguments: Arguments, found: tuple[FoundSheet, ...]) -> int:
    if arguments.json:
        rows = {(p, r.sheet): r for p in {f.print for f in found} for r in view.sheet_rows(
            editions.register, p, private=arguments.private)}
        say_json(SheetAnswer.FORMAT, [
            SheetAnswer(f.print, f.sheet, f.text, f.corrected,
                        register_row(rows[f.print, f.sheet])
                        if f.sheet and (f.print, f.sheet) in rows else None) for f in found])
    else:
        say(*(line for f in found for line in (f.text, *(f"  {x}" for x in f.corrected))))
    return 0
