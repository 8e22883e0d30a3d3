"""What an impression of a recipe takes of hands, plate, press and hot plate. Pure."""

from __future__ import annotations

from fractions import Fraction

from benchapp.planning.day import Times
from benchapp.recipe.model import Step
from benchapp.reckon.loads import Loads, impression_loads
from benchapp.session.compiled_recipe import CompiledRecipe


def loads_of(shape: CompiledRecipe, times: Times, *, helper: bool = False) -> Loads:
    """The loads of an impression, in steady state."""
    recipe = shape.recipe
    due = [s for s in recipe.each if not s.optional]
    each = {s.id: Fraction(times(shape, s), s.every or 1) for s in due}
    inky = sum((each[s.id] for s in due if s.hands == "inky"), Fraction(0))
    clean = sum((each[s.id] for s in due if s.hands == "clean"), Fraction(0)) + _paper(shape)
    wash = Fraction(recipe.wash.ms, 1000)
    alone = inky + clean + (wash if inky and clean else 0)
    plates = [_held(shape, p.name, each, Fraction(0) if helper else wash) for p in recipe.plates]
    return impression_loads(
        (inky, clean) if helper else (alone,), plates,
        (sum((each[s.id] for s in due if s.at == "press"), Fraction(0)), shape.places["press"]),
        (sum((each[s.id] for s in due if s.at == "hot plate"), Fraction(0)),
         shape.places["hot plate"]))


def _paper(shape: CompiledRecipe) -> Fraction:
    """Hands work on damp paper, by the sheet; nothing where nobody said how large a pack is."""
    damp = None if shape.damped is None else shape.damped.damp
    if damp is None or not damp.pack:
        return Fraction(0)
    times = 2 if damp.in_water else 1
    return Fraction(times * shape.handling.ms, 1000 * damp.pack)


def _held(shape: CompiledRecipe, plate: str, each: dict[str, Fraction], wash: Fraction) -> Fraction:
    """The longest way from the first step on a plate to the end of the step that frees it."""
    until: dict[str, Fraction | None] = {}
    dirty: dict[str, bool] = {}
    for step in shape.recipe.each:
        before = [p for p in shape.follows[step.id] if until.get(p) is not None]
        if not before and plate not in shape.plates_of[step.id]:
            until[step.id] = None
            continue
        arrive = [(_arrival(until[p], dirty[p], step, wash), dirty[p]) for p in before]
        start, was = max(arrive, default=(Fraction(0), False))
        until[step.id] = start + each.get(step.id, Fraction(0))
        dirty[step.id] = was if step.hands == "free" or step.optional else step.hands == "inky"
    return until.get(shape.release[plate]) or Fraction(0)


def _arrival(end: Fraction | None, dirty: bool, step: Step, wash: Fraction) -> Fraction:
    """When a step can begin after another, with the wash between."""
    washing = dirty and step.hands == "clean" and not step.optional
    return (end or Fraction(0)) + (wash if washing else 0)
