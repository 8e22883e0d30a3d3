"""The boards from the command line, and the calendar that leaves them."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from benchapp import files
from benchapp.book import Book
from benchapp.clock import FakeClock, SystemClock
from benchapp.commands.pipes import write_stream
from benchapp.drying.actions import Begin, Changed, Lay, Lift
from benchapp.drying.dryness import DryStep, Hours
from benchapp.drying.stacks import wall_time
from benchapp.reports.drying import boards_lines, drying_events, stacks_in_use
from benchapp.reports.ical import Event, calendar_text, escape_value, fold_ical_line
from benchapp.safe_text import sanitize
from benchapp.service.editions import EditionService
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call  # noqa: F401 - a fixture
from tests.service.edition_days import Studio, pear

DRYING = "  - {do: Change blotters, after: 3 h}\n  - {do: Turn them, every: 1 day, for: 2 days}"
STAMP = datetime(2026, 5, 3, 8, tzinfo=UTC)


def on(day: int, hour: int) -> datetime:
    """That hour of a day in May, by the clock on the wall."""
    return datetime.fromisoformat(f"2026-05-{day:02}T{hour:02}:00")


@pytest.fixture
def drying(home: Path) -> str:
    """A book with one day's sheets under boards, three changes to come."""
    home.mkdir(parents=True)
    with Book.open(files.book_file(), write=True, create=True) as book:
        Studio(book).day(pear(drying=DRYING), 2)
    return str(files.book_file())


# -- the calendar ---------------------------------------------------------------------------


def test_the_standard_s_own_text_is_escaped_as_it_shows() -> None:
    """RFC 5545, 3.3.11: its example of a text; a colon is not escaped."""
    assert escape_value("Project XYZ Final Review\nConference Room - 3B\nCome Prepared.") == (
        r"Project XYZ Final Review\nConference Room - 3B\nCome Prepared.")
    assert escape_value("a\\b; c, d: e") == r"a\\b\; c\, d: e"


def test_a_long_line_is_folded_at_75_octets_never_inside_a_character() -> None:
    """RFC 5545, 3.1: each piece but the first begins with a space, which belongs to the fold."""
    line = "DESCRIPTION:" + "Blotters changed, é ö 紙 🖐 " * 12
    pieces = list(fold_ical_line(line))
    assert len(pieces) > 3
    assert all(len(p.encode()) <= 75 for p in pieces)
    assert max(len(p.encode()) for p in pieces) > 71
    assert pieces[0] + "".join(p[1:] for p in pieces[1:]) == line


@given(st.text(), st.text())
def test_whatever_is_written_another_reader_reads_the_same(summary: str, more: str) -> None:
    """The icalendar package reads back every text, as it can be shown."""
    made = calendar_text([Event("one@book", 3, STAMP, on(4, 9), summary, more)])
    assert all(len(line.encode()) <= 75 for line in made.split("\r\n"))
    assert "\n" not in made.replace("\r\n", "")
    (event,) = Calendar.from_ical(made).walk("VEVENT")
    assert str(event["SUMMARY"]) == sanitize(summary.replace("\r\n", "\n"), newlines=True)
    assert event["DTSTART"].dt == on(4, 9)
    assert (str(event["UID"]), int(event["SEQUENCE"])) == ("one@book", 3)


def test_a_day_and_what_is_over() -> None:
    """A whole day ends the day after; what is done is struck out and does not call."""
    made = calendar_text([Event("a", 1, STAMP, date(2026, 12, 31), "Sign", alarm=False),
                          Event("b", 1, STAMP, on(4, 9), "Turn", off=True)])
    day, done = Calendar.from_ical(made).walk("VEVENT")
    assert (day["DTSTART"].dt, day["DTEND"].dt) == (date(2026, 12, 31), date(2027, 1, 1))
    assert (str(day["STATUS"]), str(done["STATUS"])) == ("CONFIRMED", "CANCELLED")
    assert Calendar.from_ical(made).walk("VALARM") == []


def seen(editions: EditionService) -> dict[str, tuple[int, str, object]]:
    """The calendar as another program has it: by UID sequence, status and time."""
    made = Calendar.from_ical(calendar_text(drying_events(editions.boards)))
    return {str(e["UID"]): (int(e["SEQUENCE"]), str(e["STATUS"]), e["DTSTART"].dt)
            for e in made.walk("VEVENT")}


def test_written_again_it_doubles_nothing_and_what_changed_comes_later() -> None:
    """The same UIDs every time; SEQUENCE grows when a sheet is laid or a change is made."""
    studio = Studio()
    editions = studio.editions
    steps = (DryStep("Change", after_ms=3 * 3_600_000), DryStep("Turn", every_ms=86_400_000,
                                                               for_ms=2 * 86_400_000))
    assert editions.on_boards(Begin("one@x.1", "Pear", steps)).ok
    assert seen(editions) == {}
    assert editions.on_boards(Lay("one@x.1", (("s#1", "D1"),))).ok
    first = seen(editions)
    # Laid at 10:00: changed at the evening hour, then two mornings (the printer's hours).
    assert [first[f"change-{k}-one@x.1"][2] for k in ("0-1", "1-1", "1-2")] == [
        on(3, 18), on(4, 9), on(5, 9)]
    assert seen(studio.editions) == first
    studio.clock.advance(86_400_000)
    assert editions.on_boards(Changed("one@x.1")).ok
    second = seen(editions)
    assert second.keys() == first.keys()
    assert all(second[k][0] > first[k][0] for k in first)
    assert [second[f"change-{k}-one@x.1"][1] for k in ("0-1", "1-1", "1-2")] == [
        "CANCELLED", "CANCELLED", "CONFIRMED"]
    assert editions.on_boards(Lay("one@x.1", (("s#2", "D2"),))).ok
    third = seen(editions)
    assert third.keys() == first.keys()
    assert third["change-0-1-one@x.1"][1:] == ("CONFIRMED", on(4, 18))
    for sheet in ("s#1", "s#2"):
        assert editions.on_boards(Lift("one@x.1", sheet)).ok
    assert seen(editions) == {}  # it is over: no year of struck-out events


def test_what_an_earlier_last_sheet_gave_is_struck_out_when_it_falls_away() -> None:
    """Changed every 4 h: laid at 10:00 that gives an evening and a morning; at 20:00 a morning
    alone. The phone still has the second, which no file without it would take away."""
    studio = Studio()
    editions = studio.editions
    steps = (DryStep("Turn", every_ms=4 * 3_600_000, for_ms=12 * 3_600_000),)
    assert editions.on_boards(Begin("one@x.1", "Pear", steps)).ok
    assert editions.on_boards(Lay("one@x.1", (("s#1", "D1"),))).ok
    first = seen(editions)
    assert [first[f"change-0-{n}-one@x.1"][1:] for n in (1, 2)] == [
        ("CONFIRMED", on(3, 18)), ("CONFIRMED", on(4, 9))]
    studio.clock.advance(10 * 3_600_000)
    assert editions.on_boards(Lay("one@x.1", (("s#2", "D2"),))).ok
    second = seen(editions)
    assert second.keys() == first.keys()
    assert second["change-0-1-one@x.1"][1:] == ("CONFIRMED", on(4, 9))
    assert second["change-0-2-one@x.1"][:2] == (first["change-0-2-one@x.1"][0] + 1, "CANCELLED")


def test_the_phone_rings_at_the_printer_s_own_hour() -> None:
    """RFC 5545, 3.3.5, form 1: a time without Z or TZID is that of wherever the phone is. And
    3.8.7.2: without METHOD a DTSTAMP says when the event was last changed."""
    studio = Studio()
    editions = studio.editions
    assert editions.on_boards(Begin("one@x.1", "Pear", (DryStep("Turn", after_ms=86_400_000),))).ok
    assert editions.on_boards(Lay("one@x.1", (("s#1", "D1"),))).ok
    made = Calendar.from_ical(calendar_text(drying_events(editions.boards)))
    assert "METHOD" not in made
    (turn,) = (e for e in made.walk("VEVENT") if str(e["UID"]).startswith("change"))
    assert turn["DTSTART"].dt.tzinfo is None
    assert "TZID" not in turn["DTSTART"].params
    assert turn["DTSTART"].dt == on(4, 9)
    (alarm,) = turn.walk("VALARM")
    assert (str(alarm["ACTION"]), alarm["TRIGGER"].dt) == ("DISPLAY", timedelta(0))


def test_hours_chosen_later_move_what_the_phone_has() -> None:
    """No entry is written by a preference, so the minute it was chosen in counts too."""
    studio = Studio()
    editions = studio.editions
    assert editions.on_boards(Begin("one@x.1", "Pear", (DryStep("Turn", after_ms=86_400_000),))).ok
    assert editions.on_boards(Lay("one@x.1", (("s#1", "D1"),))).ok
    mine, chosen = Hours(morning=time(7)), datetime(2026, 5, 3, 9, tzinfo=UTC)
    before, after = (
        next(e for e in drying_events(editions.boards, *said) if e.uid.startswith("change"))
        for said in ((), (mine, chosen)))
    assert (before.uid, before.at, after.at) == (after.uid, on(4, 9), on(4, 7))
    assert after.sequence > before.sequence
    assert after.stamp == max(before.stamp, chosen)


# -- the command ----------------------------------------------------------------------------


def test_the_list_says_what_is_due_and_what_lies_where() -> None:
    """One list for all stacks, top sheet first; an old stack is left out of it."""
    studio = Studio()
    studio.day(pear(drying=DRYING), 2)
    editions = studio.editions
    lines = boards_lines(editions.boards, wall_time(studio.clock.now()))
    assert lines[:3] == [
        "late since yesterday 18:00: Change blotters · 1 Pear on a Sill, 2026-05-03",
        "late since 09:00: Turn them · 1 Pear on a Sill, 2026-05-03",
        "tomorrow 09:00: Turn them · 1 Pear on a Sill, 2026-05-03"]
    assert "1 Pear on a Sill, 2026-05-03 · 4 sheets" in lines
    assert "    D4, D3, D2, D1" in lines
    studio.clock.advance(70 * 86_400_000)
    assert stacks_in_use(editions.boards, wall_time(studio.clock.now())) == ()
    assert boards_lines(editions.boards, wall_time(studio.clock.now())) == []


def test_what_lay_under_boards_long_ago_is_not_on_the_list(
    drying: str, call: Call  # noqa: F811
) -> None:
    """A day of months back: no stack, nothing due, and nothing to say about one."""
    found = call("--book", drying, "boards", "--json").json
    assert found == []  # that day lies months back on the clock of today
    assert call("--book", drying, "boards", "--changed").code == 1
    assert call("boards").out.strip() == "Nothing is under boards."


def test_the_calendar_leaves_to_a_file_that_is_not_written_over(
    drying: str, call: Call, tmp_path: Path  # noqa: F811
) -> None:
    """Printed, or in a new file; the same text both ways, byte for byte."""
    out = tmp_path / "boards.ics"
    assert call("--book", drying, "boards", "--ics", str(out)).code == 0
    data = out.read_bytes()
    assert data.startswith(b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n")
    assert data.endswith(b"END:VCALENDAR\r\n")
    assert call("--book", drying, "boards", "--ics", str(out)).code == 1
    assert call("--book", drying, "boards", "--ics", str(out), "--force").code == 0
    assert out.read_bytes() == data


def test_the_printer_s_hours_stand_in_the_list_and_in_the_calendar(
    home: Path, call: Call  # noqa: F811
) -> None:
    """Said once in the preferences; a file with a slip is named with its place."""
    home.mkdir(parents=True)
    with Book.open(files.book_file(), write=True, create=True) as book:
        editions = EditionService(book, SystemClock())
        turn = DryStep("Turn", after_ms=86_400_000)
        assert editions.on_boards(Begin("o@x.1", "Pear", (turn,))).ok
        assert editions.on_boards(Lay("o@x.1", (("s#1", "D1"),))).ok
    usual = call("boards", "--json").json[0]["due"]
    assert usual[0]["at"].endswith("T09:00")
    (home / "preferences.yaml").write_text("boards later: 07:30\n")
    assert call("boards", "--json").json[0]["due"][0]["at"].endswith("T07:30")
    (event,) = (e for e in Calendar.from_ical(call("boards", "--ics").out).walk("VEVENT")
                if str(e["UID"]).startswith("change"))
    assert (event["DTSTART"].dt.hour, event["DTSTART"].dt.minute) == (7, 30)
    (home / "preferences.yaml").write_text("boards later: early\n")
    wrong = call("boards")
    assert wrong.code == 1
    assert "preferences.yaml:1:15: boards later" in wrong.err


@pytest.mark.parametrize(("made", "left"), [("--changed", "--left"), ("--done", "--skip")])
def test_a_change_is_changed_or_left(
    made: str, left: str, home: Path, call: Call  # noqa: F811
) -> None:
    """By the words of the help, or by those of before; the answers are the same entries."""
    home.mkdir(parents=True)
    with Book.open(files.book_file(), write=True, create=True) as book:
        editions = EditionService(book, FakeClock(SystemClock().now().wall_ms - 2 * 86_400_000))
        for stack in ("a@x.1", "b@x.1"):
            assert editions.on_boards(Begin(stack, stack, (DryStep("Turn", 86_400_000),))).ok
            assert editions.on_boards(Lay(stack, ((f"{stack}#1", "A1"),))).ok
    assert call("boards", "a@x", made).code == 0
    assert "say why" in call("boards", "b@x", left).err
    assert "Turn" not in call("boards", "b@x", left, "--why", "dry enough").out
    said = call("boards", "--help").out
    assert ("--changed" in said, "--left" in said) == (True, True)
    assert ("--done" in said, "--skip" in said) == (False, False)


@pytest.mark.parametrize("argv", [
    ("boards", "--why", "x"), ("boards", "--weight", "heavy"), ("boards", "--done", "--skip"),
])
def test_wrong_use_of_the_boards_is_exit_2(
    argv: tuple[str, ...], home: Path, call: Call  # noqa: F811
) -> None:
    """Options that belong to another, or a mass that is none."""
    home.mkdir(parents=True)
    with Book.open(files.book_file(), write=True, create=True) as book:
        editions = EditionService(book, SystemClock())
        assert editions.on_boards(Begin("one@x.1", "Pear")).ok
        assert editions.on_boards(Lay("one@x.1", (("s#1", "D1"),))).ok
    assert call(*argv).code == 2


def test_a_stack_of_today_is_worked_from_the_command_line(
    home: Path, call: Call  # noqa: F811
) -> None:
    """Weight, lifting and taking down; what can't be taken back is asked."""
    home.mkdir(parents=True)
    with Book.open(files.book_file(), write=True, create=True) as book:
        editions = EditionService(book, SystemClock())
        assert editions.on_boards(Begin("one@x.1", "Pear")).ok
        assert editions.on_boards(Lay("one@x.1", (("s#1", "D1"), ("s#2", "D2")))).ok
    assert call("boards", "pear", "--weight", "12 kg", "--json").json[0]["grams"] == 12_000
    assert call("boards", "1", "--left").code == 1
    assert call("boards", "quince", "--weight", "3 kg").code == 1
    assert call("boards", "--down").code == 2
    assert call("boards", "--down", "--yes").out.strip() == "Nothing is under boards."


def test_a_calendar_names_what_wrote_it_and_is_utf_8(
        capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    """RFC 5545, 3.7.3 and 3.1.4; the plan's and that of the boards are two."""
    event = Event("a", 1, STAMP, on(4, 9), "Lay “Étude”")
    assert "\r\nPRODID:-//benchapp//boards//EN\r\n" in calendar_text([event])
    text = calendar_text([event], "Plan", product="plan")
    assert "\r\nPRODID:-//benchapp//plan//EN\r\n" in text
    write_stream("-", text)
    assert capsysbinary.readouterr().out == text.encode("utf-8")
