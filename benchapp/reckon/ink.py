"""Parts of a mixture to grams on the scale, exactly, and the batch it can weigh honestly.

m = M·p / Σp (arithmetic; ink in parts by mass is common practice), each rounded to the scale's
step so that the total is still exact: first all are cut down to whole steps, then the steps
left over go to the parts that lost most (largest remainder, ties in the order written). A part
too small for one step gets one, taken from the largest.

A scale reads to half a step. The smallest batch it weighs honestly is the one in which half a
step is no more than 2 % of the smallest part: step / (2 · 2 %) · Σp / min p.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

from benchapp.quantities import Mass, Percentage
from benchapp.reckon.additives import additive_caution
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.figures import percent_text, rounded_text

#: How far the smallest part may be off before the scale is said to be too coarse.
WITHIN: Final = Percentage(Fraction(2, 100))
STEP: Final = Mass(Fraction(1, 10))
_MOST_PARTS: Final = 40
_MOST: Final = Mass(Fraction(50_000))
_STEPS: Final = (Fraction(1, 1000), Fraction(100))


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One ingredient and its share, in parts by mass.

    Attributes:
        name: As the printer calls it.
        parts: Above 0, in any measure common to all of them.
    """

    name: str
    parts: Fraction


def mix_ink(parts: Sequence[Ingredient], total: Mass, step: Mass = STEP) -> Answer:
    """Grams of each part for a batch of `total`, on a scale that shows multiples of `step`.

    Args:
        parts: Up to 40, each named once.
        total: The batch, a multiple of the step.
        step: What one step of the scale weighs.

    Raises:
        ReckonError: A part is nothing or named twice, the scale cannot show the total, or it
            has fewer steps than there are parts.
    """
    _refuse(parts, total, step)
    whole = sum(p.parts for p in parts)
    shares = [Fraction(p.parts) / whole for p in parts]
    steps, lifted = whole_steps(shares, int(total.g / step.g))
    grams = [count * Fraction(step.g) for count in steps]
    least = smallest_batch(shares, step)
    listed = [
        {
            "name": part.name,
            "parts": part.parts,
            "grams": gram,
            "exact_g": share * total.g,
            "off_percent": (gram / (share * total.g) - 1) * 100,
        }
        for part, share, gram in zip(parts, shares, grams, strict=True)
    ]
    names = [part.name for part in parts]
    return Answer(
        sentence=_sentence(names, grams, total),
        figures={
            "grams": dict(zip(names, grams, strict=True)),
            "total_g": sum(grams),
            "step_g": step.g,
            "smallest_batch_g": least.g,
            "parts": listed,
        },
        inputs=(
            Input("batch", total, "", Origin.GIVEN),
            *(Input(p.name, Fraction(p.parts), "parts", Origin.GIVEN) for p in parts),
            Input("step of the scale", step, "", Origin.GIVEN),
            Input("within", WITHIN, "", Origin.CHOSEN),
        ),
        notes=_notes(names, shares, total, least, lifted),
        formula="batch × parts ÷ all parts, to the scale's step by largest remainder",
        source="arithmetic; ink in parts by mass is common practice, no source",
        body=tuple(f"{rounded_text(gram, 3)} g  {name}" for name,
                   gram in zip(names, grams, strict=True)),
    )


def whole_steps(shares: Sequence[Fraction], steps: int) -> tuple[list[int], list[int]]:
    """`steps` dealt out by `shares` (which sum to 1) so that none is lost.

    Returns:
        The steps of each share, and the places of those that got one only by being lifted.
    """
    exact = [share * steps for share in shares]
    dealt = [each.numerator // each.denominator for each in exact]
    # sorted() keeps the order of equals, so ties go to the one written first.
    hungry = sorted(range(len(dealt)), key=lambda i: dealt[i] - exact[i])
    for place in hungry[: steps - sum(dealt)]:
        dealt[place] += 1
    lifted = [place for place, count in enumerate(dealt) if not count]
    for place in lifted:
        dealt[max(range(len(dealt)), key=dealt.__getitem__)] -= 1
        dealt[place] = 1
    return dealt, lifted


def smallest_batch(shares: Sequence[Fraction], step: Mass) -> Mass:
    """The smallest multiple of `step` in which half a step is 2 % of the smallest share."""
    least = Fraction(step.g) / 2 / WITHIN.fraction / min(shares)
    return Mass(ceil(least / step.g) * Fraction(step.g))


def _refuse(parts: Sequence[Ingredient], total: Mass, step: Mass) -> None:
    if not 1 <= len(parts) <= _MOST_PARTS:
        raise ReckonError("parts", f"{len(parts)} parts are not a mixture",
                          f"give 1 to {_MOST_PARTS}")
    names = [part.name for part in parts]
    for part in parts:
        if names.count(part.name) > 1:
            raise ReckonError(f"part {part.name}", "it is named twice", "add its parts together")
        if part.parts <= 0:
            raise ReckonError(f"part {part.name}", "it has no parts", "give some, or leave it out")
    if not _STEPS[0] <= step.g <= _STEPS[1]:
        raise ReckonError("step", f"no scale shows steps of {step}", "give 0.001 to 100 g")
    if not 0 < total.g <= _MOST.g:
        raise ReckonError("total", f"{total} is not a batch of ink", "give up to 50 kg")
    _refuse_total(total, step, len(parts))


def _refuse_total(total: Mass, step: Mass, parts: int) -> None:
    steps = Fraction(total.g) / step.g
    if steps.denominator != 1:
        below = steps.numerator // steps.denominator * Fraction(step.g)
        near = f"{rounded_text(below, 3)} or " if below else ""
        raise ReckonError(
            "total",
            f"a scale with steps of {step} cannot show {total}",
            f"ask for {near}{rounded_text(below + step.g, 3)} g",
        )
    if steps < parts:
        raise ReckonError(
            "total",
            f"{total} is {steps} steps of the scale for {parts} parts",
            f"ask for {rounded_text(parts * Fraction(step.g), 3)} g or more",
        )


def _sentence(names: Sequence[str], grams: Sequence[Fraction], total: Mass) -> str:
    weighed = ", ".join(f"{rounded_text(g, 3)} g {name}" for name,
                        g in zip(names, grams, strict=True))
    return f"{weighed}: {rounded_text(total.g, 3)} g in all"


def _notes(
    names: Sequence[str],
    shares: Sequence[Fraction],
    total: Mass,
    least: Mass,
    lifted: Sequence[int],
) -> tuple[str, ...]:
    found = [
        f"{names[i]} is less than one step of the scale, and was given one: it will be too much"
        for i in lifted
    ]
    small = names[min(range(len(shares)), key=shares.__getitem__)]
    if total < least:
        found.append(
            f"The scale weighs {small} within {percent_text(WITHIN.fraction)} only from "
            f"{rounded_text(least.g, 3)} g on: mix more, or thin {small} in a larger part first"
        )
    cautions = (additive_caution(name, share) for name, share in zip(names, shares, strict=True))
    return (*found, *(told for told in cautions if told))
