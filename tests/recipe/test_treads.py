"""Treads an impression."""

from fractions import Fraction

import pytest

from benchapp.files import read_text, shipped_recipes
from benchapp.recipe.reader import read
from benchapp.recipe.treads import treads

#: Counted by hand from each recipe's own lines; one plate: five or fewer, but for what is due
#: on every fifth sheet only.
COUNTED = {
    "weigh-house": Fraction(26, 5),
    "ferry-lamp": Fraction(6),
    "thistle-heads": Fraction(5),
    "signal-box": Fraction(5),
    "pane-moth": Fraction(5),
    "three-steps": Fraction(4),
}


@pytest.mark.parametrize("name", sorted(shipped_recipes()))
def test_treads_of_the_shipped_recipes(name):
    """Each is counted by hand; with one plate no more than five and a bit."""
    recipe = read(read_text(shipped_recipes()[name]))
    found = treads(recipe)
    assert found == COUNTED[name]
    if len(recipe.plates) == 1:
        assert found <= Fraction(26, 5)
