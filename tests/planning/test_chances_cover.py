"""How often the 80 % interval holds the true end, on simulated printers.

A printer has habits step by step, better and worse days, and chance, with the spreads the model
takes for granted; the history is some days of six impressions. Others are slower than the recipe
in everything, or have days that differ twice as much. The heavy counts say the figures.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log
from statistics import NormalDist

import pytest

from benchapp.planning.build import plan_day
from benchapp.planning.certainty import sure_of, times_by
from benchapp.planning.chances import ReplayedActivity, parts_of, replay_plan
from benchapp.planning.day import Break, DayInputs, DayPlan, Job
from benchapp.planning.pace import TimedStep, learn_pace
from benchapp.reckon.dice import Dice
from benchapp.session.state import TaskKey
from tests.planning.paces import CERTAIN
from tests.planning.plans import worked

GAUSS = NormalDist()
PULLS = 10
#: The worked day's steps that hands do, with their usual seconds.
STEPS = {"Set-up": 1200, "Ink": 600, "Wipe": 720, "Pull": 240, "Lift": 180, "Tissue": 120,
         "Clean up": 1200}
ONCE = ("Set-up", "Clean up")
REST = 0.20


@dataclass(frozen=True)
class Kind:
    """What kind of printer is simulated.

    Attributes:
        history: Days printed before.
        uneven: How much the days differ (standard deviation of the logarithm).
        slower: How many times the recipe's all steps take in the middle.
        three_hours: Whether three hours of today are over when the interval is asked for.
    """

    history: int
    uneven: float = 0.10
    slower: float = 1.0
    three_hours: bool = False


class Printer:
    """One simulated printer: the days printed before, and how long everything takes today."""

    def __init__(self, kind: Kind, n: int, pulls: int = PULLS) -> None:
        dice = Dice(1000 * n + kind.history)

        def normal(sd: float) -> float:
            return sd * GAUSS.inv_cdf(dice.share())

        habit = {s: log(kind.slower) + normal(0.25) for s in STEPS}
        self.past: list[TimedStep] = []
        for day in range(kind.history):
            pace = normal(kind.uneven)
            self.past += [
                TimedStep(s, t * exp(habit[s] + pace + normal(REST)), t, day)
                for k in range(6) for s, t in STEPS.items() if not (k and s in ONCE)]
        self.day = worked(pulls)
        recipe = self.day.jobs[0].shape.recipe

        def one_day() -> dict[TaskKey, int]:
            pace = normal(kind.uneven)
            return {
                TaskKey(s.id, k): max(1, round(STEPS[s.do] * exp(
                    habit[s.do] + pace + normal(REST))))
                for s in (*recipe.before, *recipe.each, *recipe.after) if s.do in STEPS
                for k in (range(1, pulls + 1) if s.section == "each" else (None,))}

        self.takes = one_day()
        #: Another day of the same printer, each time it is asked for.
        self.another_day = one_day

    def lived(self, plan: DayPlan) -> list[tuple[int, int]]:
        """When everything in a plan really begins and is over, its order kept."""
        made = plan.made
        parts, line = parts_of(made.project, made.starts, [None] * len(made.lines),
                               [""] * len(made.lines))
        true = [ReplayedActivity(self.takes.get(x.name[1], p.seconds), None, "", p.not_before,
                                 p.after)
                for p, x in zip(parts, made.lines, strict=True)]
        ends = [x[0] for x in replay_plan(true, line, CERTAIN, replays=1).ends]
        return [(e - p.seconds, e) for e, p in zip(ends, true, strict=True)]

    def end(self, plan: DayPlan) -> int:
        """When the day is really over."""
        return max(end for (_, end), act in zip(
            self.lived(plan), plan.made.project.activities, strict=True) if act.ends_day)

    def after(self, plan: DayPlan, t: int) -> tuple[DayPlan, list[TimedStep]]:
        """What is left of the day after so many seconds, planned again; with what is known."""
        rows = [(x, *times) for x, times in zip(plan.made.lines, self.lived(plan), strict=True)
                if x.name[1] in self.takes or x.do == "Warm"]
        over = {x.name[1]: end - t for x, _, end in rows if end <= t}
        known = self.past + [TimedStep(x.do, end - start, STEPS[x.do]) for x, start, end in rows
                             if end <= t and x.do in STEPS]
        times = times_by(learn_pace(known))
        shape = self.day.jobs[0].shape
        running = {x.name[1]: (start - t, max(times(shape, shape.by_id[x.name[1].step]), t - start))
                   for x, start, end in rows if start < t < end}
        begun = sorted({x.name[1].impression or 0 for x, start, _ in rows if start < t} - {0})
        left = tuple(k for k in begun
                     if any(TaskKey(s.id, k) not in over for s in shape.recipe.each))
        after = max(begun, default=0) + 1
        job = Job("", shape, PULLS - after + 1, left, after, over, running)
        hands = max((start, x.hands) for x, start, _ in rows if start < t and x.hands != "free")
        breaks = tuple(Break(b.at - t, b.seconds) for b in self.day.breaks)
        day = DayInputs((job,), breaks, inky=hands[1] == "inky", times=times)
        return plan_day(day, tries=1, before=plan, elapsed=t), known


def held(kind: Kind, printers: int) -> float:
    """The share of printers whose day ended within the interval that was said."""
    inside = 0
    for n in range(printers):
        printer = Printer(kind, n)
        known = printer.past
        day = DayInputs(printer.day.jobs, printer.day.breaks, times=times_by(learn_pace(known)))
        plan = plan_day(day, tries=1)
        if kind.three_hours:
            plan, known = printer.after(plan, 3 * 3600)
        low, high = sure_of(plan, learn_pace(known)).interval
        inside += low <= printer.end(plan) <= high
    return inside / printers


def test_with_some_days_behind_it_the_interval_holds_about_four_in_five():
    """Thirty printers with one day each: the share is near .8 (a coin of .8 gives .6 to .97)."""
    assert 0.6 <= held(Kind(1), 30) <= 0.97


def said(words: str, share: float) -> float:
    """A share, printed for who looks at the figures."""
    print(f"{words}: {share:.1%}")
    return share


@pytest.mark.full
@pytest.mark.parametrize("history", [0, 1, 3, 10])
def test_the_interval_holds_between_75_and_92_in_a_hundred(history):
    """Four hundred printers with so many days behind them."""
    assert 0.75 <= said(f"{history} days", held(Kind(history), 400)) <= 0.92


@pytest.mark.full
@pytest.mark.parametrize("history", [0, 1])
def test_three_hours_into_a_day_the_interval_of_what_is_left_holds_as_often(history):
    """What is over teaches, what runs is not over, and the rest is planned again."""
    share = held(Kind(history, three_hours=True), 300)
    assert 0.75 <= said(f"{history} days and three hours", share) <= 0.92


SLOW = 1.3


@pytest.mark.full
@pytest.mark.parametrize(("words", "kind", "least", "most"), [
    ("days twice as uneven, 1 day", Kind(1, uneven=0.20), 0.45, 0.80),
    ("days twice as uneven, 10 days", Kind(10, uneven=0.20), 0.60, 0.88),
    ("slower than the recipe, 0 days", Kind(0, slower=SLOW), 0.35, 0.75),
    ("slower than the recipe, 1 day", Kind(1, slower=SLOW), 0.60, 0.90),
    ("slower, 0 days and three hours", Kind(0, slower=SLOW, three_hours=True), 0.65, 0.90),
], ids=lambda x: x if isinstance(x, str) else "")
def test_the_weak_spots_are_known(words, kind, least, most):
    """Printers that the model does not take for granted are held less often, and not never."""
    assert least <= said(words, held(kind, 150)) <= most
