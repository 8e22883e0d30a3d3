"""The line to type on: what stands in it, and what the switch does while it is open."""

from __future__ import annotations

import pytest
from textual import events
from textual.widgets import Input

from benchapp.screens.widgets.ask import Ask
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.screens.contrast import LEAST, contrast
from tests.screens.days import on_bench, screens, set_up, small, workshop
from tests.screens.support import colour_pairs, until
from tests.session.support import MIN, PULL, WIPE, recipe

BEFORE = recipe(before=["{do: Screws, hands: clean}", "{do: Blankets, hands: clean}"])


def test_typing_replaces_a_value_that_stands_there() -> None:
    """The number wanted was 12; `4` makes it 4, and the line says that it would."""

    async def typed() -> None:
        async with on_the_bench(BEFORE, wanted=12) as here:
            await here.press("b")
            await here.shows("Wanted: how many impressions that count", "12", "type  replace it")
            await here.press("4", "enter")
            assert here.s.wanted == 4

    run(typed())


def test_a_value_that_stands_there_can_be_changed_or_taken() -> None:
    """The arrow keeps it to be written on; enter alone takes it as it stands."""

    async def changed() -> None:
        async with on_the_bench(BEFORE, wanted=12) as here:
            await here.press("b", "right", "0", "enter")
            assert here.s.wanted == 120
            await here.press("b", "enter")
            assert here.s.wanted == 120
            await here.press("b", "backspace", "enter")
            assert here.s.wanted is None

    run(changed())


def test_a_setting_is_replaced_on_the_set_up_card() -> None:
    """The recipe's screw stands there; what is typed is all there is afterwards."""
    shop, _ = workshop()

    async def card() -> None:
        async with set_up(shop, small()) as here:
            await here.shows("1  left side", "3 turns")
            await here.press("1")
            await here.shows("type  replace it")
            await here.typed("2.5 turns")
            await here.press("space")
            await until(here.pilot, lambda: shop.room.session, what="the session is open")
            assert here.kinds(on_bench(shop).id, "setting changed") == [
                {"name": "left side", "value": "2.5 turns"}]

    run(card())


def test_the_sheets_in_the_water_are_what_was_typed() -> None:
    """`4` over a prefilled number of sheets is four sheets, not fourteen."""
    shop, _ = workshop()

    async def damped() -> None:
        async with screens(shop) as here:
            await here.press("right", "end")
            await here.press("d")
            await here.shows("How many sheets go in now")
            await here.press("4", "enter")
            assert [pack.sheets for pack in shop.room.packs.values()] == [4]

    run(damped())


def test_a_selected_value_keeps_its_contrast() -> None:
    """What is selected is read as well as everything else, in both themes."""

    async def seen(theme: str) -> None:
        async with on_the_bench(BEFORE, wanted=12, theme=theme) as here:
            await here.press("b")
            await here.shows("Wanted")
            low = {text: pair for pair, text in colour_pairs(here.app).items()
                   if any(map(str.isalnum, text)) and contrast(*pair) < LEAST}
            assert low == {}

    run(seen("dark"))
    run(seen("light"))


# -- the switch while a line is open ---------------------------------------------------------

#: A wait of a minute that ends itself, and ink behind it; then a sheet with clean hands.
SOON = recipe(each=["{do: Warm the plate, hands: free, time: 1 min, ends: itself}",
                    WIPE, PULL, "{do: Lift, hands: clean, time: 3 min, asks: [verdict, note]}"])


LOOK = "{do: Lift, hands: clean, time: 3 min, asks: [verdict, note]}"


async def key(here: Studio, seconds: float, *keys: str) -> None:
    """Keys at that moment of their own clock, through the whole app."""
    for n, name in enumerate(keys):
        event = events.Key(name, " " if name == "space" else name if len(name) == 1 else None)
        event.time = 1000 + seconds + n / 10
        here.app.post_message(event)
        await here.pilot.pause()


def put_away(here: Studio) -> bool:
    """Whether no line is open."""
    return not isinstance(here.app.screen, Ask)


def test_no_step_turns_hands_inky_while_a_line_is_open() -> None:
    """The helper's name is asked for when the wait ends: ink waits, and the line says so."""

    async def waits() -> None:
        async with on_the_bench(SOON) as here:
            await here.press("j", "A")
            here.clock.advance(2 * MIN)
            await here.settled()
            here.app._time_passed()
            await here.shows("Wipe waits until this line is closed", "A clean-handed helper joins")
            assert (here.hand, here.room.inky) == (None, False)
            here.app.screen._touched_ms -= 60_000
            await here.settled()
            await here.shows("Wipe waits until this line is closed", "saves this as a draft")
            await here.press("n", "a", "escape")
            here.app._time_passed()
            await until(here.pilot, lambda: here.hand == "Wipe")
            assert here.entries("helper joined") == []
            assert here.ended("Warm the plate")[0].how == "ended itself"

    run(waits())


def test_a_line_left_alone_is_put_away_by_the_pedal_as_a_draft() -> None:
    """Ten seconds untouched: the next press closes it, no more; the text comes back."""

    async def left() -> None:
        async with on_the_bench(BEFORE) as here:
            before = here.book.last_sequence()
            await key(here, 0, "n", "d", "r", "y")
            await key(here, 9, "space")  # still text: nine seconds
            await key(here, 19.2, "space")
            assert put_away(here)
            await here.shows("Saved as a draft; open the line again to go on: Note on")
            assert here.book.last_sequence() == before
            await key(here, 30, "n")
            await here.shows("Your draft is back", "dry")
            await key(here, 30.5, "!", "enter")
            assert [e.body["text"] for e in here.entries("noted")] == ["dry !"]
            await key(here, 40, "n")
            assert "dry" not in here.text

    run(left())


@pytest.mark.parametrize("pedal", ["enter", "space", "right"])
def test_any_key_of_the_switch_that_would_do_something_to_the_text_puts_it_away(pedal: str) -> None:
    """Enter takes nothing then: the foot may mean to go on, and half a name would be written."""

    async def left() -> None:
        async with on_the_bench(BEFORE) as here:
            await key(here, 0, "j", "A", "n")
            await key(here, 10.5, pedal)
            assert put_away(here)
            assert here.entries("helper joined") == []
            assert here.hand == "Screws"
            await key(here, 20, "j")
            await here.shows("An", "Your draft is back")

    run(left())


def test_letters_do_nothing_until_it_is_quiet_after_a_line_was_put_away() -> None:
    """Held space, and the rest of a word typed on: nothing until 1.5 s of silence; F13 treads."""

    async def quiet() -> None:
        async with on_the_bench(BEFORE) as here:
            await key(here, 0, "n", "a")
            await key(here, 11, "space")
            before = here.book.last_sequence()
            await key(here, 11.5, *["space"] * 10)
            await key(here, 13.8, "x", "m", "n")
            await key(here, 15.4, "m")
            assert put_away(here)
            assert here.book.last_sequence() == before
            await key(here, 15.6, "f13")
            assert here.hand == "Blankets"
            await key(here, 17.0, "n")
            assert not put_away(here)

    run(quiet())


def test_a_pedal_that_types_nothing_treads_with_a_line_open() -> None:
    """F13 and Page Down go on below; the line and what stands in it stay, for its own sheet."""

    async def trodden() -> None:
        async with on_the_bench(BEFORE) as here:
            await key(here, 0, "n", "a")
            await key(here, 30, "f13")
            assert here.hand == "Blankets"
            await key(here, 40, "pagedown")
            assert here.room.inky
            assert not put_away(here)
            assert here.app.screen.query_one(Input).value == "a"
            await key(here, 41, "b")
            await key(here, 41.2, "escape")
            assert put_away(here)

    run(trodden())


def test_a_note_begun_for_one_sheet_is_not_written_on_the_next() -> None:
    """The line says A1; after treads with the line open it is still A1's."""

    async def noted() -> None:
        async with on_the_bench(recipe(each=[WIPE, PULL, LOOK]), wanted=3) as here:
            await here.press("space", "space", "space")
            mark = here.last.mark
            await here.press("j")
            await here.typed("Ana")
            await here.press("n", "f13", "f13", "f13")
            await here.shows(f"Note on {mark}")
            await here.typed("dry corner")
            assert [(i.mark, i.notes) for i in here.sheets if i.notes] == [(mark, ("dry corner",))]
            assert len(here.sheets) == 2

    run(noted())


def test_with_a_helper_in_a_line_stays() -> None:
    """Whoever has clean hands may take their time; space is a blank, enter takes the text."""

    async def helped() -> None:
        async with on_the_bench(BEFORE) as here:
            await here.press("j")
            await here.typed("Ana")
            await key(here, 0, "n", "a")
            await key(here, 30, "space")
            await key(here, 60, "b")
            await key(here, 90, "enter")
            assert [e.body["text"] for e in here.entries("noted")] == ["a b"]

    run(helped())


def test_a_line_says_that_the_pedal_would_put_it_away() -> None:
    """Nobody touched it for ten seconds: it is said before it is done."""

    async def alone() -> None:
        async with on_the_bench(BEFORE) as here:
            await here.press("n", "a")
            await here.settled()
            assert "saves this as a draft" not in here.text
            here.app.screen._touched_ms -= 10_000
            await here.settled()
            await here.shows("The pedal, or enter, now saves this as a draft")

    run(alone())


def test_ink_waits_for_a_search_too() -> None:
    """Words are typed there as well, with the Bench below."""

    async def waits() -> None:
        async with on_the_bench(SOON) as here:
            await here.press("f4", "a")
            here.clock.advance(2 * MIN)
            here.app._time_passed()
            assert (here.hand, here.room.inky) == (None, False)
            await here.press("escape")
            here.app._time_passed()
            await until(here.pilot, lambda: here.hand == "Wipe")

    run(waits())


def test_enter_held_in_a_line_is_no_tread_behind_it() -> None:
    """The key that took the text repeats: the gate has heard it."""

    async def held() -> None:
        async with on_the_bench(BEFORE, gate_ms=750) as here:
            await key(here, 0, "n", "a", "enter", *["enter"] * 8)
            assert [e.body["text"] for e in here.entries("noted")] == ["a"]
            assert here.hand == "Screws"
            await key(here, 3, "enter")
            assert here.hand == "Blankets"

    run(held())
