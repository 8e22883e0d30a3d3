"""The plan of a day: its order, its paper, its wash, its breaks, and what it says."""

from __future__ import annotations

import itertools

import pytest

from benchapp.planning.build import plan_day
from benchapp.planning.day import Break, DampedPack, DayInputs, DayPlan, Job, Planned, TakenPlace
from benchapp.planning.what_if import fit_impressions, with_helper, with_pack
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, WASH
from benchapp.session.state import TaskKey
from tests.planning.plans import MIN, faults_of, lunch, shape, worked
from tests.session.support import INK, LIFT, PULL, SCREWS, SOAK, TWO, WARM, WIPE, recipe


def plan_of(text: str, pulls: int, **day: object) -> DayPlan:
    """The plan of a day to come."""
    return plan_day(DayInputs((Job("", shape(text), pulls),), **day))  # type: ignore[arg-type]


def line(plan: DayPlan, do: str, impression: int | None = None) -> Planned:
    """The line with these words."""
    return next(x for x in plan.items if x.do == do and impression in (None, x.name[1].impression))


def test_a_wash_stands_before_clean_work_after_inky_work():
    """Ink 5, wash 1.5, pull 4, lift 3: one wash an impression, right before the pull."""
    plan = plan_of(recipe(each=(INK, PULL, LIFT)), 2)
    washes = [(x.start, x.end) for x in plan.items if x.name[1].step == WASH]
    assert washes == [(300, 390), (1110, 1200)]
    assert plan.end == 2 * 810


def test_a_helper_takes_the_clean_steps_and_nobody_washes():
    """With a helper in, ink 5, pull 4 and lift 3 take 12 min, and no wash is planned."""
    plan = plan_day(with_helper(DayInputs((Job("", shape(recipe(each=(INK, PULL, LIFT))), 1),))))
    assert plan.end == 12 * MIN
    assert [x.who for x in plan.items] == ["printer", "helper", "helper"]


def test_two_plates_are_inked_one_after_the_other_and_wiped_as_one():
    """The pulls of an impression follow one another, and a plate waits for its release."""
    day = DayInputs((Job("", shape(TWO), 3),))
    plan = plan_day(day)
    assert faults_of(day, plan) == []
    assert line(plan, "Pull key", 2).start >= line(plan, "Pull tone", 2).end


def test_the_first_pack_goes_in_before_the_work_before_printing():
    """It soaks while the screws are set, and the first pull waits for its rest."""
    plan = plan_of(recipe(before=[SCREWS], damp=SOAK), 3)
    (pack,) = plan.packs
    assert pack.into == 0
    assert pack.sheets == 3
    assert pack.out is not None
    assert pack.out >= 3 * MIN + 30 * MIN
    assert pack.ready == pack.out + 15 * MIN
    assert line(plan, "Screws").start == 3 * MIN
    assert line(plan, "Pull", 1).start >= pack.ready


def test_the_first_pack_goes_in_before_a_long_set_up_too():
    """Paper that is damp in minutes is not put off, though it would be ready in time."""
    text = recipe(before=["{do: Set-up, hands: clean, time: 2 h}"], each=(INK, PULL, LIFT),
                  damp="{method: soak, soak: 2 min, rest: 0 min, handling: 1 min}")
    plan = plan_of(text, 1)
    assert plan.packs[0].into == 0
    assert line(plan, "Set-up").start >= 1 * MIN


def test_a_later_pack_is_ready_in_time_and_not_hours_before():
    """Packs of four: the second is ready for the fifth pull, and goes in an hour or so before."""
    plan = plan_of(recipe(each=(INK, WIPE, PULL, LIFT), damp=SOAK), 8)
    second = plan.packs[1]
    fifth = line(plan, "Pull", 5).start
    assert (second.sheets, second.ordinals) == (4, (5, 6, 7, 8))
    assert second.ready <= fifth
    assert second.into is not None
    assert fifth - second.into <= 2 * 60 * MIN


def test_a_pack_that_is_there_is_used_first():
    """Two sheets lie ready: a new pack is only for the third pull."""
    sh = shape(recipe(damp=SOAK))
    pack = DampedPack("p", str(sh.paper_name), 2)
    plan = plan_day(DayInputs((Job("", sh, 3),), packs=(pack,)))
    assert [(p.id, p.ordinals, p.into is None) for p in plan.packs] == [
        ("p", (1, 2), True), (".1", (3,), False)]
    assert line(plan, "Pull", 1).start < plan.packs[1].ready


def test_a_pack_in_the_water_comes_out_when_its_soak_is_over():
    """Not before; and its sheets rest before they are printed on."""
    sh = shape(recipe(damp=SOAK))
    pack = DampedPack("p", str(sh.paper_name), 2, soaked=20 * MIN, rest=15 * MIN)
    plan = plan_day(DayInputs((Job("", sh, 1),), packs=(pack,)))
    out = next(x for x in plan.items if x.name[1].step == DAMP_OUT)
    assert out.start >= 20 * MIN
    assert line(plan, "Pull").start >= out.end + 15 * MIN
    assert not [x for x in plan.items if x.name[1].step == DAMP_IN]


def test_no_hands_step_is_cut_by_a_break_and_a_wait_runs_through_it():
    """Wipe 10 does not begin 5 minutes before lunch; the plate may be warm when it is over."""
    day = DayInputs((Job("", shape(recipe(each=(INK, WARM, WIPE, PULL, LIFT))), 1),),
                    breaks=(lunch(10, 10),))
    plan = plan_day(day)
    assert faults_of(day, plan) == []
    assert line(plan, "Warm").start < 20 * MIN
    assert line(plan, "Wipe").start == 20 * MIN
    assert plan.broken == ()


@pytest.mark.parametrize(("places", "begins"), [("", [0, 1200]), ("{hot plate: 2}", [0, 0])])
def test_a_place_for_two_is_used_by_two(places, begins):
    """Two plates to warm for 20 min: side by side where the recipe says so, else in turn."""
    each = ("{do: Warm tone, hands: free, at: hot plate, time: 20 min, plate: tone}",
            "{do: Warm key, hands: free, at: hot plate, time: 20 min, plate: key}",
            "{do: Ink tone, hands: inky, plate: tone, time: 5 min}",
            "{do: Ink key, hands: inky, plate: key, time: 5 min}",
            "{do: Pull both, hands: clean, at: press, pulls: [tone, key], time: 4 min}", LIFT)
    extra = f"places: {places}\n" if places else ""
    plan = plan_of(recipe(each=each, plates=("tone", "key"), extra=extra), 1)
    assert sorted(x.start for x in plan.items if x.at == "hot plate") == begins


def test_two_breaks_that_overlap_are_one():
    """An appointment inside lunch makes it no longer; one at its end does."""
    plan = plan_of(recipe(), 1, breaks=(Break(0, 600), Break(300, 600)))
    assert [(x.start, x.end) for x in plan.items if x.name[1].step == "break"] == [(0, 900)]


def test_a_place_taken_by_others_is_waited_for():
    """The press is taken for an hour from minute 5: the pull comes after, the inking late enough.
    """
    plan = plan_of(recipe(), 1, taken=(TakenPlace("press", 5 * MIN, 60 * MIN),))
    assert line(plan, "Pull").start >= 65 * MIN
    assert line(plan, "Pull").start - line(plan, "Ink").end <= 15 * MIN
    assert plan.broken == ()


def test_a_limit_nothing_can_keep_is_named_with_the_steps_behind_it():
    """A pull within 1 min of the inking, and a wash of 1.5 before it: there is a plan still."""
    plan = plan_of(recipe(each=(INK, PULL.replace("pulls", "within: 1 min, pulls"), LIFT)), 1)
    assert plan.contradictions == (
        "Pull: the recipe says within 1 min; Ink → Pull take 30 s more",)
    assert [b.by for b in plan.broken] == [30]
    assert plan.end == 810


def test_steps_without_a_time_are_named():
    """A step nobody knows the length of is planned as none, and said."""
    plan = plan_of(recipe(each=("{do: Ink, hands: inky}", PULL, LIFT)), 1)
    assert plan.unknown == ("Ink",)


def test_several_sessions_share_hands_and_press():
    """Two sessions on one printer take as long as their work together."""
    sh = shape(recipe(extra="wash: 0 min\n"))
    plan = plan_day(DayInputs((Job("a", sh, 2), Job("b", sh, 2))))
    assert plan.end == 4 * 12 * MIN
    hands = sorted((x.start, x.end) for x in plan.items if x.hands != "free")
    assert all(a[1] <= b[0] for a, b in itertools.pairwise(hands))


def test_what_runs_and_what_is_over_stay_where_they_are():
    """Inked 3 min ago and wiping for 4: the pull comes when the wiping is over, in 6."""
    sh = shape(recipe(each=(INK, WIPE, PULL, LIFT)))
    ink, wipe = ("each.1", "each.2")
    job = Job("", sh, 1, begun=(1,), next=2, over={TaskKey(ink, 1): -240},
              running={TaskKey(wipe, 1): (-240, 600)})
    plan = plan_day(DayInputs((job,), inky=True))
    assert line(plan, "Wipe", 1).start == -240
    assert line(plan, "Pull", 1).start == 6 * MIN + 90
    assert not [x for x in plan.items if x.do == "Ink" and x.name[1].impression == 1]


def test_lunch_not_begun_moves_behind_the_step_in_hand():
    """Lunch is due in 2 min, the wiping takes 6 more: lunch is then."""
    sh = shape(recipe(each=(INK, WIPE, PULL, LIFT)))
    job = Job("", sh, 0, begun=(1,), next=2, over={TaskKey("each.1", 1): -240},
              running={TaskKey("each.2", 1): (-240, 600)})
    plan = plan_day(DayInputs((job,), breaks=(Break(120, 1800),), inky=True))
    assert next(x for x in plan.items if x.name[1].step == "break").start == 360


def test_smaller_packs_are_more_packs():
    """Packs of two for five pulls: three of them, as no sheet is damped alone."""
    day = DayInputs((Job("", shape(recipe(damp=SOAK)), 5),))
    assert [p.sheets for p in plan_day(with_pack(day, 2)).packs] == [2, 2, 2]


def test_a_reworked_plate_is_not_inked_for_the_next_before_it_is_done():
    """A step after the lift that names the plate holds it."""
    rework = "{do: Rework, hands: inky, plate: key, time: 40 min}"
    plan = plan_of(recipe(each=(INK, PULL, LIFT, rework)), 2)
    assert line(plan, "Ink", 2).start >= line(plan, "Rework", 1).end


def test_nothing_fits_into_no_time():
    """A window shorter than one impression: none, and when one would end."""
    found = fit_impressions(worked(0), 30 * MIN)
    assert (found.fits, found.plan) == (0, None)
    assert found.one_more.end == 74 * MIN
