"""Calendars against RFC 5545, and read by a reader that is not ours (icalendar, of the tests)."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar

from benchapp.drying.dryness import DryStep, stack_changes
from benchapp.reports.ical import Event, calendar_text, escape_value, fold_ical_line

TEXTS = [
    "Change blotters", "blotters, tissue; boards", "back\\slash", "one\ntwo", "a:b", "ä" * 60,
    "版画" * 40, "🖨" * 30, "comma, " * 30, "x" * 75, "x" * 61, "ends in a backslash \\",
    # The text of the example in RFC 5545, 3.3.11.
    "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.",
]


NINE = datetime.combine(date(2026, 5, 3), time(9))


def file_with(summary: str, at: datetime | date = NINE) -> str:
    """A calendar of one event."""
    return calendar_text([Event("d@x", 0, datetime(2026, 5, 3, tzinfo=UTC), at, summary, summary)])


@pytest.mark.parametrize("text", TEXTS)
def test_another_reader_reads_the_text_that_was_written(text: str) -> None:
    """Escaped (3.3.11) and folded (3.1): icalendar has summary and description back whole."""
    event = Calendar.from_ical(file_with(text)).walk("VEVENT")[0]
    assert (str(event["SUMMARY"]), str(event["DESCRIPTION"])) == (text, text)


@pytest.mark.parametrize("text", TEXTS)
def test_no_line_is_longer_than_75_octets_nor_cut_inside_a_character(text: str) -> None:
    """RFC 5545, 3.1: lines end with CR LF and should not be longer than 75 octets without it."""
    lines = file_with(text).encode("utf-8").split(b"\r\n")
    assert lines.pop() == b""
    assert all(len(line) <= 75 and b"\n" not in line and line.decode("utf-8") for line in lines)


def test_the_text_of_the_standard_is_escaped_as_there() -> None:
    """RFC 5545, 3.3.11: the value of the example; a colon stays (there: it must not be escaped)."""
    assert escape_value(TEXTS[-1]) == (
        r"Project XYZ Final Review\nConference Room - 3B\nCome Prepared.")
    assert escape_value("a\\b;c,d:e") == r"a\\b\;c\,d:e"


def test_a_folded_line_of_the_standard_unfolds() -> None:
    """RFC 5545, 3.1: a line end and one white space are taken out again, and the line is whole."""
    line = "DESCRIPTION:" + "This is a long description that exists on a long line. " * 3
    assert "\r\n".join(fold_ical_line(line)).replace("\r\n ", "") == line


def test_a_day_without_an_hour_ends_the_day_after() -> None:
    """RFC 5545, 3.6.1: the end of a VEVENT is not within it; 2028 is a leap year."""
    event = Calendar.from_ical(file_with("x", date(2028, 2, 29))).walk("VEVENT")[0]
    assert (event.decoded("DTSTART"), event.decoded("DTEND")) == (
        date(2028, 2, 29), date(2028, 3, 1))


#: Where clocks are moved, and by how much (IANA time zone database).
MOVED = [("Europe/Berlin", date(2026, 3, 29), 60), ("Europe/London", date(2026, 10, 25), -60),
         ("America/New_York", date(2026, 3, 8), 60), ("America/Chicago", date(2026, 11, 1), -60),
         ("Australia/Lord_Howe", date(2026, 4, 5), -30)]


@pytest.mark.parametrize(("zone", "moved", "by"), MOVED, ids=[x[0] for x in MOVED])
def test_blotters_are_changed_at_nine_though_the_clocks_are_moved(
        zone: str, moved: date, by: int) -> None:
    """Nine by the clock on the wall every day (floating time, RFC 5545, 3.3.5)."""
    last = datetime.combine(moved - timedelta(days=2), time(16))
    changes = stack_changes([DryStep("Change", every_ms=86_400_000, for_ms=3 * 86_400_000)], last)
    assert [c.at for c in changes] == [
        datetime.combine(moved + timedelta(days=n), time(9)) for n in (-1, 0, 1)]
    read = [Calendar.from_ical(file_with(c.do, c.at)).walk("VEVENT")[0].decoded("DTSTART")
            for c in changes]
    assert [x.tzinfo for x in read] == [None] * 3
    there = [x.replace(tzinfo=ZoneInfo(zone)).astimezone(UTC) for x in read]
    assert there[1] - there[0] == timedelta(hours=24) - timedelta(minutes=by)
    assert there[2] - there[1] == timedelta(hours=24)


@pytest.mark.parametrize(("last", "then"), [
    (date(2028, 2, 28), date(2028, 2, 29)), (date(2100, 2, 28), date(2100, 3, 1)),
    (date(2000, 2, 28), date(2000, 2, 29)), (date(2026, 12, 31), date(2027, 1, 1))])
def test_the_day_after_is_the_calendar_s(last: date, then: date) -> None:
    """Leap years by the Gregorian rule (ISO 8601-1:2019, 4.2.1): not 2100, but 2000 and 2028."""
    changes = stack_changes([DryStep("Change", after_ms=86_400_000)],
                            datetime.combine(last, time(23)))
    assert [c.at for c in changes] == [datetime.combine(then, time(9))]
