"""Chances: what readings say of today, and replays of a plan's order."""

from __future__ import annotations

from math import exp, isclose, log

import pytest

from benchapp.planning.chances import (
    end_interval,
    falling_chances,
    gaussian_column,
    in_fives,
    parts_of,
    replay_plan,
)
from benchapp.planning.pace import (
    Pace,
    TimedStep,
    invert_matrix,
    is_plausible_time,
    learn_pace,
    lower_root,
    pace_given_spreads,
)
from benchapp.planning.schedule import Activity, Arc, Project, StartLimit
from benchapp.planning.schedule_search import solve_schedule
from benchapp.reckon.dice import Dice
from tests.planning.paces import CERTAIN

HANDS = ((0, 1),)


def test_one_reading_is_shared_out_by_the_spreads():
    """ln 1.5 of one step today, of variances .0525 its own, .01 the printer's, .01 the day's.

    With .04 for the rest .1125 in all; to the step its part, to all steps the printer's and the
    day's together.
    """
    pace = pace_given_spreads([TimedStep("wipe", 150, 100)], 0.10, 0.20)
    whole = log(1.5)
    assert isclose(pace.mean[0], whole * 0.0525 / 0.1125)
    assert isclose(pace.mean[1], whole * 0.02 / 0.1125)
    assert isclose(pace.expected("ink"), exp(pace.mean[1]))


def test_a_slow_day_is_not_taken_for_a_slow_hand():
    """Ten slow steps of one past day teach the habit less than ten of ten days."""
    one_day = pace_given_spreads([TimedStep("wipe", 130, 100, day=0)] * 10, 0.10, 0.20)
    ten_days = pace_given_spreads([TimedStep("wipe", 130, 100, day=d) for d in range(10)], 0.10,
                                  0.20)
    assert one_day.mean[0] < ten_days.mean[0] < log(1.3)
    assert isclose(one_day.mean[0], log(1.3) * 0.0525 / (0.0625 + 0.01 + 0.004))


def test_who_is_slow_in_everything_is_slow_and_not_on_a_slow_day():
    """Seven steps a third slower on three days: so they are on the fourth, and others with them.

    One such step alone says less of the others.
    """
    seen = [TimedStep(f"step {k}", 135, 100, day) for k in range(7) for day in range(3)
            for _ in range(6)]
    alone = learn_pace([r for r in seen if r.step == "step 0"]).expected("another")
    assert 1.27 < learn_pace(seen).expected("step 0") < 1.35
    assert 1 < alone < alone + 0.05 < learn_pace(seen).expected("another") < 1.27


def test_spreads_are_learnt_from_many_readings():
    """Steps that always take their time make the rest small; a wild printer makes it large."""
    still = learn_pace([TimedStep("ink", 100, 100, day=d) for d in range(10) for _ in range(10)])
    wild = learn_pace([TimedStep("ink", 100 * exp(0.5 * (-1) ** i), 100, day=d)
                       for d in range(10) for i in range(10)])
    assert still.rest_sd < 0.08
    assert 0.4 < wild.rest_sd < 0.6
    assert (wild.days, wild.readings) == (10, 100)


def test_nothing_known_is_the_prior():
    """Without readings the usual times stand, and the day may be a tenth slower or quicker."""
    pace = learn_pace([])
    assert pace == Pace()
    assert pace.expected("ink") == 1.0


def test_a_matrix_is_turned_round_and_rooted():
    """The inverse of the inverse, and the square of the root, are the matrix itself."""
    matrix = [[4.0, 1.0, 0.5], [1.0, 3.0, 0.2], [0.5, 0.2, 2.0]]
    twice, low = invert_matrix(invert_matrix(matrix)), lower_root(matrix)
    for i in range(3):
        for j in range(3):
            assert isclose(twice[i][j], matrix[i][j])
            assert isclose(sum(low[i][k] * low[j][k] for k in range(3)), matrix[i][j])


@pytest.mark.parametrize(("actual", "right"), [
    (0, False), (95, False), (96, True), (1260, True), (1261, False)])
def test_a_missed_tread_teaches_nothing(actual, right):
    """Low 8 min and high 16: under a fifth of the low, or 5 min over the high, is not a time."""
    assert is_plausible_time(actual, 480, 960) is right


def day() -> Project:
    """Three impressions round a break, with a limit that holds the third back."""
    acts = [Activity(50, HANDS, at=95, ends_day=False)]
    arcs, limits = [], []
    for k in range(3):
        i = len(acts)
        acts += [Activity(20, HANDS), Activity(5), Activity(10, HANDS)]
        arcs += [Arc(i, i + 1, 20), Arc(i + 1, i + 2, 5)]
        limits.append(StartLimit(i, i + 2, 20 + 8))
        if k:
            arcs.append(Arc(i - 1, i, 10))
    return Project(tuple(acts), (1,), tuple(arcs), tuple(limits))


def replayed(pace: Pace, count: int = 200, seed: int = 1) -> list[int]:
    """When that day is over, in each replay."""
    project = day()
    answer = solve_schedule(project)
    n = len(project.activities)
    steps = [None if a.at is not None else f"step {(i - 1) % 3}"
             for i, a in enumerate(project.activities)]
    parts, line = parts_of(project, answer.schedule.starts, steps, [f"{i}" for i in range(n)])
    out = replay_plan(parts, line, pace, replays=count, seed=seed)
    assert answer.schedule.end == 180
    return out.latest(range(1, n))


def test_without_variation_the_plan_comes_out():
    """Every replay ends when the plan does."""
    assert replayed(CERTAIN, 5) == [180] * 5


def test_with_variation_replays_differ_and_are_the_same_every_time():
    """The seed fixes them."""
    assert replayed(Pace()) == replayed(Pace())
    assert replayed(Pace()) != replayed(Pace(), seed=2)
    low, high = end_interval(replayed(Pace()))
    assert low < 180 < high


def test_what_has_run_its_usual_time_is_not_over_now():
    """Ten minutes of ten gone by: the half that is left of a Gaussian has its middle at .6745.

    With a spread of .2 that is 87 s more (600 · (e^.1349 - 1); normal tables); without, none.
    """
    act = (Activity(600, HANDS, at=-600),)
    parts, line = parts_of(Project(act, (1,)), (-600,), ["wipe"], ["wipe 1"])
    one = Pace(root=((0.0,),), offset_sd=0.0)
    ends = sorted(replay_plan(parts, line, one, replays=400).latest([0]))
    assert ends[0] >= 0
    assert 85 <= (ends[199] + ends[200]) / 2 <= 89
    assert set(replay_plan(parts, line, CERTAIN, replays=4).latest([0])) == {0}


def test_a_stream_is_spread_evenly():
    """Half of its numbers below nothing, the middle 80 % within 1.28 of it (normal tables)."""
    numbers = gaussian_column("wipe 3", 400, 7)
    assert sum(z < 0 for z in numbers) == 200
    assert sum(abs(z) < 1.2816 for z in numbers) == 320
    assert numbers != gaussian_column("wipe 4", 400, 7)


@pytest.mark.parametrize(("part", "said"), [(0.0, 0), (0.024, 0), (0.026, 5), (0.5, 50),
                                            (0.874, 85), (0.876, 90), (1.0, 100)])
def test_chances_are_said_in_fives(part, said):
    """To the nearest 5 %."""
    assert in_fives(part) == said


def test_a_larger_count_is_never_likelier():
    """Where a plan of more happens to end sooner, fewer are as likely: they are among them."""
    assert falling_chances({1: [30, 30], 2: [10, 30], 3: [10, 10], 4: [10, 30]}, 20) == {
        1: 1.0, 2: 1.0, 3: 1.0, 4: 0.5}


def test_the_dice_are_those_published():
    """SplitMix64 from 1234567: the first numbers as its authors' code gives them."""
    dice = Dice(1234567)
    assert [dice.word() for _ in range(3)] == [
        6457827717110365317, 3203168211198807973, 9817491932198370423]


def test_shares_and_whole_numbers_stay_within():
    """Never 0 nor 1, never the number itself."""
    dice = Dice(3)
    assert all(0 < dice.share() < 1 for _ in range(1000))
    assert {dice.below(3) for _ in range(1000)} == {0, 1, 2}
