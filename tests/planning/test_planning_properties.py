"""What holds of any plan: tried on days made from seeds, a thousand of each in the full tier.

Each property gives what is wrong with the day of a seed. Beside it stands what would make it
empty: that the checks see a plan that is wrong, and that the days are of all kinds.
"""

from __future__ import annotations

import itertools
import time
from collections.abc import Callable
from dataclasses import replace

import pytest

from benchapp.planning.build import WORTH_CHANGING, plan_day
from benchapp.planning.certainty import sure_of
from benchapp.planning.chances import chance_until
from benchapp.planning.day import DayInputs, DayPlan, Planned
from benchapp.planning.pace import Pace
from benchapp.planning.schedule import WISH_PRICE
from benchapp.planning.schedule_paths import is_legal
from benchapp.planning.what_if import chances_of, fit_impressions, with_more
from benchapp.reckon.dice import Dice
from benchapp.session.compiled_recipe import WASH
from tests.planning.legal import faults
from tests.planning.paces import CERTAIN
from tests.planning.plan_cuts import left
from tests.planning.plans import MIN, faults_of, made_up

FULL = 1000
#: A printer who did nothing for so long: plates stiffen, and limits break that were planned.
IDLE = 30 * MIN


def plan_of(seed: int, tries: int = 3) -> tuple[DayInputs, DayPlan]:
    """A day made up, and its plan."""
    day = made_up(seed)
    return day, plan_day(day, tries=tries)


def cut(seed: int) -> tuple[DayPlan, int, DayInputs, DayPlan]:
    """A plan, seconds of it gone by, what is left of the day, and the plan of that.

    On every third day the printer stood idle for half an hour on top.
    """
    day, plan = plan_of(seed)
    t, idle = 1 + Dice(seed + 77).below(plan.end), IDLE if seed % 3 == 0 else 0
    t = next((x.start for x in plan.items if x.name[1].step == WASH and x.start < t < x.end), t)
    rest = left(day, plan, t, idle)
    return plan, t + idle, rest, plan_day(rest, tries=3, before=plan, elapsed=t + idle)


# -- the properties -----------------------------------------------------------------------------


def legal(seed: int) -> list[str]:
    """A plan keeps to the recipe, the room and the numbers, and says what it breaks."""
    day, plan = plan_of(seed)
    return [*faults_of(day, plan), *faults(plan.made.project, plan.made.starts)]


def bounded(seed: int) -> list[str]:
    """No plan ends before its bound, whatever it breaks."""
    plans = [plan_of(seed)[1], cut(seed)[3]]
    return [f"{p.end} before {p.bound}" for p in plans if p.bound > p.end]


def ends_rise(seed: int) -> list[str]:
    """One impression more never makes a day cheaper, and six end later than one.

    A day costs its end, and the time that paper soaks too long beside it.
    """
    day = made_up(seed)
    plans = [plan_day(with_more(day, n)) for n in range(1, 7)]
    out = [f"{b.end} after {a.end}" for a, b in itertools.pairwise(plans)
           if (b.late, _cost(b)) < (a.late, _cost(a))]
    return out if plans[0].end < plans[-1].end else [*out, "six take no longer than one"]


def _cost(plan: DayPlan) -> int:
    """As schedules are compared."""
    return plan.end + WISH_PRICE * sum(p.over for p in plan.packs)


def replayed(seed: int) -> list[str]:
    """Without variation the replay is the plan, at the beginning and later; with it, it is not."""
    out = []
    for plan in (plan_of(seed)[1], cut(seed)[3]):
        sure = sure_of(plan, CERTAIN, replays=2)
        if set(sure.ends) != {plan.end}:
            out.append(f"{set(sure.ends)} for {plan.end}")
        if sure.by_count and set(sure.by_count[max(sure.by_count)]) != {plan.end}:
            out.append(f"{sure.by_count} for {plan.end}")
    varied = sure_of(plan_of(seed)[1], Pace(), replays=20)
    return out if len(set(varied.ends)) > 5 else [*out, "nothing varies"]


def chances_fall(seed: int) -> list[str]:
    """No number is likelier than a smaller one, nor than its own plan allows; the ends differ."""
    day, plan = plan_of(seed, tries=1)
    until = plan.end
    fit = fit_impressions(day, until, tries=1)
    told = chances_of(day, until, fit, Pace(), tries=1)
    out = [] if list(told) == list(range(1, fit.fits + 3)) else [f"numbers {list(told)}"]
    out += [f"{told}" for a, b in itertools.pairwise(told.values()) if a < b]
    for n in (fit.fits, fit.fits + 1):
        made = plan_day(with_more(day, n), tries=1, due=until)
        own = chance_until(sure_of(made, Pace()).ends, until)
        if not own <= told[n] <= max(own, told.get(n + 1, 0.0)):
            out.append(f"{n} has {told[n]}, its own plan {own}")
    return out if told[1] > told[fit.fits + 2] else [*out, f"one as likely as all: {told}"]


def stays(seed: int) -> list[str]:
    """Planned again with nothing changed, nothing changes: not a line, a pack or a bound."""
    day, once = plan_of(seed)
    again = plan_day(day, tries=3, before=once)
    third = plan_day(day, tries=3, before=again)
    return [f"{what} changed" for what in ("items", "packs", "end", "bound", "order", "done_at")
            if not getattr(once, what) == getattr(again, what) == getattr(third, what)]


def done_stays(seed: int) -> list[str]:
    """What is over is not planned again, what runs does not move, and all is legal still.

    Where the day went as planned it does not end later for being planned again, and the next
    step is the one announced unless three minutes are won.
    """
    plan, gone, rest, new = cut(seed)
    out = faults_of(rest, new)
    if seed % 3:
        if new.end + gone > plan.end:
            out.append(f"ends at {new.end + gone} instead of {plan.end}")
        said, now = _next(plan, gone), new.next
        won = plan.end - new.end - gone
        if said is not None and (now is None or now.name != said.name) and won < WORTH_CHANGING:
            out.append(f"{said.do} was announced, {None if now is None else now.do} comes")
    return out


def _next(plan: DayPlan, t: int) -> Planned | None:
    """The first hands step of a plan that is not begun after so many seconds."""
    return next((x for x in plan.items if x.start >= t and x.hands != "free" and not x.settled
                 and x.name[1].step != WASH), None)


def seen_alike(seed: int) -> list[str]:
    """The quick look at a schedule says what the slow check says, of good ones and of bad."""
    dice, out = Dice(seed), []
    for plan in (plan_of(seed)[1], cut(seed)[3]):
        project, starts = plan.made.project, list(plan.made.starts)
        for _ in range(12):
            if is_legal(project, starts) == any(True for _ in faults(project, starts)):
                out.append(f"{list(faults(project, starts))} in {starts}")
            starts = list(plan.made.starts)
            at = dice.below(len(starts))
            starts[at] += (dice.below(41) - 20) * MIN
    return out


PROPERTIES = [legal, bounded, ends_rise, replayed, chances_fall, stays, done_stays, seen_alike]


def broken(holds: Callable[[int], list[str]], seeds: range) -> dict[int, list[str]]:
    """The seeds whose day has something wrong, and what."""
    return {seed: wrong for seed in seeds if (wrong := holds(seed))}


@pytest.mark.parametrize("holds", PROPERTIES, ids=lambda x: x.__name__)
def test_it_holds_of_some_days(holds):
    """Of ten, and five where each is replayed."""
    assert broken(holds, range(5 if holds is chances_fall else 10)) == {}


@pytest.mark.full
@pytest.mark.parametrize("holds", PROPERTIES, ids=lambda x: x.__name__)
def test_it_holds_of_a_thousand_days(holds):
    """The same of many more."""
    began = time.process_time()
    assert broken(holds, range(FULL)) == {}
    print(f"{holds.__name__}: {FULL} days, {time.process_time() - began:.0f} s of processor time")


# -- that they are not empty ----------------------------------------------------------------------


def moved(plan: DayPlan, at: int, **change: int) -> DayPlan:
    """The plan with one of its lines changed."""
    items = list(plan.items)
    items[at] = replace(items[at], **change)
    return replace(plan, items=tuple(items))


def test_the_checks_see_a_plan_that_is_wrong():
    """A step left out, shortened, begun with the one before it or before the day: each is seen."""
    for seed in range(12):
        day, plan = plan_of(seed)
        for at, x in enumerate(plan.items):
            if not x.name[1].step.startswith(("before", "each", "after")) or not x.seconds:
                continue
            without = replace(plan, items=plan.items[:at] + plan.items[at + 1:])
            assert faults_of(day, without), x
            assert faults_of(day, moved(plan, at, seconds=x.seconds - 1)), x
            assert faults_of(day, moved(plan, at, start=-1)), x
            if x.hands != "free" and x.start > plan.items[0].start:
                assert faults_of(day, moved(plan, at, start=plan.items[0].start)), x


def test_the_checks_see_paper_and_limits_that_are_wrong():
    """Sheets of two packs, a pack that comes too late, a limit broken in silence."""
    seen = 0
    for seed in range(40):
        day, plan = plan_of(seed)
        if plan.packs:
            seen += 1
            first = plan.packs[0]
            for pack in (replace(first, ordinals=(*first.ordinals, 99)),
                         replace(first, ready=plan.end + 1)):
                assert faults_of(day, replace(plan, packs=(pack, *plan.packs[1:])))
        _, _, rest, new = cut(3 * seed)
        if any(not b.words.startswith("Sheet") for b in new.broken):
            seen += 1
            assert faults_of(rest, replace(new, broken=()))
    assert seen >= 15


def test_the_days_are_of_all_kinds():
    """With packs, a helper, two plates, steps over, steps that run, and limits past saving."""
    cuts = [cut(seed) for seed in range(40)]
    jobs = [rest.jobs[0] for _, _, rest, _ in cuts]
    kinds = {
        "packs there": sum(bool(rest.packs) for _, _, rest, _ in cuts),
        "packs to come": sum(any(p.into is not None for p in new.packs) for *_, new in cuts),
        "helper": sum(rest.helper for _, _, rest, _ in cuts),
        "two plates": sum(len(j.shape.recipe.plates) == 2 for j in jobs),
        "over": sum(bool(j.over) for j in jobs), "running": sum(bool(j.running) for j in jobs),
        "pulls done": sum(j.done > 0 for j in jobs),
        "limits broken": sum(new.late > 0 for *_, new in cuts),
        "bound reached": sum(new.bound == new.end for *_, new in cuts),
    }
    assert min(kinds.values()) >= 4, kinds


def test_what_is_changed_is_planned():
    """One impression more in the day that stood: the plan that stood does not stay."""
    for seed in range(5):
        day, plan = plan_of(seed)
        more = with_more(day, day.jobs[0].more + 1)
        assert plan_day(more, tries=3, before=plan).end > plan.end
