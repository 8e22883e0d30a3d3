"""Tomorrow planned this evening, for the Studio's line: with a pack damped now."""

from __future__ import annotations

from benchapp.journal import Moment
from benchapp.papers.plan_asked import Asked, told_of
from benchapp.papers.plan_day import DayTold
from benchapp.papers.plan_evening import damp_words
from benchapp.papers.plan_text import sentence
from benchapp.recipe.model import Recipe
from benchapp.screens.background import in_background
from benchapp.screens.plan_known import Knowing
from benchapp.screens.plan_window import first_asked


async def tomorrow(knowing: Knowing, recipe: Recipe, now: Moment) -> tuple[Asked, DayTold]:
    """The day after, as the Plan asks for it first, and its plan; reckoned in a thread."""
    asked = first_asked(recipe, now, evening=True)
    return asked, await in_background(told_of, asked, await knowing.of(asked))


def words(told: DayTold) -> str:
    """`tomorrow, The Weigh House: damp 6 sheets of cotton this evening. 9: even. …`"""
    damp = "" if told.evening is None else damp_words(told, told.evening)
    said = f"{damp[:1].lower()}{damp[1:]} this evening. " if damp else ""
    if not damp and told.day.jobs[0].shape.damped is not None:
        said = "paper lies damp. "
    return f"tomorrow, {told.title}: {said}{sentence(told)}"
