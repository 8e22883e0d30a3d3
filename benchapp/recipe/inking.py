"""Which plate is in hand while it is inked and wiped, and with which ink. From the recipe alone."""

from __future__ import annotations

import re
from collections.abc import Iterable

from benchapp.recipe.model import Recipe, Step
from benchapp.recipe.order import plates_of


def is_inking(recipe: Recipe, step: Step) -> bool:
    """Whether a plate is inked or wiped in this step: inky work on it that a pull of it follows.

    A step that is due now and then only, as turning the scrim, is neither.
    """
    if step.section != "each" or step.hands != "inky" or step.every is not None:
        return False
    plates, ids = set(plates_of(recipe, step)), [x.id for x in recipe.each]
    return any(plates & set(x.pulls) for x in recipe.each[ids.index(step.id):])


def shown_words(recipe: Recipe, step: Step) -> str:
    """What is shown beside such a step: its `say`, and plate and ink where nothing names them.

    Empty where there is nothing to add. The name of the only plate is left out.
    """
    say = "" if step.say is None or step.say.casefold() in step.do.casefold() else step.say
    missing = _missing(recipe, step, f"{step.do} {say}")
    return ", ".join(x for x in (say, missing) if x)


def spoken_words(recipe: Recipe, step: Step) -> str:
    """What is spoken as such a step begins: its `say` as the recipe has it, else what to do.

    With several plates, or without a `say`, plate and ink are added where they are not named.
    """
    words = step.say or step.do
    if step.say and len(recipe.plates) == 1:
        return words
    missing = _missing(recipe, step, words)
    return f"{words}, {missing}" if missing else words


def _missing(recipe: Recipe, step: Step, said: str) -> str:
    """The plates, where there are several, and the inks of a step that are not named in `said`."""
    plates = plates_of(recipe, step)
    inks = [ink.name for ink in recipe.inks
            if ink.name and (ink.plate is None or ink.plate in plates)]
    names = (plates if len(recipe.plates) > 1 else ())
    return ", ".join((*_unnamed(names, said), *_unnamed(inks, said)))


def _unnamed(names: Iterable[str], said: str) -> list[str]:
    return [name for name in dict.fromkeys(names)
            if not re.search(rf"(?<!\w){re.escape(name)}(?!\w)", said, re.IGNORECASE)]
