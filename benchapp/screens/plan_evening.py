"""Tomorrow planned this evening, for the Studio's line: with a pack damped now."""

from __future__ import annotations

from benchapp.events.entry import Moment
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.question import DayQuestion, plan_asked_day
from benchapp.planning.times import TimedRecipe, missing_words
from benchapp.recipe.model import Recipe
from benchapp.reports.plan_evening import damp_words
from benchapp.reports.plan_text import plan_sentence
from benchapp.screens.background import in_background
from benchapp.screens.plan_known import Knowing
from benchapp.screens.plan_window import first_asked


async def plan_tomorrow(knowing: Knowing, recipe: Recipe, now: Moment,
                        each_ms: int | None = None) -> tuple[DayQuestion, PlannedDay | TimedRecipe]:
    """The day after, as the Plan asks for it first, and its plan; reckoned in a thread.

    Where times are missing there is no plan, but what is known of them.
    """
    asked = first_asked(recipe, now, evening=True, each_ms=each_ms)
    known = await knowing.of(asked)
    found = known.timed(asked)
    return asked, found if found.missing else await in_background(plan_asked_day, asked, known)


def evening_words(told: PlannedDay | TimedRecipe) -> str:
    """`tomorrow, The Weigh House: damp 6 sheets of cotton this evening. Count on 7; …`"""
    if isinstance(told, TimedRecipe):
        return (f"tomorrow, {told.recipe.print.title}: no plan, "
                f"{missing_words(told.missing, start='no')}; the Plan asks for a guess")
    damp = "" if told.evening is None else damp_words(told, told.evening)
    said = f"{damp[:1].lower()}{damp[1:]} this evening. " if damp else ""
    if not damp and told.day.jobs[0].shape.damped is not None:
        said = "the paper is damp. "
    return f"tomorrow, {told.title}: {said}{plan_sentence(told)}"
