"""The table of hazards: whole, without double meaning, and what a caution is cut down to."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from benchapp.recipe.hazards import (
    HAZARDS,
    Hazard,
    care_name,
    is_press_off,
    of_caution,
    of_step,
    promises_no_harm,
    short_care,
    spirit_of,
)
from benchapp.recipe.model import Hands, Step
from benchapp.recipe.reader import read_recipe
from benchapp.screens.glyph_dots import DOTS
from tests.recipe.samples import LEAST, changed

#: Who has the last word in a caution: never this program.
AUTHORITY = re.compile(r"data sheet|label|code|plater", re.IGNORECASE)


def step(do: str = "", *, lines: tuple[str, ...] = (), hands: Hands = "clean",
         at: str | None = None, care: str | None = None, short: str | None = None,
         pulls: tuple[str, ...] = ()) -> Step:
    """One step of a day."""
    return Step("before.1", "before", do, hands, at=at, lines=lines, care=care, care_short=short,
                pulls=pulls)


@pytest.mark.parametrize("hazard", HAZARDS, ids=lambda h: h.key)
def test_each_row_is_whole(hazard: Hazard) -> None:
    """A caution of one line that defers, its short form, and a name that can be drawn."""
    assert len(hazard.full) <= 77
    assert AUTHORITY.search(hazard.full)
    assert len(hazard.short) <= 60
    assert 0 < len(hazard.name) <= 12
    assert set(hazard.name) <= set(DOTS)
    assert [h.key for h in of_caution(hazard.full)] == [hazard.key]
    assert [h.key for h in of_caution(hazard.short)] == [hazard.key]
    assert promises_no_harm(hazard.full) is None


def test_no_two_rows_are_alike() -> None:
    """Keys, names and short forms tell them apart."""
    for what in ("key", "name", "short", "full"):
        said = [getattr(hazard, what) for hazard in HAZARDS]
        assert len(set(said)) == len(said)


@pytest.mark.parametrize(("do", "hazard"), [
    ("Dust rosin on the plate", "rosin"), ("Lump resin in a bag", "rosin"),
    ("Spirit ground of colophony", "rosin"), ("Aquatint box, 10 min", "rosin"),
    ("Rub with whiting", "dust"), ("Grind the pigments", "dust"), ("Talc on the edges", "dust"),
    ("Magnesium carbonate into the ink", "dust"), ("Mix both inks", "dust"),
    ("Melt with the torch", "flame"), ("Smoke the ground with a taper", "flame"),
    ("Heat on", "hot plate"), ("Warm the plate", "hot plate"), ("Hot plate off", "hot plate"),
    ("Pressure off and blankets hung", "nip"), ("Under the press", "nip"),
    ("Cut the chine with a new blade", "blade"), ("File the bevels", "blade"),
    ("Filing the edges", "blade"), ("Scrape and burnish", "blade"), ("Bevel the plate", "blade"),
    ("Bite again", "etchant"), ("Ferric, 6 min", "etchant"), ("Salt etch", "etchant"),
    ("Copper sulphate and salt", "etchant"), ("Mordant back into its bottle", "etchant"),
    ("Clean with white spirit", "solvent"), ("Methylated spirits on a cloth", "solvent"),
    ("Turps", "solvent"), ("Stop-out varnish", "solvent"), ("Lay a hard ground", "solvent"),
    ("Degrease in lye", "lye"), ("Caustic soda", "lye"), ("Washing soda", "lye"),
    ("Steel facing", "steel facing"), ("Steel-face the plate", "steel facing"),
    ("Bleach the stain", "bleach"), ("Rags", "oily rags"),
])
def test_a_step_is_known_by_its_words(do: str, hazard: str) -> None:
    """In the words of the trade, in whatever spelling."""
    assert hazard in {h.key for h in of_step(step(do))}


@pytest.mark.parametrize("do", [
    "Lift and look", "Left-over damp sheets", "First blotter change", "Tear paper", "Boards",
    "Foul bite or salty? Look", "Grain matches", "Screws lighter than last time", "Bevels and back",
    "A bit of tissue", "Spirit level on the bed",
])
def test_plain_work_has_no_hazard(do: str) -> None:
    """Words that look like a hazard and are none."""
    assert of_step(step(do)) == ()


def test_a_step_is_known_by_place_pull_and_hands() -> None:
    """Without a word of it: press, hot plate and bath by place, a pull, inky hands."""
    assert [h.key for h in of_step(step("Go", at="press"))] == ["nip"]
    assert [h.key for h in of_step(step("Go", pulls=("key",)))] == ["nip"]
    assert [h.key for h in of_step(step("Go", at="hot plate"))] == ["hot plate"]
    assert [h.key for h in of_step(step("Go", at="etching bath"))] == ["etchant"]
    assert [h.key for h in of_step(step("Go", hands="inky"))] == ["ink"]


def test_a_rag_in_the_reminders_is_no_rag_fire() -> None:
    """A rag is in the hand all day; only where rags are the work are they the hazard."""
    assert of_step(step("Look", lines=("wipe it with a rag",))) == ()


def test_the_most_harmful_comes_first() -> None:
    """Steps with several hazards give them in the order of the table."""
    found = of_step(step("Rework: scrape, white spirit, bite", hands="inky"))
    places = [HAZARDS.index(h) for h in found]
    assert [h.key for h in found] == ["etchant", "solvent", "blade", "ink"]
    assert all(a < b for a, b in pairwise(places))


@pytest.mark.parametrize(("care", "short"), [
    ("Solvent harms and burns; gloves, open window, no heat, data sheet first.",
     "Solvent harms: gloves, air"),
    ("The nip crushes; hands, sleeves and hair clear.",
     "Nip crushes: fingers, hair, sleeves clear"),
    ("Hot long after it is off; nothing laid on it.", "Hot plate burns: lift with a pad"),
    ("Rags with oil heat and catch fire by themselves.",
     "Oily rags catch fire: metal can outdoors"),
    ("Solvent and ground harm and burn, tools cut; no heat.",
     "Solvent harms: gloves, air. Blades and edges cut: cut away from the hand"),
    ("Mind the step; the lamp is broken.", "Mind the step"),
    ("The third stair behind the old plan chest in the passage is loose", None),
])
def test_what_a_caution_is_cut_down_to(care: str, short: str | None) -> None:
    """The hazards it names first; else its first clause; a long one stays whole."""
    assert short_care(step("Look", care=care)) == (short or care)


def test_a_caution_that_names_nothing_goes_by_its_step() -> None:
    """`Mind your hands` at the press is the nip."""
    told = step("Lay and pull", care="Mind your hands.", at="press")
    assert short_care(told) == "Nip crushes: fingers, hair, sleeves clear"
    assert care_name(told) == "PRESS NIP"
    assert care_name(step("Look", care="Mind the step.")) == "CARE"
    assert care_name(step("Look")) is None


def test_the_recipe_may_say_its_own_short_form() -> None:
    """`care: {full: …, short: …}`; with `full` alone the table says it."""
    old = "care: The nip crushes; its label first."
    both = read_recipe(changed(old,
                               "care: {full: Nip crushes and traps, short: Nip crushes}")).each[3]
    assert (both.care, short_care(both)) == ("Nip crushes and traps", "Nip crushes")
    one = read_recipe(changed(old, "care: {full: Nip crushes and traps}")).each[3]
    assert short_care(one) == "Nip crushes: fingers, hair, sleeves clear"
    assert read_recipe(changed(old, old)).each[3].care == "The nip crushes; its label first."


@pytest.mark.parametrize("care", [
    "Wet rags are safe.", "This ground is harmless", "A non-toxic ink", "no gloves needed",
    "No special ventilation is required", "It is not dangerous", "This won't burn", "Not harmful",
    "For your safety all is well", "No danger",
])
def test_a_claim_of_harmlessness_is_found(care: str) -> None:
    """Whatever the words."""
    assert promises_no_harm(care)


@pytest.mark.parametrize("care", [
    "The safety data sheet first", "Safety goggles on", "It is not safe without gloves",
    "No fan while the dust settles", "Never burn rags", "No gloves near the roller",
])
def test_a_caution_that_warns_claims_nothing(care: str) -> None:
    """Words that stand in real cautions."""
    assert promises_no_harm(care) is None


@pytest.mark.parametrize("times", [100, 12_000])
def test_patterns_see_the_first_two_thousand_letters_only(times: int) -> None:
    """So a text of any length takes no longer: what stands beyond is not looked at."""
    endless = "file the lay aa mix " * times
    for word, found in (("nitric acid", of_step), ("white spirit", spirit_of)):
        assert found(step(word))
        assert found(step(f"{word} {endless}"))
        assert not found(step(endless + word))
        assert not found(step(lines=(endless + word,)))
    assert of_caution("nitric acid")
    assert not of_caution(endless + "nitric acid")
    assert promises_no_harm("harmless")
    assert promises_no_harm(endless + "harmless") is None
    assert short_care(step(care=endless))


@pytest.mark.parametrize(("section", "is_it"), [("after", True), ("before", False)])
def test_pressure_is_let_off_at_the_end_of_the_day_alone(
    section: str, is_it: bool
) -> None:
    """The same words before the first sheet are of setting the press, not of leaving it."""
    text = LEAST + f"{section}:\n  - {{do: Pressure off the press, hands: clean}}\n"
    (step,) = getattr(read_recipe(text), section)
    assert is_press_off(step) is is_it
