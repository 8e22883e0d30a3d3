"""What the rest of the day promises on the Bench: when the wanted number will be met. Pure.

Planned anew from the plan before, so that nothing that was announced changes for a trifle. What
should be known in time stands beside it: a pack that must go in, a sheet that would be too old,
when one more would end.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from benchapp.journal import Moment
from benchapp.moments import local
from benchapp.reckon.pace import Reading, learn
from benchapp.session.counting import target
from benchapp.session.planning import plan_day
from benchapp.session.planning_chances import readings, times_by
from benchapp.session.planning_day import Break, DayPlan
from benchapp.session.planning_state import day_of_room
from benchapp.session.planning_told import notes, would_end
from benchapp.session.state import Room
from benchapp.session.what_if import with_more

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


def breaks_ahead(breaks: Iterable[tuple[int, int]], now: Moment) -> list[Break]:
    """Those of today that are not over, in seconds from now.

    Args:
        breaks: Each by its minute after midnight and its length in seconds.
        now: All clocks.
    """
    here = local(now)
    passed = here.hour * 3600 + here.minute * 60 + here.second
    return [Break(at * 60 - passed, seconds) for at, seconds in breaks
            if at * 60 + seconds > passed]


def ahead(room: Room, now: Moment, before: Ahead | None = None, *, tries: int | None = None,
          earlier: Sequence[Reading] = (), breaks: Sequence[Break] = ()) -> Ahead | None:
    """When the wanted number will be met, as things stand.

    Args:
        room: The room.
        now: All clocks.
        before: The promise until now.
        tries: Schedules that may be made; None: as many as a printer waits for.
        earlier: How long steps took on earlier days of the print.
        breaks: Breaks, in seconds from now.

    Returns:
        None where no number is wanted, where it is met, or where a step has no time: a plan
        that takes such a step for nothing would promise too much.
    """
    s = room.session
    wanted = None if s is None else target(s)
    if s is None or wanted is None or s.closed is not None or s.enough:
        return None
    t = room.t_at(now)
    pace = learn((*earlier, *readings(room, s)))
    day = day_of_room(room, t, breaks=breaks, times=times_by(pace))
    mine = next((j for j in day.jobs if j.session == s.id), None)
    if mine is None or not mine.ordinals or sum(j.more for j in day.jobs) > MOST:
        return None
    old = before if before is not None and before.session == s.id and before.t <= t else None
    plan = plan_day(day, tries=tries, before=None if old is None else old.plan,
                    elapsed=0 if old is None else (t - old.t) // 1000)
    met = max((at for (id_, _), at in plan.done_at.items() if id_ == s.id), default=None)
    if met is None or plan.unknown:
        return None
    longer = with_more(day, mine.more + 1, day.jobs.index(mine))
    more = plan_day(longer, tries=tries)
    if more.end <= plan.end:  # found better by luck: planned on from the plan that stands
        more = plan_day(longer, tries=tries, before=plan)

    def clock(seconds: int) -> str:
        return _when(now, seconds)

    over = f"All over {clock(plan.end)}"
    if more.end > plan.end:
        over = f"{over}; {would_end(wanted + 1, more, clock)}"
    said = (*notes(day, plan, clock), over)
    return Ahead(s.id, wanted, t, plan, met, f"{wanted} by {clock(met)}", said)


def _when(now: Moment, seconds: int) -> str:
    """A time of day; of another day with its name, so that no night passes for today."""
    here = local(now)
    when = here + timedelta(seconds=seconds)
    days = (when.date() - here.date()).days
    day = "" if not days else " tomorrow" if days == 1 else f" on {when.date().isoformat()}"
    return f"{when:%H:%M}{day}"
