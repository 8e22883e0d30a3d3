"""Whether the paper counted is enough for a day: `you have 9 sheets, this needs 4`. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from benchapp.history.material_use import pieces_per_sheet, stock_name
from benchapp.quantities import items_text
from benchapp.recipe.model import Paper
from benchapp.stock.left import ItemLeft
from benchapp.stock.names import item_key
from benchapp.stock.parse import amount_words


@dataclass(frozen=True, slots=True)
class PaperAtHand:
    """A paper as it was counted, and what a day needs of it.

    Attributes:
        name: What the stock calls it.
        unit: `sheets` or `pieces`, as it was counted.
        have: What is left, at least; None: not known.
        needs: What the day takes, in that unit; None: not known.
        words: The same in a sentence without a full stop.
        short: Whether there is too little.
    """

    name: str
    unit: str
    have: Fraction | None
    needs: int | None
    words: str
    short: bool


def paper_at_hand(paper: Paper, pieces: int, stock: Iterable[ItemLeft]) -> PaperAtHand | None:
    """What there is of a paper; None: nobody counted it.

    Args:
        paper: Of the recipe.
        pieces: What the day takes.
        stock: What is left of everything.
    """
    name = stock_name(paper)
    if name is None:
        return None
    left = next((x for x in stock if item_key(x.item) == item_key(name)), None)
    if left is None or left.unit not in ("sheets", "pieces"):
        return None
    per_sheet = 1 if left.unit == "pieces" else pieces_per_sheet(paper)
    needs = None if per_sheet is None else -(-pieces // per_sheet)
    if left.left is None:
        return PaperAtHand(name, left.unit, None, needs,
                           f"How much you have is not known: {left.why}", short=False)
    have = amount_words(left.left, left.unit, left.per_sheet or per_sheet)
    if left.left_most is not None and left.left_most > left.left:
        have = f"at least {have}"
    if needs is None or per_sheet is None:
        return PaperAtHand(name, left.unit, left.left, None, f"You have {have}", short=False)
    short = left.left < Fraction(pieces, per_sheet)
    return PaperAtHand(name, left.unit, left.left, needs,
                       f"You have {have}, this needs {needs}", short=short)


def short_words(found: PaperAtHand) -> str:
    """The warning where there is too little."""
    have, needs = found.have or Fraction(0), found.needs or 0
    missing = -int(-(needs - have) // 1)
    return (f"{found.name}: {found.words[:1].lower()}{found.words[1:]}. "
            f"{items_text(missing, found.unit.removesuffix('s'))} to order")
