"""Time: the boot clock counts, walls jump, machines sleep and die, long steps are asked about."""

from __future__ import annotations

from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.context import worked_ms
from tests.session.support import DAY, HOUR, INK, LIFT, MIN, PULL, SETTLE, Bench, recipe

WAITING = recipe(each=(INK, SETTLE, PULL, LIFT))


def count(b: Bench) -> tuple[int, bool]:
    """The count of the step in hand: milliseconds, and whether they are exact."""
    shown = b.view.now.count
    assert shown is not None
    return shown.ms, shown.exact


def test_a_clock_set_back_takes_no_time_away():
    """Two hours back on the wall: the step has worked 12 min."""
    b = Bench(DAY)
    b.advance(10)
    b.clock.step_wall(-2 * HOUR)
    b.advance(2)
    assert count(b) == (12 * MIN, True)


def test_a_jump_of_the_wall_is_an_entry_and_is_kept():
    """Forward or back, by how much; a second of drift is none."""
    b = Bench(DAY)
    b.clock.step_wall(-HOUR)
    assert b.advance(1) == ["clock stepped"]
    b.clock.step_wall(1_000)
    assert b.advance(1) == []
    assert [(j.what, j.ms) for j in b.s.jumps] == [("clock stepped", -HOUR)]


def test_sleep_counts_and_is_an_entry():
    """The wait went on while the machine slept."""
    b = Bench(WAITING)
    b.work("Ink")
    b.clock.sleep(10 * MIN)
    kinds = b.advance(0)
    assert kinds == ["slept", "due", "called"]
    assert [(j.what, j.ms) for j in b.s.jumps] == [("slept", 10 * MIN)]


def test_across_a_restart_wall_time_counts_and_is_marked_inexact():
    """Off for 20 min at 5 min: about 25, and no longer exact."""
    b = Bench(DAY)
    b.advance(5)
    b.say(a.Note("x"))
    b.clock.reboot(20 * MIN)
    assert count(b) == (25 * MIN, True)  # not known yet: no entry since
    b.say(a.Continue(last_seen_ms=None))
    assert count(b) == (25 * MIN, False)
    b.advance(1)
    assert count(b) == (26 * MIN, False)
    b.tread()
    b.advance(2)
    assert count(b) == (2 * MIN, True)


def test_a_wall_that_ran_backwards_over_a_restart_takes_no_time_away():
    """A machine without a battery wakes in 1970."""
    b = Bench(DAY)
    b.advance(5)
    b.say(a.Note("x"))
    b.clock.reboot(-30 * 365 * 24 * HOUR)
    b.say(a.Continue(last_seen_ms=None))
    assert count(b) == (5 * MIN, False)


def test_coming_back_shows_the_same_step_counts_and_sheets():
    """The program died in the middle of the ink of the second sheet."""
    b = Bench(DAY, wanted=2)
    b.until("Lift")
    b.say(a.Judge("keep"))
    b.until("Ink")
    b.clock.advance(3 * MIN)
    shop = SessionService(b.book, b.clock)
    shop.resume_session(b.book.sessions()[0])
    s = shop.room.session
    assert s is not None
    assert s.hand == b.s.hand
    assert worked_ms(s, s.work[s.hand], shop.room.t_at(b.now)) == 3 * MIN
    assert s.impressions == b.s.impressions
    assert shop.room.inky is True


def test_a_step_five_minutes_over_its_high_time_is_asked_about_once_at_the_next_clean_moment():
    """Wiped for 5 min over 12: nothing while inky, the question after the wash, once."""
    b = Bench(recipe(each=("{do: Wipe, hands: inky, time: 8/10/12 min}", PULL, LIFT)))
    b.work("Wipe", 18)
    assert b.view.question is None
    b.work("Wash and dry hands", 1)
    assert b.view.question == "Wipe: 18 min. Took that long, away, or forgot the pedal?"
    assert len(b.entries("time questioned")) == 1
    b.tread()
    assert len(b.entries("time questioned")) == 1


def test_a_step_within_five_minutes_of_its_high_time_is_not_asked_about():
    """To the second."""
    b = Bench(recipe(each=("{do: Wipe, hands: inky, time: 8/10/12 min}", PULL, LIFT)))
    b.work("Wipe", 17)
    b.work("Wash and dry hands", 1)
    assert b.view.question is None
    assert b.refused(a.Explain("took")).why == "There is no long time to explain"


def test_the_answer_is_kept_with_the_step():
    """Took that long teaches; away and forgot do not, and are told apart."""
    for answer in ("took", "away", "forgot"):
        b = Bench(DAY)
        b.work("Screws", 21)
        assert b.view.question is None  # the ink has begun by itself
        b.works(["Ink", "Wash and dry hands"])
        assert b.view.question == "Screws: 21 min. Took that long, away, or forgot the pedal?"
        b.say(a.Explain(answer))
        assert b.view.question is None
        assert [w.question for w in b.ended("Screws")] == [answer]


def test_a_pause_in_it_does_not_make_a_step_long():
    """What was paused was not worked."""
    b = Bench(DAY)
    b.say(a.Pause())
    b.advance(60)
    b.tread()
    b.work("Screws", 15)
    assert b.view.question is None
    work = b.ended("Screws")[0]
    assert worked_ms(b.s, work, b.t) == 15 * MIN
