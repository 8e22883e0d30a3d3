"""Treads an impression."""

import json
from fractions import Fraction

import pytest

from benchapp.cli import main
from benchapp.files import read_text, shipped_recipes
from benchapp.recipe.reader import read_recipe
from benchapp.recipe.treads import treads_per_impression, treads_words

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
    recipe = read_recipe(read_text(shipped_recipes()[name]))
    found = treads_per_impression(recipe)
    assert found == COUNTED[name]
    if len(recipe.plates) == 1:
        assert found <= Fraction(26, 5)


@pytest.mark.parametrize("name", sorted(COUNTED))
def test_check_says_them(name, capsys):
    """In words on a line of its own, and as whole numbers in the document."""
    assert main(["check", name]) == 0
    said = capsys.readouterr().out.splitlines()[-2]
    assert said.endswith(f": {treads_words(COUNTED[name])}, the washes between counted")
    assert main(["check", name, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["treads"]
    assert Fraction(found["count"], found["impressions"]) == COUNTED[name]


def test_treads_are_said_in_whole_numbers():
    """One is one; a step due on every fifth sheet makes it so many in five."""
    assert treads_words(Fraction(1)) == "1 tread an impression"
    assert treads_words(Fraction(4)) == "4 treads an impression"
    assert treads_words(Fraction(26, 5)) == "26 treads in 5 impressions"
