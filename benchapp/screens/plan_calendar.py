"""A planned day written as a calendar for the phone; never over another without being told."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchapp.files import AlreadyThere, FileProblem, papers_folder, slug, write_new, write_over
from benchapp.moments import local
from benchapp.papers.ical import calendar
from benchapp.papers.plan_asked import Zero
from benchapp.papers.plan_day import DayTold
from benchapp.papers.plan_events import plan_events
from benchapp.screens.pick import Pick
from benchapp.shown import Shown, visible

if TYPE_CHECKING:
    from benchapp.screens.app import Benchapp


def write_calendar(desk: Benchapp, told: DayTold, zero: Zero) -> None:
    """Write it into the folder of papers, and say where it is."""
    events = plan_events(told, local(desk.now()), zero.wall)
    text = calendar(events, f"Plan {told.on}")
    path = papers_folder() / f"plan-{told.on}-{slug(told.title)}.ics"

    def over(place: int | None) -> None:
        if place == 0:
            try:
                write_over(path, text, keep_old=True)
            except FileProblem as error:
                desk.say(visible(str(error)), severity="warning")
            else:
                desk.say(visible(f"Written: {path}"))

    try:
        write_new(path, text)
    except AlreadyThere:
        desk.push_screen(Pick(
            visible(f"{path.name} is there already"),
            (Shown("write it anew; the old one is kept beside it"),),
            Shown("A phone that takes it in again changes its events and doubles none."),
            later="leave it as it is"), over)
    except FileProblem as error:
        desk.say(visible(str(error)), severity="warning")
    else:
        desk.say(visible(f"Written: {path}"))
