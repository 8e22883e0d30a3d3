"""The recipes there are: the printer's own, then the shipped ones, read for the Studio."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from benchapp.files import FileProblem, own_recipes, read_bytes, shipped_recipes
from benchapp.recipe.model import Recipe
from benchapp.recipe.problems import RecipeError
from benchapp.recipe.reader import read_recipe
from benchapp.recipe.warnings import recipe_warnings


@dataclass(frozen=True, slots=True)
class OnShelf:
    """One recipe file.

    Attributes:
        name: What `run` calls it.
        own: In the printer's own folder; else shipped.
        text: As it stands in the file; empty where it cannot be read.
        recipe: As read; None where it has problems.
        problems: What is wrong, a line each, the first first.
    """

    name: str
    own: bool
    text: str
    recipe: Recipe | None
    problems: tuple[str, ...] = ()

    @property
    def warnings(self) -> tuple[str, ...]:
        """What a printer would raise an eyebrow at, a line each."""
        return () if self.recipe is None else tuple(map(str, recipe_warnings(self.recipe)))


def shelf_recipes() -> tuple[OnShelf, ...]:
    """All recipes, the printer's own first; one of their own hides a shipped one of its name.

    Raises:
        FileProblem: The folder of recipes cannot be read.
    """
    own = own_recipes()
    shipped = {name: path for name, path in shipped_recipes().items() if name not in own}
    return (*(_read(n, p, own=True) for n, p in own.items()),
            *(_read(n, p, own=False) for n, p in shipped.items()))


@lru_cache(maxsize=256)
def _recipe(data: bytes) -> Recipe:
    """Files hardly ever change, and the Studio looks at them each minute."""
    return read_recipe(data)


def _read(name: str, path: Path, *, own: bool) -> OnShelf:
    try:
        data = read_bytes(path)
        recipe = _recipe(data)
    except FileProblem as error:
        return OnShelf(name, own, "", None, (str(error),))
    except RecipeError as error:
        return OnShelf(name, own, "", None, tuple(map(str, error.problems)))
    return OnShelf(name, own, data.decode("utf-8"), recipe)
