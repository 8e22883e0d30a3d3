"""The command that writes papers: an edition's documentation sheet, one impression's history."""

from __future__ import annotations

from benchapp.commands.context import Arguments, say, say_json
from benchapp.commands.page_photos import sheet_pictures, write_page
from benchapp.commands.pipes import say_written
from benchapp.commands.resolve import print_meant, reading_editions, resolve_sheet
from benchapp.commands.screens import find_preferences
from benchapp.edition.naming import print_of_sheet
from benchapp.edition.pictures import TiedPicture
from benchapp.reports.documentation import PaperSheet, sheet_page, sheet_text, sheet_values
from benchapp.reports.edition_papers import edition_paper, sheet_paper
from benchapp.service.editions import EditionService


def write_papers(arguments: Arguments) -> int:
    """Write the sheet as text, as a page, or as JSON."""
    with reading_editions(arguments) as editions:
        sheet, shown = (_edition(editions, arguments), []) if arguments.which == "edition" else (
            _one(editions, arguments))
    if arguments.html:
        write_page(arguments, [x for x, _ in shown], lambda make: sheet_page(sheet, make(shown)))
    if arguments.json:
        say_json(sheet.FORMAT, sheet_values(sheet))
    elif arguments.html:
        say_written(arguments.html, f"Written: {arguments.html}")
    else:
        say(*sheet_text(sheet))
    return 0


def _edition(editions: EditionService, arguments: Arguments) -> PaperSheet:
    print_ = print_meant(editions, " ".join(arguments.what) or arguments.print_)
    return edition_paper(editions, print_, find_preferences().studio, _named(arguments),
                         private=arguments.private)


def _one(editions: EditionService, arguments: Arguments
         ) -> tuple[PaperSheet, list[tuple[TiedPicture, str]]]:
    """The history of a sheet, and its pictures with their captions."""
    meant = None if arguments.print_ is None else print_meant(editions, arguments.print_)
    sheet = resolve_sheet(editions, " ".join(arguments.what) or "last:1", meant)
    print_ = meant or print_of_sheet(editions.register, sheet) or print_meant(editions, None)
    return (sheet_paper(editions, sheet, print_, find_preferences().studio, _named(arguments),
                        private=arguments.private),
            sheet_pictures(editions.register, print_, sheet))


def _named(arguments: Arguments) -> dict[str, str]:
    return {k: v for k, v in (("printer", arguments.printer), ("chop", arguments.chop)) if v}
