"""What is said after the program is left: what falls due while it is closed, and when. Pure.

While it is closed nothing calls, so everything that runs on stands here with its hour.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from benchapp.drying.dryness import USUAL, Hours
from benchapp.drying.stacks import Boards, due_changes, wall_time
from benchapp.events.entry import Moment
from benchapp.reports.drying import stacks_in_use
from benchapp.session.room_facts import still_asked
from benchapp.session.state import StudioState
from benchapp.views.clocks import ClockView, clock_views

NOTHING_CALLS = "Nothing calls while benchapp is closed. What is due:"


def leaving_lines(room: StudioState, boards: Boards, now: Moment,
                  hours: Hours = USUAL) -> list[str]:
    """What is due when, then each session that stays open and how to go on with it.

    Args:
        room: The open sessions and the packs.
        boards: The stacks with sheets in them.
        now: The clocks.
        hours: When the printer changes boards.
    """
    at = wall_time(now)
    running = [line for c in clock_views(room, room.t_at(now))
               if (line := _clock(c, at)) is not None]
    found = [*running, *_boards(boards, at, hours)]
    said = [NOTHING_CALLS, *(f"  {line}" for line in found)] if found else []
    return [*said, *(f"{s.recipe.print.title}: session {s.name} stays open. Go on with: "
                     f"benchapp resume {s.name}" for s in room.open_sessions), *asking_lines(room)]


def asking_lines(room: StudioState) -> list[str]:
    """The questions of the room that a session left to one that stays open."""
    return [f"{s.name} still asks, for the whole day: {', '.join(asked)}"
            for s in room.open_sessions if (asked := still_asked(s))]


def _clock(c: ClockView, now: datetime) -> str | None:
    """`15:20  6 sheets in the water`; None: it only counts up, and nothing is due."""
    whose = "" if c.session is None else f" ({c.session})"
    about = "" if c.count.exact else "≈ "
    if not c.count.down:
        in_water = c.id.startswith("soak ")
        since = _when(now - timedelta(milliseconds=c.count.ms), now)
        return f"{c.name} since {about}{since}{whose}: no length recorded" if in_water else None
    when = _when(now + timedelta(milliseconds=c.count.ms), now)
    late = "overdue since " if c.count.ms < 0 else ""
    return f"{late}{about}{when}  {c.name}{whose}"


def _boards(boards: Boards, now: datetime, hours: Hours) -> Iterator[str]:
    for d in due_changes(stacks_in_use(boards, now), now, hours):
        late = "" if d.state == "coming" else "due since " if d.state == "due" else "overdue since "
        yield f"{late}{_when(d.change.at, now)}  boards of {d.name}: {d.change.do}"


def _when(at: datetime, now: datetime) -> str:
    """The hour, and the day where that is another."""
    days = (at.date() - now.date()).days
    day = {0: "", 1: "tomorrow ", -1: "yesterday "}.get(days, f"{at.day} {at:%b} ")
    return f"{day}{at:%H:%M}"
