"""Sheets and sessions side by side, and a plate's life, on the screen."""

from __future__ import annotations

import pytest

from benchapp.clock import FakeClock
from benchapp.edition import actions as acts
from benchapp.reckon.trend import Point, reading_trend
from benchapp.reports.comparison import ComparedLine
from benchapp.reports.plate_life import LifeDay, LifeRework, PlateLife, Verdicts
from benchapp.reports.reading_drift import read_drift
from benchapp.safe_text import cell_width
from benchapp.screens.beside_rows import beside_rows, head_rows
from benchapp.screens.plate_life import life_rows
from benchapp.screens.signs import plain_signs
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.edition_links import recipe_print_id, sheet_id
from tests.screens.days import DAY, closed, opened, printed, run, screens, small, workshop


def two_days() -> tuple[SessionService, FakeClock, str, str]:
    """Two days of one print: three sheets, then two; verdicts, a tag, a note, a setting."""
    shop, clock = workshop()
    first = opened(shop, small())
    printed(shop, clock, 3)
    for action in (a.Judge("keep", 1), a.Judge("spoiled", 2), a.Tag("salty", 2),
                   a.Note("dry hand", 2), a.Judge("keep", 3)):
        assert shop.do(action).ok
    closed(shop, clock)
    shop.do(a.CanEmptied())
    clock.advance(DAY)
    second = opened(shop, small())
    shop.do(a.Set("left side", "3.25 turns"))
    printed(shop, clock, 2)
    closed(shop, clock)
    shop.do(a.CanEmptied())
    shop.leave_bench()
    clock.advance(DAY)
    return shop, clock, first, second


def text_of(rows: list) -> list[str]:
    """Rows as lines."""
    return ["".join(text for text, _ in row.spans).rstrip() for row in rows]


def test_this_sheet_and_another_stand_beside_each_other() -> None:
    """The arrows bring others into the column in hand; 1 and 2 take a column in hand."""
    shop, _, first, _ = two_days()

    async def work() -> None:
        async with screens(shop, over="beside", session=first, number=2) as here:
            await here.shows("▸ D2 this", "D1 another", "spoiled", "salty",
                             "dry hand", "no BAT yet")
            words = [line.split() for line in here.text.splitlines() if line.strip()]
            said = {line[0]: line[-1] for line in words}
            assert (said["verdict"], said["tags"]) == ("differs", "differs")
            assert "differs" not in (said["for"], said["session"])
            await here.press("right")
            await here.shows("▸ D3 this", "D1 another")
            await here.press("2", "right")
            await here.shows("D3 this", "▸ D2 another")

    run(work())


def test_the_arrows_go_on_over_the_days_and_stop_at_the_last_sheet() -> None:
    """From the last sheet of a day to the first of the next; before the first nothing moves."""
    shop, _, first, _ = two_days()

    async def work() -> None:
        async with screens(shop, over="beside", session=first, number=1) as here:
            await here.press("left")
            await here.shows("▸ D1 this", "That is the first")
            for _ in range(4):
                await here.press("right")
            await here.shows("E1 this", "2026-05-04")

    run(work())


def test_a_sheet_is_brought_by_its_mark() -> None:
    """Whichever day it is of; one that nobody bears is said."""
    shop, _, first, _ = two_days()

    async def work() -> None:
        async with screens(shop, over="beside", session=first, number=1) as here:
            await here.press("2", "w")
            await here.typed("e2")
            await here.shows("D1 this", "▸ E2 another")
            await here.press("w")
            await here.typed("Q9")
            await here.shows("No sheet Q9 is in the book", "▸ E2 another")

    run(work())


def test_the_standard_stands_there_too() -> None:
    """Once a sheet is the BAT it has a column of its own, at eighty columns too."""
    shop, _, first, second = two_days()
    session = shop.editions.session(first)
    assert session is not None
    print_ = recipe_print_id(session.recipe)
    assert shop.editions.do(acts.GiveProof(print_, sheet_id(first, 3), "BAT")).ok

    async def work() -> None:
        async with screens(shop, over="beside", session=second, number=2) as here:
            await here.shows("▸ E2 this", "E1 another", "D3 BAT", "became", "BAT")
            assert "no BAT" not in here.text
            await here.press("o")
            await here.shows("only what differs")
            assert "ended" not in here.text

    run(work())


def test_two_sessions_stand_beside_each_other() -> None:
    """The last beside the one before; the arrows never bring one beside itself."""
    shop, _, _, second = two_days()

    async def work() -> None:
        async with screens(shop, over="beside days", session=second) as here:
            await here.shows("2026-05-04", "▸ 2026-05-03", "How many", "closed")
            assert any(x.split()[:1] == ["pulled"] and x.endswith("differs")
                       for x in here.text.splitlines())
            await here.press("right")
            await here.shows("No later session of this print", "▸ 2026-05-03")
            await here.press("end")
            await here.shows("left side")

    run(work())


@pytest.mark.full
def test_a_print_of_one_session_says_so() -> None:
    """There is nothing to hold it against."""
    shop, clock = workshop()
    opened(shop, small())
    printed(shop, clock, 1)

    async def work() -> None:
        async with screens(shop, "bench", over="beside days") as here:
            await here.press("end")
            await here.shows("This print has only this session.")

    run(work())


@pytest.mark.full
def test_nothing_pulled_nothing_to_hold_against() -> None:
    """An empty book says so on all three screens."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop, over="beside") as here:
            await here.shows("No sheet has been pulled yet.")
            await here.press("right", "2", "w", "escape", "escape")
            here.app.over("beside days")
            await here.shows("No session has been opened yet.")
            await here.press("escape")
            here.app.over("plate life")
            await here.shows("A plate's life", "No session has been opened yet")

    run(work())


def test_a_plates_life_is_one_screen() -> None:
    """Its days with their verdicts as bars, from the review by a key, and back."""
    shop, _, _, second = two_days()

    async def work() -> None:
        async with screens(shop, over="review", session=second) as here:
            await here.press("h")
            await here.shows("Life of key", "2 sessions from 2026-05-03 to 2026-05-04",
                             "kept 2 of 3", "salty 1")
            await here.press("c", "c", "v")
            await here.shows("Review of 2026-05-04")
            await here.press("escape", "escape", "ampersand")
            await here.shows("Two sessions")

    run(work())


def test_the_studio_and_the_editions_open_a_plates_life_by_the_same_key() -> None:
    """On a session chosen, and on a print."""
    shop, _, _, _ = two_days()

    async def work() -> None:
        async with screens(shop) as here:
            await here.press("left", "end", "h")
            await here.shows("Life of key · Pear on a Sill")
            await here.press("escape", "g", "h")
            await here.shows("Life of key · Pear on a Sill")

    run(work())


@pytest.mark.full
def test_sheets_of_a_session_are_held_against_each_other_by_a_key() -> None:
    """From the list of sheets: the one chosen."""
    shop, _, first, _ = two_days()

    async def work() -> None:
        async with screens(shop, over="impressions", session=first) as here:
            await here.press("home", "ampersand")
            await here.shows("▸ D1 this")

    run(work())


def test_columns_fit_and_every_cell_is_whole() -> None:
    """At forty cells and at two hundred, three columns, texts of many words."""
    words = " ".join(f"word{n}" for n in range(30))
    lines = [ComparedLine("the sheet", "notes", (words, "", "salty"), same=False),
             ComparedLine("the sheet", "for", ("edition",) * 3, same=True)]
    for across in (40, 76, 116, 196):
        rows = [*head_rows((("D1 this", "day"),) * 3, across, 1), *beside_rows(lines, across)]
        assert all(cell_width(line) <= across for line in text_of(rows)), across
        said = " ".join(text_of(rows)).split()
        assert {f"word{n}" for n in range(30)} <= set(said)
    for name in ("counting", "doubtful", "spoilage"):
        line = ComparedLine("how many", name, ("1", "2"), same=False)
        assert any(name in row for row in text_of(beside_rows([line], 54)))
    assert text_of(beside_rows(lines, 76, differing=True))[1].startswith("  notes")
    assert not any("edition" in x for x in text_of(beside_rows(lines, 76, differing=True)))


def test_a_life_is_drawn_without_colour_and_without_dots_where_there_are_none() -> None:
    """Nothing that an old console has not; the bar's signs are told."""
    verdicts = Verdicts(2, 1, 1, 0, 0.5, 0.15, 0.85)
    rework = LifeRework("burnished", "II", "2026-05-03T09:00+02:00")
    day = LifeDay("2026-05-03", "2026-05-03T10:00+02:00", 1, 4, 4, verdicts, {"wear": 2}, None,
                  (rework,))
    points = [Point(n, 5 - n / 4) for n in range(1, 5)]
    drift = read_drift(reading_trend("tone", points, unit="grade 1-5"), points, ())
    life = PlateLife("", "", "key", 0, 4, (day,), 60, verdicts, (), (drift,))
    plain = text_of(life_rows(life, 76, plain=True))
    assert "\n".join(plain).encode("latin-1")
    assert any("keep k" in line and "not judged ." in line for line in plain)
    assert any("kkkkkkdddsss" in line and "kept 2 of 4" in line for line in plain)
    assert "            reworked: state II · burnished" in text_of(
        life_rows(life, 76))
    assert any("●●●●●●◐◐◐✕✕✕" in line for line in text_of(life_rows(life, 76)))


def test_dots_are_drawn_where_the_terminal_has_them() -> None:
    """Not on a console without them, nor where text is written otherwise."""
    assert not plain_signs({"TERM": "xterm-256color"}, "UTF-8")
    assert plain_signs({"TERM": "linux"}, "utf-8")
    assert plain_signs({"TERM": "xterm"}, "iso-8859-1")
