"""How sure a plan is: its order replayed with times as this printer's days have had them. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from benchapp.planning import chances
from benchapp.planning.day import BREAK, DayPlan, Planned, Times
from benchapp.planning.pace import TODAY, Pace, TimedStep, is_plausible_time
from benchapp.recipe.model import Step
from benchapp.session.compiled_recipe import CompiledRecipe
from benchapp.session.context import worked_ms
from benchapp.session.names import step_of
from benchapp.session.state import Attempt, Session, StudioState

#: Activities replayed in all for one plan, and the fewest replays: the larger the day, the fewer.
_REPLAYED: Final = 240_000
_LEAST_REPLAYS: Final = 100


@dataclass(frozen=True, slots=True)
class Sure:
    """What may come of a plan.

    Attributes:
        by_count: For each number of pulls of the day, those done before among them, when they
            and the clean-up are over, replayed; empty where that was not asked for.
        ends: When the whole day is over, replayed.
    """

    by_count: Mapping[int, Sequence[int]] = field(repr=False)
    ends: Sequence[int] = field(repr=False)

    @property
    def interval(self) -> tuple[int, int]:
        """Between what times the end falls, four days in five."""
        return chances.end_interval(self.ends)

    def chance(self, until: int) -> float:
        """The chance that the whole day is over by then."""
        return chances.chance_until(self.ends, until)


def sure_of(plan: DayPlan, pace: Pace, *, session: str = "",
            replays: int | None = None, counted: bool = True,
            habit: float | None = None) -> Sure:
    """Replay a plan.

    Args:
        plan: The plan.
        pace: What is known of this printer's times; its middle is in the plan's times already.
        session: Whose pulls are counted.
        replays: How many times; None: `chances.REPLAYS`, and fewer for a very large day.
        counted: Whether `by_count` is asked for.
        habit: What all days of the printer are off by, where that is taken for known.
    """
    made = plan.made
    steps = [_learnt_by(line) for line in made.lines]
    streams = [f"{line.name[0]} {line.do} {line.name[1].impression} {line.name[1].pack}"
               for line in made.lines]
    parts, line = chances.parts_of(made.project, made.starts, steps, streams)
    spread = pace.centred if habit is None else pace.of_habit(habit)
    out = chances.replay_plan(parts, line, spread, replays=replays or _replays(len(parts)))
    whole = out.latest([i for i, a in enumerate(made.project.activities) if a.ends_day])
    return Sure(_by_count(plan, out, whole, session) if counted else {}, whole)


def _replays(parts: int) -> int:
    return max(_LEAST_REPLAYS, min(chances.REPLAYS, _REPLAYED // max(1, parts)))


def _learnt_by(line: Planned) -> str | None:
    """Hands take as long as they take; a wait is a clock, and a break is as long as it is."""
    return None if line.hands == "free" or line.name[1].step == BREAK else line.do


def _marks(lines: Sequence[Planned], session: str) -> list[list[int]]:
    """The activities of each impression, in the order of impressions."""
    out: dict[int, list[int]] = {}
    for i, line in enumerate(lines):
        name, key = line.name
        if name == session and key.impression is not None and line.hands != "free":
            out.setdefault(key.impression, []).append(i)
    return [out[k] for k in sorted(out)]


def _by_count(plan: DayPlan, out: chances.Outcomes, whole: Sequence[int],
              session: str) -> dict[int, list[int]]:
    """Done with the first so many, and cleaned up: that takes as long as after the last.

    What is done before counts, and where there is such with the clean-up alone to come. A break
    that the clean-up would run into comes first.
    """
    lines, starts = plan.made.lines, plan.made.starts
    marks, done = _marks(lines, session), plan.done.get(session, 0)
    if not marks:
        return {}
    last = max(starts[i] for mine in marks for i in mine)
    breaks = sorted((starts[i], x.seconds, i) for i, x in enumerate(lines)
                    if x.name[1].step == BREAK)
    within = [i for at, _, i in breaks if last < at < plan.end]
    pulled = out.latest([i for mine in marks for i in mine])
    before = list(map(max, pulled, out.latest(within))) if within else pulled
    after = [end - t for end, t in zip(whole, before, strict=True)]
    found = {} if not done else {done: _cleaned([0] * len(after), after, breaks, 0)}
    latest, reached = [0] * len(after), 0
    for n, mine in enumerate(marks, done + 1):
        latest = list(map(max, latest, out.latest(mine)))
        reached = max([reached, *(starts[i] for i in mine)])
        found[n] = _cleaned(latest, after, breaks, reached)
    found[done + len(marks)] = list(whole)
    return found


def _cleaned(times: Sequence[int], after: Sequence[int],
             breaks: Sequence[tuple[int, int, int]], reached: int) -> list[int]:
    """When what comes after is over too, in each replay."""
    ahead = [(at, seconds) for at, seconds, _ in breaks if at > reached]
    out = []
    for start, long in zip(times, after, strict=True):
        t = start
        for at, seconds in ahead:
            if t + long > at:
                t = max(t, at) + seconds
        out.append(t + long)
    return out


# -- what the days printed teach --------------------------------------------------------------


def timed_steps(room: StudioState, s: Session, day: int = TODAY) -> tuple[TimedStep, ...]:
    """The times of one session that teach: taken, plausible, or said to have taken that long.

    Args:
        room: The room the session was folded in.
        s: The session.
        day: Which day it was, from 0; today's are -1.
    """
    found = []
    for w in s.history:
        step = step_of(s, w.key)
        if step is None or step.hands == "free" or step.time is None or not step.time.usual.ms:
            continue
        ms = worked_ms(s, w, room.t)
        if _plausible(w, ms, step, room):
            found.append(TimedStep(step.do, ms / 1000, step.time.usual.ms / 1000, day))
    return tuple(found)


def _plausible(w: Attempt, ms: int, step: Step, room: StudioState) -> bool:
    if not w.taken or w.how != "done" or w.started is None or w.finished_t is None:
        return False
    if w.question not in (None, "took") or not room.exact(w.started_t, w.finished_t):
        return False
    low, high = (0, 0) if step.time is None else (step.time.low.ms, step.time.high.ms)
    return is_plausible_time(ms / 1000, low / 1000, float("inf") if w.question else high / 1000)


def times_by(pace: Pace) -> Times:
    """Usual times as learnt: the recipe's, by the step's own habit and today's pace."""
    def seconds(_: CompiledRecipe, step: Step) -> int:
        if step.time is None:
            return 0
        usual = step.time.usual.ms / 1000
        return round(usual if step.hands == "free" else usual * pace.expected(step.do))
    return seconds


def from_days(pace: Pace) -> str:
    """How much is behind a chance, in words."""
    if not pace.readings:
        return "from the recipe's times and common practice: no day of this print yet"
    if not pace.days:
        return f"from {pace.readings} steps of today"
    return f"from {pace.days} {'day' if pace.days == 1 else 'days'} of this print"

