"""Days and times of the command line, as people say them."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from datetime import date
from fractions import Fraction

import pytest

from benchapp.clock import FakeClock, SystemClock
from benchapp.commands.context import WrongUse
from benchapp.commands.days import coming_day_text, past_day_text, read_past_day
from benchapp.commands.planning_words import read_taken_place
from benchapp.commands.reckon_read import Figure
from benchapp.edition import corrections as c
from benchapp.quantities import QuantityError, read_mass


@pytest.fixture(autouse=True)
def _on_sunday(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is Sunday, 3 May 2026."""
    clock = FakeClock()
    monkeypatch.setattr(SystemClock, "now", lambda _: clock.now())


@pytest.mark.parametrize(("read", "text", "day"), [
    (past_day_text, "friday", "2026-05-01"), (coming_day_text, "friday", "2026-05-08"),
    (coming_day_text, "+90", "2026-08-01"), (past_day_text, "3 May", "2026-05-03")])
def test_an_option_leans_as_it_must(read: Callable[[str], str], text: str, day: str) -> None:
    """What happened is past, what is due is to come."""
    assert read(text) == day


def test_a_wrong_day_says_how_to_write_one() -> None:
    """The option is named by the parser."""
    with pytest.raises(argparse.ArgumentTypeError, match="write 3 May or 5 March"):
        read_past_day("3/5")


@pytest.mark.parametrize(("text", "place"), [
    ("press 11:00 1 h", ("press", 660, 3600)), ("press 2 11:00 1 h", ("press 2", 660, 3600)),
    ("hot plate 5 pm 30 min", ("hot plate", 1020, 1800)), ("press 14 1 h", ("press", 840, 3600))])
def test_a_place_is_taken_at_a_time_as_it_is_said(text: str, place: tuple[str, int, int]) -> None:
    """A figure at the end of a place's name belongs to the name."""
    assert read_taken_place(text) == place


def test_an_option_takes_a_decimal_comma() -> None:
    """One figure is meant there; a thousand and a half is not guessed."""
    assert Figure("--charge", read_mass)("7,5 g").g == Fraction("7.5")
    with pytest.raises(WrongUse, match=r"--charge.*has a decimal comma"):
        Figure("--charge", read_mass)("1,500 g")


def test_a_correction_keeps_its_day_by_iso_8601() -> None:
    """Since when is past, due is to come; other words stay as they are."""
    today = date(2026, 5, 3)
    assert c.day_text(c.SINCE, "friday", today) == "2026-05-01"
    assert c.day_text(c.DUE, "friday", today) == "2026-05-08"
    assert c.day_text(c.DUE, "not known", today) == "not known"
    assert c.day_text(c.NOTE, "friday", today) == "friday"
    with pytest.raises(QuantityError, match="is not a day"):
        c.day_text(c.DUE, "soon", today)
