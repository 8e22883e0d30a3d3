"""Text of a day in the book to Recipe: what an older benchapp took is never refused again.

A file is read by `reader.read`, which refuses. A text that a session keeps was taken on
its day, by whatever version there was: were it refused now, the day could not be shown.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from benchapp.recipe.document import scan_document
from benchapp.recipe.fields import Fields, Ledger
from benchapp.recipe.model import Recipe, Step
from benchapp.recipe.nodes import Map
from benchapp.recipe.order import place_capacities
from benchapp.recipe.problems import Problem, RecipeError
from benchapp.recipe.read_bench import SHEET
from benchapp.recipe.reader import FORM, assemble_recipe, check_form

_NONE: Final = Problem(1, 1, "there is no recipe in this text", f"begin with recipe: {FORM}")
_NO_PULL: Final = Problem(1, 1, "no plate of this recipe is inked and pulled",
                          "write pulls: on the step where a plate goes through the press")


def build_recipe(text: str) -> Recipe:
    """Builds the recipe of a text that a session keeps.

    Every value is taken as far as it can be read. A key that is not known is passed over,
    a name that belongs to nothing is left out, and nothing is held against anything else.

    Args:
        text: As the session keeps it.

    Raises:
        RecipeError: There is no recipe in it: it cannot be read at all, it is of a form
            that this version does not know, or no plate is pulled. No other exception leaves.
    """
    document = scan_document(text)
    if not isinstance(document.root, Map):
        raise RecipeError(document.problems or [_NONE])
    form = Ledger()
    check_form(Fields(document.root, "", form), form)
    if form.problems:
        raise RecipeError(form.problems)
    ignored = Ledger()
    recipe = _resolved(assemble_recipe(Fields(document.root, "", ignored), ignored, document.root))
    if not recipe.plates:
        raise RecipeError([_NO_PULL])
    return recipe


def _resolved(recipe: Recipe) -> Recipe:
    """The recipe without names that belong to nothing in it, and plates nobody pulls."""
    pulled = {name for step in recipe.each for name in step.pulls}
    plates = {p.name: p for p in recipe.plates if p.name in pulled}
    papers = {SHEET, *(p.key for p in recipe.papers)}
    rooms = place_capacities(recipe)

    def resolved(steps: tuple[Step, ...]) -> tuple[Step, ...]:
        return tuple(replace(
            step, pulls=tuple(name for name in step.pulls if name in plates),
            uses=tuple(name for name in step.uses if name in papers),
            plate=step.plate if step.plate in plates else None,
            at=step.at if step.at in rooms else None) for step in steps)

    return replace(recipe, plates=tuple(plates.values()), before=resolved(recipe.before),
                   each=resolved(recipe.each), after=resolved(recipe.after))
