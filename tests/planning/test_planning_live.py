"""Plans through a day at the bench: what is over stays over, and there is always a plan."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from benchapp.decision import Refusal
from benchapp.planning import what_if
from benchapp.planning.build import plan_day
from benchapp.planning.certainty import from_days, sure_of, timed_steps, times_by
from benchapp.planning.day import Break, DampedPack, DayInputs, DayPlan, Job
from benchapp.planning.pace import Pace, TimedStep, learn_pace
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.remaining import day_of_recipe, day_of_room, pulls_for
from benchapp.planning.sentences import in_by, pack_alarms, plan_warnings, would_end
from benchapp.planning.what_if import (
    Fit,
    Most,
    chance_word,
    chances_of,
    fit_impressions,
    ordinal_with_article,
    plan_headline,
)
from benchapp.recipe.reader import read_recipe
from benchapp.reckon.dice import Dice
from benchapp.reports.json_form import json_values
from benchapp.reports.plan_report import plan_report
from benchapp.session import actions as a
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, WASH
from benchapp.session.state import TaskKey
from tests.planning.paces import CERTAIN
from tests.planning.plans import MIN, WORKED, worked
from tests.session.acts import DAYS
from tests.session.support import LIFT, PULL, SCREWS, SOAK, WIPE, Bench, recipe

DAY = recipe(before=[SCREWS], each=(WIPE, PULL, LIFT), damp=SOAK,
             after=["{do: Clean up, hands: inky, time: 10 min}"], extra="proofing: {for: TP}\n")


def planned(b: Bench, before: DayPlan | None = None, elapsed: int = 0) -> DayPlan:
    """The plan of what is left, now."""
    return plan_day(day_of_room(b.room, b.t), before=before, elapsed=elapsed)


def test_a_session_just_opened_is_planned_like_a_day_to_come():
    """The same end, give or take nothing, as the recipe alone."""
    b = Bench(DAY, wanted=3)
    alone = plan_day(day_of_recipe(b.s.recipe, 3))
    assert planned(b).end == alone.end
    assert [p.sheets for p in planned(b).packs] == [3]


def test_the_plan_counts_down_as_the_day_goes_as_planned():
    """Each step done in its usual time: the end comes nearer by just that, and never moves."""
    b = Bench(DAY, wanted=2)
    plan, begun = planned(b), b.t
    first = plan.end
    while b.s.closed is None:
        if b.s.hand is not None:
            usual = b.s.shape.by_id[b.s.hand.step].time
            b.clock.advance(0 if usual is None else usual.usual.ms)
            b.shop.tick()
            b.say(a.GoOn())
        else:
            b.advance(1)
            if b.s.hand is None and b.view.calls:
                b.say(a.GoOn())
        if b.s.closed is None:
            plan = planned(b, plan)
            assert abs(plan.end + (b.t - begun) // 1000 - first) <= 4 * MIN, b.hand


def test_what_is_in_hand_is_settled_and_what_is_over_is_gone():
    """Five minutes into the wipe it began 5 min ago; what came before is not planned."""
    b = Bench(recipe(each=(WIPE, PULL, LIFT)), wanted=1)
    b.clock.advance(5 * MIN * 1000)
    plan = planned(b)
    wipe = next(x for x in plan.items if x.do == "Wipe")
    assert (wipe.start, wipe.seconds, wipe.settled) == (-300, 600, True)
    b.work("Wipe", 5)
    assert not [x for x in planned(b).items if x.do == "Wipe" and x.name[1].impression == 1]


def test_a_step_that_is_to_be_skipped_is_planned_no_more():
    """Said of the wiping of the next sheet: its time and its limits are out of the plan."""
    b = Bench(recipe(each=(WIPE, PULL, LIFT), extra="proofing: {for: TP}\n"), wanted=3)
    b.until("Lift")
    whole = planned(b)
    b.say(a.SkipStep("dry proof", b.key("Wipe", 2)))
    shorter = planned(b)
    names = [x.name[1] for x in shorter.items]
    assert b.key("Wipe", 2) not in names
    assert b.key("Wipe", 3) in names
    assert b.key("Pull", 2) in names
    assert shorter.end <= whole.end - 10 * 60
    assert shorter.broken == whole.broken == ()


def test_a_step_that_runs_over_is_over_now_at_the_earliest():
    """Twenty minutes into a wipe of ten: it is planned to end now, the day later by ten."""
    b = Bench(recipe(each=(WIPE, PULL, LIFT)), wanted=1)
    before = planned(b)
    b.clock.advance(20 * MIN * 1000)
    after = planned(b, before, 20 * MIN)
    assert next(x for x in after.items if x.do == "Wipe").end == 0
    assert after.end + 20 * MIN == before.end + 10 * MIN


def test_a_pack_damped_the_evening_before_is_printed_on():
    """Nothing new goes in where enough lies ready."""
    b = Bench(DAY, wanted=2)
    b.say(a.DampPack(4))
    b.advance(31)
    b.say(a.SheetsOut(None))
    plan = planned(b)
    assert not [x for x in plan.items if x.name[1].step in (DAMP_IN, DAMP_OUT)]
    assert [p.sheets for p in plan.packs] == [4]
    assert plan.packs[0].ready == 15 * MIN


def test_a_helper_in_the_room_washes_nobody():
    """The clean steps are the helper's."""
    b = Bench(recipe(), wanted=1)
    b.say(a.Helper(joins=True, name="Piers"))
    plan = planned(b)
    assert not [x for x in plan.items if x.name[1].step == WASH]
    assert {x.who for x in plan.items if x.hands == "clean"} == {"helper"}


def test_a_break_that_is_on_is_waited_out():
    """Ten minutes into lunch with nothing in hand: the next step is in 35."""
    plan = plan_day(DayInputs(worked(1).jobs, (Break(-600, 45 * MIN),)))
    assert plan.next is not None
    assert plan.next.start == 35 * MIN


def any_day(seed: int, treads: int) -> None:
    """A day as a careless printer may have it: a plan of what is left at any moment."""
    dice = Dice(seed)
    b = Bench(DAYS[seed % len(DAYS)], wanted=(None, 2, 4)[seed % 3])
    plan = None
    for _ in range(treads):
        b.advance(dice.below(15))
        choice = dice.below(8)
        actions = (a.GoOn(), a.GoOn(), a.GoOn(), a.GoOn(), a.Pause(), a.TakeBack(),
                   a.Helper(joins=True, name="Piers"), a.Judge("spoiled", None))
        if isinstance(b.do(actions[choice]).refusal, Refusal):
            b.do(a.Must(1))
        if b.s.closed is not None:
            return
        day = day_of_room(b.room, b.t)
        plan = plan_day(day, before=plan, tries=2)
        assert plan.end >= 0
        over = set(day.jobs[0].over)
        assert not [x for x in plan.items if x.name[1] in over and x.name[1].step != WASH]
        running = day.jobs[0].running
        for x in plan.items:
            if x.name[1] in running:
                assert (x.start, x.seconds) == running[x.name[1]]


@pytest.mark.parametrize("seed", range(8))
def test_there_is_a_plan_at_any_moment(seed):
    """Whatever was done: a plan, in which what is over is gone and what runs has not moved."""
    any_day(seed, 20)


@pytest.mark.full
def test_there_is_a_plan_at_any_of_many_moments():
    """Two hundred such days."""
    for seed in range(200):
        any_day(seed, 40)


# -- chances -----------------------------------------------------------------------------


def test_fewer_are_cleaned_up_round_lunch():
    """Of the worked day's eleven the first so many end as planned alone, but for an inking.

    Five with the clean-up end before lunch at minute 202; of six the clean-up waits for it.
    """
    found = sure_of(plan_day(worked(11)), CERTAIN, replays=2).by_count
    assert found[5] == [202 * MIN] * 2
    for n, times in found.items():
        assert 0 <= times[0] - plan_day(worked(n)).end <= 10 * MIN


def test_each_number_has_the_chance_of_its_own_plan():
    """Five by 13:00 are as likely as their plan says, whatever a plan of six does before lunch."""
    until = 210 * MIN
    found = chances_of(worked(0), until, fit_impressions(worked(0), until), Pace())
    assert found[5] == sure_of(plan_day(worked(5)), Pace()).chance(until)
    assert found[4] == sure_of(plan_day(worked(4)), Pace()).chance(until) > found[5] > found[6]


def test_the_first_line_is_the_plain_one():
    """Ten fit on the worked day, an eleventh would end at 17:19."""
    fit = fit_impressions(worked(0), 450 * MIN)
    found = chances_of(worked(0), 450 * MIN, fit, CERTAIN)
    assert found[10] == 1.0
    assert found[11] == 0.0
    assert plan_headline(fit, found,
                         lambda s: f"{9 + (s + 1800) // 3600}:{(s + 1800) % 3600 // 60:02}"
                         ) == "Count on 10. An 11th would end at 17:19."


@pytest.mark.parametrize(("chances", "said"), [
    ({9: 0.97, 10: 0.92}, "Count on 10. "),
    ({7: 0.93, 8: 0.8, 9: 0.7, 10: 0.5}, "Count on 7; 10 is about an even chance. "),
    ({9: 0.9, 10: 0.62}, "Count on 9; 10 is more likely than not. "),
    ({9: 0.9, 10: 0.8}, "Count on 9; 10 is likely. "),
    ({8: 0.9, 9: 0.6, 10: 0.3}, "Count on 8; 9 is more likely than not. "),
    ({1: 0.6, 10: 0.1}, "Count on none; 1 is more likely than not. "),
    ({10: 0.95, 11: 0.9, 12: 0.5}, "Count on 10. "),
])
def test_a_number_to_count_on_and_one_to_hope_for(chances, said):
    """Nine days of ten, and about even; never more than fit by the plan."""
    fit = Fit(10, plan_day(worked(1)), plan_day(worked(1)))
    assert plan_headline(fit, chances, clock) == f"{said}An 11th would end at 10:44."


@pytest.mark.parametrize(("pulls", "said"), [
    (6, "Count on 6: 6 are left."), (10, "Count on 8; 10 is about an even chance: 10 are left."),
    (0, "Count on none: 0 are left."),
    (11, "Count on 8; 10 is about an even chance. An 11th would end at 10:44."),
])
def test_no_more_is_promised_than_there_can_be(pulls, said):
    """What is left of the edition or the plate bounds both numbers, and is the reason said."""
    fit = Fit(10, plan_day(worked(1)), plan_day(worked(1)))
    chances = {6: 1.0, 8: 0.9, 10: 0.5}
    assert plan_headline(fit, chances, clock, Most(pulls, f"{pulls} are left")) == said


def test_pulls_are_counted_over_the_whole_day():
    """Five hours and a quarter hold eight pulls; so they do after each that takes its usual time.

    What is done counts among them, and every number from there on has its chance.
    """
    b = Bench(WORKED + "proofing: {for: TP}\n")
    until, begun, seen = b.t + 315 * MIN * 1000, b.t, set[int]()
    while b.t - begun < 130 * MIN * 1000:
        day, left = day_of_room(b.room, b.t), (until - b.t) // 1000
        if day.jobs[0].done not in seen:
            seen.add(day.jobs[0].done)
            fit = fit_impressions(day, left, tries=2)
            found = chances_of(day, left, fit, CERTAIN, tries=2)
            assert (fit.fits, found[8], found[9]) == (8, 1.0, 0.0)
            assert min(found) == max(1, day.jobs[0].done)
            assert plan_headline(fit, found, clock).startswith("Count on 8. A 9th would end at ")
        if b.s.hand is None:
            b.advance(1)
            continue
        usual = b.s.shape.by_id[b.s.hand.step].time
        b.clock.advance(0 if usual is None else usual.usual.ms)
        b.shop.tick()
        b.say(a.GoOn())
    assert seen >= {0, 1, 2}


def test_where_not_even_what_is_begun_fits_the_pulls_done_are_said():
    """One pull is over, the second inked: ten minutes hold no more than the one."""
    sh = worked(1).jobs[0].shape
    job = Job("", sh, 0, begun=(2,), next=3, over={TaskKey("each.1", 2): -60}, done=1)
    day = DayInputs((job,), inky=True)
    fit = fit_impressions(day, 10 * MIN)
    found = chances_of(day, 10 * MIN, fit, CERTAIN)
    assert (fit.fits, fit.plan, found[1], found[2]) == (1, None, 0.0, 0.0)
    assert plan_headline(fit, found, clock).startswith("Count on 1. A 2nd would end at ")


def clock(seconds: int) -> str:
    """The time of a day that begins at 09:30."""
    return f"{9 + (seconds + 1800) // 3600:02}:{(seconds + 1800) % 3600 // 60:02}"


def test_the_figures_of_the_worked_day():
    """As plain values: what fits, when it ends, what holds it up, and nothing broken."""
    fit = fit_impressions(worked(0), 450 * MIN)
    assert fit.plan is not None
    told = json_values(plan_report(PlannedDay(
        "The Worked Day", "nobody", "2026-05-03", "2026-05-03", worked(0), fit.plan, clock, clock,
        clock, None, fit, None, None, {10: 0.54, 11: 0.21}, (0, 60), "nothing")))
    assert {k: told[k] for k in ("fits", "finish", "minutes_each", "bottleneck", "packs",
                                 "chances", "broken")} == {
        "fits": 10, "finish": "16:47", "minutes_each": 32.0, "bottleneck": "plate", "packs": [],
        "chances": {"10": 0.55, "11": 0.2}, "broken": []}
    assert told["loads"] == {"hands": 31.0, "plate": 32.0, "press": 4.0, "hot plate": 3.0}
    assert [x["from"] for x in told["steps"] if x["kind"] == "break"] == ["13:00"]
    assert would_end(fit.fits + 1, fit.one_more, clock) == "an 11th would end at 17:19"


def test_a_pack_is_announced_in_time():
    """Soaked 30, rested 15, 3 min each in and out: in by 51 min before its first pull."""
    plan = plan_day(day_of_recipe(Bench(DAY).s.recipe, 2))
    pull = next(x.start for x in plan.items if x.do == "Pull")
    by = in_by(plan)
    assert by is not None
    assert pull - by >= 51 * MIN
    assert plan_warnings(plan, clock) == (f"The first pack must go in by {clock(by)}",)
    assert [words for _, words in pack_alarms(plan)] == [
        "Pack 1 in: 2 sheets (what the day still needs)", "Pack 1 out", "Pack 1 ready"]


def test_a_sheet_that_will_be_too_old_is_said():
    """A pack that keeps ten minutes more, and nothing else is damped: the pull is too late."""
    shape_of = Bench(DAY).s.shape
    old = DampedPack("p", str(shape_of.paper_name), 1, ready=0, old=10 * MIN)
    day = DayInputs((Job("", shape_of, 1, enough=True),), packs=(old,))
    # Screws 15, wipe 10, wash 1.5: the pull begins 16.5 min after the pack is too old.
    assert plan_warnings(plan_day(day), clock) == (
        "Sheet 1 would be 17 min too old: put it in a later pack",)


def test_a_sheet_that_would_be_too_old_is_put_in_a_second_pack():
    """The same pack where more may be damped: the pull waits for a new one."""
    shape_of = Bench(DAY).s.shape
    old = DampedPack("p", str(shape_of.paper_name), 1, ready=0, old=10 * MIN)
    plan = plan_day(DayInputs((Job("", shape_of, 1),), packs=(old,)))
    assert [(p.id, p.ordinals) for p in plan.packs] == [("p", ()), (".1", (1,))]
    assert plan.broken == ()


def test_lunch_can_be_moved():
    """Five minutes later: eleven."""
    day = worked(0)
    later = replace(day, breaks=tuple(replace(b, at=b.at + 5 * MIN) for b in day.breaks))
    assert fit_impressions(later, 450 * MIN).fits == 11


@pytest.mark.parametrize(("n", "said"), [
    (1, "a 1st"), (2, "a 2nd"), (3, "a 3rd"), (8, "an 8th"), (11, "an 11th"), (12, "a 12th"),
    (18, "an 18th"), (21, "a 21st"), (80, "an 80th"), (111, "a 111th"), (113, "a 113th")])
def test_one_more_is_named(n, said):
    """As it is said."""
    assert ordinal_with_article(n) == said


def test_chances_have_words():
    """From hardly to as good as sure."""
    assert [chance_word(x) for x in (0.0, 0.3, 0.5, 0.6, 0.8, 1.0)] == [
        "hardly to be had", "unlikely", "even", "more likely than not", "likely",
        "as good as sure"]


def test_only_times_that_were_taken_teach():
    """A wipe of 12 min teaches; one ended after 10 s and one asked about do not."""
    b = Bench(recipe(each=(WIPE, PULL, LIFT)), wanted=None)
    b.work("Wipe", 12)
    for _ in range(3):
        b.clock.advance(4 * MIN * 1000)
        b.tread()
    assert b.hand == "Wipe"
    b.clock.advance(10_000)
    b.tread()
    found = timed_steps(b.room, b.s)
    assert [(r.actual, r.nominal) for r in found if r.step == "Wipe"] == [(720, 600)]
    assert {r.step for r in found} == {"Wipe", "Wash and dry hands", "Pull", "Lift"}


def test_learnt_times_are_planned_with():
    """A wipe that takes half as long again each time is planned longer; waits are not."""
    pace = learn_pace([TimedStep("Ink", 900, 600, day) for day in range(5) for _ in range(8)])
    base = worked(1)
    plan = plan_day(DayInputs(base.jobs, times=times_by(pace)))
    ink = next(x for x in plan.items if x.do == "Ink")
    assert 840 <= ink.seconds <= 900
    assert next(x for x in plan.items if x.do == "Warm").seconds == 180
    assert from_days(pace) == "from 5 days of this print"
    assert from_days(Pace()) == (
        "from the recipe's times and common practice: no day of this print yet")


def test_two_warm_ups_are_pulled_beside_what_is_wanted():
    """Ten counting ones need twelve pulls in an edition session, ten in a proofing one."""
    assert pulls_for(Bench(recipe()).s.recipe, 10) == 12
    assert pulls_for(Bench(DAY).s.recipe, 10) == 10


QUICK = """\
recipe: 1
print: {title: Stamp, artist: Idony Threlwick}
plates: [{name: key, metal: copper, size: 40 x 40 mm}]
each:
  - {do: Ink, hands: inky, time: 1 min}
  - {do: Pull, hands: clean, pulls: key}
  - {do: Lift, hands: clean, asks: [verdict]}
"""


def test_a_day_of_very_many_is_planned_a_bounded_number_of_times(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Some 170 fit: the count is found, and its chances, in few plans; none says too much."""
    made: list[int] = []
    real = what_if.plan_day

    def counted(day: DayInputs, **about: Any) -> DayPlan:
        made.append(day.jobs[0].more)
        return real(day, **about)

    monkeypatch.setattr(what_if, "plan_day", counted)
    day, until = day_of_recipe(read_recipe(QUICK), 1), 8 * 60 * MIN
    fit = fit_impressions(day, until)
    assert fit.fits > 150
    assert fit.plan is not None
    assert fit.plan.end <= until < fit.one_more.end
    assert len(made) <= 12
    found = chances_of(day, until, fit, Pace())
    assert len(made) <= 36
    assert list(found) == list(range(1, fit.fits + 3))
    said = list(found.values())
    assert said == sorted(said, reverse=True)
    for n in (fit.fits - 1, fit.fits - 7):  # one that was passed over: no more than by itself
        own = sure_of(real(what_if.with_more(day, n)), Pace()).chance(until)
        assert found[n] <= own + 1e-9
