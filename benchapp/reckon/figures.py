"""Figures as they are said: rounded to what a scale, a screw or a ruler can show.

Answers keep exact values; only the sentence rounds, and always by these functions.
"""

from __future__ import annotations

from fractions import Fraction

from benchapp.quantities import Size, number_text
from benchapp.reckon.errors import ReckonError


def to_step(value: Fraction | int | float, step: Fraction | int = 1) -> Fraction:
    """`value` to the nearest multiple of `step`; a half goes away from nothing."""
    steps = abs(Fraction(value)) / step
    whole = (2 * steps.numerator + steps.denominator) // (2 * steps.denominator)
    return (-whole if value < 0 else whole) * Fraction(step)


def rounded_text(value: Fraction | int | float, places: int = 0) -> str:
    """`value` with at most `places` decimals, thousands set apart: `1,246`."""
    rounded = to_step(value, Fraction(1, 10**places))
    whole, point, rest = number_text(abs(rounded)).partition(".")
    return f"{'-' if rounded < 0 else ''}{int(whole):,}{point}{rest}"


def percent_text(part: Fraction | float) -> str:
    """A part of one as `37.5 %`."""
    return f"{rounded_text(Fraction(part) * 100, 1)} %"


def refuse_sides(figure: str, size: Size, least: int, most: int, what: str) -> None:
    """Catch inches written as millimetres, and the other way about.

    Args:
        figure: The name the size goes by in the question.
        size: The size given.
        least: The shortest side that makes sense, in millimetres.
        most: The longest.
        what: What it is the size of, with its article: `a sheet`.

    Raises:
        ReckonError: A side is outside the bounds.
    """
    for side in (size.width, size.height):
        if side.mm < least:
            raise ReckonError(
                figure,
                f"{size} is smaller than {what} can be",
                f"give sides of {least} mm or more; inches are written as {side.figure} in",
            )
        if side.mm > most:
            raise ReckonError(
                figure,
                f"{size} is larger than {what} can be",
                f"give sides up to {most} mm; millimetres are written as {side.figure} mm",
            )
