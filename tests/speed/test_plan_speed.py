"""How long it takes to plan the rest of a long day again, as the Bench does after every step."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

import pytest

from benchapp.planning.build import plan_day
from benchapp.planning.day import DayInputs, Job
from tests.planning.plans import lunch, shape, worked
from tests.session.support import INK, LIFT, PULL, SCREWS, SOAK, WARM, WIPE, recipe

TEXT = recipe(before=[SCREWS], each=(WARM, INK, WIPE, PULL, LIFT), damp=SOAK)


def cost(work: Callable[[], object], times: int = 5) -> float:
    """Seconds of processor time, the median of some."""
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def again(pulls: int) -> float:
    """Seconds to plan so many impressions again, with packs and a break."""
    day = DayInputs((Job("", shape(TEXT), pulls),), (lunch(),))
    plan = plan_day(day)
    return cost(lambda: plan_day(day, before=plan))


def test_a_day_four_times_as_long_is_planned_again_in_about_that_time():
    """Sixty impressions against fifteen: no worse than nine times, whatever the machine."""
    assert again(60) < 9 * again(15)


@pytest.mark.full
def test_sixty_impressions_are_planned_again_after_a_step():
    """Six times the work of the worked day's ten, in no more than twenty times its time."""
    taken = again(60)
    small = cost(lambda: plan_day(worked(10)))
    print(f"60 impressions again: {taken * 1e3:.0f} ms; the worked day: {small * 1e3:.0f} ms")
    assert taken < 20 * small
