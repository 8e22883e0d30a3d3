"""Lift and look by the switch alone: what stands, what a tread picks, what silence does."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.session import actions as a
from benchapp.session.state import Session
from benchapp.views.pedal_answers import (
    NONE,
    TAGS,
    VERDICTS,
    begin_walk,
    commonest_tags,
    is_still_walking,
    pick_answer,
)
from tests.session.support import PULL, Bench, recipe

PACE = 3_000
LIFT = "{do: Lift, hands: clean, time: 2/4/8 min, asks: [verdict, tags]}"
DAY = recipe(each=["{do: Ink, hands: inky, time: 3/5/8 min}", PULL, LIFT],
             extra="tags: {sky: [banding]}\n")


def at_lift(text: str = DAY) -> Bench:
    """A bench with the first sheet lifted, hands clean."""
    b = Bench(text)
    for _ in range(9):
        if b.hand == "Lift":
            return b
        b.tread()
    raise AssertionError("the lift never comes")


def today(b: Bench) -> Session:
    """The session on the bench."""
    assert b.room.session is not None
    return b.room.session


def test_each_answer_stands_for_the_pace_and_then_nothing_does() -> None:
    """go on, keep, doubtful, spoiled; three seconds each."""
    b = at_lift()
    walk = begin_walk(b.room, b.room.t, PACE)
    assert walk is not None
    seen = [walk.answer(b.room.t + ms) for ms in range(0, 13_000, 1_500)]
    assert seen == [x for word in VERDICTS for x in (word, word)] + [None]


@pytest.mark.parametrize(("ms", "verdict"), [
    (3_000, "keep"), (8_999, "doubtful"), (9_000, "spoiled")])
def test_a_tread_picks_what_stands_then_a_tag_or_none(ms: int, verdict: str) -> None:
    """The verdict is in the book; the second level begins with none."""
    b = at_lift()
    walk = begin_walk(b.room, b.room.t, PACE)
    assert walk is not None
    t = b.room.t + ms
    action, after = pick_answer(walk, t, ("salty", "lint"))
    assert action == a.Judge(verdict, 1)  # type: ignore[arg-type]
    assert after is not None
    assert after.answers == (NONE, "salty", "lint")
    assert pick_answer(after, t, ()) == (None, None)
    assert pick_answer(after, t + 2 * PACE, ()) == (a.Tag("lint", 1), None)
    assert pick_answer(after, t + 3 * PACE, ()) == (None, None)


def test_two_quick_treads_go_on_not_judged() -> None:
    """The first answer is going on: whoever does not want the walk treads once more."""
    b = at_lift()
    walk = begin_walk(b.room, b.room.t, PACE)
    assert walk is not None
    assert pick_answer(walk, b.room.t + 1_000, ()) == (a.GoOn(), None)


@given(st.lists(st.integers(0, 60_000), max_size=8))
def test_silence_and_first_answers_never_say_anything(waits: list[int]) -> None:
    """Whatever the moments: only a tread on an answer says something, and just that."""
    b = at_lift()
    t = b.room.t
    walk = begin_walk(b.room, t, PACE)
    for wait in waits:
        t += wait
        if walk is None or not is_still_walking(walk, b.room, t):
            break
        standing = walk.answer(t)
        action, walk = pick_answer(walk, t, ("salty",))
        if standing in ("go on", NONE):
            assert action in (None, a.GoOn())
        else:
            said = action.verdict if isinstance(action, a.Judge) else getattr(action, "tag", None)
            assert said == standing


def test_it_begins_only_where_a_verdict_is_asked_and_not_yet_said() -> None:
    """Not at another step, not with inky hands, not paused, not once it is judged."""
    b = Bench(DAY)
    assert begin_walk(b.room, b.room.t, PACE) is None
    b = at_lift()
    assert begin_walk(b.room, b.room.t, PACE) is not None
    b.say(a.Pause())
    assert begin_walk(b.room, b.room.t, PACE) is None
    b.say(a.Resume())
    b.say(a.Judge("keep"))
    assert begin_walk(b.room, b.room.t, PACE) is None


def test_the_walk_is_over_when_its_step_is() -> None:
    """A helper's key may have ended it."""
    b = at_lift()
    walk = begin_walk(b.room, b.room.t, PACE)
    assert walk is not None
    assert is_still_walking(walk, b.room, b.room.t)
    b.tread()
    assert not is_still_walking(walk, b.room, b.room.t)


def test_the_six_tags_are_the_prints_own_first() -> None:
    """By how often they were given; then the recipe's own, then the usual ones."""
    b = at_lift()
    assert commonest_tags((), today(b))[0] == "banding"
    assert len(commonest_tags((), today(b))) == TAGS
    for tag in ("lint", "slur"):
        b.say(a.Tag(tag))
    other = today(b)
    b.say(a.Tag("lint", off=True))
    assert commonest_tags((other,), today(b))[:4] == ("slur", "lint", "banding", "salty")
