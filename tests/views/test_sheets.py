"""The sheets of a session as rows, and one of them whole."""

from __future__ import annotations

import pytest

from benchapp.session import actions as a
from benchapp.views.sheets import SheetLine, round_order, sheet_lines, sheet_whole, shown_unit
from tests.session.support import DAMP, INK, LIFT, ONE, PULL, TWO, Bench, recipe


def printed(text: str = ONE, sheets: int = 2) -> Bench:
    """A bench with so many sheets pulled and looked at, a minute to each tread."""
    b = Bench(text)
    for _ in range(100):
        if sum(i.laid for i in b.sheets) == sheets:
            return b
        b.advance(1)
        b.go()
    raise AssertionError("the sheets were never pulled")


def line(b: Bench, number: int) -> SheetLine:
    """The row of a sheet, by its number."""
    return next(x for x in sheet_lines(b.s) if x.number == number)


def test_a_sheet_nobody_spoke_of_has_an_empty_row() -> None:
    """What it was for is by rule: the first two of an edition session are warm-ups."""
    first = line(printed(), 1)
    assert (first.ordinal, first.mark, first.purpose, first.by_rule) == (1, "D1", "warm-up", True)
    assert (first.verdict, first.tags, first.readings, first.notes) == (None, (), (), ())
    assert (first.look_again, first.ended, first.counts) == (False, None, False)
    assert first.pulled_at is not None


def test_what_was_said_of_a_sheet_is_in_its_row() -> None:
    """A reading with its unit, but for a grade, which needs none."""
    b = printed()
    for action in (a.Judge("keep", 2), a.SayFor("SP", "II", 2), a.Tag("salty", 2),
                   a.TakeReading("tone", "3", "grade 1-5", 2), a.TakeReading("heat", "41", "°C", 2),
                   a.Note("a hair", 2), a.LookAgain(2)):
        b.say(action)
    row = line(b, 2)
    assert (row.purpose, row.by_rule, row.verdict) == ("SP II", False, "keep")
    assert (row.tags, row.notes, row.look_again) == (("salty",), ("a hair",), True)
    assert row.readings == ("tone 3", "heat 41 °C")
    assert line(b, 1).readings == ()


@pytest.mark.parametrize(("unit", "shown"), [
    (None, ""), ("grade 1-5", ""), ("°C", "°C"), ("g", "g")])
def test_a_grade_needs_no_unit(unit: str | None, shown: str) -> None:
    """Every other unit is said."""
    assert shown_unit(unit) == shown


def test_the_round_takes_the_unjudged_first() -> None:
    """Each part in the order pulled."""
    b = printed(sheets=4)
    b.say(a.Judge("keep", 1))
    b.say(a.Judge("spoiled", 3))
    assert round_order(sheet_lines(b.s)) == (2, 4, 1, 3)
    assert round_order(reversed(sheet_lines(b.s))) == (2, 4, 1, 3)


def test_a_whole_sheet_has_its_pulls_and_what_was_set_then() -> None:
    """Settings said later are not its own; a name keeps its first spelling, the last value."""
    b = Bench(TWO)
    for name, value in (("Left side", "3 turns"), ("room", "18 °C"), ("left side", "3.5 turns")):
        b.say(a.Set(name, value))
    b.until("Lift")
    sheet = b.sheets[0].ordinal
    b.say(a.Set("room", "24 °C"))
    whole = sheet_whole(b.s, sheet)
    assert whole is not None
    assert [(p.do, p.plates) for p in whole.pulls] == [
        ("Pull tone", ("tone",)), ("Pull key", ("key",))]
    assert all(p.at is not None for p in whole.pulls)
    assert whole.settings == (("Left side", "3.5 turns"), ("room", "18 °C"))
    assert (whole.line.mark, whole.laid) == ("D1", False)
    assert sheet_whole(printed().s, 1).laid  # type: ignore[union-attr]


def test_what_is_no_pulled_sheet_has_no_page() -> None:
    """One that is inked and not pulled; one nobody began."""
    b = Bench(recipe(each=(INK, PULL, LIFT)))
    assert b.hand == "Ink"
    assert sheet_lines(b.s) == ()
    assert (sheet_whole(b.s, 1), sheet_whole(b.s, 9)) == (None, None)


def test_a_sheet_names_its_pack() -> None:
    """By its number in its session; in another, with the session it is from."""
    b = Bench(DAMP, wanted=4)
    first = b.s.id
    b.works(["Sheets into the water", "Screws"])
    b.advance(30)
    b.until("Sheets out of the water")
    b.tread()
    b.advance(15)
    b.until("Lift")
    assert line(b, 1).packs == ("pack 1",)
    b.say(a.Helper(joins=True))
    b.open(DAMP)
    while not b.sheets:
        b.go()
    assert line(b, 1).packs == (f"pack 1 of {first.partition('@')[0]}",)


def test_a_counterproof_names_the_sheet_it_is_of() -> None:
    """A sheet that simply went through says nothing of how it ended."""
    b = Bench()
    b.until("Lift")
    b.say(a.Counterproof())
    assert [x.ended for x in sheet_lines(b.s)] == [None, "of D1"]
