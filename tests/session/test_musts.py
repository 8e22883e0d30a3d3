"""Facts that must be said: no tread ends the step that asks one, and no silence invents it."""

from __future__ import annotations

from datetime import timedelta

from benchapp.events.moments import local_time
from benchapp.session import actions as a
from benchapp.session.left import unanswered_facts
from tests.session.support import DAY, INK, LIFT, PULL, RAGS, SCREWS, Bench, recipe

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
        "thrown away is not one of the answers; say 1 in the can, 2 hung open")


def test_nothing_is_answered_where_nothing_is_asked():
    """A step without facts, and one that is none."""
    b = Bench(DAY)
    assert b.refused(a.Must("in the can")).why == "No question is open"
    assert b.refused(a.Must(None, "before.1")).why == "No question is open"
    assert b.refused(a.Must(None, "no such step")).why == "No question is open"


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
    assert b.s.can_emptied == b.now


HOT = recipe(after=["{do: Hot plate off, hands: clean, must: [turned off, left on]}",
                    "{do: Slab, hands: inky}"])


def test_what_is_left_on_is_asked_again_before_the_day_closes():
    """Last of all, with the wash before it; *left on* twice is the printer's word."""
    b = Bench(HOT, wanted=1)
    b.until("Hot plate off")
    b.say(a.Must("left on"))
    assert b.hand == "Slab"
    b.tread()
    assert b.s.closed is None
    assert b.hand == "Wash and dry hands"
    b.tread()
    assert b.hand == "Hot plate off"
    assert b.view.now.must == ("turned off", "left on")
    b.say(a.Must("turned off"))
    assert b.s.closed is not None
    assert b.s.musts == {(b.s.id, "after.1"): ("left on", "turned off")}


def test_left_on_twice_closes_the_day():
    """It is asked again once, not for ever."""
    b = Bench(HOT, wanted=1)
    b.until("Hot plate off")
    b.say(a.Must("left on"))
    b.tread(2)
    b.say(a.Must("left on"))
    assert b.s.closed is not None
    assert b.s.musts == {(b.s.id, "after.1"): ("left on", "left on")}


def test_turned_off_is_asked_once():
    """The other answer closes the day as ever."""
    b = Bench(HOT, wanted=1)
    b.until("Hot plate off")
    b.say(a.Must("turned off"))
    b.tread()
    assert b.s.closed is not None


def test_a_day_left_open_with_the_plate_on_is_asked_about_the_morning_after():
    """First thing, as what nobody said is; answered, it is asked no more."""
    b = Bench(HOT, wanted=1)
    b.until("Hot plate off")
    b.say(a.Must("left on"))
    tomorrow = local_time(b.now).date() + timedelta(days=1)
    assert [u.do for u in unanswered_facts([b.s], tomorrow)] == ["Hot plate off"]
    b.say(a.Must("turned off", "after.1"))
    assert unanswered_facts([b.s], tomorrow) == ()


def test_oil_alone_while_the_hot_plate_is_on():
    """A step with spirit warns as long as nobody said that the plate is off."""
    words = "The hot plate may still be on: use oil only, no spirit"
    spirit = "{do: Clean the plate, hands: inky, lines: [white spirit on a rag]}"
    warm = "{do: Warm, hands: free, at: hot plate, time: 1 min}"
    off = "{do: Hot plate off, hands: clean, must: [turned off, left on]}"
    b = Bench(recipe(each=[warm, INK, PULL, LIFT], after=[off, spirit]), wanted=1)
    b.until("Hot plate off")
    assert words not in b.view.warnings
    b.say(a.Must("left on"))
    assert b.hand == "Clean the plate"
    assert words in b.view.warnings
    b.back()
    b.say(a.Must("turned off"))
    assert b.hand == "Clean the plate"
    assert words not in b.view.warnings
