"""What each plate has given and will give, and what is said of a day before it is begun. Pure.

A plate nears its end from a share of the life its recipe gives it, or from the low end of what
such plates give; past the high end it is worn by all that is known. Nothing here stops a printer.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from benchapp.edition import figures
from benchapp.edition.state import Register
from benchapp.recipe.model import Plate, Recipe
from benchapp.recipe.plate_lives import (
    LOOK_FOR,
    NEAR_PERCENT,
    UsualLife,
    ask_about_facing,
    life_words,
    passes_of,
    usual_life,
)
from benchapp.recipe.warnings import paper_too_small
from benchapp.session.cancelling import cancelled_for, only_proof_words
from benchapp.session.edition_links import recipe_print_id


@dataclass(frozen=True, slots=True)
class Given:
    """What a plate has given: so many impressions; `before`: those before this book are known."""

    impressions: int = 0
    before: bool = False


@dataclass(frozen=True, slots=True)
class PlateWear:
    """A plate before a day.

    Attributes:
        plate: The plate, as its recipe has it.
        given: What it gave so far.
        more: Passes of the day over it, in all that is to be pulled.
        usual: What such plates give; None: no figure is known.
    """

    plate: Plate
    given: Given
    more: int
    usual: UsualLife | None

    @property
    def total(self) -> int:
        """All it will have given when the day is over."""
        return self.given.impressions + self.more

    @property
    def tells(self) -> bool:
        """Whether there is anything to say: it has given something, or a figure is known."""
        return bool(self.given.impressions) or self.usual is not None or self.plate.life is not None

    @property
    def near(self) -> bool:
        """Whether it nears its end, or is past it."""
        if self.plate.life is not None:
            return self.total * 100 >= self.plate.life * NEAR_PERCENT
        return self.usual is not None and self.total >= self.usual.low

    @property
    def past(self) -> bool:
        """Whether that is more than it is good for."""
        if self.plate.life is not None:
            return self.total > self.plate.life
        return self.usual is not None and self.total > self.usual.most


def given_by_plates(register: Register, recipe: Recipe) -> dict[str, Given]:
    """What the plates of a recipe have given, in every edition they served."""
    found = {x.name: Given(x.total, x.before is not None)
             for x in figures.plate_figures(register, recipe_print_id(recipe))}
    return {p.name: found.get(p.name, Given()) for p in recipe.plates}


def wear_of(recipe: Recipe, given: Mapping[str, Given], pulls: int) -> tuple[PlateWear, ...]:
    """Each plate that is pulled, before a day of so many pulls.

    Args:
        recipe: What is printed.
        given: What its plates have given.
        pulls: Impressions of the day, those that will not count among them.
    """
    return tuple(PlateWear(p, given.get(p.name, Given()), each * pulls, usual_life(p))
                 for p in recipe.plates if (each := passes_of(recipe, p.name)))


def wear_count(x: PlateWear) -> str:
    """What it has given and will give: `The plate key has given 23, and 12 more today make 35`."""
    where = "" if x.given.before else " in this book"
    told = (f"The plate {x.plate.name} has given {x.given.impressions or 'nothing yet'}{where}")
    return f"{told}, and {x.more} more make {x.total}" if x.more else told


def wear_figure(x: PlateWear) -> str:
    """What it is measured by: its recipe's life, and what is known of such plates."""
    if x.plate.life is None:
        return life_words(x.plate)
    usual = "" if x.usual is None else f"; {x.usual.words(x.plate.metal)}"
    return f"its recipe gives it {x.plate.life}{usual}"


def wear_sign(x: PlateWear) -> str:
    """That it nears its end and what to look for; empty where it does not."""
    if not x.near:
        return ""
    end = "That is more than it is good for" if x.past else "It nears its end"
    return f"{end}: look for {LOOK_FOR if x.usual is None else x.usual.look_for}"


def wear_sentences(x: PlateWear) -> tuple[str, ...]:
    """A plate before a day in whole sentences: its count, and near its end what to do."""
    said = (f"{wear_count(x)}: {wear_figure(x)}", wear_sign(x),
            ask_about_facing(x.plate) if x.near else "")
    return tuple(s for s in said if s)


def wear_by_day(x: PlateWear) -> tuple[str, ...]:
    """A plate on a day of several that nears its end on it, in whole sentences; else nothing."""
    if not x.near:
        return ()
    said = (f"By the end of this day the plate {x.plate.name} will have given {x.total}: "
            f"{wear_figure(x)}", wear_sign(x), ask_about_facing(x.plate))
    return tuple(s for s in said if s)


def near_words(recipe: Recipe, given: Mapping[str, Given]) -> tuple[str, ...]:
    """The plates near their end before anything more is pulled, a few words each."""
    return tuple(_near(x) for x in wear_of(recipe, given, 0)
                 if x.near and x.given.impressions)


def _near(x: PlateWear) -> str:
    """`Plate key has given 22, usual 20-30: look for …; ask about steel facing now`."""
    usual = "" if x.usual is None else f", usual {x.usual.figures}"
    of = usual if x.plate.life is None else f" of {x.plate.life}"
    look_for = LOOK_FOR if x.usual is None else x.usual.look_for
    ask = "; ask a plater about steel facing now" if ask_about_facing(x.plate) else ""
    return f"Plate {x.plate.name} has given {x.given.impressions}{of}: look for {look_for}{ask}"


# -- before a day ------------------------------------------------------------------------------


def cannot_be(register: Register, recipe: Recipe, wanted: int | None) -> tuple[str, ...]:
    """What a day cannot give, whatever time there is: said at once, never forbidden.

    Args:
        register: The editions of the book.
        recipe: What is printed.
        wanted: Counting impressions; None: nobody said.
    """
    # Counting an edition brings the planner with it, which no first frame should wait for.
    from benchapp.planning.most_pulls import most_of_edition

    out = []
    gone = cancelled_for(register, recipe)
    if gone is not None:
        out.append(only_proof_words(recipe.print.title, gone))
    elif wanted is not None:
        most = most_of_edition(register, recipe)
        if most is not None and wanted > most.pulls:
            out.append(f"You want {wanted}, but {most.why}")
    return (*out, *paper_too_small(recipe))
