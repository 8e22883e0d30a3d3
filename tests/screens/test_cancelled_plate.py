"""A cancelled plate on the screens: the set-up card, the Bench and Sort say what it still gives."""

from __future__ import annotations

from benchapp.edition import actions as acts
from benchapp.planning.plate_wear import Given, near_words
from benchapp.recipe.reader import read_recipe
from benchapp.screens.shelf import OnShelf
from benchapp.screens.studio_rows import shelf_rows
from benchapp.session import actions as a
from tests.screens.days import MINUTE, closed, opened, printed, run, screens, set_up, workshop
from tests.screens.test_editions import PEAR, RECIPE, dried, held


def test_a_cancelled_plate_is_said_before_the_first_sheet_and_its_proof_is_proposed() -> None:
    """The card, the Bench, and a tread in Sort that keeps the sheet as the cancellation proof."""
    shop, _ = dried()
    assert shop.editions.do(acts.CancelPlate(PEAR, "scored", day="2026-05-04")).ok

    async def work() -> None:
        async with set_up(shop, RECIPE, wanted=1, size=(120, 40)) as here:
            await here.shows("The plate of Pear on a Sill is cancelled (scored, 4 May 2026)",
                             "it gives only its")
            await here.press("space")
            await here.shows("is cancelled (scored, 4 May 2026)", "cancellation proof")
        printed(shop, shop.clock, 1)
        closed(shop, shop.clock)
        shop.do(a.Judge("keep", 1))
        shop.leave_bench()
        shop.clock.advance(20 * 60 * MINUTE)
        async with screens(shop, over="sort", print_=PEAR) as here:
            await here.press("end")
            await here.shows("E1 → the cancellation proof", "the pedal records it")
            await here.press("space")
            assert held(here) == {"E1": "cancellation proof None"}

    run(work())


THORN = RECIPE.replace(
    "metal: copper", "techniques: [drypoint], life: 5 impressions, metal: copper")


def test_a_plate_near_its_end_is_told_on_the_card_and_never_at_the_bench() -> None:
    """What it gave and will give, what to look for, and the question about steel; once."""
    shop, clock = workshop()
    opened(shop, THORN)
    printed(shop, clock, 3)
    closed(shop, clock)

    async def work() -> None:
        async with set_up(shop, THORN, wanted=2, size=(120, 40)) as here:
            await here.shows("The plate key has given", "That is more than",
                             "lose their velvet", "steel-faces")
            await here.press("space")
            await here.shows("INKY HANDS")
            assert "velvet" not in here.text

    run(work())


def test_the_shelf_tells_of_a_plate_near_its_end() -> None:
    """Under its recipe, with what to look for; a plate that is fresh has no line."""
    thorn = read_recipe(THORN)
    shelf = (OnShelf("thorn", True, THORN, thorn),)
    assert near_words(thorn, {"key": Given(3)}) == ()
    worn = {"thorn": near_words(thorn, {"key": Given(4)})}
    told = " ".join("".join(text for text, _ in row.spans).strip()
                    for row in shelf_rows(shelf, worn=worn))
    assert "Plate key has given 4 of 5: look for lines that lose their velvet" in told
    assert "ask a plater about steel facing now" in told
