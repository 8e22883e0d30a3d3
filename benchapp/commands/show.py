"""The commands that only read: sessions, review, files. They make nothing."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from benchapp import files
from benchapp.book import Book
from benchapp.book.queries import session_tallies
from benchapp.book.read import SessionRow
from benchapp.commands.context import (
    Arguments,
    book_path,
    read_book,
    say,
    say_json,
    session_row,
    warn,
)
from benchapp.commands.pipes import say_written
from benchapp.events.moments import iso_text
from benchapp.recipe.problems import RecipeError
from benchapp.settings import load_preferences

if TYPE_CHECKING:
    from benchapp.reports.review import Review


def list_sessions(arguments: Arguments) -> int:
    """List the sessions in the order opened; with --all those that were discarded too."""
    with read_book(arguments) as book:
        found = session_values(book, discarded=arguments.all)
    if arguments.json:
        say_json("sessions/1", found)
        return 0
    if not found:
        say("No session yet; open one with: benchapp run RECIPE")
    say(*map(session_line, found))
    return 0


def session_line(x: dict[str, Any]) -> str:
    """One session of the list as a line."""
    state = "discarded" if x["discarded"] else x["state"]
    if not x["readable"]:
        return (f"{x['session']} · {state} · {x['print']}, {x['artist']} · cannot be read; "
                f"`benchapp review {x['session']}` says why")
    return (f"{x['session']} · {state} · {x['print']}, {x['artist']} · pulled {x['pulled']}"
            f" · counting {x['counting']}")


def session_values(book: Book, *, discarded: bool = False) -> list[dict[str, Any]]:
    """The sessions of a book in the order opened, as values; `discarded`: those too."""
    counted = session_tallies(book)
    rows = book.all_sessions() if discarded else book.sessions()
    return [_session(row, counted[row.stream]) for row in rows]


def read_whole_session(book: Book, row: SessionRow) -> Review:
    """One session of a book read back, with its packs, set against the days before."""
    # Only a review needs all a review knows: the lists begin without.
    from benchapp.reports.reading import read_back

    return read_back(book, row)


def _session(row: SessionRow, counted: tuple[int, int] | None) -> dict[str, Any]:
    pulled, counting = counted or (None, None)
    return {"session": row.name, "print": row.opening.print,
            "artist": row.opening.artist, "state": "closed" if row.closed else "open",
            "discarded": row.discarded,
            "opened_at": iso_text(row.opened.at), "pulled": pulled, "counting": counting,
            "readable": counted is not None}


def show_review(arguments: Arguments) -> int:
    """Read a session back, from its entries alone."""
    with read_book(arguments) as book:
        row = session_row(book, arguments.session)
        found = read_whole_session(book, row)
        if arguments.html:
            from benchapp.clock import SystemClock
            from benchapp.commands.page_photos import day_pictures, write_page
            from benchapp.reports.review_blocks import review_page
            from benchapp.service.editions import EditionService

            shown = day_pictures(EditionService(book, SystemClock()), row.id)
            write_page(arguments, [x for them in shown.values() for x, _ in them],
                       lambda make: review_page([found], {k: make(v) for k, v in shown.items()}))
    if arguments.json:
        say_json(found.FORMAT, found)
    elif arguments.html:
        say_written(arguments.html, f"Written: {arguments.html}")
    else:
        from benchapp.reports.review_blocks import review_text

        say(*review_text(found, charts_here(arguments.charts)))
    return 0


def charts_here(wanted: str | None) -> str | None:
    """The charts asked for; in ASCII where dots cannot be written here."""
    try:
        "⣿┤·".encode(sys.stdout.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return wanted and "plain"
    return wanted


def show_places(arguments: Arguments) -> int:
    """Say where everything lies, and what of it is there."""
    book = book_path(arguments).expanduser().absolute()
    papers = _papers_folder()
    if arguments.open:
        return _open_papers(papers)
    known: list[tuple[str, Path]] = [
        ("home", files.home_folder()), ("book", book), ("backups", files.backups_folder(book)),
        ("text mirror", files.mirrors_folder(book)),
        ("recipes", files.recipes_folder()), ("preferences", files.preferences_file()),
        ("papers", papers), ("state", files.state_folder()),
        ("shipped recipes", files.shipped_folder())]
    found = [(name, path, files.why_not_there(path)) for name, path in known]
    if arguments.json:
        say_json("files/1", {name: {"path": str(path), "there": not why, "why": why or None}
                  for name, path, why in found})
        return 0
    say(*(f"{name}: {path}{why and f' ({why})'}" for name, path, why in found))
    warn(*files.disk_warnings(book))
    try:
        own = ", ".join(files.own_recipes()) or "none yet"
    except files.FileProblem as problem:
        own = problem.message
    say(f"your recipes: {own}", f"shipped: {', '.join(files.shipped_recipes())}",
        "To copy the book, also while it is open: benchapp book backup FILE")
    return 0


def _papers_folder() -> Path:
    """Where pages go. A file of preferences that cannot be read says nothing of it."""
    try:
        return files.papers_folder(load_preferences().papers_folder)
    except (RecipeError, files.FileProblem):
        return files.papers_folder()


def _open_papers(folder: Path) -> int:
    """Open the folder of pages in the system's viewer: 0, or 1 and where it is."""
    if files.why_not_there(folder):
        say(f"No page has been written yet. They go here: {folder}",
            "Press F8 on Editions, Sort, Review, Life, Plan or the sheets.")
        return 1
    if not files.open_in_viewer(folder):
        say(f"There is no viewer here. Your pages are in {folder}")
        return 1
    say(f"Opened: {folder}")
    return 0
