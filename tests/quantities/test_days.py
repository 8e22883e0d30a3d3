"""Days as people say them, in the past or coming, and what can be read two ways."""

from __future__ import annotations

import calendar
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities import QuantityError
from benchapp.quantities.days import Lean, read_day

#: A Saturday: 1 January 2000, from memory.
SATURDAY = date(2000, 1, 1)
DAYS = st.dates(date(1900, 1, 1), date(2200, 1, 1))
LEANS = st.sampled_from(["past", "coming"])


@pytest.mark.parametrize(("text", "past", "coming"), [
    ("today", "2000-01-01", "2000-01-01"),
    ("Yesterday", "1999-12-31", "1999-12-31"),
    (" tomorrow ", "2000-01-02", "2000-01-02"),
    ("2026-05-03", "2026-05-03", "2026-05-03"),
    ("+2", "2000-01-03", "2000-01-03"),
    ("+ 2 days", "2000-01-03", "2000-01-03"),
    ("-3", "1999-12-29", "1999-12-29"),
    ("friday", "1999-12-31", "2000-01-07"),
    ("on Sun", "1999-12-26", "2000-01-02"),
    ("last saturday", "1999-12-25", "1999-12-25"),
    ("3 May", "1999-05-03", "2000-05-03"),
    ("may 3rd", "1999-05-03", "2000-05-03"),
    ("3rd of Sept.", "1999-09-03", "2000-09-03"),
    ("1 jan", "2000-01-01", "2000-01-01"),
    ("3 May 2026", "2026-05-03", "2026-05-03"),
    ("May 3, 2026", "2026-05-03", "2026-05-03"),
    ("29 feb", "1996-02-29", "2000-02-29"),
])
def test_a_day_is_read_as_it_is_said(text: str, past: str, coming: str) -> None:
    """Without a year or week it leans to where the day is typed."""
    assert read_day(text, SATURDAY, "past").isoformat() == past
    assert read_day(text, SATURDAY, "coming").isoformat() == coming


@pytest.mark.parametrize(("today", "lean", "day"), [
    ("1896-03-01", "coming", "1904-02-29"), ("2104-02-28", "past", "2096-02-29")])
def test_the_leap_day_is_found_over_a_century(today: str, lean: Lean, day: str) -> None:
    """1900 and 2100 have no 29 February (Gregorian reform, Inter gravissimas, 1582)."""
    assert read_day("29 February", date.fromisoformat(today), lean).isoformat() == day


@pytest.mark.parametrize(("text", "wrong", "mend"), [
    ("3/5", '"3/5" does not say which figure is the month', "write 3 May or 5 March"),
    ("03.05.2026", '"03.05.2026" does not say which figure is the month', "write 3 May or 5 March"),
    ("25-5", '"25-5" does not say which figure is the month', "write 25 May"),
    ("saturday", "Today is Saturday", "write today or 2000-01-08"),
    ("next friday", '"next friday" can be read two ways', "write 2000-01-07 or 2000-01-14"),
    ("someday", '"someday" is not a day',
     "write one such as 2026-05-03, 3 May, friday, yesterday or +2"),
])
def test_what_can_be_read_two_ways_is_refused_with_both(text: str, wrong: str, mend: str) -> None:
    """Each is told, ready to be typed."""
    with pytest.raises(QuantityError) as caught:
        read_day(text, SATURDAY, "coming")
    assert (caught.value.wrong, caught.value.mend) == (wrong, mend)


@pytest.mark.parametrize("text", [
    "", "2", "may", "31 feb", "30 February 2026", "2026-02-30", "20260503", "2026-W18-7", "fr",
    "13/13", "3 mai", "0 May", "3 May 0000", "٣ May", "1" * 100_000, "+9999999", "+" + " " * 90])
def test_what_is_not_a_day_is_refused(text: str) -> None:
    """Never a guess, however long the text."""
    with pytest.raises(QuantityError, match="is not a day"):
        read_day(text, SATURDAY, "past")


def test_no_day_lies_outside_the_calendar() -> None:
    """The first and the last day there is."""
    for text, today in (("yesterday", date.min), ("+9999", date.max)):
        with pytest.raises(QuantityError, match="is not a day"):
            read_day(text, today, "past")


@given(DAYS, DAYS, LEANS)
def test_a_date_in_full_is_the_same_from_every_day(day: date, today: date, lean: Lean) -> None:
    """ISO 8601, and with the month's name before or after."""
    month = calendar.month_name[day.month]
    for text in (day.isoformat(), f"{day.day} {month} {day.year}", f"{month} {day.day} {day.year}"):
        assert read_day(text, today, lean) == day


@given(DAYS, st.integers(1, 7), LEANS)
def test_a_weekday_is_the_nearest_on_its_side(today: date, ahead: int, lean: Lean) -> None:
    """One to six days off; today's own name is refused."""
    meant = today + timedelta(days=ahead if lean == "coming" else -ahead)
    name = calendar.day_name[meant.weekday()].lower()
    if ahead == 7:
        with pytest.raises(QuantityError, match="Today is"):
            read_day(name, today, lean)
    else:
        assert read_day(name, today, lean) == read_day(name[:3], today, lean) == meant
