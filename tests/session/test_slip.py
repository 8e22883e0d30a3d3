"""A tread that came too early is taken back by the next one, and only then."""

from __future__ import annotations

from benchapp.session import actions as a
from benchapp.session.slip import slipped
from benchapp.session.state import Key
from tests.session.support import DAY, MIN, Bench


def test_a_tread_before_the_low_time_is_a_slip_for_four_seconds():
    """Three seconds later it can be taken back by a tread; five seconds later not."""
    b = Bench(DAY)
    b.tread()
    b.clock.advance(3_000)
    assert slipped(b.room, b.now) == Key("before.1")
    b.clock.advance(2_000)
    assert slipped(b.room, b.now) is None


def test_a_tread_after_the_low_time_is_none():
    """A step that took its time was ended on purpose: the next tread goes on."""
    b = Bench(DAY)
    b.advance(90)
    b.tread()
    assert slipped(b.room, b.now) is None


def test_once_taken_back_the_next_tread_goes_on():
    """The tread after a take-back is a tread: two slips are not undone in a row."""
    b = Bench(DAY)
    b.tread()
    b.say(a.TakeBack())
    assert slipped(b.room, b.now) is None
    b.tread()
    assert slipped(b.room, b.now) == Key("before.1")


def test_time_between_does_not_hide_a_slip_and_words_do():
    """A clock that runs out in between changes nothing; a note in between does."""
    b = Bench(DAY)
    b.tread()
    b.say(a.Tick())
    assert slipped(b.room, b.now) == Key("before.1")
    b.say(a.Note("x"))
    assert slipped(b.room, b.now) is None


def test_the_answer_to_a_call_is_never_a_slip():
    """It ended no hands step."""
    b = Bench(DAY)
    b.say(a.StartClock(MIN, "varnish"))
    b.advance(2)
    b.tread()
    assert slipped(b.room, b.now) is None
