"""Prepare says what paper there is, and warns where it is too little."""

from __future__ import annotations

from fractions import Fraction

import pytest

from benchapp.history.stats import NOTHING
from benchapp.planning.checklist import make_checklist
from benchapp.planning.paper_at_hand import paper_at_hand
from benchapp.recipe.reader import read_recipe
from benchapp.reports.checklist import prepare_json, prepare_text
from benchapp.stock.actions import Count
from benchapp.stock.left import ItemLeft, PaperUse, Uses, all_left
from tests.screens.days import shipped
from tests.stock.test_left import Shelf

NAME = "mould-made cotton, internally sized, 270 g/m2"
WEIGH = read_recipe(shipped("weigh-house"))


def counted(amount: int, unit: str = "sheets", used: int = 0, item: str = NAME) -> list[ItemLeft]:
    """What is left of a count after so many pieces."""
    shelf = Shelf()
    shelf.do(Count(item, amount, unit))
    shelf.clock.advance(1)
    uses = Uses((PaperUse(NAME, shelf.clock.now().wall_ms, "a", 4),) * used, (), (NAME,))
    return [*all_left(shelf.stock, uses)]


def test_prepare_says_what_you_have_and_what_this_needs() -> None:
    """Beside the tears; enough is no warning."""
    day = make_checklist(WEIGH, NOTHING, 10, stock=counted(9))
    assert "    You have 9 sheets, this needs 4" in prepare_text(day, why=True)
    assert day.warnings == make_checklist(WEIGH, NOTHING, 10).warnings
    assert prepare_json(day)["tear"]["stock"] == {
        "name": NAME, "unit": "sheets", "have": 9, "needs": 4, "short": False}


@pytest.mark.parametrize(("left", "words"), [
    (counted(2), "you have 2 sheets, this needs 4. 2 sheets to order"),
    (counted(4, used=2), "you have 3 sheets and 2 pieces, this needs 4. 1 sheet to order"),
    (counted(14, "pieces"), "you have 14 pieces, this needs 15. 1 piece to order"),
    (counted(0), "you have 0 sheets, this needs 4. 4 sheets to order")])
def test_too_little_is_warned_of_before_all_else(left: list[ItemLeft], words: str) -> None:
    """With what is missing."""
    day = make_checklist(WEIGH, NOTHING, 10, stock=left)
    assert day.warnings[-1] == f"{NAME}: {words}"
    assert prepare_text(day, why=True)[2].startswith("! ")


def test_pieces_left_over_are_enough_where_they_reach() -> None:
    """Three sheets and three pieces are fifteen."""
    found = paper_at_hand(WEIGH.papers[0], 15, counted(4, used=1))
    assert found is not None
    assert (found.have, found.needs, found.short) == (Fraction(15, 4), 4, False)


def test_what_nobody_counted_is_not_spoken_of() -> None:
    """And what is not known is said so."""
    assert paper_at_hand(WEIGH.papers[0], 15, counted(9, item="blotters")) is None
    assert paper_at_hand(WEIGH.papers[0], 15, ()) is None
    both = counted(9)
    unknown = ItemLeft(NAME, both[0].counts, None, "sheets", 9, None, 3, None, None, why="unclear")
    day = make_checklist(WEIGH, NOTHING, 10, stock=[unknown])
    assert "    How much you have is not known: unclear" in prepare_text(day, why=True)
    assert not any(NAME in x for x in day.warnings)
