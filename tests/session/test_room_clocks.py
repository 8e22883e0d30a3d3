"""Clocks of the book: packs nobody looks after, and timers; they call by the rule of all calls."""

from __future__ import annotations

from benchapp.clock import FakeClock
from benchapp.recipe.reader import read_recipe
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.calls import foresee_calls
from benchapp.session.room_clocks import running_clocks
from benchapp.views.bench import call_views
from benchapp.views.clocks import clock_views
from tests.session.support import DAMP, DAY, INK, LIFT, MIN, PULL, WIPE, Bench, recipe

PAPER = read_recipe(DAMP)  # soaks 30 min, rests 15


def idle() -> Bench:
    """A workshop with nothing on the Bench."""
    b = Bench(recipe(), 1)
    b.to_close()
    b.shop.leave_bench()
    return b


def kinds(b: Bench, family: str) -> list[str]:
    """The kinds of the entries of that family, in order."""
    return [e.kind for e in b.book.entries(streams=b.book.streams(family))]


def test_time_alone_has_a_pack_and_a_timer_called_without_any_session() -> None:
    """Due and called in their own streams; each is written once, and shown until answered."""
    b = idle()
    assert b.shop.damp_pack(PAPER, 4).ok
    assert b.shop.start_timer("varnish", 20 * MIN).ok
    assert b.advance(19) == []
    assert b.advance(1) == ["due", "called"]
    assert b.advance(10) == ["due", "called"]
    assert b.advance(60) == []
    now = call_views(b.room, b.t)
    assert [(c.text, c.late_ms // MIN, c.clean, c.owner) for c in now] == [
        ("4 sheets in the water", 60, True, None), ("varnish", 70, False, None)]
    assert b.shop.pack_out(b.packs[0].id).ok
    (timer,) = b.room.timers
    assert b.shop.end_timer(timer).ok
    assert call_views(b.room, b.t) == ()
    assert (kinds(b, "pack"), kinds(b, "clock")) == (
        ["put in", "due", "called", "out"], ["started", "due", "called", "answered"])
    assert str(b.shop.end_timer(timer).refusal) == "That clock does not run; nothing was changed"


def test_more_time_in_the_water_puts_the_call_off() -> None:
    """What was called is over; it falls due again when the longer soak is."""
    b = Bench(DAY)
    assert b.shop.damp_pack(PAPER, 4).ok
    assert b.advance(30) == ["due", "called"]
    b.say(a.Extend(5 * MIN))
    assert call_views(b.room, b.t) == ()
    assert b.advance(4) == []
    assert b.advance(1) == ["due", "called"]


def test_a_pack_is_called_for_once_by_the_session_that_looks_after_it_or_by_itself() -> None:
    """A session on its paper takes the care over; when none is open the pack calls again."""
    b = Bench(DAY)
    assert b.shop.damp_pack(PAPER, 4).ok
    assert [c.call for c in running_clocks(b.room, b.t)] == [f"soak {b.packs[0].id}"]
    b.open(DAMP, 1)
    assert list(running_clocks(b.room, b.t)) == []
    assert [c.call for c in foresee_calls(b.room, b.t).clocks] == [f"soak {b.packs[0].id}"]
    b.until("Screws")
    assert b.advance(30) == ["due", "called"]
    assert kinds(b, "pack") == ["put in"]


def test_inky_hands_hold_a_pack_back_and_a_timer_calls_through() -> None:
    """What needs clean hands waits for the wash; a timer needs none."""
    b = Bench(recipe(each=(INK, WIPE, PULL, LIFT)))
    assert b.shop.damp_pack(PAPER, 4).ok
    assert b.shop.start_timer("rosin", 30 * MIN).ok
    assert sorted(b.advance(30)) == ["called", "due", "due"]
    assert [(c.text, c.calling) for c in call_views(b.room, b.t)] == [
        ("rosin", True), ("4 sheets in the water", False)]
    b.tread()  # answers the timer, and nothing else
    assert (b.hand, b.room.timers) == ("Ink", {})
    b.back()
    assert len(b.room.timers) == 1
    assert [c.calling for c in call_views(b.room, b.t)] == [True, False]
    b.tread(3)
    assert b.hand == "Wash and dry hands"
    b.tread()
    assert b.advance(0) == ["called"]
    b.tread()
    assert (b.hand, kinds(b, "pack")[-1]) == ("Pull", "answered")
    assert [(c.text, c.calling)
            for c in call_views(b.room, b.t)] == [("4 sheets in the water", False)]


def test_one_call_is_answered_by_name_and_a_pause_stays() -> None:
    """Not the most harmful one, if another is named; with nothing calling it is refused."""
    b = Bench()
    b.say(a.StartClock(MIN, "varnish"))
    b.say(a.StartClock(MIN, "rosin"))
    b.say(a.Pause())
    b.advance(1)
    assert b.say(a.AnswerCall("clock 2")) == ["answered"]
    assert [c.text for c in call_views(b.room, b.t)] == ["varnish"]
    assert b.say(a.AnswerCall()) == ["answered"]
    assert b.s.paused_t is not None
    assert str(b.refused(a.AnswerCall())) == "Nothing is calling; see the list of clocks"


def test_what_runs_is_there_after_a_restart_and_what_is_over_is_not() -> None:
    """The book alone holds it: another workshop over it shows the same."""
    b = idle()
    for name in ("varnish", "rosin", "blotters"):
        assert b.shop.start_timer(name, 5 * MIN).ok
    first, second, _ = b.room.timers
    assert b.shop.end_timer(first).ok
    assert kinds(b, "clock")[-1] != "answered"  # before its time it is stopped
    b.advance(6)
    assert b.shop.end_timer(second).ok
    again = SessionService(b.book, b.clock)
    assert [c.name for c in clock_views(again.room, again.room.t_at(b.now))] == ["blotters"]
    assert [c.calling for c in call_views(again.room, again.room.t_at(b.now))] == [True]


def test_what_has_rested_and_what_lies_open_is_told_gently_within_the_hour() -> None:
    """Once each, for clean hands, with no entry of their own."""
    b = Bench(recipe(), 1)
    assert b.shop.damp_pack(PAPER, 4).ok
    b.advance(30)
    assert b.shop.pack_out(b.packs[0].id).ok
    told = [c for c in foresee_calls(b.room, b.t).clocks if c.gentle]
    assert [(c.phrase, c.due_t - b.t, c.clean) for c in told] == [
        ("The sheets have rested: they are ready", 15 * MIN, True)]
    assert b.advance(15) == []
    b.advance(61)
    assert [c for c in foresee_calls(b.room, b.t).clocks if c.gentle] == []


def test_a_time_that_cannot_be_is_refused() -> None:
    """No time, and more than a year."""
    b = Bench(clock=FakeClock())
    assert str(b.shop.start_timer("x", 0).refusal) == "The time is missing; write: varnish 5 min"
    assert b.shop.start_timer("x", 400 * 24 * 60 * MIN).refusal is not None
