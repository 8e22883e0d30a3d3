"""Whatever reads a book: every list, review, paper, table, page and view there is."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.commands.show import session_line, session_values
from benchapp.drying.stacks import wall_time
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.whereabouts import place_groups
from benchapp.events.moments import local_time
from benchapp.reports import export_csv, jsonl
from benchapp.reports.documentation import About, documentation_sheet, sheet_page, sheet_text
from benchapp.reports.drying import boards_lines, boards_report, drying_events
from benchapp.reports.editions import edition_lines, edition_sheet, short_lines
from benchapp.reports.ical import calendar_text
from benchapp.reports.json_form import json_values
from benchapp.reports.plate_life_blocks import life_page, life_text
from benchapp.reports.reading import lives_of, read_back
from benchapp.reports.review_blocks import review_page, review_text
from benchapp.reports.sheet_history import sheet_history
from benchapp.reports.whereabouts import (
    lent_lines,
    lent_page,
    lent_table,
    where_lines,
    with_galleries,
)
from benchapp.screens.studio_rows import place_rows
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService
from benchapp.session.edition_links import of_sheet
from benchapp.views.sheets import sheet_whole
from benchapp.views.studio import studio_view


def read_core(book: Book, clock: FakeClock) -> Iterator[str]:
    """What is looked at every day, as texts: sessions, reviews, lives, editions, boards, Studio."""
    yield from map(session_line, session_values(book))
    shop = SessionService(book, clock)
    view = studio_view(shop.room, shop.now(), book.origin)
    yield from (str(row) for row in place_rows(view, shop.now(), ()))
    editions = shop.editions
    now = wall_time(clock.now())
    for print_ in editions.prints():
        title, artist = editions.title(print_)
        yield from editions.otherwise(print_)
        yield from edition_lines(editions.register, print_, title=title, artist=artist)
    yield from boards_lines(editions.boards, now)
    for row in book.sessions():
        yield from review_text(read_back(book, row), "plain")
        for life in lives_of(book, row):
            yield from life_text(life, charts="plain")
    shop.past([row.id for row in book.sessions()])
    shop.stacks()


def read_rest(book: Book, clock: FakeClock) -> Iterator[str]:
    """What is asked for now and then: pages, tables, papers, the calendar, search, all sheets."""
    reviews = [read_back(book, row) for row in book.sessions()]
    yield review_page(reviews)
    for review in reviews:
        yield from export_csv.csv_table(export_csv.IMPRESSIONS, export_csv.impression_rows(review))
        yield from export_csv.csv_table(export_csv.READINGS, export_csv.reading_rows(review))
    yield from export_csv.csv_table(export_csv.ENTRIES, export_csv.entry_rows(book.entries()))
    yield from jsonl.entry_lines(book.entries())
    for row in book.sessions():
        if lives := lives_of(book, row):
            yield life_page(lives)
    yield from (hit.text for hit in book.search("a"))
    yield from _of_editions(EditionService(book, clock), clock)
    shop = SessionService(book, clock)
    for row in book.sessions():
        shop.look_at(row.id)
        studio_view(shop.room, shop.now(), book.origin)
    assert book.verify() == []


def _of_editions(editions: EditionService, clock: FakeClock) -> Iterator[str]:
    now, today = wall_time(clock.now()), local_time(clock.now()).date()
    named: list[tuple[str, str, str]] = [(p, *editions.title(p)) for p in editions.prints()]
    for print_, title, artist in named:
        yield str(json_values(edition_sheet(editions.register, print_, title=title, artist=artist,
                                 private=True)))
        yield from short_lines(editions.register, print_, title=title, artist=artist)
        yield from (c.text for c in unsettled_clashes(editions.register, print_))
        yield from where_lines(title, place_groups(editions.register, print_, today, private=True))
        about = _about(editions, print_, title, artist)
        sheet = documentation_sheet(editions.register, print_, about, private=True)
        yield from sheet_text(sheet)
        yield sheet_page(sheet)
        for held in editions.register.edition(print_).holdings.values():
            of = of_sheet(held.sheet)
            session = None if of is None else editions.session(of[0])
            whole = None if session is None or of is None else sheet_whole(session, of[1])
            yield from sheet_text(sheet_history(editions.register, print_, held.sheet, whole, about,
                                                private=True))
    lent = [x for _, x in with_galleries(editions.register, named)]
    yield from lent_lines(lent)
    yield from lent_table(lent)
    yield lent_page(lent, today.isoformat())
    yield str(json_values(boards_report(editions.boards, now)))
    yield calendar_text(drying_events(editions.boards, chosen=datetime(2026, 9, 1, tzinfo=UTC)))


def _about(editions: EditionService, print_: str, title: str, artist: str) -> About:
    days = editions.edition_days(print_)
    return About(title, artist, tuple({id(d.recipe): d.recipe for d in days}.values()),
                 tuple(d.row.name for d in days), (), "the studio", {})
