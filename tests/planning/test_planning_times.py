"""Times a recipe does not say: taught by its days, else shared out of a guess."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.planning.build import plan_day
from benchapp.planning.remaining import day_of_recipe
from benchapp.planning.times import (
    Guess,
    missing_words,
    read_guess,
    taught_times,
    time_recipe,
)
from benchapp.quantities import QuantityError, read_span
from benchapp.recipe.reader import read_recipe
from tests.planning.plans import WORKED
from tests.session.support import LIFT, PULL, WIPE, Bench, recipe

MIN = 60_000


def untimed(text: str, *steps: str) -> str:
    """The recipe's text without the times of these steps of a print."""
    out = []
    for line in text.splitlines():
        if any(f"do: {step}," in line for step in steps):
            head, _, rest = line.partition(", time: ")
            line = head + rest[min(i for i in (rest.find(","), rest.find("}")) if i >= 0):]
        out.append(line)
    return "\n".join(out) + "\n"


def test_a_complete_recipe_needs_no_guess():
    """It stays as it is, whatever is guessed."""
    whole = read_recipe(WORKED)
    found = time_recipe(whole, {}, 99 * MIN)
    assert (found.recipe, found.guess, found.missing) == (whole, None, ())


def test_steps_without_a_time_share_the_rest_of_a_guess():
    """What the others take is taken off first; the plan knows every step then."""
    bare = read_recipe(untimed(WORKED, "Ink", "Wipe"))
    found = time_recipe(bare, {}, None)
    assert found.missing == ("Ink", "Wipe")
    assert missing_words(found.missing) == "No time is known for Ink and Wipe"
    guessed = time_recipe(bare, {}, found.least + 22 * MIN)
    assert guessed.guess == Guess(found.least + 22 * MIN, ("Ink", "Wipe"))
    assert [str(s.time) for s in guessed.recipe.each if s.do in ("Ink", "Wipe")] == [
        "660 s", "660 s"]
    assert plan_day(day_of_recipe(guessed.recipe, 2)).unknown == ()


@given(st.integers(1, 600))
def test_shares_come_to_the_guess(minutes):
    """To a millisecond a step; a guess the known steps fill already is none."""
    bare = read_recipe(untimed(WORKED, "Ink", "Wipe"))
    found = time_recipe(bare, {}, minutes * MIN)
    if minutes * MIN - found.least < 30_000:
        assert (found.guess, found.missing) == (None, ("Ink", "Wipe"))
        return
    shares = sum(s.time.usual.ms for s in found.recipe.each
                 if s.do in ("Ink", "Wipe") and s.time is not None)
    assert 0 <= minutes * MIN - found.least - shares < 2


def test_the_recipes_own_guess_stands_until_another_is_given():
    """`one print takes` is read; what is said for the day goes before it."""
    bare = read_recipe(untimed(WORKED, "Ink", "Wipe") + "one print takes: 50 min\n")
    own = time_recipe(bare, {}, None).guess
    other = time_recipe(bare, {}, 60 * MIN).guess
    assert own is not None
    assert other is not None
    assert (own.ms, other.ms) == (50 * MIN, 60 * MIN)


def test_learnt_times_count_as_known():
    """A time its days taught is taken before a guess; only the rest is guessed."""
    bare = read_recipe(untimed(WORKED, "Ink", "Wipe"))
    ink = next(s.id for s in bare.each if s.do == "Ink")
    found = time_recipe(bare, {ink: read_span("8/10/13 min")}, None)
    assert found.missing == ("Wipe",)
    guess = time_recipe(bare, {ink: read_span("8/10/13 min")}, found.least + 9 * MIN)
    assert guess.guess == Guess(found.least + 9 * MIN, ("Wipe",))


def test_three_times_taken_teach_one():
    """Two say nothing yet; the wipe of 12 min three times is 12 min."""
    b = Bench(recipe(each=(WIPE.replace(", time: 8/10/12 min", ""), PULL, LIFT)), wanted=None)
    bare = b.s.recipe
    taught = []
    for _ in range(3):
        b.work("Wipe", 12)
        while b.hand != "Wipe":
            b.advance(2)
            b.tread()
        taught.append({k: str(v.usual) for k, v in taught_times([b.room], bare).items()})
    assert taught[:2] == [{}, {}]
    assert list(taught[2].values()) == ["12 min"]


@pytest.mark.parametrize(("text", "least", "said"), [
    ("40", 0, '"40" has no unit'), ("0 min", 0, "cannot be the time of one print"),
    ("2 days", 0, "cannot be the time of one print"),
    ("20 min", 30 * MIN, "the steps with a time take 30 min a print already"),
])
def test_what_is_no_guess_is_said(text, least, said):
    """What is wrong, and what to write."""
    with pytest.raises(QuantityError, match=said):
        read_guess(text, least)
    assert read_guess("40 min", 30 * MIN) == 40 * MIN
