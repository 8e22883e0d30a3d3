"""Texts that days in the book keep: whatever was taken once is built, whatever is refused today."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.recipe.build import build_recipe
from benchapp.recipe.document import scan_document
from benchapp.recipe.model import Recipe
from benchapp.recipe.problems import RecipeError
from benchapp.recipe.reader import read_recipe
from benchapp.session.compiled_recipe import CompiledRecipe
from tests.recipe.samples import FULL, LEAST, TWO_PLATES, changed
from tests.recipe.spelling import recipe, write
from tests.recipe.test_generated import SHIPPED, broken
from tests.recipe.test_refusals import ROWS

#: So many broken texts are built.
EXAMPLES = 300 if settings().max_examples < 100 else 20_000


def use(found: Recipe) -> None:
    """All that a session computes from its recipe."""
    shape = CompiledRecipe(found)
    for name in ("by_id", "damped", "paper_name", "handling", "follows", "pulls", "lift",
                 "sheet_step", "limits", "place_of", "release", "plates_of", "places", "cycle_ms"):
        getattr(shape, name)
    for step in found.each:
        assert shape.due_on(step, 1) in (True, False)
        assert step.at is None or step.at in shape.places
        assert all(found.plate(name) for name in step.pulls)


def built(text: str) -> tuple[Recipe | None, str]:
    """What is built, or the first thing wrong."""
    try:
        return build_recipe(text), ""
    except RecipeError as error:
        return None, error.problems[0].wrong


@pytest.mark.parametrize("text", [FULL, LEAST, TWO_PLATES, *SHIPPED])
def test_a_text_that_is_taken_today_is_built_as_it_is_read(text: str) -> None:
    assert build_recipe(text) == read_recipe(text)


@given(st.integers(0, 2**32))
def test_any_recipe_is_built_as_it_is_read(seed: int) -> None:
    rng = random.Random(seed)
    text = write(recipe(rng), rng)
    assert build_recipe(text) == read_recipe(text)


def test_a_metal_without_a_letter_was_taken_once_and_stays_what_it_was() -> None:
    text = changed("metal: copper, ", 'metal: "29", ')
    with pytest.raises(RecipeError, match="is not the name of a metal"):
        read_recipe(text)
    assert build_recipe(text).plates[0].metal == "29"


@pytest.mark.parametrize(("old", "new"), [row[:2] for row in ROWS])
def test_what_is_refused_in_a_file_does_not_close_a_day_in_the_book(old: str, new: str) -> None:
    """Of texts with one refused piece those are built that are YAML and have a plate pulled."""
    text = changed(old, new)
    found, problem = built(text)
    if scan_document(text).root is None:
        assert found is None
    elif found is None:
        assert problem.startswith(("no plate of this recipe", "there is no recipe:", "recipe: "))
    else:
        use(found)


def test_a_name_that_belongs_to_nothing_is_left_out() -> None:
    found = build_recipe(changed("pulls: weir", "pulls: [weir, dam]",
                                 changed("at: slab", "at: moon")))
    assert found.each[3].pulls == ("weir",)
    assert found.each[1].at is None


@given(st.integers(0, 2**32))
@settings(max_examples=EXAMPLES)
def test_broken_texts_raise_nothing_else_and_what_is_built_can_be_used(seed: int) -> None:
    rng = random.Random(seed)
    found, problem = built(broken(rng.choice([FULL, LEAST, TWO_PLATES]), rng))
    if found is None:
        assert problem
    else:
        use(found)


@pytest.mark.parametrize("text", ["", "[]", "recipe: 2", "recipe: 1", "\x00", "a: [", "- 1",
                                  "recipe: 1\nplates: 3\neach: x\n"])
def test_no_recipe_is_said(text: str) -> None:
    with pytest.raises(RecipeError) as error:
        build_recipe(text)
    assert error.value.problems[0].mend
