"""The Bench is short until it is asked for everything, and the choice is kept."""

from __future__ import annotations

from benchapp.screens.bench_words import coming_line
from benchapp.settings import load_preferences
from benchapp.views.bench import BY_RULE
from tests.planning.test_time_to_finish import MIN, PROOFING
from tests.screens.bench_support import on_the_bench, run
from tests.screens.support import until

_END = "would end at"


def test_the_plan_and_the_sheets_fold_away_until_f9_which_is_kept() -> None:
    """What to do, its count and what comes next stay; the key works with inky hands too."""

    async def day() -> None:
        async with on_the_bench(PROOFING, wanted=3, bench="short") as here:
            await here.shows("3 by 11:58", "Next: ")
            assert _END not in here.text
            here.clock.advance(30 * MIN)
            await here.press("space")
            assert here.hands == "inky"
            await here.press("f9")
            await here.shows(_END, "F9 shows less")
            assert load_preferences().bench == "full"
            await here.press("f9")
            await until(here.pilot, lambda: _END not in here.text, what="folded")
            await here.shows("Next: ", "3 by 12:08")
            assert load_preferences().bench == "short"

    run(day())


def test_signs_of_sheets_and_rule_remarks_fold_away_too() -> None:
    """A sheet's sign, the legend of signs, and that a rule said what the pull is for."""

    async def day() -> None:
        async with on_the_bench(PROOFING, wanted=3) as here:
            while not here.sheets:
                here.clock.advance(5 * MIN)
                await here.press("space")
            mark = here.last.mark
            await here.shows(f"{mark}○", "not judged ○")
            assert BY_RULE in coming_line(here.view)
            assert BY_RULE not in coming_line(here.view, rules=False)
            await here.press("f9")
            await until(here.pilot, lambda: f"{mark}○" not in here.text, what="folded")
            assert "not judged ○" not in here.text

    run(day())
