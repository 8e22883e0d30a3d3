"""On the Bench: when the wanted number will be met, beside what comes next."""

from __future__ import annotations

from benchapp.session import actions as a
from tests.screens.bench_support import on_the_bench, run
from tests.session.test_ahead import MIN, PROOFING


def test_the_bench_says_when_the_wanted_number_will_be_met() -> None:
    """Three from 10:00: 20 + 3 × 32 + 2 min. Another number, another time; enough, none."""

    async def day() -> None:
        async with on_the_bench(PROOFING, wanted=3) as here:
            await here.shows("3 by 11:58")
            here.clock.advance(30 * MIN)
            await here.press("space")
            await here.shows("3 by 12:08")
            here.shop.do(a.Wanted(4))
            await here.shows("4 by 12:40")
            here.shop.do(a.Enough())
            here.app.screen.follow()
            assert " by 1" not in here.text

    run(day())
