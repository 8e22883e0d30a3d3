"""How many treads an impression takes: what the printer's foot does between two sheets."""

from __future__ import annotations

from fractions import Fraction

from benchapp.recipe.model import Recipe
from benchapp.recipe.order import takes_tread


def treads_per_impression(recipe: Recipe) -> Fraction:
    """Treads an impression in the steady state: steps that take one, and the washes between.

    Steps offered and not due are left out, one due on every n-th impression counts
    an n-th. A wait that calls takes the tread that answers it; a hands step that
    calls takes one more. A wash stands between an inky step and the clean one after
    it, also where the clean step takes no tread of its own.
    """
    count = Fraction(0)
    inky = False
    for step in recipe.each:
        if step.optional:
            continue
        share = Fraction(1, step.every or 1)
        if step.hands == "clean" and inky:
            count += 1
            inky = False
        inky = inky or step.hands == "inky"
        if takes_tread(recipe, step):
            count += share
        if step.calls is not None:
            count += share
    return count


def treads_words(count: Fraction) -> str:
    """So many treads, in words: `5 treads an impression`, `26 treads in 5 impressions`."""
    if count.denominator == 1:
        return f"{count} tread{'' if count == 1 else 's'} an impression"
    return f"{count.numerator} treads in {count.denominator} impressions"
