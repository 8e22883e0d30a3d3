"""Every key, given a list of lists: the refusal shows how that key is written."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
import yaml

from benchapp.recipe.problems import RecipeError
from benchapp.recipe.reader import read_recipe
from tests.recipe.samples import FULL

#: Where the value stands (`-` for any item, `step` for one of any part of the day): the mend.
EXAMPLES = {
    "recipe": "1",
    "print": "title: Slack Tide",
    "print.title": "Slack Tide",
    "print.artist": "Wren Aldous",
    "print.edition": "40",
    "print.proofs": "{AP: 4, PP: 1}",
    "print.proofs.AP": "4",
    "print.proofs.PP": "4",
    "plates.-.name": "key",
    "plates.-.metal": "copper",
    "plates.-.size": "198 x 148 mm",
    "plates.-.thickness": "1.2 mm",
    "plates.-.techniques": "hard-ground line",
    "plates.-.life": "120 impressions",
    "paper.name": "cotton, internally sized",
    "paper.weight": "300 g/m2",
    "paper.sheet": "560 x 760 mm",
    "paper.piece": "280 x 380 mm",
    "paper.grain": "long",
    "paper.damp": "{method: soak, soak: 30 min}",
    "paper.damp.method": "soak",
    "paper.damp.soak": "30 min",
    "paper.damp.rest": "15 min",
    "paper.damp.keeps": "48 h",
    "paper.damp.pack": "6",
    "paper.damp.handling": "3 min",
    "ink": "{charge: 9 g}",
    "ink.charge": "9 g",
    "ink.parts": "{bone black: 10, plate oil: 0.5}",
    "ink.parts.carbon black": "10",
    "ink.parts.sienna": "10",
    "ink.parts.plate oil": "10",
    "press": "handle side: 3.25 turns",
    "press.pitch": "2 mm",
    "press.near screw": "3.25 turns",
    "press.off screw": "3.25 turns",
    "press.zero": "roller on the bare bed",
    "press.more is": "tighter",
    "register": "margins: 40 mm",
    "register.margins": "40 mm",
    "register.up": "40 mm",
    "wash": "1.5 min",
    "places": "{hot plate: 2, slab: 1}",
    "places.slab": "1",
    "step.do": "Ink",
    "step.hands": "inky",
    "step.time": "3/5/8 min",
    "step.at": "press",
    "step.ends": "itself",
    "step.care": "Fingers, hair and sleeves clear",
    "step.say": "Ink the key plate",
    "step.calls": "2 min",
    "step.within": "8 min",
    "step.lines": "scrim used to clean",
    "step.uses": "sheet",
    "step.pulls": "key",
    "step.return": "true",
    "step.asks": "[verdict, tags, note]",
    "step.out of reach": "true",
    "step.every": "5",
    "step.optional": "true",
    "step.short": "Ink",
    "step.must": "[turned off, left on]",
    "drying.-.do": "Change blotters",
    "drying.-.after": "3 h",
    "drying.-.every": "1 day",
    "drying.-.for": "3 days",
    "varied": "true",
    "proofing": "{for: SP, state: II}",
    "proofing.for": "TP",
    "proofing.state": "II",
    "tags": "paper: [too wet, cockle]",
    "readings": "{name: tone, unit: grade 1-5}",
    "readings.-.name": "tone",
    "readings.-.unit": "grade 1-5",
    "readings.-.at": "Lift and look",
    "phrases": "paper a little wetter",
}


def _values(node: yaml.Node, place: str = "") -> Iterator[tuple[str, yaml.Node]]:
    """Every value on one line or in brackets, the steps of all parts under one name."""
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            inner = f"{place}.{key.value}".lstrip(".")
            yield inner, value
            yield from _values(value, inner)
    elif isinstance(node, yaml.SequenceNode):
        item = "step" if place in ("before", "each", "after") else f"{place}.-"
        for value in node.value:
            yield from _values(value, item)


_PLACES = dict(reversed([(place, node) for place, node in _values(yaml.compose(FULL))
                         if place in EXAMPLES]))


@pytest.mark.parametrize("place", EXAMPLES)
def test_a_value_of_another_shape_is_answered_with_an_example(place: str) -> None:
    """It names the place of the value and what to write there, key by key."""
    node = _PLACES[place]
    with pytest.raises(RecipeError) as caught:
        read_recipe(FULL[:node.start_mark.index] + "[[]]" + FULL[node.end_mark.index:])
    problem = caught.value.problems[0]
    assert problem.mend == f"write such as {EXAMPLES[place]}"
    began = node.start_mark.column + 1
    assert problem.line == node.start_mark.line + 1
    assert problem.column in (began, began + 1)  # where a list may stand, its item is wrong

