"""How far numerals carry, against NUREG-0700 rev. 2, 1.3.1-4."""

from __future__ import annotations

import pytest

from benchapp.screens.angle import reach_mm


@pytest.mark.parametrize(
    ("distance", "minutes", "expected"),
    # NUREG-0700 rev. 2, 1.3.1-4: H = 6.283 D MA / 21600.
    [(2000, 16, 9.31), (700, 20, 4.07)],
)
def test_characters_of_a_height_reach_so_far(
        distance: float, minutes: float, expected: float) -> None:
    """The heights of the standard carry to its distances, to its printed digits."""
    assert reach_mm(1, expected, minutes) == pytest.approx(distance, rel=0.005 / expected)


def test_five_rows_of_five_millimetres_carry_across_the_room() -> None:
    """The smallest numerals carry 5 m at 16 arcminutes and over 3 m at 22."""
    assert round(reach_mm(5, 5.0)) == 5372
    assert round(reach_mm(5, 5.0, minutes=22)) == 3907
