"""The command that writes papers: an edition's documentation sheet, one impression's history."""

from __future__ import annotations

from dataclasses import replace

from benchapp.commands.context import Arguments, say, say_json
from benchapp.commands.exports import write_out
from benchapp.commands.resolve import print_meant, reading_editions, resolve_sheet
from benchapp.commands.screens import find_preferences
from benchapp.edition.naming import print_of_sheet
from benchapp.reports.documentation import (
    About,
    PaperSheet,
    documentation_sheet,
    sheet_page,
    sheet_text,
    sheet_values,
)
from benchapp.reports.sheet_history import sheet_history
from benchapp.service.editions import EditionService
from benchapp.session.edition_links import of_sheet
from benchapp.views.sheets import sheet_whole


def write_papers(arguments: Arguments) -> int:
    """Write the sheet as text, as a page, or as JSON."""
    with reading_editions(arguments) as editions:
        sheet = _edition(editions, arguments) if arguments.which == "edition" else _one(
            editions, arguments)
    if arguments.html:
        write_out(arguments.html, sheet_page(sheet), arguments)
    if arguments.json:
        say_json(sheet.FORMAT, sheet_values(sheet))
    elif arguments.html:
        say(f"Written: {arguments.html}")
    else:
        say(*sheet_text(sheet))
    return 0


def _edition(editions: EditionService, arguments: Arguments) -> PaperSheet:
    print_ = print_meant(editions, " ".join(arguments.what) or arguments.print_)
    return documentation_sheet(editions.register, print_, _about(editions, arguments, print_),
                               private=arguments.private)


def _one(editions: EditionService, arguments: Arguments) -> PaperSheet:
    meant = None if arguments.print_ is None else print_meant(editions, arguments.print_)
    sheet = resolve_sheet(editions, " ".join(arguments.what) or "last:1", meant)
    print_ = meant or print_of_sheet(editions.register, sheet) or print_meant(editions, None)
    of = of_sheet(sheet)
    session = None if of is None else editions.session(of[0])
    whole = None if session is None or of is None else sheet_whole(session, of[1])
    # A sheet is told of by the recipe of its own day; of old papers nobody knows one.
    about = replace(_about(editions, arguments, print_),
                    recipes=() if session is None else (session.recipe,))
    return sheet_history(editions.register, print_, sheet, whole, about, private=arguments.private)


def _about(editions: EditionService, arguments: Arguments, print_: str) -> About:
    title, artist = editions.title(print_)
    days = editions.edition_days(print_)
    sessions = [s for d in days if (s := editions.session(d.row.id)) is not None]
    helpers = dict.fromkeys(h for s in sessions for h in s.helpers if h and h != "helper")
    named = {k: v for k, v in (("printer", arguments.printer), ("chop", arguments.chop)) if v}
    return About(title, artist, tuple({id(r): r for d in days for r in (d.recipe,)}.values()),
                 tuple(d.row.name for d in days), tuple(helpers), find_preferences().studio, named)
