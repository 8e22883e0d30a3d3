"""Settings and readings on the screen: refused in their line, and filed where it is said."""

from __future__ import annotations

from textual.widgets import Input

from benchapp.screens.widgets.ask import Ask
from benchapp.session import actions as a
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.screens.days import Screens, on_bench, opened, screens, set_up, workshop
from tests.screens.support import until
from tests.session.support import INK, LIFT, PULL, recipe

EXTRA = (
    "press: {pitch: 2 mm, left side: 3 turns, right side: 3.5 turns}\n"
    "readings:\n  - {name: tone, unit: grade 1-5, at: Lift}\n"
    "  - {name: film, unit: g, at: Ink}\n  - {name: room, unit: °C, at: Screws}\n")
TEXT = recipe(before=["{do: Screws, hands: clean}"], each=(INK, PULL, LIFT), extra=EXTRA)


async def write(here: Studio | Screens, text: str) -> None:
    """Replace what stands in the line, and take it."""
    here.app.screen.query_one(Input).value = ""
    await here.press(*("space" if sign == " " else sign for sign in text), "enter")


def stays(here: Studio | Screens, text: str) -> None:
    """The line is open and has that text."""
    assert isinstance(here.app.screen, Ask)
    assert here.app.screen.query_one(Input).value == text


def test_a_screw_that_cannot_be_read_stays_in_its_line_on_the_card() -> None:
    """A comma, no unit; mended it is in the book, and what is only words is taken as it is."""
    shop, _ = workshop()

    async def work() -> None:
        async with set_up(shop, TEXT) as here:
            await here.shows("1  left side")
            await here.press("1")
            await write(here, "3.25")
            await here.shows("has no unit; write 3.25 turns")
            stays(here, "3.25")
            await write(here, "3,25 turns")
            await here.shows("3.25 turns")
            await here.shows("4  ink tin")
            await here.press("4")
            await write(here, "bone black, new")
            await here.shows("bone black, new")
            await here.press("space")
            await until(here.pilot, lambda: shop.room.session, what="the session is open")
            assert here.kinds(on_bench(shop).id, "setting changed") == [
                {"name": "left side", "value": "3.25 turns"},
                {"name": "ink tin", "value": "bone black, new"}]

    run(work())


def test_a_setting_at_the_bench_stays_in_its_line_too() -> None:
    """The room without its unit; escape leaves nothing behind."""

    async def work() -> None:
        async with on_the_bench(TEXT) as here:
            await here.press("e", "5")
            await here.shows("room from the next pull on")
            await write(here, "19")
            await here.shows("has no unit; write 19 °C or 19 °F")
            stays(here, "19")
            await here.press("escape")
            assert here.s.settings == ()

    run(work())


def test_a_preference_that_cannot_be_read_stays_in_its_line() -> None:
    """A decimal comma there too."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop, over="preferences") as here:
            await here.press("down", "down", "down", "down", "enter")
            await here.shows("A second press this soon")
            await write(here, "4,5 s")
            await here.shows("decimal comma")
            stays(here, "4,5 s")

    run(work())


def test_a_reading_says_what_it_is_of_before_and_after_it_is_taken() -> None:
    """A sheet by its mark, the day by that word; so does the review."""

    async def work() -> None:
        async with on_the_bench(TEXT) as here:
            await here.press("space")
            here.say(a.Helper(joins=True))
            await here.press("space", "space")
            mark = here.last.mark
            await here.press("g")
            await here.shows(f"tone of {mark}", f"film of {mark}", "room of the day (°C)")
            await here.press("3")
            await here.shows("room of the day, in °C")
            await write(here, "19")
            await here.shows("room of the day: 19 °C")
            assert here.last.readings == ()
            await here.press("space", "g", "2")
            await here.shows("film of the sheet in hand, in g")
            await write(here, "8.4")
            assert [(r.name, r.value) for r in here.s.impressions[-1].readings] == [("film", "8.4")]
            here.app.over("review", session=here.s.id)
            await here.shows("Where the time went")
            for _ in range(4):
                if "Settings" not in here.text:
                    await here.press("pagedown")
            await here.shows("room: 19 °C (of the day, from no. ")

    run(work())


def test_a_reading_asked_about_a_sheet_is_filed_there_whatever_is_pulled_since() -> None:
    """The line said D1; a pull made while it stood open does not move it."""
    shop, _ = workshop()
    opened(shop, TEXT)

    async def work() -> None:
        async with screens(shop, "bench") as here:
            for _ in range(6):
                if on_bench(shop).impressions and on_bench(shop).impressions[0].pulled:
                    break
                shop.do(a.GoOn())
            shop.do(a.Helper(joins=True))
            await here.press("n")
            await here.shows("Note on D1")
            shop.do(a.GoOn())
            shop.do(a.GoOn())
            await write(here, "held flat")
            assert on_bench(shop).impressions[0].notes == ("held flat",)

    run(work())


def test_a_grade_is_refused_before_the_first_pull_and_says_its_sheet_after() -> None:
    """Of a recipe with readings of its own and of one without; nothing is filed under the day."""

    async def work() -> None:
        async with on_the_bench(TEXT) as here:
            await here.press("g")
            await here.shows("tone of a sheet (grade 1-5)", "room of the day")
            await here.press("1")
            await here.shows("No sheet has been pulled yet; pull one first")
        async with on_the_bench(recipe(before=["{do: Screws, hands: clean}"])) as here:
            await here.press("g")
            await here.shows("No sheet has been pulled yet; pull one first")
            here.until("Lift")
            await here.press("g")
            await here.shows("grade of D1, grade 1-5")
            await here.press("4")
            await until(here.pilot, lambda: here.sheets[0].readings, what="a grade")
            assert here.s.settings == ()
            assert [(r.name, r.value) for r in here.sheets[0].readings] == [("grade", "4")]

    run(work())
