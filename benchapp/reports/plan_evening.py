"""The evening before a planned day: what to damp, and what to set up from, as text. Pure."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from benchapp.planning.day import Planned
from benchapp.planning.planned_day import Evening, PlannedDay
from benchapp.quantities import items_text, minutes_text
from benchapp.recipe.model import Recipe
from benchapp.session.setting_names import recipe_settings

Part = tuple[str, list[str]]


def evening_parts(told: PlannedDay, evening: Evening,
                  sentence: Callable[[PlannedDay], str]) -> list[Part]:
    """What to do the evening before, and the list to set up by, each under its head."""
    return [("The evening before", list(_damp(told, evening, sentence))),
            ("To set up", list(set_up(told, evening)))]


def damp_words(told: PlannedDay, evening: Evening) -> str:
    """`Damp 6 sheets of cotton`; empty where nothing is to be damped."""
    if evening.sheets is None:
        return ""
    paper = told.day.jobs[0].shape.damped
    of = "" if paper is None or not paper.name else f" of {paper.name}"
    return f"Damp {items_text(evening.sheets, 'sheet')}{of}"


def _damp(told: PlannedDay, evening: Evening,
          sentence: Callable[[PlannedDay], str]) -> Iterable[str]:
    shape = told.day.jobs[0].shape
    paper = shape.damped
    if paper is None or paper.damp is None:
        return
    words = damp_words(told, evening)
    if not words:
        yield "Nothing to damp: there is damp paper already"
        return
    damp = paper.damp
    how = [f"{evening.why}; {damp.method}" if evening.why else str(damp.method)]
    how += [] if damp.soak is None else [f"{minutes_text(damp.soak.ms)} in the water"]
    how += [] if damp.rest is None else [f"{minutes_text(damp.rest.ms)} at rest, then wrapped"]
    keeps = "" if damp.keeps is None else f"; it keeps {damp.keeps}"
    yield f"{words} ({', '.join(how)}): ready in the morning{keeps}"
    if damp.method == "pack":
        return  # damped that morning it would be ready at night
    yield (f"Damped only that morning: {sentence(evening.without)}" if _wins(told, evening)
           else "Damped only that morning the day would be much the same")


def _wins(told: PlannedDay, evening: Evening) -> bool:
    """Whether more fit, or as many earlier."""
    without = evening.without
    if told.fit is None or without.fit is None or told.pulls is not None:
        return told.plan.end < without.plan.end
    return (told.fit.fits, -told.fit.one_more.end) > (without.fit.fits, -without.fit.one_more.end)


def set_up(told: PlannedDay, evening: Evening) -> Iterable[str]:
    """The steps before printing at their times, and what the bench is set to."""
    for x in told.plan.items:
        if _before(x):
            yield f"{told.when(x.start)}  {x.do}" + (
                f", {minutes_text(x.seconds * 1000)}" if x.seconds else "")
    recipe = told.day.jobs[0].shape.recipe
    yield from (f"{name}: {value}" for name, value in _settings(recipe, evening.settings))


def _before(x: Planned) -> bool:
    return x.name[1].step.startswith("before.")


def _settings(recipe: Recipe, last: Mapping[str, str]) -> Iterable[tuple[str, str]]:
    """Last time's, else the recipe's; what neither says is not there."""
    said = recipe_settings(recipe)
    for name in dict.fromkeys((*said, *last)):
        value = last.get(name) or said.get(name, "")
        if value:
            yield name, f"{value} (as last time)" if last.get(name) else value
