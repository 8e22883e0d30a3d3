"""Plate and ink at inking and wiping: shown as the recipe says it, and what nobody names added."""

from __future__ import annotations

from pathlib import Path

from benchapp.recipe.inking import is_inking, shown_words, spoken_words
from benchapp.recipe.model import Recipe
from benchapp.recipe.reader import read_recipe
from tests.session.support import LIFT, recipe

SHIPPED = Path(__file__).parents[2] / "recipes"

TWO_INKS = """ink:
  tone: {name: dusk blue, parts: {ultramarine: 1}}
  key: {name: bone black, parts: {bone black: 1}}
"""
PULLS = ("{do: Tone through, hands: clean, pulls: tone}",
         "{do: Key through, hands: clean, pulls: key}", LIFT)


def words(found: Recipe) -> dict[str, tuple[str, str]]:
    """What is shown and spoken at each inking or wiping step."""
    return {x.do: (shown_words(found, x), spoken_words(found, x))
            for x in found.each if is_inking(found, x)}


def test_with_several_plates_both_are_named_once_whatever_the_recipe_says() -> None:
    """By `say`, by the step's own words, by one of them, by neither."""
    found = read_recipe(recipe(plates=("tone", "key"), extra=TWO_INKS, each=(
        "{do: Ink the tone, hands: inky, plate: tone, say: Tone plate with dusk blue}",
        "{do: Wipe, hands: inky, plate: tone}",
        "{do: Ink the stone key, hands: inky, plate: key}",
        "{do: Wipe bone black, hands: inky, plate: key, say: Wipe}", *PULLS)))
    assert words(found) == {
        "Ink the tone": ("Tone plate with dusk blue", "Tone plate with dusk blue"),
        "Wipe": ("tone, dusk blue", "Wipe, tone, dusk blue"),
        "Ink the stone key": ("bone black", "Ink the stone key, bone black"),
        "Wipe bone black": ("key", "Wipe, key, bone black")}


def test_with_one_plate_the_ink_alone_is_added_and_say_is_spoken_as_it_is() -> None:
    """Also where two inks go on it; the name of the only plate says nothing."""
    ink = ("ink:\n  key:\n    - {name: brown, parts: {umber: 1}}\n"
           "    - {name: ochre, parts: {yellow ochre: 1}}\n")
    found = read_recipe(recipe(extra=ink, each=(
        "{do: Scrim, hands: inky, every: 5}",
        "{do: Ink, hands: inky, say: Brown then ochre}", "{do: Wipe, hands: inky}",
        "{do: Pull, hands: clean, pulls: key}", LIFT, "{do: Rework, hands: inky, plate: key}")))
    assert words(found) == {"Ink": ("Brown then ochre", "Brown then ochre"),
                            "Wipe": ("brown, ochre", "Wipe, brown, ochre")}


def test_the_shipped_print_of_two_plates_names_both_at_each() -> None:
    """As its recipe says them, shown and spoken alike."""
    found = read_recipe((SHIPPED / "ferry-lamp.yaml").read_text(encoding="utf-8"))
    assert words(found) == {
        "Ink and wipe the tone": ("Tone plate, dusk blue",) * 2,
        "Ink and wipe the key": ("Key plate, brown black",) * 2}
