"""Times of the day, and spans of them over midnight."""

from __future__ import annotations

from datetime import time

import pytest

from benchapp.quantities import QuantityError
from benchapp.quantities.daytimes import daytime_text, read_daytime, read_daytimes


@pytest.mark.parametrize(("text", "at"), [
    ("18:00", time(18)), (" 7:05 ", time(7, 5)), ("0:00", time(0)), ("23:59", time(23, 59))])
def test_a_time_is_read_by_the_24_hour_clock(text: str, at: time) -> None:
    """And shown with two figures for the hour."""
    assert read_daytime(text) == at
    assert read_daytime(daytime_text(at)) == at


@pytest.mark.parametrize("text", ["24:00", "12:60", "noon", "12", "7:5", "", "1" * 41 + ":00"])
def test_what_is_no_time_is_refused_with_an_example(text: str) -> None:
    """Hours end at 23, minutes at 59."""
    with pytest.raises(QuantityError) as caught:
        read_daytime(text)
    assert caught.value.mend == "write hours and minutes by the 24-hour clock, such as 18:00"


def test_a_span_may_lie_over_midnight() -> None:
    """From when until when; with no dash, or several, it is none."""
    assert read_daytimes("21:00-08:00") == (time(21), time(8))
    for text in ("21:00", "21:00-08:00-09:00", "21:00-" + " " * 40):
        with pytest.raises(QuantityError, match=r"no span of the day; write such as 21:00-08:00"):
            read_daytimes(text)
