"""Times of the day, and spans of them over midnight."""

from __future__ import annotations

from datetime import time

import pytest

from benchapp.quantities import QuantityError
from benchapp.quantities.daytimes import (
    daytime_text,
    read_daytime,
    read_daytimes,
    read_minutes,
)


@pytest.mark.parametrize(("text", "at"), [
    ("18:00", time(18)), (" 7:05 ", time(7, 5)), ("0:00", time(0)), ("23:59", time(23, 59))])
def test_a_time_is_read_by_the_24_hour_clock(text: str, at: time) -> None:
    """And shown with two figures for the hour."""
    assert read_daytime(text) == at
    assert read_daytime(daytime_text(at)) == at


@pytest.mark.parametrize("text", [
    "24:00", "24", "12:60", "midday", "25", "7:5", "13 pm", "",
    "1" * 41 + ":00"])
def test_what_is_no_time_is_refused_with_an_example(text: str) -> None:
    """Hours end at 23, minutes at 59."""
    with pytest.raises(QuantityError) as caught:
        read_daytime(text)
    assert caught.value.mend == "write one such as 09:30, 17:00, 17 or 5 pm"


@pytest.mark.parametrize(("text", "minutes"), [
    ("17", 1020), ("5 pm", 1020), ("5:30 PM", 1050), ("5.30 p.m.", 1050), ("9am", 540),
    ("12:30 am", 30), ("12:30 pm", 750), ("noon", 720), ("12", 720), ("09", 540), ("0", 0),
    ("24", 1440), ("24:00", 1440), ("9:30", 570)])
def test_a_time_is_read_as_people_say_it(text: str, minutes: int) -> None:
    """In minutes after midnight; 12:30 am is half an hour after midnight (ISO 8601: 00:30)."""
    assert read_minutes(text) == minutes


@pytest.mark.parametrize(("text", "wrong", "mend"), [
    ("5", '"5" can be morning or afternoon', "write 05:00 or 17:00, 5 am or 5 pm"),
    ("12 pm", '"12 pm" can be noon or midnight', "write 12:00 or 00:00"),
    ("12am", '"12am" can be noon or midnight', "write 12:00 or 00:00")])
def test_an_hour_that_can_be_two_is_refused_with_both(text: str, wrong: str, mend: str) -> None:
    """12 am and 12 pm are read both ways (NIST, Times of Day FAQs, from memory)."""
    with pytest.raises(QuantityError) as caught:
        read_daytime(text)
    assert (caught.value.wrong, caught.value.mend) == (wrong, mend)


def test_a_span_may_lie_over_midnight() -> None:
    """From when until when; with no dash, or several, it is none."""
    assert read_daytimes("21:00-08:00") == (time(21), time(8))
    for text in ("21:00", "21:00-08:00-09:00", "21:00-" + " " * 40):
        with pytest.raises(QuantityError, match=r"not a span of the day; write such as "
                                                r"21:00-08:00"):
            read_daytimes(text)
