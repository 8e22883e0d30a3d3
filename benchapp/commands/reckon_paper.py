"""The questions of paper: tearing, how many sheets, how damp, how long in the water."""

from __future__ import annotations

from fractions import Fraction

from benchapp.commands.context import Arguments, Refused, WrongUse
from benchapp.commands.reckon import ToldAnswer, of_recipe, refuse_options, require_options
from benchapp.history.calc_inputs import damp_for, sheets_for, tear_for
from benchapp.quantities import Length
from benchapp.reckon import air
from benchapp.reckon.damp import ControlSheet, paper_moisture
from benchapp.reckon.damp import damp_weight as to_weigh
from benchapp.reckon.growth import Growth, paper_growth
from benchapp.reckon.keeping import paper_keeping
from benchapp.reckon.sheets import reckon_sheets as smallest
from benchapp.reckon.soak import SoakWeighing
from benchapp.reckon.soak import soak_time as in_water
from benchapp.reckon.tear import Piece
from benchapp.reckon.tear import tear_sheet as from_sheet
from benchapp.reckon.thin import is_thin


def answer_tear(arguments: Arguments) -> list[ToldAnswer]:
    """What a sheet gives by tears from edge to edge, or the fewest sheets for a demand."""
    if arguments.recipe is not None:
        return _tear_of_recipe(arguments)
    require_options(arguments, "--sheet", "--piece")
    refuse_options(arguments, "--sheet", "--wanted")
    none = Length(Fraction(0))
    pieces = [Piece(size, count) for size, count in arguments.piece]
    return [ToldAnswer(from_sheet(
        arguments.sheet, pieces, turn=arguments.grain != "fixed", deckles=arguments.deckles or 0,
        deckled=arguments.deckled or "all", edge=arguments.edge or none,
        tolerance=arguments.tolerance or none))]


def _tear_of_recipe(arguments: Arguments) -> list[ToldAnswer]:
    refuse_options(arguments, "a recipe", "--sheet", "--piece", "--grain", "--deckles", "--deckled",
                   "--edge", "--tolerance")
    recipe, _ = of_recipe(arguments)
    found = [(paper, tear_for(paper, arguments.wanted)) for paper in recipe.papers]
    told = [ToldAnswer(answer, (paper.name or paper.key) if len(found) > 1 else "")
            for paper, answer in found if answer is not None]
    if not told:
        raise Refused(f"{recipe.print.title} has no sheet and piece to tear; "
                      "write both under paper: in the recipe")
    return told


def answer_sheets(arguments: Arguments) -> list[ToldAnswer]:
    """How many sheets give so many good ones."""
    require_options(arguments, "--good")
    if arguments.recipe is None:
        return [ToldAnswer(smallest(arguments.good, sure=arguments.sure,
                                    spoilage=arguments.spoilage))]
    recipe, learnt = of_recipe(arguments)
    answer = sheets_for(recipe, learnt, arguments.good, sure=arguments.sure,
                        spoilage=arguments.spoilage)
    return [ToldAnswer(answer)]


_SHEET = ("--sheet", "--weight", "--weighed", "--delivered", "--sheets", "--target")
_AGE = ("--age", "--cold")
_AIR = ("--warmth", "--humidity")
_GROWS = ("--grain", "--across", "--along")


def answer_damp(arguments: Arguments) -> list[ToldAnswer]:
    """How damp a sheet should be or is, how it grows, how long it keeps."""
    if arguments.wet is not None or arguments.dry is not None:
        require_options(arguments, "--wet", "--dry")
        refuse_options(arguments, "--wet", *_SHEET, *_AGE, *_AIR, "--plate", *_GROWS)
        return [ToldAnswer(paper_moisture(arguments.wet, arguments.dry))]
    if arguments.age is not None:
        refuse_options(arguments, "--age", *_SHEET, "--plate", *_GROWS)
        return _keeps(arguments)
    refuse_options(arguments, "a sheet to be damped", *_AIR, "--cold")
    if arguments.plate is not None:
        refuse_options(arguments, "--plate", *(x for x in _SHEET if x != "--sheet"))
        return _grows(arguments)
    refuse_options(arguments, "a sheet without its --plate", *_GROWS)
    return _damps(arguments)


def _keeps(arguments: Arguments) -> list[ToldAnswer]:
    room = None
    if arguments.warmth is not None or arguments.humidity is not None:
        require_options(arguments, *_AIR)
        room = air.Air(arguments.warmth, arguments.humidity)
    own = None
    if arguments.recipe is not None:
        paper = of_recipe(arguments)[0].paper
        own = None if paper is None or paper.damp is None else paper.damp.keeps
    return [ToldAnswer(paper_keeping(arguments.age, air=room, refrigerated=arguments.cold,
                                     keeps=own))]


def _grows(arguments: Arguments) -> list[ToldAnswer]:
    require_options(arguments, "--grain")
    own = None
    if arguments.across is not None or arguments.along is not None:
        require_options(arguments, "--across", "--along")
        own = Growth(arguments.across, arguments.along)
    return [ToldAnswer(paper_growth(arguments.plate, arguments.grain, own=own,
                                    sheet=arguments.sheet))]


def _damps(arguments: Arguments) -> list[ToldAnswer]:
    if arguments.recipe is not None:
        refuse_options(arguments, "a recipe", "--sheet", "--weight", "--weighed", "--delivered")
        recipe, learnt = of_recipe(arguments)
        if recipe.paper is None or recipe.paper.damp is None:
            raise Refused(f"{recipe.print.title} is printed on dry paper")
        if arguments.target is None and is_thin(recipe.paper.weight):
            raise Refused(f"The paper of {recipe.print.title} is thin, and benchapp has no figure "
                          "for how damp it should be. Give --target; --wet and --dry of a sheet "
                          "that printed well show it")
        answer = damp_for(recipe.paper, learnt, _count(arguments), target=arguments.target)
        if answer is None:
            raise Refused(f"{recipe.print.title} says neither size nor weight of its paper; write "
                          "piece: and weight: under paper:, or read dry sheet once at the bench")
        return [ToldAnswer(answer)]
    if arguments.weighed is None and (arguments.sheet is None or arguments.weight is None):
        raise WrongUse("What does a sheet weigh? Give --sheet SIZE and --weight G/M2, or --weighed "
                       "MASS of one as it comes; --wet and --dry say how damp a sheet is")
    sheet = ControlSheet(arguments.sheet, arguments.weight, arguments.weighed, arguments.delivered)
    return [ToldAnswer(to_weigh(sheet, _count(arguments), target=arguments.target))]


def _count(arguments: Arguments) -> int:
    return 1 if arguments.sheets is None else int(arguments.sheets)


def answer_soak(arguments: Arguments) -> list[ToldAnswer]:
    """How long in the water, from the printer's own weighings."""
    note = arguments.note
    if arguments.recipe is not None and note is None:
        paper = of_recipe(arguments)[0].paper
        note = None if paper is None or paper.damp is None else paper.damp.soak
    require_options(arguments, "--before", "--after", "--target")
    weighings = [SoakWeighing(time, mass) for time, mass in arguments.after]
    return [ToldAnswer(in_water(arguments.before, weighings, arguments.target, full=arguments.full,
                                note=note))]
