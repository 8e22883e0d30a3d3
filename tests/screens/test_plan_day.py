"""A whole day on the Bench with its plan beside it, as the screen shows it from tread to tread."""

from __future__ import annotations

import asyncio
import re
from pathlib import Path

import pytest

from benchapp.events.moments import local_time
from benchapp.session import actions as a
from benchapp.session.state import Session
from tests.screens.bench_support import Studio, on_the_bench, run

pytestmark = pytest.mark.full
_RECIPE = Path(__file__).parents[2] / "recipes" / "weigh-house.yaml"
_BY = re.compile(r"pack must go in by (\d\d:\d\d)")
_MET = re.compile(r" · 4 by (\d\d:\d\d)")


def usual_ms(s: Session) -> int:
    """What the step in hand usually takes."""
    step = None if s.hand is None else s.shape.by_id[s.hand.step]
    return 60_000 if step is None or step.time is None else max(60_000, step.time.usual.ms)


async def planned(here: Studio) -> str:
    """What stands there once the plan of how things stand is made."""
    for _ in range(400):
        here.app.look_again()
        await asyncio.sleep(0.02)
        if not [w for w in here.app.screen.workers if w.is_running]:
            break
    here.app.look_again()
    await here.pilot.pause()
    return here.text


def test_a_day_of_four_on_the_bench() -> None:
    """Six pulls of packs of four: the second is told before it goes in, and goes in by then.

    A day that goes as the recipe has it keeps its first promise to within a quarter of an hour,
    and the line under what comes next stands from the first plan to the last.
    """
    text = _RECIPE.read_text(encoding="utf-8").replace("pack: 6", "pack: 4")
    met, by, told = list[str](), list[str](), list[str]()

    async def day() -> None:
        async with on_the_bench(text, wanted=4) as here:
            while here.s.closed is None:
                seen = await planned(here)
                met.extend(_MET.findall(seen))
                by.extend(_BY.findall(seen))
                if not here.s.enough and _MET.search(seen):
                    assert re.search(r"pack must|All over \d\d:\d\d", seen), seen
                packs = len(here.packs)
                here.clock.advance(usual_ms(here.s))
                here.shop.tick()
                while any(c.calling for c in here.view.calls):
                    await here.press("space")  # answers that, and nothing else
                if here.s.hand is not None and here.s.shape.by_id[here.s.hand.step].must:
                    here.shop.do(a.Must(None))
                else:
                    await here.press("space")
                if len(here.packs) > packs and packs:
                    told.append(f"{local_time(here.clock.now()):%H:%M}")
                    assert by, "no pack was told of before it went in"

    run(day())
    assert told
    assert by
    minutes = [60 * int(x[:2]) + int(x[3:]) for x in met]
    assert len(minutes) > 20
    assert abs(minutes[0] - minutes[-1]) <= 15, met
