"""How far characters can be read, by the angle they fill in the eye.

NUREG-0700 rev. 2, 1.3.1-4: H = 6.283 · D · MA / 21600, with H the height of
the character, D the distance (same unit) and MA the angle in arcminutes; at
least 16', better 20' to 22' (ISO 9241-3). Pure.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

LEAST_MINUTES: Final = 16.0
"""The smallest angle a character should fill, arcminutes."""

_FACTOR: Final = 6.283 / 21600


def reach_mm(rows: int, row_mm: float, minutes: float = LEAST_MINUTES) -> float:
    """Distance that numerals of so many terminal rows carry, millimetres.

    Args:
        rows: Height of the numerals in rows; block numerals fill them wholly.
        row_mm: Height of one terminal row on the printer's screen.
        minutes: Angle they should fill, arcminutes.
    """
    return rows * row_mm / (_FACTOR * minutes)


def carry_words(row_mm: float, heights: Iterable[int]) -> str:
    """How far numerals of these heights carry: `5 rows 5.4 m, 7 rows 7.5 m`.

    Args:
        row_mm: Height of one terminal row on the printer's screen.
        heights: Rows.
    """
    return ", ".join(f"{rows} rows {reach_mm(rows, row_mm) / 1000:.1f} m" for rows in heights)
