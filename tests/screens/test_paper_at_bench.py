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
