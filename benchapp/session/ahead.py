"""What the rest of the day promises on the Bench: when the wanted number will be met. Pure.

Planned anew from the plan before, so that nothing that was announced changes for a trifle.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from benchapp.journal import Moment
from benchapp.moments import local
from benchapp.reckon.pace import learn
from benchapp.session.counting import target
from benchapp.session.planning import plan_day
from benchapp.session.planning_chances import readings, times_by
from benchapp.session.planning_day import DayPlan
from benchapp.session.planning_state import day_of_room
from benchapp.session.state import Room

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
    """

    session: str
    wanted: int
    t: int
    plan: DayPlan
    met: int
    words: str


def ahead(room: Room, now: Moment, before: Ahead | None = None, *,
          tries: int | None = None) -> Ahead | None:
    """When the wanted number will be met, as things stand.

    Args:
        room: The room.
        now: All clocks.
        before: The promise until now.
        tries: Schedules that may be made; None: as many as a printer waits for.

    Returns:
        None where no number is wanted, where it is met, or where a step has no time: a plan
        that takes such a step for nothing would promise too much.
    """
    s = room.session
    wanted = None if s is None else target(s)
    if s is None or wanted is None or s.closed is not None or s.enough:
        return None
    t = room.t_at(now)
    day = day_of_room(room, t, times=times_by(learn(readings(room, s))))
    mine = next((j for j in day.jobs if j.session == s.id), None)
    if mine is None or not mine.ordinals or sum(j.more for j in day.jobs) > MOST:
        return None
    old = before if before is not None and before.session == s.id and before.t <= t else None
    plan = plan_day(day, tries=tries, before=None if old is None else old.plan,
                    elapsed=0 if old is None else (t - old.t) // 1000)
    met = max((at for (id_, _), at in plan.done_at.items() if id_ == s.id), default=None)
    if met is None or plan.unknown:
        return None
    return Ahead(s.id, wanted, t, plan, met, f"{wanted} by {_when(now, met)}")


def _when(now: Moment, seconds: int) -> str:
    """A time of day; of another day with its name, so that no night passes for today."""
    here = local(now)
    when = here + timedelta(seconds=seconds)
    days = (when.date() - here.date()).days
    day = "" if not days else " tomorrow" if days == 1 else f" on {when.date().isoformat()}"
    return f"{when:%H:%M}{day}"
