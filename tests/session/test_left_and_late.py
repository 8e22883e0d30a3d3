"""What is asked about other days, how late a call is, and a plate that is elsewhere."""

from __future__ import annotations

from datetime import timedelta

from benchapp.events.moments import local_time
from benchapp.session import actions as a
from benchapp.session.left import unanswered_facts
from tests.session.support import (
    DAY,
    HOUR,
    INK,
    LIFT,
    PLATE_CLEAN,
    PULL,
    RAGS,
    SETTLE,
    Bench,
    recipe,
)

BITE = "{do: Bite again, hands: free, plate: key, time: 6 min, optional: true}"


def asked(b: Bench, days: int = 0) -> list[str]:
    """What would be asked so many days from now."""
    today = local_time(b.now).date() + timedelta(days=days)
    return [u.do for u in unanswered_facts(b.room.sessions.values(), today)]


def test_a_session_left_open_over_a_night_is_asked_about_its_facts():
    """Not on its own day; the next morning; and no more on the day it is come back to."""
    b = Bench(DAY)
    b.works(["Screws", "Ink"])
    assert asked(b) == []
    assert asked(b, days=1) == ["Rags"]
    b.advance(24 * 60)
    assert asked(b) == ["Rags"]
    b.say(a.Continue(last_seen_ms=b.now.wall_ms - 20 * HOUR))
    assert asked(b) == []
    assert asked(b, days=1) == ["Rags"]


def test_a_fact_given_or_not_said_twice_is_asked_no_more():
    """*Not said* is asked once more and then left at that."""
    b = Bench(recipe(after=[PLATE_CLEAN, RAGS]), wanted=1)
    b.to_close()
    sid = next(iter(b.room.sessions))
    assert asked(b) == ["Rags"]
    assert b.shop.do(a.Must(None, "after.2"), session=sid).ok
    assert asked(b) == []


def test_a_call_is_late_since_its_clock_ran_out():
    """Not since somebody looked: the machine may have slept over it."""
    b = Bench(recipe(each=(INK, SETTLE, PULL, LIFT)))
    b.work("Ink")
    b.advance(6 + 11)
    assert [c.late_ms for c in b.view.calls] == [11 * 60_000]


def test_a_step_chosen_late_takes_the_plate_from_the_next_sheet():
    """The ink begun by itself is laid aside, and the plate is inked after the bath only."""
    b = Bench(recipe(each=(INK, PULL, LIFT, BITE)))
    b.works(["Ink", "Wash and dry hands", "Pull", "Lift"])
    assert b.hand == "Ink"
    assert "Bite again" in b.view.offered
    b.say(a.Choose(b.key("Bite again", 1)))
    assert b.hand is None
    b.advance(7)
    b.tread()
    assert b.hand == "Ink"


def test_a_step_left_to_another_session_keeps_its_hands():
    """An inky step stays inky where it is done."""
    b = Bench(DAY, wanted=1)
    first = b.s.id
    b.until("Plate clean")
    b.say(a.TakeBack())
    b.say(a.Helper(joins=True))
    b.open(recipe(each=(INK, PULL, LIFT)), 1)
    other = b.s.id
    b.do(a.SwitchSession(first))
    b.until("Plate clean")
    b.say(a.LeaveStep(other))
    assert [x.hands for x in b.room.sessions[other].inherited] == ["inky"]


def test_an_inked_plate_is_no_ghost():
    """Nothing pulled yet, or inked already: both are refused, and nothing is written."""
    b = Bench()
    assert str(b.refused(a.Ghost())) == (
        "Nothing has been pulled yet; pull an inked impression first")
    b.works(["Ink", "Wash and dry hands", "Pull", "Lift", "Ink"])
    assert str(b.refused(a.Ghost())) == (
        "This plate is inked already; say ghost before it is inked")


def test_a_reading_of_a_step_needs_a_sheet():
    """One the recipe takes at the lift is no setting of the day; one of no step is."""
    b = Bench(recipe(extra="readings:\n  - {name: tone, unit: grade 1-5, at: Lift}\n"
                           "  - {name: room, unit: °C}\n"))
    assert b.refused(a.TakeReading("tone", "4")).why == "No sheet has been pulled yet"
    b.say(a.TakeReading("room", "18"))
    assert [(x.name, x.value) for x in b.s.settings] == [("room", "18 °C")]


def test_nobody_is_taken_back_before_the_pull_by_here():
    """An optional step listed before a pull that is done is no later step."""
    b = Bench(recipe(each=(INK, "{do: Retroussage, hands: inky, optional: true}", PULL, LIFT)))
    b.works(["Ink", "Wash and dry hands", "Pull"])
    assert b.refused(a.Here(b.id_of("Retroussage"))).why == "Retroussage comes before the pull"
