"""What is typed is kept: a note from its first key, and a refused value in its line."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from textual.widgets import Input

from benchapp.screens.widgets.ask import Ask
from benchapp.screens.widgets.offered import Offered
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.screens.days import one_day, screens
from tests.session.support import PULL, RAGS, WIPE, recipe

LIFT = "{do: Lift, hands: clean, time: 3 min, asks: [verdict, tags, note]}"
EXTRA = ("phrases: [held the hand flatter, two drops of oil, fresh scrim]\n"
         "readings:\n  - {name: film, unit: g, at: Lift}\n  - {name: tone, unit: grade 1-5}\n")
TEXT = recipe(each=[WIPE, PULL, LIFT], after=[RAGS], extra=EXTRA)
NOTES = ("1 drop more oil", "ink: stiff; warmed", "2: as no. 1", "wiped \"hard\" (left)",
         "a  b", "9", "? = + < > . ,", "crevé über ø")


def line(here: Studio) -> str:
    """What stands in the line of text."""
    return here.app.screen.query_one(Input).value


async def lifted(here: Studio) -> None:
    """Go on until a sheet is looked at."""
    await here.press("space", "space", "space")
    assert here.last is not None


async def write(here: Studio, text: str) -> None:
    """Type a text key by key, and leave it in its line."""
    await here.press(*("space" if sign == " " else sign for sign in text))


def test_a_note_is_what_was_typed_from_its_first_key() -> None:
    """Digits, a colon, whatever sign: with sentences in the recipe too, the book has it all."""

    async def notes() -> None:
        async with on_the_bench(TEXT) as here:
            await lifted(here)
            for text in NOTES:
                await here.press("n")
                await write(here, text)
                await here.press("enter")
            assert here.last.notes == NOTES

    run(notes())


def test_the_arrows_bring_a_sentence_and_give_back_what_was_typed() -> None:
    """What stands in the line at Enter is the note; a sentence may be written on."""

    async def notes() -> None:
        async with on_the_bench(TEXT) as here:
            await lifted(here)
            await here.press("n")
            await here.shows("↓ held the hand flatter", "two drops of oil")
            await write(here, "left")
            await here.press("down", "down")
            await here.shows("▸ two drops of oil")
            assert line(here) == "two drops of oil"
            await here.press("up", "up")
            assert line(here) == "left"
            await here.press("down", "down", "down", "down")
            assert line(here) == "fresh scrim"
            await write(here, ", half")
            await here.press("enter")
            assert here.last.notes == ("fresh scrim, half",)

    run(notes())


def test_the_arrows_on_a_list_of_sheets_too() -> None:
    """The same line on the sheets of a session that is closed."""
    shop, _, session = one_day()

    async def notes() -> None:
        async with screens(shop, over="impressions", session=session) as here:
            await here.press("home", "n", *"2:", "space", *"x", "enter")
            assert shop.room.sessions[session].impressions[0].notes == ("2: x",)

    run(notes())


def test_a_reading_that_is_refused_stays_in_its_line() -> None:
    """The line says why; mended and taken it is in the book."""

    async def readings() -> None:
        async with on_the_bench(TEXT) as here:
            await lifted(here)
            await here.press("g", "1")
            await write(here, "1,500")
            await here.press("enter")
            await here.shows("1,500", "write")
            assert isinstance(here.app.screen, Ask)
            assert line(here) == "1,500"
            await here.press(*["backspace"] * 4, "full_stop", "5", "enter")
            assert [(r.name, r.value) for r in here.last.readings] == [("film", "1.5")]

    run(readings())


def test_a_mark_that_is_refused_stays_in_its_line() -> None:
    """Another sheet has it: the line says so, and the text is there."""
    shop, _, session = one_day()

    async def marks() -> None:
        async with screens(shop, over="impressions", session=session) as here:
            second = shop.room.sessions[session].impressions[1].mark or ""
            await here.press("home", "M")
            await here.typed(second)
            await here.shows("used once in the book", second)
            assert isinstance(here.app.screen, Ask)
            assert here.app.screen.query_one(Input).value == second

    run(marks())


@given(st.lists(st.one_of(st.sampled_from([1, -1]), st.text("ab", max_size=3)), max_size=30))
def test_no_text_typed_is_lost_by_the_arrows(steps: list[int | str]) -> None:
    """What stood in the line is kept; of the texts before, only the one written over goes."""
    offered, text = Offered(("one", "two")), ""
    for step in steps:
        if isinstance(step, str):
            text = step
            continue
        others = [x for i, x in enumerate(offered.own) if i != offered.at]
        before, (offered, now) = text, offered.step(step, text)
        assert before in (*offered.own, *offered.phrases)
        assert set(others) <= set(offered.own)
        assert now == (*offered.own, *offered.phrases)[offered.at]
        text = now
