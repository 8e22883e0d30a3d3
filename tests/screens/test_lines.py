"""The line to type on: what stands in it, and what the switch does while it is open."""

from __future__ import annotations

from benchapp.screens.contrast import LEAST, contrast
from tests.screens.bench_support import on_the_bench, run
from tests.screens.days import opened, screens, small, workshop
from tests.screens.support import colour_pairs
from tests.session.support import recipe

BEFORE = recipe(before=["{do: Screws, hands: clean}", "{do: Blankets, hands: clean}"])


def test_typing_replaces_a_value_that_stands_there() -> None:
    """The number wanted was 12; `4` makes it 4, and the line says that it would."""

    async def typed() -> None:
        async with on_the_bench(BEFORE, wanted=12) as here:
            await here.press("b")
            await here.shows("Wanted: how many counting impressions", "12", "type  replace it")
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
    session = opened(shop, small())

    async def card() -> None:
        async with screens(shop, "set-up") as here:
            await here.shows("1  left side", "3 turns")
            await here.press("1")
            await here.shows("type  replace it")
            await here.typed("2.5 turns")
            assert here.kinds(session, "setting changed") == [
                {"name": "left side", "value": "2.5 turns"}]

    run(card())


def test_the_sheets_in_the_water_are_what_was_typed() -> None:
    """`4` over a prefilled number of sheets is four sheets, not fourteen."""
    shop, _ = workshop()

    async def damped() -> None:
        async with screens(shop) as here:
            await here.press("right", "end")
            await here.press("d")
            await here.shows("Sheets damped now")
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
