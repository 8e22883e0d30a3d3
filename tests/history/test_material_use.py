"""What a day takes of paper and ink: held beside the sheets it pulled."""

from __future__ import annotations

import random

import pytest

from benchapp.history.material_use import ink_uses, pieces_per_sheet, stock_name, uses_of
from benchapp.recipe.reader import read_recipe
from benchapp.session import actions as a
from benchapp.stock.left import InkUse
from tests.screens.days import shipped
from tests.session.support import DAMP, INK, LIFT, PULL, Bench, recipe
from tests.session.test_counting import pull
from tests.session.test_paper import printing

PAPER = ("paper: {name: cotton, weight: 230 g/m2, sheet: 500 x 700 mm, piece: 250 x 350 mm}\n")
INKED = "ink: {name: warm black, charge: 9 g}\n"
NAME = "cotton, 230 g/m2"


def taken(b: Bench, paper: str = NAME) -> int:
    """Pieces of that paper the session took."""
    return sum(1 for x in uses_of([b.s]).paper if x.paper == paper)


@pytest.mark.parametrize("seed", range(3))
def test_every_sheet_pulled_takes_one_piece_whatever_became_of_it(seed: int) -> None:
    """Kept, spoiled, not judged, a ghost, a counterproof, one taken back."""
    rng = random.Random(seed)
    b = Bench(recipe(extra=PAPER))
    for _ in range(8):
        pull(b)
        match rng.choice(("spoil", "keep", "ghost", "counterproof", "none")):
            case "spoil":
                b.say(a.Judge("spoiled"))
            case "keep":
                b.say(a.Judge("keep"))
            case "ghost":
                b.do(a.Ghost())
            case "counterproof":
                b.say(a.Counterproof())
        assert taken(b) == len(b.sheets)
        assert {x.per_sheet for x in uses_of([b.s]).paper} == {4}
    before = len(b.sheets)
    b.say(a.Counterproof())
    b.back()
    assert taken(b) == before


def test_a_sheet_lost_before_its_pull_is_used_and_one_put_back_is_not() -> None:
    """The try has no number, and its sheet is gone all the same."""
    text = DAMP.replace("  name: cotton", "  name: cotton\n  weight: 230 g/m2")
    for lost in (True, False):
        b = Bench(text)
        printing(b)
        assert taken(b) == 0
        b.say(a.SpoilTry(1, lost=lost))
        assert taken(b) == lost


def test_the_piece_of_a_chine_colle_is_used_when_its_step_is_done() -> None:
    """Also where the pull that follows is never made; a skipped one is not."""
    text = recipe(each=(INK, "{do: Lay the tissue, hands: clean, uses: chine}", PULL, LIFT),
                  extra="papers:\n  base: {name: cotton, weight: 230 g/m2}\n"
                        "  chine: {name: gampi, weight: 22 g/m2}\n")
    b = Bench(text)
    b.until("Lay the tissue")
    assert taken(b, "gampi, 22 g/m2") == 0
    b.until("Pull")
    assert (taken(b, "gampi, 22 g/m2"), taken(b)) == (1, 0)
    b.until("Lift")
    assert (taken(b, "gampi, 22 g/m2"), taken(b)) == (1, 1)


def test_ink_is_of_the_tin_that_was_named_and_only_as_weighed() -> None:
    """A day that says no tin, no weight, or two tins does not tell."""
    b = Bench(recipe(extra=INKED))
    assert list(ink_uses(b.s)) == [], "nothing was inked yet"
    pull(b, 2)
    at_ms = b.s.opened.wall_ms
    assert list(ink_uses(b.s)) == [InkUse(None, at_ms, None)]
    b.say(a.Set("ink tin", "warm black 1"))
    assert [(x.tin, x.mg) for x in ink_uses(b.s)] == [("warm black 1", None)]
    b.say(a.TakeReading("ink used", "20.5", "g"))
    assert [(x.tin, x.mg) for x in ink_uses(b.s)] == [("warm black 1", 20_500)]
    b.say(a.Set("ink tin", "warm black 2"))
    assert [(x.tin, x.mg) for x in ink_uses(b.s)] == [
        ("warm black 1", None), ("warm black 2", None)]


def test_a_paper_is_called_as_recipes_call_it() -> None:
    """With its weight; one without a name is nobody's."""
    base, chine = read_recipe(shipped("pane-moth")).papers
    assert stock_name(base) == "mould-made cotton, lightly sized, 250 g/m2"
    assert (pieces_per_sheet(base), pieces_per_sheet(chine)) == (4, 10)
    spelt = [read_recipe(recipe(extra=f"paper: {{name: cotton, weight: {x}}}\n")).papers[0]
             for x in ("230 g/m2", "230 gsm")]
    assert {stock_name(x) for x in spelt} == {NAME}
    unnamed = read_recipe(recipe(extra="paper: {weight: 230 g/m2}\n")).papers[0]
    assert (stock_name(unnamed), pieces_per_sheet(unnamed)) == (None, None)
