"""A session read back on the screen: everything that was done, and nothing that was not said."""

from __future__ import annotations

from benchapp.reports.review import review_session
from benchapp.screens.review import review_rows
from benchapp.session import actions as a
from tests.screens.days import (
    DAY,
    MINUTE,
    closed,
    opened,
    printed,
    run,
    screens,
    shipped,
    workshop,
)


def text_of(rows: object) -> str:
    """The rows as text."""
    assert isinstance(rows, list)
    return "\n".join("".join(text for text, _ in row.spans).rstrip() for row in rows)


def test_a_review_has_sheets_settings_corrections_jumps_packs_facts_and_steps() -> None:
    """One of everything, read back from the entries alone."""
    shop, clock = workshop()
    session = opened(shop, shipped("weigh-house"), wanted=1)
    shop.do(a.Set("left side", "3.375 turns"))
    printed(shop, clock, 1)
    shop.do(a.Tag("salty", 1))
    shop.do(a.Note("two wipes only", 1))
    shop.do(a.Judge("keep", 1))
    shop.do(a.Judge("spoiled", 1))
    shop.do(a.TakeBack())
    shop.do(a.Note("north light all day", to="session"))
    clock.step_wall(-7 * MINUTE)
    clock.advance(MINUTE)
    shop.tick()
    closed(shop, clock)
    book = shop.book
    found = review_session(book.entries(streams=[f"session/{session}", *book.streams("pack")]),
                           session)
    text = text_of(review_rows(found))
    for part in ("The Weigh House, Idony Threlwick", "opened 2026-05-03 10:00", "wanted 1",
                 "● keep", "salty", "“two wipes only”", "left side: 3.375 turns (from no. 1 on)",
                 "“north light all day”", "Undone", "spoiled", "When the clock jumped",
                 "set back by 7 min", "Damp paper", "Rags", "in a lidded metal can outdoors",
                 "Lay and pull"):
        assert part in text, part
    assert "✕ spoiled" not in text


def test_a_part_with_nothing_in_it_has_no_heading() -> None:
    """A day without corrections does not say that there were any."""
    shop, clock = workshop()
    session = opened(shop, shipped("three-steps"))
    printed(shop, clock, 1)
    found = review_session(shop.book.stream(f"session/{session}"), session)
    text = text_of(review_rows(found))
    assert "Sheets" in text
    for part in ("Undone", "Settings", "Notes of the session", "Helpers", "When the clock jumped"):
        assert part not in text


def test_long_texts_are_broken_not_lost() -> None:
    """A note of many words is there to its last, on lines no wider than the screen."""
    shop, clock = workshop()
    session = opened(shop, shipped("three-steps"))
    printed(shop, clock, 1)
    shop.do(a.Note(" ".join(f"word{n}" for n in range(60)), 1))
    found = review_session(shop.book.stream(f"session/{session}"), session)
    lines = text_of(review_rows(found, 60)).splitlines()
    notes = [line for line in lines if "word" in line]
    assert "word59”" in notes[-1]
    assert max(map(len, notes)) <= 60


def test_the_review_opens_on_the_last_session_and_scrolls() -> None:
    """From its head to its last step; its sheets are one key away."""
    shop, clock = workshop()
    opened(shop, shipped("three-steps"))
    printed(shop, clock, 2)
    closed(shop, clock)
    shop.do(a.CanEmptied())
    shop.leave_bench()
    clock.advance(3 * DAY)

    async def work() -> None:
        async with screens(shop, over="review") as here:
            await here.shows("Review of 2026-05-03", "Where the time went")
            await here.press("end")
            await here.shows("Rags", "▲")
            await here.press("home")
            await here.shows("opened 2026-05-03 10:00")
            await here.press("i")
            await here.shows("Sheets of 2026-05-03")

    run(work())


def test_an_empty_book_has_nothing_to_review() -> None:
    """It says so."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop, over="review") as here:
            await here.shows("No session has been opened yet")

    run(work())


def test_a_review_begins_where_something_was_found() -> None:
    """At the sheet, with a sign before it; or at the part a session's own text stands in."""
    shop, clock = workshop()
    session = opened(shop, shipped("three-steps"))
    printed(shop, clock, 4)
    shop.do(a.Note("north light all day", to="session"))
    shop.do(a.Set("ink tin", "warm black, tin 4"))

    async def work() -> None:
        async with screens(shop, "bench", over="review", session=session, sheet=4) as here:
            await here.shows("▸D4")
            await here.press("escape")
            here.app.over("review", session=session, where="note")
            await here.shows("Notes of the session", "north light all day")
            await here.press("escape")
            here.app.over("review", session=session, where="setting")
            await here.shows("ink tin: warm black, tin 4")

    run(work())
