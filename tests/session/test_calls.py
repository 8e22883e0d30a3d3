"""Waits and calls: due, calling, answered; silent while inky; muted, extended, timed."""

from __future__ import annotations

from benchapp.session import actions as a
from benchapp.views.messages import status_lines
from tests.session.support import (
    INK,
    LIFT,
    MIN,
    PULL,
    SETTLE,
    SHEET_WAITS,
    WIPE,
    Bench,
    recipe,
)

#: A wait before a clean step: its end needs clean hands.
FOR_CLEAN = recipe(each=(INK, SETTLE, PULL, LIFT))
#: Two plates: the first settles while the second is inked, and is wiped before the wash.
BESIDE = recipe(
    each=("{do: Ink tone, hands: inky, plate: tone}",
          "{do: Settle tone, hands: free, plate: tone, time: 6 min}",
          "{do: Ink key, hands: inky, plate: key}",
          "{do: Wipe tone, hands: inky, plate: tone}",
          "{do: Pull both, hands: clean, pulls: [tone, key]}",
          "{do: Lift, hands: clean, asks: [verdict]}"),
    plates=("tone", "key"))


def test_a_wait_falls_due_then_calls_then_is_answered():
    """Each of the three is an entry."""
    b = Bench(BESIDE)
    b.work("Ink tone")
    assert (b.hand, b.waits) == ("Ink key", ["Settle tone"])
    assert b.advance(6) == ["due", "called"]
    assert b.advance(1) == []
    assert (b.view.calls[0].late_ms, b.view.calls[0].clean) == (MIN, False)
    assert b.tread() == ["answered", "step finished"]
    assert b.hand == "Ink key"


def test_a_sheet_that_waits_for_its_second_plate_counts_and_calls_until_that_pull():
    """Two minutes from the first pull; the tread that ends the second pull ends the call too."""
    b = Bench(SHEET_WAITS, wanted=1)
    b.works(["Ink tone", "Ink key"])
    b.until("Pull tone")
    b.advance(9)
    assert not [c for c in b.view.clocks if "Sheet" in c.name]
    b.tread()
    assert b.hand == "Pull key"
    (clock,) = (c for c in b.view.clocks if c.name == "Sheet waits for key")
    assert (clock.count.ms, clock.count.down) == (2 * MIN, True)
    assert b.advance(1) == []
    assert (b.view.calls, b.view.warnings) == ((), ())
    assert b.advance(1) == ["due", "called"]
    assert [(c.text, c.calling, c.by_tread) for c in b.view.calls] == [
        ("Sheet waits for key", True, False)]
    assert b.advance(1) == []
    assert b.view.warnings == ("Sheet waits for key: 3 min, limit 2",)
    assert "Clock: Sheet waits for key, over since 1:00" in status_lines(b.room, b.now)
    assert "pulled" in b.tread()
    assert (b.hand, len(b.sheets[0].pulls), b.s.calls) == ("Lift", 2, {})
    assert (b.view.calls, b.view.warnings) == ((), ())
    assert b.ended("Pull key")[0].finished_t - b.ended("Pull key")[0].started_t == 3 * MIN


def test_the_call_of_a_waiting_sheet_is_answered_alone_and_ends_with_the_try():
    """Answered, the warning stays; left as it is after the first pull, nothing waits."""
    b = Bench(SHEET_WAITS, wanted=1)
    b.until("Pull key")
    b.advance(2)
    assert b.say(a.AnswerCall()) == ["answered"]
    assert [c.calling for c in b.view.calls] == [False]
    b.advance(1)
    assert b.view.warnings == ("Sheet waits for key: 3 min, limit 2",)
    b.say(a.End())
    assert (b.hand, b.s.calls, b.view.warnings) == ("Lift", {}, ())


def test_what_needs_clean_hands_is_silent_while_they_are_inky():
    """A soak that is over is due, not called, and is spoken at the wash."""
    b = Bench(recipe(each=(INK, WIPE, PULL, LIFT),
                     damp="{method: soak, soak: 30 min, pack: 3}"), wanted=1)
    b.work("Sheets into the water")
    assert b.hand == "Ink"
    assert b.advance(30) == ["due"]
    call = b.view.calls[0]
    assert (call.calling, call.clean) == (False, True)
    assert b.hand == "Ink"


def test_what_was_silent_is_spoken_as_one_list_at_the_wash():
    """All that waited is called and answered when the wash ends, in the order it fell due."""
    b = Bench(recipe(before=["{do: Screws, hands: clean}"],
                     each=(INK, WIPE, PULL, LIFT),
                     damp="{method: soak, soak: 30 min, pack: 3}"), wanted=1)
    b.works(["Sheets into the water", "Screws"])
    b.advance(30)
    soak = f"soak {b.packs[0].id}"
    b.works(["Ink", "Wipe"])
    assert b.hand == "Wash and dry hands"
    out = b.shop.do(a.GoOn())
    told = [(e.kind, e.body["call"]) for e in out.entries if e.kind in ("called", "answered")]
    assert told == [("called", soak), ("answered", soak)]
    assert [c.id for c in b.view.calls] == [soak]


def test_what_needs_clean_hands_calls_where_nothing_is_in_hand():
    """The plate has settled and the printer stands waiting for it: silence would help nobody."""
    b = Bench(FOR_CLEAN)
    b.work("Ink")
    assert b.hand is None
    assert b.advance(6) == ["due", "called"]
    assert (b.view.calls[0].clean, b.view.calls[0].calling) == (True, True)


def test_what_would_be_spoilt_before_the_wash_calls_in_spite_of_inky_hands():
    """A plate that may settle 8 min more, with 20 of inking ahead, against one with 30."""
    def day(within: str) -> str:
        return recipe(plates=("tone", "key"), each=(
            "{do: Ink tone, hands: inky, plate: tone}",
            "{do: Settle, hands: free, plate: tone, time: 6 min}",
            "{do: Ink key, hands: inky, plate: key, time: 26 min}",
            f"{{do: Pull tone, hands: clean, pulls: tone, within: {within}}}",
            "{do: Pull key, hands: clean, pulls: key}",
            "{do: Lift, hands: clean, asks: [verdict]}"))

    for within, kinds in (("8 min", ["due", "called"]), ("30 min", ["due"])):
        b = Bench(day(within))
        b.work("Ink tone")
        assert (b.hand, b.waits) == ("Ink key", ["Settle"])
        assert b.advance(6) == kinds, within


def test_a_call_of_a_try_taken_back_does_not_answer_the_next():
    """Its wait begun again falls due at its own time, and calls anew."""
    b = Bench(BESIDE)
    b.work("Ink tone")
    b.advance(6)
    assert b.view.calls[0].calling is True
    b.back()
    assert (b.hand, b.view.calls) == ("Ink tone", ())
    b.tread()
    assert (b.hand, b.waits, b.view.calls) == ("Ink key", ["Settle tone"], ())
    assert b.advance(5) == []
    assert b.advance(1) == ["due", "called"]


def test_a_muted_call_is_listed_and_no_tread_answers_it():
    """It stays silent for its time, then calls again."""
    b = Bench(BESIDE)
    b.work("Ink tone")
    b.advance(6)
    b.say(a.Mute(ms=10 * MIN))
    assert [(c.muted, c.calling) for c in b.view.calls] == [(True, False)]
    b.advance(9)
    assert b.view.calls[0].calling is False
    b.advance(1)
    assert b.view.calls[0].calling is True


def test_what_was_muted_until_answered_calls_again_another_time():
    """The next sheet's wait is another clock."""
    b = Bench(FOR_CLEAN)
    b.work("Ink")
    b.advance(6)
    b.say(a.Mute())
    b.tread()
    assert b.s.muted == {}
    b.works(["Wash and dry hands", "Pull", "Lift", "Ink"])
    b.advance(6)
    assert b.view.calls[0].calling is True


def test_nothing_is_muted_where_nothing_calls():
    """Refused, and so is a time below zero."""
    b = Bench()
    assert b.refused(a.Mute()).why == "Nothing is calling"
    assert b.refused(a.Mute(ms=-1)).why == "The time is missing"


def test_extending_a_wait_moves_its_end():
    """Four minutes in, two more: it is over at eight, not six."""
    b = Bench(FOR_CLEAN)
    b.work("Ink")
    b.advance(4)
    b.say(a.Extend(2 * MIN))
    assert b.view.clocks[0].count.ms == 4 * MIN
    assert b.advance(3.9) == []
    assert "due" in b.advance(0.1)


def test_extending_a_wait_that_is_over_counts_from_now_and_ends_its_call():
    """Nine minutes in, over for three: two more are two from now."""
    b = Bench(FOR_CLEAN)
    b.work("Ink")
    b.advance(9)
    b.say(a.Extend(2 * MIN))
    assert (b.view.calls, b.view.clocks[0].count.ms) == ((), 2 * MIN)
    b.advance(2)
    assert len(b.view.calls) == 1


def test_extending_a_wait_of_unknown_length_counts_from_now():
    """Ten minutes in, five more: it is over at fifteen."""
    b = Bench(recipe(each=(INK, "{do: Stand, hands: free}", PULL, LIFT)))
    b.work("Ink")
    b.advance(10)
    b.say(a.Extend(5 * MIN))
    assert b.view.clocks[0].count.ms == 5 * MIN
    assert b.advance(4) == []
    assert "due" in b.advance(1)


def test_extending_a_soak_gives_the_pack_more_time_and_ends_its_call():
    """Called at 30 min, ten more: silent, then called again at 40."""
    b = Bench(recipe(before=["{do: Screws, hands: clean}"],
                     damp="{method: soak, soak: 30 min, pack: 3}"), wanted=1)
    b.work("Sheets into the water")
    b.advance(30)
    assert b.view.calls[0].calling is True
    b.say(a.Extend(10 * MIN))
    assert b.view.calls == ()
    assert b.advance(9) == []
    assert b.advance(1) == ["due", "called"]
    assert b.packs[0].soak_ms == 40 * MIN


def test_nothing_is_extended_where_nothing_waits():
    """Refused, as is a time that is none."""
    b = Bench()
    assert b.refused(a.Extend(MIN)).why == "No wait is running"
    assert b.refused(a.Extend(0)).why == "The time is missing"
    assert b.refused(a.Extend(10**30)).why == "That is longer than a year"


def test_a_clock_started_on_the_spot_calls_at_its_time_and_ends_when_answered():
    """With the printer's own name for it; the second has another id."""
    b = Bench()
    b.say(a.StartClock(5 * MIN, "varnish"))
    b.say(a.StartClock(9 * MIN, "rosin"))
    assert [(c.id, c.name, c.count.ms) for c in b.view.clocks] == [
        ("clock 1", "varnish", 5 * MIN), ("clock 2", "rosin", 9 * MIN)]
    assert b.advance(5) == ["due", "called"]
    assert b.tread() == ["answered"]
    assert [c.name for c in b.view.clocks] == ["rosin"]


def test_a_clock_taken_back_and_started_again_calls_again():
    """The first one's call does not stand in its way."""
    b = Bench()
    b.say(a.StartClock(MIN, "varnish"))
    b.advance(2)
    b.back()
    b.say(a.StartClock(MIN, "varnish"))
    assert b.view.calls == ()
    assert b.advance(1) == ["due", "called"]


def test_a_pause_stops_hands_counts_and_never_waits():
    """Ten minutes away: the step has worked none of them, the wait is over."""
    b = Bench(BESIDE)
    b.work("Ink tone")
    b.advance(2)
    b.say(a.Pause())
    kinds = b.advance(10)
    assert kinds == ["due", "called"]
    assert b.view.paused_ms == 10 * MIN
    b.tread()
    assert b.view.now.count is not None
    assert b.view.now.count.ms == 2 * MIN
    b.advance(3)
    b.tread()  # answers the wait
    b.tread()
    work = b.ended("Ink key")[0]
    assert (work.paused_ms, work.finished_t - work.started_t) == (10 * MIN, 15 * MIN)


def test_pause_says_what_it_does_to_the_inked_plate_and_the_hands():
    """In words, and only while it is paused."""
    b = Bench(recipe(each=("{do: Ink, hands: inky, at: hot plate}", PULL, LIFT)))
    assert b.view.pause_words == ()
    b.say(a.Pause())
    assert b.view.pause_words == (
        "Ink on your hands: wash before you go", "The inked plate stiffens while it waits",
        "The hot plate stays on unless you turn it off")
    assert b.refused(a.Pause()).why == "It is paused already"
    b.say(a.Resume())
    assert b.refused(a.Resume()).why == "Nothing is paused"
