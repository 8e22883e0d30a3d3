"""A planned day as events for the phone: damping before it, begin, packs in and out, all over.

Pure. Planned again, the same events of the same print and day are changed, not doubled.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from hashlib import sha256

from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.question import DAMPED_AT
from benchapp.planning.sentences import pack_alarms
from benchapp.reports.ical import Event
from benchapp.reports.plan_evening import damp_words, set_up
from benchapp.reports.plan_text import plan_sentence


def plan_events(told: PlannedDay, now: datetime, wall: Callable[[int], datetime]) -> list[Event]:
    """The events.

    Args:
        told: The planned day.
        now: When they are written, with its zone; a later writing has the higher number.
        wall: The time on the wall, without a zone, of a second of the plan.
    """
    day = sha256(f"{told.title}\0{told.artist}\0{told.on}".encode()).hexdigest()[:24]
    sequence = round(now.timestamp()) // 60

    def event(at: datetime, what: str, *, alarm: bool = True, more: str = "",
              name: str = "") -> Event:
        # "Pack 1 in: 6 sheets" stays the same event when the sheets become 5.
        name = name or what.partition(":")[0].lower().replace(" ", "-")
        return Event(f"{day}-{name}@plan.benchapp", sequence, now, at,
                     f"{what} · {told.title}", more, alarm=alarm)

    evening = told.evening
    before = [] if evening is None or not (words := damp_words(told, evening)) else [
        event(_evening(wall(0), now), words, name="damp")]
    listed = "" if evening is None else "\n".join(("", *set_up(told, evening)))
    return [*before, event(wall(0), "Begin", more=plan_sentence(told) + listed),
            *(event(wall(at), words) for at, words in pack_alarms(told.plan, due=True)),
            event(wall(told.plan.end), "All over", alarm=False)]


def _evening(begins: datetime, now: datetime) -> datetime:
    """Six in the evening before, on the wall; where that is past, a little after now."""
    at = begins.replace(hour=0, minute=0, second=0) - timedelta(minutes=24 * 60 - DAMPED_AT)
    soon = now.replace(tzinfo=None, second=0, microsecond=0) + timedelta(minutes=5)
    return min(max(at, soon), begins)
