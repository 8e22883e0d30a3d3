"""A planned day as events for the phone: when it begins, each pack in and out, when it is over.

Pure. Planned again, the same events of the same print and day are changed, not doubled.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from hashlib import sha256

from benchapp.papers.ical import Event
from benchapp.papers.plan_text import DayTold, sentence
from benchapp.session.planning_told import alarms


def plan_events(told: DayTold, now: datetime, wall: Callable[[int], datetime]) -> list[Event]:
    """The events.

    Args:
        told: The planned day.
        now: When they are written, with its zone; a later writing has the higher number.
        wall: The time on the wall, without a zone, of a second of the plan.
    """
    day = sha256(f"{told.title}\0{told.artist}\0{told.on}".encode()).hexdigest()[:24]
    sequence = round(now.timestamp()) // 60

    def event(at: int, what: str, *, alarm: bool = True, more: str = "") -> Event:
        # "Pack 1 in: 6 sheets" stays the same event when the sheets become 5.
        uid = f"{day}-{what.partition(':')[0].lower().replace(' ', '-')}@plan.benchapp"
        return Event(uid, sequence, now, wall(at), f"{what} · {told.title}", more, alarm=alarm)

    return [event(0, "Begin", more=sentence(told)),
            *(event(at, words) for at, words in alarms(told.plan)),
            event(told.plan.end, "All over", alarm=False)]
