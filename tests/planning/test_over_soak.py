"""Paper comes out of the water when its soak is over, as nearly as the hands allow."""

from __future__ import annotations

from datetime import UTC, date, datetime
from functools import cache

from benchapp.files import read_text, shipped_recipes
from benchapp.planning.build import plan_day
from benchapp.planning.day import DayPlan
from benchapp.planning.question import DayQuestion, Known, Zero, plan_asked_day
from benchapp.planning.what_if import fit_impressions
from benchapp.quantities import read_minutes
from benchapp.recipe.reader import read_recipe
from benchapp.reports.json_form import json_values
from benchapp.reports.plan_events import plan_events
from benchapp.reports.plan_report import plan_report
from benchapp.reports.plan_text import plan_parts
from tests.planning.plans import MIN, made_up, shape

#: Seeds of such days.
SOAKED = (4, 6, 7, 8, 12, 13, 21, 26, 27, 28, 30, 34, 38, 40, 41, 43, 45, 46, 50, 56)
NINE_THIRTY = Zero(date(2026, 5, 3), 9 * 60 + 30, UTC)


def over_soak(plan: DayPlan) -> list[int]:
    """Seconds each new pack is in the water beyond its soak, read off the lines of the plan."""
    soaks = {x.name[1].pack: x for x in plan.items if x.name[1].step == "soak"}
    outs = {x.name[1].pack: x for x in plan.items if x.name[1].step == "damp.out"}
    return [outs[k].start - soaks[k].end for k in soaks]


def soaked_days(count):
    """Days made up whose paper is soaked."""
    return [made_up(seed) for seed in SOAKED[:count]]


def test_packs_are_seldom_soaked_much_longer_than_the_recipe_says():
    """Twenty made-up days: 3 minutes over in the mean at most; they were 9, and up to 30."""
    found = [x / MIN for day in soaked_days(20) for x in over_soak(plan_day(day))]
    assert len(found) > 20
    assert sum(found) / len(found) <= 3
    assert all(x >= 0 for x in found)


def test_no_impression_is_lost_for_the_sake_of_a_soak():
    """A window that ends with the day holds it, however its paper would like to be treated."""
    for day in soaked_days(4):
        end = fit_impressions(day, 8 * 60 * MIN).plan
        if end is None:
            continue
        fit = fit_impressions(day, end.end)
        assert fit.fits >= day.jobs[0].done + len(end.done_at)


@cache
def told():
    """The day of the shipped soaked paper, with lunch at one."""
    recipe = read_recipe(read_text(shipped_recipes()["weigh-house"]))
    asked = DayQuestion(recipe, NINE_THIRTY, 17 * 60, ((13 * 60, 45 * 60),))
    return plan_asked_day(asked, Known())


def test_what_cannot_be_helped_is_said():
    """Every pack that is soaked too long has its sentence, with both times."""
    day = told()
    said = dict(plan_parts(day)).get("Limits and doubts", [])
    for n, pack in enumerate(day.plan.packs, 1):
        words = [x for x in said if x.startswith(f"Pack {n} stays in the water")]
        assert len(words) == (1 if pack.over else 0)
        if pack.over and pack.due is not None and pack.taken is not None:
            assert f"due out {day.clock(pack.due)}" in words[0]
            assert f"free at {day.clock(pack.taken)}" in words[0]


def test_the_calendar_rings_when_the_paper_is_due_out():
    """Not when the plan has the hands for it; JSON has both."""
    day = told()
    packs = json_values(plan_report(day))["packs"]
    events = plan_events(day, datetime(2026, 5, 2, 12, tzinfo=UTC), NINE_THIRTY.wall)
    outs = [f"{e.at:%H:%M}" for e in events if " out" in e.summary]
    assert outs == [p["due_out"] for p in packs]
    for p in packs:
        soaked = read_minutes(p["due_out"]) - read_minutes(p["in"])
        assert soaked == 3 + 25  # handling as the program has it, and the soak
        assert p["due_out"] <= p["out"] < p["ready"]


def test_a_dip_lies_in_no_water():
    """It goes in and comes out in one go: there is nothing to take it out for."""
    recipe = read_recipe(DIPPED)
    plan = plan_asked_day(DayQuestion(recipe, NINE_THIRTY, wanted=2), Known()).plan
    assert [p.due for p in plan.packs] == [None]
    assert not [x for x in plan.items if x.name[1].step == "soak"]
    assert shape(DIPPED).damped is not None


DIPPED = """recipe: 1
print: {title: Made Up, artist: Nobody}
plates: [{name: key, metal: zinc, size: 100 x 100 mm}]
paper: {name: waterleaf, damp: {method: dip, soak: 1 min, rest: 20 min, pack: 4, handling: 3 min}}
each:
  - {do: Ink, hands: inky, time: 10 min}
  - {do: Pull, hands: clean, at: press, time: 4 min, pulls: key}
  - {do: Lift, hands: clean, time: 3 min, asks: [verdict]}
after: [{do: Clean up, hands: inky, time: 20 min}]
"""
