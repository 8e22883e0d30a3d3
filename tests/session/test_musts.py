"""Facts that must be said: no tread ends the step that asks one, and no silence invents it."""

from __future__ import annotations

from benchapp.session import actions as a
from tests.session.support import DAY, RAGS, SCREWS, Bench, recipe

TWO_ASKS = recipe(after=["{do: Hot plate, hands: clean, must: [off, left on]}", RAGS])


def test_a_tread_alone_never_ends_it_and_only_asks_again():
    """As often as it is trodden; nothing is written."""
    b = Bench(DAY, wanted=1)
    b.until("Rags")
    for _ in range(3):
        refusal = b.refused(a.GoOn())
        assert str(refusal) == ("Rags: which? 1 in the can, 2 hung open; "
                                "say its number or its words")
        assert refusal.must == ("in the can", "hung open")
    assert b.hand == "Rags"


def test_the_fact_ends_it():
    """It is in the book with the step and the session it belongs to."""
    b = Bench(DAY, wanted=1)
    b.until("Rags")
    b.say(a.Must("hung open"))
    assert b.s.closed is not None
    assert b.s.musts == {(b.s.id, "after.2"): ("hung open",)}
    assert [w.how for w in b.ended("Rags")] == ["done"]


def test_not_said_is_recorded_as_such():
    """The day closes, the fact is null and the step ended as not said."""
    b = Bench(DAY, wanted=1)
    b.until("Rags")
    b.say(a.Must(None))
    assert b.s.musts == {(b.s.id, "after.2"): (None,)}
    assert [w.how for w in b.ended("Rags")] == ["not said"]
    assert b.s.closed is not None


def test_only_its_own_facts_answer_it():
    """Anything else is refused with the ones there are."""
    b = Bench(DAY, wanted=1)
    b.until("Rags")
    assert str(b.refused(a.Must("thrown away"))) == (
        "thrown away is none of the answers; say 1 in the can, 2 hung open")


def test_nothing_is_answered_where_nothing_is_asked():
    """A step without facts, and one that is none."""
    b = Bench(DAY)
    assert b.refused(a.Must("in the can")).why == "Nothing is asked just now"
    assert b.refused(a.Must(None, "before.1")).why == "Nothing is asked just now"
    assert b.refused(a.Must(None, "no such step")).why == "Nothing is asked just now"


def test_a_closed_session_takes_its_fact_the_morning_after():
    """By its step, once the session is looked at; the answers stand in the order given."""
    b = Bench(DAY, wanted=1)
    b.until("Rags")
    b.say(a.Must(None))
    b.say(a.Must("in the can", step="after.2"))
    assert b.s.musts == {(b.s.id, "after.2"): (None, "in the can")}


def test_resumed_the_same_day_the_step_stays_due_at_its_place():
    """Each asks in its turn."""
    b = Bench(TWO_ASKS, wanted=1)
    b.until("Hot plate")
    b.say(a.Must("off"))
    assert b.hand == "Rags"


def test_a_step_that_asks_one_fact_only_is_still_asked():
    """A must before printing holds printing back until it is said."""
    b = Bench(recipe(before=["{do: Guard, hands: clean, must: [on]}", SCREWS]))
    assert b.refused(a.GoOn()).must == ("on",)
    b.say(a.Must("on"))
    assert b.hand == "Screws"


def test_the_can_is_said_to_be_emptied_the_morning_after():
    """Also of a closed session."""
    b = Bench(DAY, wanted=1)
    b.to_close()
    b.say(a.CanEmptied())
    assert b.s.can_emptied is True
