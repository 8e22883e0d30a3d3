"""Spoiled before the pull, at the Bench: it asks why, and the sheet is back unless it is lost."""

from __future__ import annotations

from benchapp.drying.stacks import wall_time
from benchapp.reports.drying import boards_lines
from benchapp.reports.review import review_session
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.session.support import MIN, TWO
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


def test_spoiled_between_two_plates_it_is_no_progressive_and_lies_nowhere():
    """The key lies inked for the next; Bench, Studio, boards and stack count one sheet."""

    async def work() -> None:
        async with on_the_bench(TWO, wanted=3) as here:
            session = here.s.id
            here.until("Pull key")
            await here.settled()
            assert here.view.mark == "D1"
            assert "Pencil" not in here.text
            await here.press("s", "z")
            await here.shows("D1 stops here: spoiled before the last pull",
                             "Pencil D1 on the back")
            await here.press("space")
            await here.shows("D1 is spoiled: set aside, not under the boards")
            here.clock.advance(7 * MIN)
            await here.press("space")
            await here.shows("Plate key is inked already, 7 min ago: skip this step, or ink it")
            here.until("Lift")
            await here.settled()
            await here.press("k", "space")
            await here.shows("D2 is under the boards")
            stacks = here.shop.stacks()
            assert [[x.mark for x in s.sheets] for s in stacks.up] == [["D2"]]
            assert [x for x in boards_lines(stacks, wall_time(here.now)) if "sheet" in x] == [
                "1 Slack Water, 2026-05-03 · 1 sheet"]
            here.until("Pull tone")
            await here.settled()
            await here.press("escape")
            await here.shows("Under boards", "1 sheet · today")
            here.app.over("boards")
            await here.shows("1 sheet in 1 stack")
            (day,) = [e for e in review_session(here.book.entries(), session).impressions
                      if e.mark == "D1"]
            assert (day.ended, day.verdict, day.for_) == (
                "spoiled before the last pull", "spoiled", "warm-up")

    run(work())
