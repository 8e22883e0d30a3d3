"""A day prepared: for so many wanted, tear this, damp that many, mix so much, screws so.

A composition of answers, each with the recipe's own number beside it. Pure.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial
from typing import Any, Literal

from benchapp.edition.state import Register
from benchapp.history.calc_inputs import (
    damp_for,
    ink_for,
    press_for,
    sheets_for,
    tear_for,
)
from benchapp.history.stats import Inked, Learnt, inked_plates
from benchapp.planning.paper_at_hand import PaperAtHand, paper_at_hand, short_words
from benchapp.planning.plate_wear import PlateWear, cannot_be, given_by_plates, wear_of
from benchapp.planning.remaining import pulls_for
from benchapp.quantities import Percentage
from benchapp.recipe.model import Ink, Paper, Press, Recipe
from benchapp.reckon.answer import Answer
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.sheets import reckon_sheets
from benchapp.reckon.thin import is_thin
from benchapp.session.counting import warm_ups
from benchapp.session.pack_size import PackSize, pack_sizes_words, size_packs
from benchapp.session.press_settings import setting_name
from benchapp.stock.left import ItemLeft

What = Literal["tear", "sheets", "packs", "ink", "press"]
#: In the order the hands come to them.
WHATS: tuple[What, ...] = ("tear", "sheets", "packs", "ink", "press")


@dataclass(frozen=True, slots=True)
class ChecklistItem:
    """One thing to prepare.

    Attributes:
        what: Which of the five it belongs to.
        of: The paper, ink or plate meant, where the print has several; else empty.
        sentence: What to do, whole by itself, without a full stop.
        answer: What it rests on; None where something needed is not known.
        more: Answers that follow from it, by name.
        own: The recipe's own numbers, plain.
        own_words: The same as a printer would say it; empty: the recipe says nothing.
        figures: Numbers beside the answer's own, plain.
        stock: What there is of it by the last count; None: nobody counted it.
    """

    what: What
    sentence: str
    of: str = ""
    answer: Answer | None = None
    more: Mapping[str, Answer] = field(default_factory=dict)
    own: Mapping[str, Any] = field(default_factory=dict)
    own_words: str = ""
    figures: Mapping[str, Any] = field(default_factory=dict)
    stock: PaperAtHand | None = None


@dataclass(frozen=True, slots=True)
class Prepared:
    """A day prepared.

    Attributes:
        wanted: Counting impressions.
        sheets: Sheets for them, warm-ups and all.
        parts: In the order the hands come to them.
        doubts: What the sessions hold that cannot be, and was left out.
        warnings: What the day cannot give, in sentences; said before all else.
        plates: What each plate has given and will give.
    """

    recipe: Recipe
    wanted: int
    sheets: int
    parts: tuple[ChecklistItem, ...]
    doubts: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    plates: tuple[PlateWear, ...] = ()


def make_checklist(recipe: Recipe, learnt: Learnt, wanted: int, *, sure: Percentage | None = None,
                   damp_already: int = 0, register: Register | None = None,
                   stock: Sequence[ItemLeft] = ()) -> Prepared:
    """Everything a day for `wanted` counting impressions asks for.

    Args:
        recipe: The print's.
        learnt: What its sessions taught.
        wanted: 1 to 5,000.
        sure: How sure the printer wants to be; None: 90 %.
        damp_already: Sheets of its paper that lie damp in the studio.
        register: The editions of the book; None: it has none.
        stock: What is left of what was counted.

    Raises:
        ReckonError: `wanted` or `sure` is out of bounds. A figure of the recipe that will not do
            is said in its part.
    """
    answer = sheets_for(recipe, learnt, wanted, sure=sure)
    count = int(answer.figures["sheets"])
    register = Register("") if register is None else register
    tear = _tear(recipe, count, stock)
    short = [short_words(x.stock) for x in tear if x.stock is not None and x.stock.short]
    return Prepared(recipe, wanted, count, (
        *tear,
        _sheets(recipe, learnt, answer, wanted, sure),
        _or_why(lambda: _packs(recipe, learnt, wanted, count, damp_already), "packs"),
        *_ink(recipe, learnt, count),
        *_press(recipe, learnt),
    ), learnt.doubts, (*cannot_be(register, recipe, wanted), *short),
        wear_of(recipe, given_by_plates(register, recipe), count))


def _or_why(make: Callable[[], ChecklistItem], what: What, of: str = "") -> ChecklistItem:
    """A part, or which figure of the recipe will not do: the rest of the day can be prepared."""
    try:
        return make()
    except ReckonError as error:
        return ChecklistItem(what, f"Not reckoned: {error}", of)


def _tear(recipe: Recipe, count: int, stock: Sequence[ItemLeft]) -> list[ChecklistItem]:
    return [replace(_tear_one(p, count, many=len(recipe.papers) > 1),
                    stock=paper_at_hand(p, count, stock)) for p in recipe.papers] or [
        ChecklistItem("tear", "The recipe names no paper, so what to tear is not reckoned")]


def _tear_one(paper: Paper, count: int, *, many: bool) -> ChecklistItem:
    of = (paper.name or paper.key) if many else ""
    own = {key: [Fraction(x.width.mm), Fraction(x.height.mm)]
           for key, x in (("sheet_mm", paper.sheet), ("piece_mm", paper.piece)) if x is not None}
    words = ", ".join(f"{name} {x}" for name, x in (("sheet", paper.sheet), ("piece", paper.piece))
                      if x is not None)
    try:
        answer = tear_for(paper, count)
    except ReckonError as error:  # the rest of the day can be prepared all the same
        return ChecklistItem("tear", f"Not reckoned: {error}", of, own=own, own_words=words)
    if answer is None:
        missing = "sheet" if paper.sheet is None else "piece"
        return ChecklistItem("tear",
                             f"The recipe gives no {missing}, so what to tear is not reckoned", of,
                             own=own, own_words=words)
    return ChecklistItem("tear", answer.sentence, of, answer, own=own, own_words=words)


def _sheets(recipe: Recipe, learnt: Learnt, answer: Answer, wanted: int,
            sure: Percentage | None) -> ChecklistItem:
    """Sheets to damp. The recipe has no number for it: what a printer without a record needs."""
    if not learnt.record.pulled:
        return ChecklistItem("sheets", answer.sentence, answer=answer)
    usual = reckon_sheets(wanted, sure=sure, warm_ups=warm_ups(recipe)).figures["sheets"]
    return ChecklistItem("sheets", answer.sentence, answer=answer, own={"without_record": usual},
                         own_words=f"{usual} without this print's record")


def _packs(recipe: Recipe, learnt: Learnt, wanted: int, count: int,
           damp_already: int) -> ChecklistItem:
    """The packs the day puts in, as on Bench and Plan; what is torn beyond them is spare."""
    paper = recipe.paper
    how = None if paper is None else paper.damp
    if paper is None or how is None:
        return ChecklistItem("packs", "The paper is used as it is: nothing to damp",
                             figures={"sizes": [], "why": [], "damp_already": 0, "to_damp": 0,
                                      "spare": 0})
    pulls = pulls_for(recipe, wanted)
    sizes = size_packs(how.pack, max(0, pulls - damp_already))
    rest = sum(x.sheets or 0 for x in sizes)
    spare = max(0, count - max(pulls, rest + damp_already))
    times = {"soak_ms": how.soak, "rest_ms": how.rest, "keeps_ms": how.keeps}
    own: dict[str, Any] = {"pack": how.pack}
    own |= {key: None if time is None else time.ms for key, time in times.items()}
    said = [f"pack {how.pack}" if how.pack else "", f"soak {how.soak}" if how.soak else "",
            f"rest {how.rest}" if how.rest else "", f"keeps {how.keeps}" if how.keeps else ""]
    answer = damp_for(paper, learnt, rest, torn=count) if rest else None
    words = _packs_words(sizes, damp_already, spare)
    if rest and is_thin(paper.weight):
        words += "; how damp thin paper should be, a sheet that printed well tells on the scale"
    return ChecklistItem("packs", words, answer=answer, own=own,
                         own_words=", ".join(x for x in said if x),
                         figures={"sizes": [x.sheets for x in sizes], "why": [x.why for x in sizes],
                                  "damp_already": damp_already, "to_damp": rest, "spare": spare})


def _packs_words(sizes: tuple[PackSize, ...], damp_already: int, spare: int) -> str:
    lying = f"; {damp_already} of this paper are damp already" if damp_already else ""
    if spare:
        more = "1 sheet more" if spare == 1 else f"{spare} sheets more"
        lying += f"; keep {more} dry, for those that are spoiled"
    if not sizes:
        return f"No more to damp{lying}"
    packs = "1 pack" if len(sizes) == 1 else f"{len(sizes)} packs"
    return f"{packs} to damp, {pack_sizes_words(sizes)}{lying}"


def _ink(recipe: Recipe, learnt: Learnt, count: int) -> list[ChecklistItem]:
    pairs = inked_plates(recipe)
    many = len(pairs) > 1
    return [_or_why(partial(_ink_one, each, learnt, count, _ink_name(each) if many else ""), "ink",
                    _ink_name(each) if many else "") for each in pairs] or [
        ChecklistItem("ink", "The recipe names no ink, so how much to mix is not reckoned")]


def _ink_name(each: Inked) -> str:
    return each.ink.name or each.plate.name


def _ink_one(each: Inked, learnt: Learnt, count: int, of: str) -> ChecklistItem:
    wanted = ink_for(each, learnt, count)
    charge = each.ink.charge
    return ChecklistItem(
        "ink", wanted.sentence(), of, wanted.need,
        {} if wanted.mixed is None else {"mix": wanted.mixed},
        {"charge_g": None if charge is None else Fraction(charge.g)},
        _charge_words(each.ink), {"batch_g": wanted.batch_g})


def _charge_words(ink: Ink) -> str:
    return "" if ink.charge is None else f"charge {ink.charge} an impression"


def _press(recipe: Recipe, learnt: Learnt) -> list[ChecklistItem]:
    many = len(recipe.presses) > 1
    return [_or_why(partial(_press_one, recipe, learnt, x, many=many), "press",
                    (x.plate or "") if many else "") for x in recipe.presses] or [
        ChecklistItem("press", "The recipe says nothing of the press, so neither is this")]


def _press_one(recipe: Recipe, learnt: Learnt, of: Press, *, many: bool) -> ChecklistItem:
    own = {setting_name(recipe, of, side): Fraction(turns.turns) for side, turns in of.sides}
    words = ", ".join(f"{side} {turns}" for side, turns in of.sides)
    answer = press_for(recipe, learnt, of)
    plate = (of.plate or "") if many else ""
    if answer is not None:
        return ChecklistItem("press", answer.sentence, plate, answer, own=own, own_words=words)
    good = learnt.good.get(of.plate)
    if good is None and not of.sides:
        return ChecklistItem("press", "The recipe names no screws, so their turns are not known",
                             plate)
    sides = of.sides if good is None else good.sides
    when = "the recipe has them" if good is None else f"on {good.session}"
    told = ", ".join(f"{side} {turns}" for side, turns in sides)
    return ChecklistItem("press", f"Screws as {when}: {told}; no pitch is given to turn them by",
                         plate,
                         own=own, own_words=words)
