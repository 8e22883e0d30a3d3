"""Times of a day to come, as they are typed."""

from __future__ import annotations

import pytest

from benchapp.planning.typed_times import read_break, read_seconds
from benchapp.quantities import QuantityError


@pytest.mark.parametrize(("typed", "found"), [
    ("13:00 45 min", (780, 2700)), (" 9:05   1 h 30 min ", (545, 5400)), ("00:00 20 s", (0, 20)),
    ("12:00 24 h", (720, 86_400)), ("13 45 min", (780, 2700)), ("1 pm 1 h", (780, 3600)),
    ("5.30 p.m. 1 h", (1050, 3600)), ("noon 45 min", (720, 2700))])
def test_a_break(typed: str, found: tuple[int, int]) -> None:
    """When it begins and how many seconds it takes."""
    assert read_break(typed) == found


@pytest.mark.parametrize(("typed", "says"), [
    ("13:00", 'is no break.*write when and how long, such as "13:00 45 min"'),
    ("13:00 45 min" + " " * 100, "is no break"),
    ("25:00 45 min", "is not a time of day"),
    ("13:00 0 min", "is no length inside a day.*write one such as 45 min or 1 h"),
    ("13:00 25 h", "is no length inside a day"),
])
def test_what_is_no_break(typed: str, says: str) -> None:
    """It says what is wrong with which half."""
    with pytest.raises(QuantityError, match=says):
        read_break(typed)


def test_a_length_to_the_second() -> None:
    """Halves are rounded."""
    assert [read_seconds(x) for x in ("1 s", "90 s", "1.5 min", "24 h")] == [1, 90, 90, 86_400]
