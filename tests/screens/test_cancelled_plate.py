"""A cancelled plate on the screens: the set-up card, the Bench and Sort say what it still gives."""

from __future__ import annotations

from benchapp.edition import actions as acts
from benchapp.session import actions as a
from tests.screens.days import MINUTE, closed, printed, run, screens, set_up
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
            await here.shows("E1 → the cancellation proof", "a tread keeps it so")
            await here.press("space")
            assert held(here) == {"E1": "cancellation proof None"}

    run(work())
