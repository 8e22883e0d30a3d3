"""Damp paper at the Bench: waited for with clean hands, counted, asked about."""

from __future__ import annotations

from tests.screens.bench_support import on_the_bench, run
from tests.session.support import DAMP, MIN


def test_paper_is_waited_for_with_clean_hands_and_what_ends_it_early_says_so() -> None:
    """The wash comes before the wait; what cuts soak or rest short says it before the press."""

    async def wait() -> None:
        async with on_the_bench(DAMP, wanted=2) as here:
            await here.press("space", "space", "space")  # sheets in, screws, ink
            await here.shows("WASH")
            await here.press("space")
            await here.shows("WAIT", "Next: Sheets out of the water (30 min early)",
                             "out: soak cut short")
            here.clock.advance(29 * MIN)
            here.app.look_again()
            await here.shows("Next: Sheets out of the water (1 min early)")
            here.clock.advance(MIN)
            here.app.look_again()
            await here.press("space")  # the call
            here.clock.advance(3 * MIN)
            await here.press("space")  # sheets out
            here.clock.advance(6 * MIN)
            here.app.look_again()
            await here.shows("Next: Pull (the sheet has rested 6 min of 15 min)")
            await here.press("y")
            await here.shows("out of its pack (the sheet has rested 6 min of 15 min)")
            await here.press("escape", "space")
            await here.shows("CLEAN HANDS", "3 sheets left in its pack")
            assert here.packs[0].where(here.t) == "resting"
            assert here.entries("ready said") == []

    run(wait())


def test_paper_is_counted_all_day_and_a_pull_without_any_asks() -> None:
    """None is said before the plate is inked; at the press the pedal waits for which sheet."""

    async def without() -> None:
        async with on_the_bench(DAMP, wanted=3) as here:
            await here.shows("no damp sheet", "3 min")
            await here.press("x")
            await here.typed("later")
            none = "! There is no damp sheet for the next pull"
            await here.shows("CLEAN HANDS", none)
            await here.press("space")
            await here.shows("INKY HANDS", none, "no damp sheet")
            await here.press("space", "space")
            await here.shows("1  a damp sheet of no pack", "2  a dry sheet", "1-2 answer")
            await here.press("space")
            await here.shows("No damp sheet is ready: which? 1 a damp sheet of no pack")
            assert here.sheets == ()
            await here.press("2")
            await here.shows("Sheet for this pull: a dry sheet")
            await here.press("space")
            await here.shows("Pencil D1 on the back")
            await here.press("a", "ctrl+u")
            await here.typed("5")
            await here.press("u", "space", "space")
            await here.shows("5 damp sheets", "5 sheets resting")
            assert here.last.damp is False

    run(without())
