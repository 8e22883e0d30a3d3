"""The day's arithmetic asked for one print: its recipe and its sessions turned into questions.

Everything the recipe says stands as the recipe's, everything its sessions taught as learnt.
Pure; the answers are those of `benchapp.reckon`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from math import ceil
from typing import Final

from benchapp.history.stats import Inked, Learnt
from benchapp.quantities import Length, Mass, Percentage, Size
from benchapp.recipe.model import Ink, Paper, Press, Recipe
from benchapp.reckon.answer import Answer, Origin
from benchapp.reckon.damp import ControlSheet, damp_weight
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.ink import STEP, Ingredient, mix_ink
from benchapp.reckon.ink_need import ink_need
from benchapp.reckon.press import Sides, ThicknessChange, press_turns
from benchapp.reckon.sheets import reckon_sheets
from benchapp.reckon.thin import is_thin
from benchapp.session.counting import warm_ups
from benchapp.session.press_settings import change_from, more_is

Sources = Mapping[str, tuple[Origin, str]]
#: A scale nobody described: the usual kitchen or pocket one.
OWN_STEP: Final[Sources] = {"step of the scale": (Origin.CHOSEN, "")}


def with_sources(answer: Answer, sources: Sources) -> Answer:
    """The answer, with the inputs of these names said to come from elsewhere than `given`."""
    inputs = tuple(
        replace(each, source=sources[each.name][0], detail=sources[each.name][1])
        if each.name in sources and each.source is Origin.GIVEN else each
        for each in answer.inputs)
    return replace(answer, inputs=inputs, figures=dict(answer.figures))


def sheets_for(recipe: Recipe, learnt: Learnt, good: int, *, sure: Percentage | None = None,
               spoilage: Percentage | None = None) -> Answer:
    """How many sheets give `good` counting impressions of this print.

    Args:
        recipe: The print's.
        learnt: What its sessions taught.
        good: How many are wanted.
        sure: How sure the printer wants to be.
        spoilage: A rate the printer gives instead of the record.

    Raises:
        ReckonError: A figure is out of bounds.
    """
    return reckon_sheets(good, sure=sure, spoilage=spoilage, record=learnt.record,
                         warm_ups=warm_ups(recipe))


# -- paper ----------------------------------------------------------------------------------


@lru_cache(maxsize=64)
def tear_for(paper: Paper, count: int | None = None) -> Answer | None:
    """How that paper is torn from full sheets; None where sheet or piece is not known.

    Thin paper is cut, to the size itself: only a torn edge needs a tolerance.

    Its grain is fixed. Where the recipe says which way it runs, it does so in sheet and piece
    alike, long with long; else the pieces lie whichever one way gives more.

    Args:
        paper: With its sheet and piece.
        count: Pieces wanted; None: what one sheet gives.

    Raises:
        ReckonError: A size is none, or the piece does not fit.
    """
    if paper.sheet is None or paper.piece is None:
        return None
    # Of many modules, and a Bench never tears: a session opens without.
    from benchapp.reckon.tear import RECIPE_TOLERANCE, tear_sheet
    from benchapp.reckon.tear import Piece as TornPiece

    said = Origin.RECIPE if paper.grain is not None else Origin.PRACTICE
    origins = {"sheet": Origin.RECIPE, "piece": Origin.RECIPE, "grain": said,
               "tolerance": Origin.PRACTICE}
    size = _laid(paper.sheet, paper.piece, by_grain=paper.grain is not None)
    thin = is_thin(paper.weight)
    return tear_sheet(paper.sheet, [TornPiece(size, count)], turn=False, thin=thin, origins=origins,
                      tolerance=Length(Fraction(0)) if thin else RECIPE_TOLERANCE)


def _laid(sheet: Size, piece: Size, *, by_grain: bool) -> Size:
    """The piece, or the piece turned, as it lies on the sheet."""
    turned = Size(piece.height, piece.width)
    if by_grain:
        upright = sheet.height.mm >= sheet.width.mm
        return piece if (piece.height.mm >= piece.width.mm) == upright else turned
    ways = [x for x in (piece, turned)
            if x.width.mm <= sheet.width.mm and x.height.mm <= sheet.height.mm]
    return max(ways, key=lambda x: _many(sheet, x), default=piece)


def _many(sheet: Size, piece: Size) -> int:
    """Pieces that straight rows and columns give."""
    return int(sheet.width.mm // piece.width.mm) * int(sheet.height.mm // piece.height.mm)


def torn_size(paper: Paper, count: int | None = None) -> Size | None:
    """What a piece of that paper measures as it is torn; None: nobody knows.

    Folded in halves a sheet may give more than the piece asks for: that is what goes into the
    water.

    Args:
        paper: With its sheet and piece.
        count: Pieces wanted; None: what one sheet gives.
    """
    if paper.sheet is None or paper.piece is None:
        return paper.piece or paper.sheet
    try:
        answer = tear_for(paper, count)
    except ReckonError:  # what cannot be torn so is damped as it is meant
        return paper.piece
    plainest = None if answer is None else answer.figures["ways"][0]
    if plainest is None or plainest["way"] != "fold":
        return paper.piece
    torn = plainest["layouts"][0]["pieces"][0]
    return Size(Length(torn["width_mm"]), Length(torn["height_mm"]))


def damp_for(paper: Paper, learnt: Learnt, count: int, *, target: Percentage | None = None,
             torn: int | None = None) -> Answer | None:
    """A control sheet of that paper; None where nothing says what it weighs, or how damp.

    A sheet that was on the scale stands before the wrapper.

    Args:
        paper: The paper.
        learnt: What the print's sessions taught.
        count: Sheets to damp.
        target: The moisture wanted; None: the usual one, which thin paper has not.
        torn: Of how many torn they are; None: of as many as are damped.

    Raises:
        ReckonError: The recipe's paper is none.
    """
    size = torn_size(paper, torn or count)
    weighed = learnt.dry[-1] if learnt.dry else None
    if weighed is None and (size is None or paper.weight is None):
        return None
    sheet = ControlSheet(size, paper.weight, None if weighed is None else weighed.mass)
    if target is None and is_thin(sheet.weight):
        return None
    answer = damp_weight(sheet, count, target=target)
    sources: dict[str, tuple[Origin, str]] = {
        "sheet": (Origin.RECIPE, "" if paper.piece is None else
                  "piece" if size == paper.piece else "as torn"),
        "weight": (Origin.RECIPE, "")}
    if weighed is not None:
        sources["weighed"] = (Origin.LEARNT, weighed.session)
    return _with_control(with_sources(answer, sources), learnt)


def _with_control(answer: Answer, learnt: Learnt) -> Answer:
    """What a control sheet weighed when it was damp enough, beside what is reckoned."""
    if not learnt.control:
        return answer
    last = learnt.control[-1]
    note = f"Your control sheet of {last.session} weighed {last.mass}"
    return replace(answer, figures={**answer.figures, "last_control_g": last.mass.g},
                   notes=(note, *answer.notes))


# -- ink --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class InkWanted:
    """One ink on one plate for a day.

    Attributes:
        need: How many grams.
        batch: What to mix: the learnt limit, else the recipe's charge, else common practice,
            up to the next whole gram; None where none of them says anything.
        mixed: Its parts on the scale; None where the recipe names none.
    """

    inked: Inked
    need: Answer
    batch: Mass | None
    mixed: Answer | None

    @property
    def batch_g(self) -> int | None:
        """Whole grams to mix."""
        return None if self.batch is None else int(self.batch.g)

    def sentence(self, of: str = "") -> str:
        """`Mix 40 g of bone black: 20 to 40 g of ink for 8 impressions`; the name where given."""
        name = f" of {of}" if of else ""
        if self.batch is None:
            return f"Mix{name or ' ink'}: {self.need.sentence}"
        return f"Mix {self.batch}{name}: {self.need.sentence}"


def ink_for(inked: Inked, learnt: Learnt, impressions: int, *,
            step: Mass | None = None) -> InkWanted:
    """Grams of one ink for so many pulls of its plate, warm-ups and all.

    Raises:
        ReckonError: The plate is none, or the number is out of bounds.
    """
    answer = with_sources(
        ink_need(inked.plate.size, impressions, weighings=learnt.ink.get(inked.reading, ()),
                 charge=inked.ink.charge, covers=inked.covers),
        {"plate": (Origin.RECIPE, inked.plate.name)})
    figures = answer.figures
    grams = (figures["at_most_g"] or figures["grams"] or figures["recipe_g"]
             or figures["practice_to_g"])
    if grams is None:
        return InkWanted(inked, answer, None, None)
    batch = Mass(Fraction(ceil(grams)))
    mixed = mix_for(inked.ink, batch, step)
    if mixed is not None:
        mixed = with_sources(mixed, {"batch": (Origin.CHOSEN, "the grams above, to a whole one")})
    return InkWanted(inked, answer, batch, mixed)


def mix_for(ink: Ink, batch: Mass, step: Mass | None = None) -> Answer | None:
    """The recipe's parts on the scale; None where it names none, or none such can be weighed.

    Args:
        ink: With its parts.
        batch: How much of it.
        step: One step of the scale; None: 0.1 g.
    """
    if not ink.parts:
        return None
    try:
        answer = mix_ink([Ingredient(name, parts) for name, parts in ink.parts], batch,
                         step or STEP)
    except ReckonError:
        return None
    sources = {name: (Origin.RECIPE, ink.name or "") for name, _ in ink.parts}
    return with_sources(answer, sources if step else {**sources, **OWN_STEP})


# -- press ------------------------------------------------------------------------------------


def sides_for(recipe: Recipe, learnt: Learnt, of: Press) -> Sides | None:
    """The screws of the last good session, else of the recipe; None where neither says any."""
    good = learnt.good.get(of.plate)
    if good is None:
        return Sides(of.sides, Origin.RECIPE) if of.sides else None
    silent = f"; {' and '.join(good.from_recipe)} by the recipe" if good.from_recipe else ""
    return Sides(good.sides, Origin.LEARNT,
                 f"{good.session}, {good.kept} of {good.of} kept{silent}")


def press_for(recipe: Recipe, learnt: Learnt, of: Press, *, change: ThicknessChange | None = None
              ) -> Answer | None:
    """How the screws should stand; None where the recipe knows no pitch or no side.

    Args:
        recipe: The print's.
        learnt: What its sessions taught.
        of: Which of its presses.
        change: What else became thicker; None: the plate alone, by the recipe.

    Raises:
        ReckonError: The change is none, or asks for more turns than a screw has.
    """
    sides = sides_for(recipe, learnt, of)
    if of.pitch is None or sides is None:
        return None
    good = learnt.good.get(of.plate)
    if change is None:
        change = ThicknessChange() if good is None else change_from(good.layers, recipe, of)
    answer = press_turns(change, of.pitch, sides=sides, more_is=more_is(of), gives=learnt.gives)
    return with_sources(answer, {"pitch": (Origin.RECIPE, "")})
