"""What the rest of the day promises on the Bench: when the wanted number will be met. Pure.

Planned anew from the plan before, so that nothing that was announced changes for a trifle. What
should be known in time stands beside it: a pack that must go in, a sheet that would be too old,
when one more would end.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.planning.build import plan_day
from benchapp.planning.certainty import sure_of, timed_steps, times_by
from benchapp.planning.day import Break, DayPlan
from benchapp.planning.pace import Pace, TimedStep, learn_pace
from benchapp.planning.remaining import day_of_room
from benchapp.planning.sentences import rest_of_day_notes, would_end
from benchapp.planning.times import UNTOLD, Lasting, in_room, missing_words, time_recipe
from benchapp.planning.what_if import COUNT_ON, with_more
from benchapp.reckon.shares import sample_quantile
from benchapp.session.counting import target_count
from benchapp.session.state import StudioState

#: With more still to begin nothing is promised: no day has so many.
MOST: Final = 100


@dataclass(frozen=True, slots=True)
class Ahead:
    """A promise.

    Attributes:
        session: Whose.
        wanted: How many counting impressions.
        t: Room time it was made at, in milliseconds.
        plan: The plan behind it.
        met: Seconds from then until the last of them is out of the printer's hands.
        words: `10 by 16:47`.
        notes: What should be known in time, in sentences, the most urgent first.
    """

    session: str
    wanted: int
    t: int
    plan: DayPlan
    met: int
    words: str
    notes: tuple[str, ...] = ()

    @property
    def urgent(self) -> tuple[str, ...]:
        """The notes that ask for something: without the last, of when all is over."""
        return self.notes[:-1] if self.words and not self.plan.unknown else self.notes


def breaks_ahead(breaks: Iterable[tuple[int, int]], now: Moment) -> list[Break]:
    """Those of today that are not over, in seconds from now.

    Args:
        breaks: Each by its minute after midnight and its length in seconds.
        now: All clocks.
    """
    here = local_time(now)
    passed = here.hour * 3600 + here.minute * 60 + here.second
    return [Break(at * 60 - passed, seconds) for at, seconds in breaks
            if at * 60 + seconds > passed]


def forecast_finish(room: StudioState, now: Moment, before: Ahead | None = None, *,
                    tries: int | None = None,
                    earlier: Sequence[TimedStep] = (), breaks: Sequence[Break] = (),
                    known: Lasting = UNTOLD) -> Ahead | None:
    """When the wanted number will be met, as things stand.

    Args:
        room: The room.
        now: All clocks.
        before: The promise until now.
        tries: Schedules that may be made; None: as many as a printer waits for.
        earlier: How long steps took on earlier days of the print.
        breaks: Breaks, in seconds from now.
        known: What is known of steps without a time.

    Returns:
        None where no number is wanted, or where it is met. Where a step has no time nothing is
        promised, for it would be too much; which step that is stands in the notes.
    """
    s = room.session
    wanted = None if s is None else target_count(s)
    if s is None or wanted is None or s.closed is not None or s.enough:
        return None
    t = room.t_at(now)
    found = time_recipe(s.recipe, known.times, known.each_ms)
    if found.recipe is not s.recipe:
        room = in_room(room, s.id, found.recipe)
    pace = learn_pace((*earlier, *timed_steps(room, room.sessions[s.id])))
    day = day_of_room(room, t, breaks=breaks, times=times_by(pace))
    mine = next((j for j in day.jobs if j.session == s.id), None)
    if mine is None or not mine.ordinals or sum(j.more for j in day.jobs) > MOST:
        return None
    old = before if before is not None and before.session == s.id and before.t <= t else None
    plan = plan_day(day, tries=tries, before=None if old is None else old.plan,
                    elapsed=0 if old is None else (t - old.t) // 1000)
    met = max((at for (id_, _), at in plan.done_at.items() if id_ == s.id), default=None)
    if found.missing:
        missing = missing_words(found.missing, start="no", most=1)
        note = f"No plan: {missing}; the Plan asks for a guess"
        return Ahead(s.id, wanted, t, plan, 0, "", (note,))
    unknown = set(plan.unknown) - {x.do for x in s.recipe.after}
    if met is None or unknown:
        return None
    longer = with_more(day, mine.more + 1, day.jobs.index(mine))
    more = plan_day(longer, tries=tries)
    if more.end <= plan.end:  # found better by luck: planned on from the plan that stands
        more = plan_day(longer, tries=tries, before=plan)

    def clock(seconds: int) -> str:
        return _when(now, seconds)

    said = rest_of_day_notes(day, plan, clock)
    if not plan.unknown:
        said = (*said, _over(plan, more, wanted, pace, clock))
    guess = "" if found.guess is None else " (guess)"
    return Ahead(s.id, wanted, t, plan, met, f"{wanted} by {clock(met)}{guess}", said)


def _over(plan: DayPlan, more: DayPlan, wanted: int, pace: Pace,
          clock: Callable[[int], str]) -> str:
    """`Count on finishing by 17:40, even chance 16:02; an 11th would end at 16:34`."""
    ends = sorted(map(float, sure_of(plan, pace).ends))
    sure = round(sample_quantile(ends, COUNT_ON / 100))
    over = f"All over {clock(plan.end)}"
    if sure > plan.end:
        over = f"Count on finishing by {clock(sure)}, even chance {clock(plan.end)}"
    return f"{over}; {would_end(wanted + 1, more, clock)}" if more.end > plan.end else over


def _when(now: Moment, seconds: int) -> str:
    """A time of day; of another day with its name, so that no night passes for today."""
    here = local_time(now)
    when = here + timedelta(seconds=seconds)
    days = (when.date() - here.date()).days
    day = "" if not days else " tomorrow" if days == 1 else f" on {when.date().isoformat()}"
    return f"{when:%H:%M}{day}"
