"""Weight on the boards: how hard prints are pressed while they dry.

p = m·g / A, with standard gravity g = 9.80665 m/s² exactly (3rd General Conference on
Weights and Measures, 1901). 40 kg on 560 × 760 mm is 922 Pa. How much is right is common
practice: 200 to 1000 Pa at first, up to 5 kPa after the third day, and never more than a table
at home carries.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from benchapp.quantities import Mass, Size
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.figures import refuse_sides, rounded_text

GRAVITY: Final = Fraction(980_665, 100_000)
#: Pascals, common practice: at first from … to, and after day 3 up to.
FIRST: Final = (200, 1000)
LATER: Final = 5000
#: What is stacked in a home studio at most (common practice): a few full water cans or bricks.
HOME_MOST: Final = Mass(Fraction(60_000), "kg")
_LATER_FROM: Final = 4
_MOST: Final = Mass(Fraction(2_000_000))


def board_pressure(mass: Mass, board: Size) -> Fraction:
    """Pascals under `mass` spread over `board`, exact."""
    return Fraction(mass.g) / 1000 * GRAVITY / _square_metres(board)


def mass_for(pascals: int, board: Size) -> Mass:
    """The mass that presses `board` with so many pascals, exact."""
    return Mass(pascals * _square_metres(board) / GRAVITY * 1000, "kg")


def board_weight(board: Size, mass: Mass | None = None, *, day: int | None = None) -> Answer:
    """How much weight belongs on this board, and whether the one at hand will do.

    Args:
        board: Width and height of the board, or of the stack if it is smaller.
        mass: The weight at hand; None: only what the board asks for.
        day: Days since the prints went under boards, the first day 1; None: not said.

    Raises:
        ReckonError: The board or the weight cannot be one, or the day is before the first.
    """
    refuse_sides("board", board, 50, 3000, "a board")
    if mass is not None and not 0 < mass.g <= _MOST.g:
        raise ReckonError("mass", f"{mass} is not a weight to lay on a board", "give up to 2000 kg")
    if day is not None and day < 1:
        raise ReckonError("day", f"there is no day {day}", "count from 1, the day they went in")
    low, high, later = (_stackable(p, board) for p in (*FIRST, LATER))
    figures: dict[str, object] = {
        "from_g": low.g, "to_g": high.g, "later_g": later.g, "board_mm2": board.area_cm2 * 100
    }  # fmt: skip
    if mass is not None:
        figures = {"pascals": board_pressure(mass, board), "mass_g": mass.g, **figures}
    return Answer(
        sentence=_sentence(board, mass, day),
        figures=figures,
        inputs=_inputs(board, mass, day),
        notes=(
            f"At first {_kg(low)} to {_kg(high)} kg on this board, after day 3 up to "
            f"{_kg(later)} kg (common practice)",
            "This is over the board's whole face; a smaller stack is pressed harder",
            f"Never more than {HOME_MOST}, for a table at home carries no more (common practice)",
            "Much weight on a damp print flattens its plate mark, and so do hard boards without "
            "soft blotters; add weight only as the sheet dries (common practice)",
        ),
        formula="mass × 9.80665 m/s² ÷ area of the board",
        source="definition of pressure; standard gravity, CGPM 1901",
    )


def _stackable(pascals: int, board: Size) -> Mass:
    """The mass for so many pascals, or the most that is stacked at home if that is less."""
    return min(mass_for(pascals, board), HOME_MOST, key=lambda mass: mass.g)


def _square_metres(board: Size) -> Fraction:
    return Fraction(board.area_cm2) / 10_000


def _kg(mass: Mass) -> str:
    """Kilograms as a printer stacks them: whole ones, tenths below ten."""
    kg = Fraction(mass.g) / 1000
    return rounded_text(kg, 0 if kg >= 10 else 1)


def _sentence(board: Size, mass: Mass | None, day: int | None) -> str:
    late = day is not None and day >= _LATER_FROM
    low, high = (_stackable(p, board) for p in (FIRST[0], LATER if late else FIRST[1]))
    when = f"day {day}" if day is not None else "the first days"
    if mass is None:
        return f"{_kg(low)} to {_kg(high)} kg on this board for {when}"
    told = f"{mass} on this board: "
    if mass.g < low.g:
        return told + f"light for {when}, {_kg(low)} kg would be the least"
    if mass.g > high.g:
        return told + f"heavy for {when}, {_kg(high)} kg would be the most"
    return told + f"right for {when}"


def _inputs(board: Size, mass: Mass | None, day: int | None) -> tuple[Input, ...]:
    laid = [Input("mass", mass, "", Origin.GIVEN)] if mass else []
    since = [Input("day", day, "", Origin.GIVEN)] if day is not None else []
    return (
        *laid,
        Input("board", board, "", Origin.GIVEN),
        *since,
        Input("pressure at first", "200 to 1000", "Pa", Origin.PRACTICE),
        Input("pressure after day 3", "up to 5000", "Pa", Origin.PRACTICE),
    )
