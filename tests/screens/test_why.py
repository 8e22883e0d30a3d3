"""F9 on the tags: why a sheet has it and what to try, without putting it on or taking it off."""

from __future__ import annotations

from benchapp.session import actions as a
from tests.screens.days import closed, on_bench, opened, printed, run, screens, small, workshop


def test_a_tag_at_the_lift_is_explained_on_a_key() -> None:
    """What this print's own days show stands above what is usual; the sheet keeps its tags."""
    shop, clock = workshop()
    opened(shop, small())
    assert shop.do(a.Set("left side", "3 turns")).ok
    printed(shop, clock, 1)
    shop.do(a.Tag("salty", 1))
    shop.do(a.Set("left side", "3.25 turns"))
    printed(shop, clock, 2)
    shop.do(a.Judge("keep", 2))
    closed(shop, clock)

    async def work() -> None:
        async with screens(shop, over="impressions", session=on_bench(shop).id) as here:
            await here.press("home", "t")
            await here.shows("Tag for", "why")
            await here.press("f9")
            await here.shows("Why salty", "left side 3 turns to 3.25 turns", "D2 did not have",
                             "sheet too dry: longer in the pack")
            assert here.text.index("3.25 turns") < here.text.index("sheet too dry")
            await here.press("escape", "2", "down", "f9")
            await here.shows("Why over-wiped", "No sheet of this print in the book has had it")
            await here.press("escape", "escape", "escape")
            assert on_bench(shop).impressions[0].tags == ("salty",)

    run(work())
