"""The commands that hold things against each other, and tell a plate's life. They make nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from benchapp.book import Book
from benchapp.book.queries import print_of_row
from benchapp.book.read import SessionRow
from benchapp.book.sessions import find_session
from benchapp.clock import SystemClock
from benchapp.commands.context import (
    Arguments,
    Refused,
    WrongUse,
    read_book,
    say,
    say_json,
    session_row,
    suggest_names,
)
from benchapp.commands.page_photos import (
    plate_photos,
    plate_pictures,
    sheet_pictures,
    write_page,
)
from benchapp.commands.pipes import say_written
from benchapp.commands.resolve import resolve_sheet
from benchapp.commands.show import charts_here
from benchapp.edition.naming import print_of_sheet, split_names
from benchapp.edition.numbers import sheet_words
from benchapp.events.moments import local_time
from benchapp.reports.comparison import (
    Comparison,
    compare_sessions,
    compare_sheets,
    comparison_page,
    comparison_text,
)
from benchapp.reports.plate_life import PlateLife
from benchapp.reports.plate_life_blocks import life_page, life_text
from benchapp.reports.reading import (
    find_session_row,
    lives_of,
    print_sessions,
    read_back,
    standard_of,
)
from benchapp.reports.review import Review, SheetReview
from benchapp.service.editions import EditionService
from benchapp.session.edition_links import of_sheet


def show_comparison(arguments: Arguments) -> int:
    """Two sessions, or two sheets and the BAT, or the standard until there is one."""
    named = split_names(arguments.what)
    if len(named) > 2:
        raise WrongUse(f"{named[2]} is one too many; name two sessions or two sheets")
    with read_book(arguments) as book:
        rows = [_session(book, said) for said in named or ["last"]]
        if all(rows):
            columns: Sequence[_SheetColumn] = ()
            days = _sessions(book, [r for r in rows if r is not None])
            found = Comparison(tuple(name for name, _ in days),
                               compare_sessions([r for _, r in days]))
        elif any(rows):
            raise WrongUse("One is a session, the other a sheet; name two sessions or two sheets")
        else:
            columns = _sheets(book, named)
            found = Comparison(tuple(x.head for x in columns),
                               compare_sheets([(x.session, x.sheet) for x in columns]))
        if arguments.html:
            _write_beside(book, arguments, found, columns)
    if arguments.json:
        say_json(found.FORMAT, found)
    elif arguments.html:
        say_written(arguments.html, f"Written: {arguments.html}")
    else:
        say(*comparison_text(found))
    return 0


def _write_beside(book: Book, arguments: Arguments, found: Comparison,
                  columns: Sequence[_SheetColumn]) -> None:
    """The same as a page, with the pictures of the sheets under their heads."""
    register = EditionService(book, SystemClock()).register
    shown = [sheet_pictures(register, print_of_sheet(register, x.sheet.sheet) or "", x.sheet.sheet)
             for x in columns]
    write_page(arguments, [x for them in shown for x, _ in them],
               lambda make: comparison_page(found, [make(x) for x in shown]))


def _session(book: Book, said: str) -> SessionRow | None:
    """The session of that name; None: it is none, so perhaps a sheet."""
    if said.lower() in ("last", "yesterday"):
        return session_row(book, said)
    return find_session(said, book.sessions(), local_time(SystemClock().now()).date())


@dataclass(frozen=True, slots=True)
class _SheetColumn:
    """A sheet, the name of its session, and what stands over its column."""

    head: str
    session: str
    sheet: SheetReview


def _sessions(book: Book, rows: Sequence[SessionRow]) -> list[tuple[str, Review]]:
    """Those sessions; one alone stands beside the one before it on the same print."""
    if len(rows) == 1:
        days = print_sessions(book, rows[0])
        ids = [r.id for r in days]
        at = ids.index(rows[0].id)
        if len(days) == 1:
            raise Refused(f"{rows[0].name} is the only session of this print; name another one")
        rows = [rows[0], days[at - 1] if at else days[1]]
    return [(r.name, read_back(book, r, earlier=False)) for r in rows]


def _sheets(book: Book, said: Sequence[str]) -> list[_SheetColumn]:
    """Those sheets; one alone stands beside the one pulled before it; then the standard."""
    editions = EditionService(book, SystemClock())
    ids = [_pulled(editions, x) for x in said]
    print_ = editions.register.sheets[ids[0]].print if (
        ids[0] in editions.register.sheets) else None
    if len(ids) == 1 and print_ is not None:
        known = [s.id for d in editions.days_of(print_) for s in d.sheets]
        at = known.index(ids[0])
        ids += known[at - 1 : at] if at else known[1:2]
    columns = [_sheet(book, x) for x in ids]
    row = find_session_row(book, (of_sheet(ids[0]) or ("", 0))[0])
    standard = None if row is None else standard_of(book, print_of_row(row))
    if standard is not None and of_sheet(standard[0]) is not None:
        one = _sheet(book, standard[0])
        columns.append(replace(one, head=f"{one.head}, the {standard[1]}"))
    return columns


def _pulled(editions: EditionService, said: str) -> str:
    """The sheet of that name.

    Raises:
        Refused: No session of the book pulled it.
    """
    sheet = resolve_sheet(editions, said)
    if of_sheet(sheet) is None:
        raise Refused(f"{said} is known from old papers only; how it was made is not recorded")
    return sheet


def _sheet(book: Book, id_: str) -> _SheetColumn:
    """A sheet of the book, by its id.

    Raises:
        Refused: No session of the book pulled it.
    """
    of = of_sheet(id_)
    row = None if of is None else find_session_row(book, of[0])
    found = None if row is None else next(
        (i for i in read_back(book, row, earlier=False).impressions if i.sheet == id_), None)
    if row is None or found is None:
        raise Refused(f"No session of this book has {id_}")
    known = EditionService(book, SystemClock()).register.sheets.get(id_)
    return _SheetColumn(str(found.mark) if known is None else sheet_words(known), row.name, found)


# -- a plate's life -----------------------------------------------------------------------------


def show_plate_life(arguments: Arguments) -> int:
    """Everything the plates of a print gave, or one of them."""
    with read_book(arguments) as book:
        row = row_of_print(book, arguments.print_)
        lives = lives_of(book, row)
        shown = plate_pictures(EditionService(book, SystemClock()), print_of_row(row),
                               [x.plate for x in lives]) if arguments.html else {}
    if arguments.plate is not None:
        known = [x.plate for x in lives]
        lives = [x for x in lives if x.plate.casefold() == arguments.plate.casefold()]
        if not lives:
            raise WrongUse(
                f"There is no plate {arguments.plate}; {suggest_names(arguments.plate, known)}")
    if arguments.html:
        write_page(arguments, [x for both in shown.values() for part in both for x, _ in part],
                   lambda make: life_page(lives, plate_photos(make, shown)), small=True)
    if arguments.json:
        say_json(PlateLife.FORMAT, lives)
        return 0
    if arguments.html:
        say_written(arguments.html, f"Written: {arguments.html}")
        return 0
    for n, x in enumerate(lives):
        say(*([""] if n else []), *life_text(x, charts=charts_here(arguments.charts)))
    return 0


def row_of_print(book: Book, said: str | None) -> SessionRow:
    """The last session of the print meant by its title, part of it, or its recipe.

    Raises:
        Refused: The book has no session yet.
        WrongUse: No print is called so, or several are.
    """
    rows = book.sessions()
    if not rows:
        raise Refused("The book has no session yet; open one with: benchapp run RECIPE")
    if said is None:
        return rows[-1]
    wanted = " ".join(said.split()).casefold()
    last = {(r.opening.print, r.opening.artist): r for r in rows}
    names = {key: (key[0].casefold(), r.opening.recipe.casefold())
             for key, r in last.items()}
    whole = [r for key, r in last.items() if wanted in names[key]]
    part = [r for key, r in last.items() if wanted in names[key][0]]
    for found in (whole, part):
        if len(found) == 1:
            return found[0]
        if found:
            both = " and ".join(r.opening.print for r in found)
            raise WrongUse(f"{said} may mean {both}; say more of the title")
    raise WrongUse(
        f"No print is called {said}; {suggest_names(said, [title for title, _ in last])}")
