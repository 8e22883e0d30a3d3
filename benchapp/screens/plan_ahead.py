"""What the Bench's promise is made from: earlier days of the print and the breaks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from benchapp.events.entry import Moment
from benchapp.files import breaks_kept, guess_kept
from benchapp.planning.pace import TimedStep
from benchapp.planning.time_to_finish import Ahead, breaks_ahead, forecast_finish
from benchapp.planning.times import Lasting
from benchapp.quantities import Span
from benchapp.reports.plan_history import taught_by
from benchapp.screens.background import in_background
from benchapp.screens.desk import Desk
from benchapp.screens.plan_known import read_days
from benchapp.session.state import StudioState

__all__ = ["Ahead", "Kept", "kept_of", "plan_promise"]


@dataclass(frozen=True, slots=True)
class Kept:
    """What stays the same all through a session.

    Attributes:
        session: Which.
        earlier: How long steps took on earlier days of its print.
        times: Usual times they taught of steps that the recipe gives none.
    """

    session: str | None
    earlier: tuple[TimedStep, ...] = ()
    times: Mapping[str, Span] = field(default_factory=dict)


async def kept_of(desk: Desk, room: StudioState) -> Kept:
    """Read it: day by day between two looks of the screen, folded in a thread."""
    s = room.session
    if s is None:
        return Kept(None)
    days = await read_days(desk, s.recipe, but={s.id})
    found = await in_background(taught_by, s.recipe, days)
    return Kept(s.id, found.readings, found.times)


def plan_promise(room: StudioState, now: Moment, before: Ahead | None, known: Kept) -> Ahead | None:
    """The promise as things stand; its breaks may be planned otherwise while the day goes on."""
    breaks = () if known.session is None else breaks_kept(known.session)
    guess = None if known.session is None else guess_kept(known.session)
    return forecast_finish(room, now, before, earlier=known.earlier,
                           breaks=breaks_ahead(breaks, now),
                           known=Lasting(known.times, guess))
