"""The questions of ink, press and boards: from figures, or from a recipe and its sessions."""

from __future__ import annotations

from fractions import Fraction

from benchapp.commands.context import Arguments, Refused, WrongUse
from benchapp.commands.reckon import ToldAnswer, of_recipe, refuse_options, require_options
from benchapp.history.calc_inputs import OWN_STEP, ink_for, mix_for, press_for, with_sources
from benchapp.history.stats import inked_plates
from benchapp.quantities import Turns
from benchapp.reckon import air
from benchapp.reckon import ink as ink_parts
from benchapp.reckon.answer import json_value
from benchapp.reckon.ink_need import Used
from benchapp.reckon.ink_need import ink_need as ink_need
from benchapp.reckon.press import GUESS, Sides, ThicknessChange, added_thickness
from benchapp.reckon.press import press_turns as turns
from benchapp.reckon.weight import board_weight as on_board


def answer_ink(arguments: Arguments) -> list[ToldAnswer]:
    """Parts to grams on the scale, or the grams a day takes."""
    if arguments.recipe is not None:
        return _ink_of_recipe(arguments)
    if arguments.part or arguments.total is not None:
        require_options(arguments, "--part", "--total")
        refuse_options(arguments, "--part", "--plate", "--impressions", "--charge", "--used")
        parts = [ink_parts.Ingredient(name, share) for name, share in arguments.part]
        answer = ink_parts.mix_ink(parts, arguments.total, arguments.step or ink_parts.STEP)
        return [ToldAnswer(answer if arguments.step else with_sources(answer, OWN_STEP))]
    if arguments.plate is None and arguments.impressions is None:
        raise WrongUse("Give --part NAME:PARTS and --total MASS to mix. For the ink of a day, give "
                       "--plate SIZE and --impressions N")
    require_options(arguments, "--plate", "--impressions")
    refuse_options(arguments, "--plate", "--step")
    used = [Used(grams, count, arguments.plate) for grams, count in arguments.used]
    return [ToldAnswer(ink_need(arguments.plate, arguments.impressions, weighings=used,
                                charge=arguments.charge))]


def _ink_of_recipe(arguments: Arguments) -> list[ToldAnswer]:
    refuse_options(arguments, "a recipe", "--part", "--plate", "--charge", "--used")
    recipe, learnt = of_recipe(arguments)
    found = inked_plates(recipe)
    if not found:
        raise Refused(f"{recipe.print.title} has no ink; write it under ink: in the recipe")
    step = arguments.step
    many = len(found) > 1
    if arguments.total is not None:
        refuse_options(arguments, "--total", "--impressions")
        mixed = [(each, mix_for(each.ink, arguments.total, step)) for each in found]
        told = [ToldAnswer(answer, each.ink.name or each.plate.name if many else "")
                for each, answer in mixed if answer is not None]
        if not told:
            raise Refused(f"{recipe.print.title} has no ink parts that this scale can weigh; "
                          "write them under ink: parts:, or ask for a larger batch")
        return told
    require_options(arguments, "--impressions")
    told = []
    for each in found:
        wanted = ink_for(each, learnt, arguments.impressions, step=step)
        more = {} if wanted.mixed is None else {"mix": wanted.mixed}
        told.append(ToldAnswer(wanted.need, each.ink.name or each.plate.name if many else "", more,
                               {"batch_g": wanted.batch_g}))
    return told


def answer_press(arguments: Arguments) -> list[ToldAnswer]:
    """Turns of the screws for a change of plate, paper or blankets."""
    if arguments.recipe is not None:
        return _press_of_recipe(arguments)
    require_options(arguments, "--pitch")
    sides = Sides(tuple(_sides(arguments))) if arguments.side else None
    return [ToldAnswer(turns(_change(arguments), arguments.pitch, sides=sides,
                             more_is=arguments.more_is, gives=GUESS))]


def _sides(arguments: Arguments) -> list[tuple[str, Turns]]:
    names = [name for name, _ in arguments.side]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise WrongUse(f"--side: {twice} is named twice; give each side once")
    return list(arguments.side)


def _change(arguments: Arguments) -> ThicknessChange:
    given = {name: getattr(arguments, name) for name in ("plate", "paper", "blankets")}
    return ThicknessChange(**{name: added_thickness(*both) for name, both in given.items()
                              if both is not None})


def _press_of_recipe(arguments: Arguments) -> list[ToldAnswer]:
    refuse_options(arguments, "a recipe", "--pitch", "--side", "--more-is")
    recipe, learnt = of_recipe(arguments)
    changed = any(getattr(arguments, x) is not None for x in ("plate", "paper", "blankets"))
    change = _change(arguments) if changed else None
    found = [(of, press_for(recipe, learnt, of, change=change)) for of in recipe.presses]
    told = [ToldAnswer(answer, of.plate or "" if len(found) > 1 else "",
                       figures={"recipe": json_value({side: Fraction(t.turns) for side,
                                                      t in of.sides})})
            for of, answer in found if answer is not None]
    if not told:
        raise Refused(f"{recipe.print.title} has no pitch and no screws; "
                      "write them under press: in the recipe")
    return told


def answer_weight(arguments: Arguments) -> list[ToldAnswer]:
    """Weight on the boards, and whether drying takes longer today."""
    room = None
    if arguments.warmth is not None or arguments.humidity is not None:
        require_options(arguments, "--warmth", "--humidity")
        room = air.drying_speed(air.Air(arguments.warmth, arguments.humidity))
    if arguments.board is None and room is not None:
        refuse_options(arguments, "the air alone", "--mass", "--day")
        return [ToldAnswer(room)]
    require_options(arguments, "--board")
    answer = on_board(arguments.board, arguments.mass, day=arguments.day)
    return [ToldAnswer(answer)] if room is None else [ToldAnswer(answer, more={"drying": room})]
