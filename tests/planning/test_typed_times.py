"""Times of a day to come, as they are typed."""

from __future__ import annotations

import pytest

from benchapp.planning.typed_times import read_break, read_clock, read_seconds
from benchapp.quantities import QuantityError


@pytest.mark.parametrize(("typed", "minutes"), [
    ("09:30", 570), (" 9:30 ", 570), ("0:00", 0), ("23:59", 1439), ("24:00", 1440)])
def test_a_time_of_day(typed: str, minutes: int) -> None:
    """In minutes after midnight; 24:00 is the end of the day."""
    assert read_clock(typed) == minutes


@pytest.mark.parametrize("typed", [
    "", "9", "9:3", "09:60", "24:01", "25:00", "-1:00", "9.30", "9:30 pm", "9:30" + " " * 100])
def test_what_is_no_time_of_day(typed: str) -> None:
    """It says how one is written."""
    with pytest.raises(QuantityError, match="is no time of day") as caught:
        read_clock(typed)
    assert "write hours and minutes by the 24-hour clock, such as 09:30 or 17:00" in str(
        caught.value)


@pytest.mark.parametrize(("typed", "found"), [
    ("13:00 45 min", (780, 2700)), (" 9:05   1 h 30 min ", (545, 5400)), ("00:00 20 s", (0, 20)),
    ("12:00 24 h", (720, 86_400))])
def test_a_break(typed: str, found: tuple[int, int]) -> None:
    """When it begins and how many seconds it takes."""
    assert read_break(typed) == found


@pytest.mark.parametrize(("typed", "says"), [
    ("13:00", 'is no break.*write when and how long, such as "13:00 45 min"'),
    ("13:00 45 min" + " " * 100, "is no break"),
    ("25:00 45 min", "is no time of day"),
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
