"""A tread in the two seconds after a wait ended by itself is for that wait."""

from __future__ import annotations

import pytest

from benchapp.session import actions as a
from benchapp.session.late_tread import meant_for_wait
from tests.session.support import INK, LIFT, MIN, PULL, SETTLE, WARM, Bench, recipe

PLAIN = recipe(each=(WARM, INK, PULL, LIFT))


def after_the_wait(text: str = PLAIN) -> Bench:
    """The plate was warmed and the wait ended by itself just now."""
    b = Bench(text)
    b.advance(2)
    assert [w.how for w in b.ended("Warm")] == ["ended itself"]
    return b


def meant(b: Bench, later_ms: int = 0) -> bool:
    """Whether a tread so much later is meant for the wait."""
    b.clock.advance(later_ms)
    return meant_for_wait(b.room, b.now)


@pytest.mark.parametrize(("later_ms", "is_meant"), [(0, True), (1_999, True), (2_000, False)])
def test_only_within_two_seconds(later_ms: int, is_meant: bool) -> None:
    """A later tread is about the step that began."""
    b = after_the_wait()
    assert b.hand == "Ink"
    assert meant(b, later_ms) == is_meant


def test_where_a_wait_follows_the_wait_the_next_one_is_not_cut_short() -> None:
    """Nothing is in hand, and the tread would end what has just begun."""
    assert meant(after_the_wait(recipe(each=(WARM, SETTLE, INK, PULL, LIFT))), 1_000)


def test_paper_that_has_rested_is_a_wait_too() -> None:
    """The pull begins by itself with clean hands when the sheets are ready."""
    b = Bench(recipe(damp="{method: spray, rest: 20 min, pack: 4}"), wanted=2)
    b.works(["Spray the sheets and stack them", "Ink", "Wash and dry hands"])
    assert b.hand is None
    b.advance(20)
    assert b.hand == "Pull"
    assert meant(b, 1_500)


def test_a_call_is_answered_and_a_pause_ended() -> None:
    """Those are what a tread is for, whatever else has just ended."""
    b = Bench(PLAIN)
    b.say(a.StartClock(2 * MIN, "varnish"))
    b.advance(2)
    assert not meant(b)
    b = Bench(PLAIN)
    b.say(a.Pause())
    b.advance(2)
    assert not meant(b)


def test_hands_that_were_at_work_beside_the_wait_have_their_tread() -> None:
    """The boards were over while the next plate was inked: the tread ends the inking."""
    b = Bench(recipe(each=(INK, PULL, LIFT,
                           "{do: Boards, hands: free, time: 3 min, ends: itself}")))
    b.until("Lift")
    b.work("Lift")
    assert (b.hand, b.waits) == ("Ink", ["Boards"])
    b.advance(3)
    assert b.waits == []
    assert not meant(b, 500)
    assert not meant_for_wait(Bench().room, b.now)
