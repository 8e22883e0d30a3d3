"""What is proposed at the steps before printing, and the amounts it rests on."""

from __future__ import annotations

from benchapp.history.calc_inputs import mix_for, press_for, sides_for
from benchapp.history.hints import has_hints, hint_sentences
from benchapp.history.stats import learn_stats
from benchapp.quantities import Mass
from benchapp.recipe.reader import read_recipe
from benchapp.session.pack_size import RECIPE, PackSize
from tests.session.support import DAMP, Bench, recipe

INK = "ink: {charge: 9 g, parts: {bone black: 10, plate oil: 0.5}}\n"
PAPER = "paper: {name: cotton, weight: 300 g/m2, sheet: 560 x 760 mm, piece: 280 x 380 mm}\n"
BEFORE = ("{do: Tear the paper, hands: clean}", "{do: Mix ink, hands: inky}",
          "{do: Screws, hands: clean}", "{do: Sweep the floor, hands: clean}")
TEXT = recipe(before=BEFORE, extra=f"{PAPER}{INK}press: {{pitch: 2 mm, handle side: 3 turns}}\n")


def hints(b: Bench, do: str) -> tuple[str, ...]:
    """What is proposed at a step."""
    return hint_sentences(b.s, b.key(do), learn_stats([b.s]), PackSize(4, RECIPE))


def test_each_step_before_printing_has_its_own() -> None:
    """Known by its words; a step of another kind, or of the sheet, has none."""
    b = Bench(TEXT, wanted=4)
    assert "280 x 380" in hints(b, "Tear the paper")[0].replace("×", "x")
    mix = hints(b, "Mix ink")
    assert mix[0].startswith("Mix ")
    assert "bone black" in mix[1]
    assert "3" in hints(b, "Screws")[0]
    assert hints(b, "Sweep the floor") == hints(b, "Ink") == ()
    assert [has_hints(b.s, b.key(x)) for x in ("Screws", "Ink")] == [True, False]
    assert not has_hints(b.s, None)


def test_without_a_number_wanted_nothing_is_reckoned() -> None:
    """But the screws, which need none."""
    b = Bench(TEXT)
    assert hints(b, "Tear the paper") == hints(b, "Mix ink") == ()
    assert hints(b, "Screws") != ()


def test_paper_to_damp_is_counted() -> None:
    """Where its weight is not known, the count alone."""
    b = Bench(DAMP, wanted=4)
    assert len(hints(b, "Sheets into the water")) == 1


def test_what_a_recipe_does_not_say_gives_no_amount() -> None:
    """No parts, no pitch, no side."""
    plain = read_recipe(recipe(extra="ink: {charge: 9 g}\npress: {pitch: 2 mm}\n"))
    assert mix_for(plain.inks[0], Mass(40)) is None
    nothing = learn_stats([])
    assert sides_for(plain, nothing, plain.presses[0]) is None
    assert press_for(plain, nothing, plain.presses[0]) is None
    parts = read_recipe(recipe(extra=INK))
    assert mix_for(parts.inks[0], Mass(40)) is not None
    assert mix_for(parts.inks[0], Mass(0)) is None
