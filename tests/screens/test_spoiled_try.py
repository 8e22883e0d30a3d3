"""Spoiled before the pull, at the Bench: it asks why, and the sheet is back unless it is lost."""

from __future__ import annotations

from tests.screens.bench_support import Studio, on_the_bench, run
from tests.session.test_tries import DAMP, at_the_press, the_try


def test_s_before_a_pull_asks_why_and_the_next_sheet_knows_nothing_of_it():
    """Three tries: with a reason, without one and its sheet lost, and one left as it was."""

    async def work() -> None:
        studio = Studio(DAMP)
        at_the_press(studio)
        async with on_the_bench(DAMP, studio=studio) as here:
            await here.press("s")
            await here.shows("Why is this try spoiled", "may stay empty",
                             "▸ its sheet goes back into its pack", "↓ its sheet is lost")
            await here.press("escape")
            assert here.s.impressions[0].ended is None
            await here.press("s")
            await here.typed("creased")
            await here.shows("This try is spoiled before its pull")
            assert (the_try(here)["notes"], here.packs[0].taken) == (["creased"], 0)
            # The plate warms, hands are clean: what is said now is about that try.
            await here.press("n")
            await here.shows("Note on the spoiled try")
            await here.typed("at the tray")
            await here.press("l")
            await here.shows("The spoiled try: look again")
            assert (the_try(here)["notes"], the_try(here)["look_again"]) == (
                ["creased", "at the tray"], True)
            assert here.s.impressions[1].notes == ()

            here.until("Pull")
            await here.settled()
            await here.press("s", "down")
            await here.shows("↑ its sheet goes back into its pack", "▸ its sheet is lost")
            await here.press("enter")
            await here.shows("it gets no number; its sheet is lost")
            second = here.s.impressions[1]
            assert (second.sheet, second.notes, here.packs[0].taken) == ("lost", (), 1)

    run(work())
