"""A planned day written as a calendar for the phone."""

from __future__ import annotations

from benchapp.events.moments import local_time
from benchapp.files import file_slug
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.question import Zero
from benchapp.reports.ical import calendar_text
from benchapp.reports.plan_events import plan_events
from benchapp.screens.desk import Desk
from benchapp.screens.paper_files import write_paper


def write_calendar(desk: Desk, told: PlannedDay, zero: Zero) -> None:
    """Write it into the folder of papers, and say where it is."""
    events = plan_events(told, local_time(desk.now()), zero.wall)
    write_paper(desk, f"plan-{told.on}-{file_slug(told.title)}.ics",
                calendar_text(events, f"Plan {told.on}", product="plan"),
                "Import it again, and the phone changes its events; it makes no duplicates.")
