"""What a step makes is good for a time: its clock starts at the step's end, and calls when over."""

from __future__ import annotations

import pytest

from benchapp.recipe.problems import RecipeError
from benchapp.recipe.reader import read_recipe
from benchapp.session import actions as a
from tests.session.support import HOUR, INK, LIFT, PULL, Bench, recipe

PASTE = "{do: Strain the paste, hands: clean, time: 10 min, lasts: paste 2 h}"
ONCE = recipe(before=[PASTE], each=(INK, PULL, LIFT))
EACH = recipe(each=(PASTE, INK, PULL, LIFT))


def clocks(b: Bench) -> list[tuple[str, int]]:
    """The clocks there are, by name and length."""
    return [(clock.name, clock.ms) for clock in b.s.timed.values()]


def test_its_clock_starts_when_the_step_is_done_and_calls_when_it_is_over():
    """Not while the step is worked on; the call bears its name."""
    b = Bench(ONCE)
    assert clocks(b) == []
    b.work("Strain the paste", 10)
    assert clocks(b) == [("paste", 2 * HOUR)]
    assert "due" not in b.advance(119)
    assert "due" in b.advance(2)
    assert [call.text.split(":")[0] for call in b.view.calls] == ["paste"]


def test_fresh_paste_takes_the_place_of_the_old():
    """At the next sheet one clock runs, from now on."""
    b = Bench(EACH, wanted=5)
    for _ in range(2):
        b.until("Strain the paste")
        b.work("Strain the paste", 10)
        b.work("Ink", 5)
    assert clocks(b) == [("paste", 2 * HOUR)]
    assert len(b.entries("timed")) == 2


def test_a_step_taken_back_takes_its_clock_back():
    """Nothing was strained."""
    b = Bench(ONCE)
    b.work("Strain the paste", 10)
    b.back()
    assert clocks(b) == []


def test_a_skipped_step_starts_no_clock():
    """Nobody made anything."""
    b = Bench(ONCE)
    b.do(a.SkipStep("bought ready"))
    assert b.ended("Strain the paste")[0].how == "skipped"
    assert clocks(b) == []


@pytest.mark.parametrize("text", ["paste", "8 h", "wheat starch paste 8 h", "paste 8"])
def test_what_is_no_name_and_time_is_refused(text: str):
    """With an example of one."""
    with pytest.raises(RecipeError, match="lasts"):
        read_recipe(ONCE.replace("paste 2 h", text))
