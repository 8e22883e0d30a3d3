"""One tread is one step: what going on means, in its order, and what follows by itself."""

from __future__ import annotations

import pytest

from benchapp.session import actions as a
from benchapp.views.messages import describe_change
from tests.session.support import (
    DAMP,
    DAY,
    INK,
    LIFT,
    MIN,
    OPEN_WAIT,
    PULL,
    RAGS,
    SETTLE,
    WARM,
    WIPE,
    Bench,
    recipe,
)

WAITING = recipe(each=(INK, SETTLE, PULL, LIFT))


def test_the_first_step_starts_by_itself_when_the_session_opens():
    """Opening is no tread: what is first is in hand at once."""
    b = Bench(DAY, wanted=1)
    assert b.hand == "Screws"
    assert [e.kind for e in b.opened.entries] == ["opened", "step started"]


def test_a_day_is_one_tread_a_step_and_closes_after_the_last():
    """Two warm-ups and one that counts, each with its wash, then the steps after printing."""
    b = Bench(DAY, wanted=1)
    b.work("Screws")
    for _ in range(3):
        b.works(["Ink", "Wash and dry hands", "Pull", "Lift"])
    b.works(["Plate clean", "Wash and dry hands"])
    assert b.hand == "Rags"
    kinds = b.say(a.Must("in the can"))
    assert kinds == ["must answered", "step finished", "closed"]
    assert b.s.closed is not None
    assert [(i.number, i.mark, i.purpose) for i in b.sheets] == [
        (1, "D1", "warm-up"), (2, "D2", "warm-up"), (3, "D3", "edition")]


def test_paused_a_tread_resumes_and_does_nothing_else():
    """Resume comes before all else, also before a call."""
    b = Bench(DAY)
    b.say(a.StartClock(MIN, "varnish"))
    b.say(a.Pause())
    b.advance(2)
    assert [c.calling for c in b.view.calls] == [True]
    assert b.tread() == ["resumed"]
    assert b.hand == "Screws"
    assert [c.calling for c in b.view.calls] == [True]


def test_a_call_is_answered_before_the_step_is_ended():
    """While a clock calls, a tread answers it and the step in hand goes on."""
    b = Bench(DAY)
    b.say(a.StartClock(MIN, "varnish"))
    b.advance(2)
    assert b.tread() == ["answered"]
    assert b.hand == "Screws"
    assert b.tread() == ["step finished", "impression begun", "step started"]
    assert b.hand == "Ink"


def test_the_most_harmful_call_is_answered_first():
    """Paper in the water before a clock of the printer's, however long that has called."""
    b = Bench(recipe(before=["{do: Screws, hands: clean}"],
                     damp="{method: soak, soak: 30 min, pack: 4}"), wanted=2)
    b.work("Sheets into the water")
    b.say(a.StartClock(MIN, "varnish"))
    b.advance(5)
    b.advance(30)
    assert [c.id for c in b.view.calls if c.calling] == [f"soak {b.packs[0].id}", "clock 1"]
    assert [e.body["call"] for e in b.shop.do(a.GoOn()).entries] == [f"soak {b.packs[0].id}"]
    assert [e.body["call"] for e in b.shop.do(a.GoOn()).entries] == ["clock 1"]


def test_answering_the_end_of_a_wait_ends_that_wait():
    """The wait is done, at its full time, and what follows begins in the same action."""
    b = Bench(WAITING)
    b.work("Ink")
    assert (b.hand, b.waits) == (None, ["Settle"])
    b.advance(6)
    assert b.view.calls[0].calling is True
    assert b.tread() == ["answered", "step finished", "step started"]
    assert b.hand == "Wash and dry hands"
    assert [(w.how, w.taken) for w in b.ended("Settle")] == [("done", True)]


def test_an_answered_call_that_is_no_wait_stays_listed_until_its_step_is_done():
    """A hands step that called 2 min before its usual time."""
    b = Bench(recipe(each=["{do: Ink, hands: inky, time: 5 min, calls: 2 min}", PULL, LIFT]))
    assert "due" not in b.advance(2.9)
    assert b.advance(0.1) == ["due", "called"]
    assert b.tread() == ["answered"]
    assert [(c.text, c.calling) for c in b.view.calls] == [("Ink", False)]
    assert b.hand == "Ink"
    b.tread()
    assert b.view.calls == ()


def test_a_hands_step_without_calls_is_silent_however_long():
    """It counts up beside its usual time and says nothing."""
    b = Bench(DAY)
    assert b.advance(120) == []
    assert b.view.calls == ()
    assert b.view.now.count is not None
    assert (b.view.now.count.ms, b.view.now.count.down) == (120 * MIN, False)


def test_a_tread_cuts_short_the_wait_the_next_step_needs():
    """Before its time is up the wait ends as cut short."""
    b = Bench(WAITING)
    b.work("Ink")
    b.advance(4)
    assert b.tread() == ["step finished", "step started"]
    assert [w.how for w in b.ended("Settle")] == ["cut short"]
    assert b.hand == "Wash and dry hands"


def test_a_wait_that_was_over_is_not_cut_short():
    """Its call silent, for hands were inky: the tread ends it as done."""
    b = Bench(WAITING)
    b.work("Ink")
    b.advance(7)
    b.say(a.Mute())
    assert b.view.calls[0].calling is False
    b.tread()
    assert [w.how for w in b.ended("Settle")] == ["done"]


def test_a_wait_of_unknown_length_is_done_when_the_printer_says_so():
    """Nobody said how long: it never calls, and a tread is its end."""
    b = Bench(recipe(each=(INK, OPEN_WAIT, PULL, LIFT)))
    b.work("Ink")
    assert b.advance(600) == []
    clock = b.view.clocks[0]
    assert (clock.name, clock.count.down, clock.count.ms) == ("Stand", False, 600 * MIN)
    b.tread()
    assert [(w.how, w.taken) for w in b.ended("Stand")] == [("done", True)]


def test_a_wait_that_ends_itself_takes_no_tread():
    """At its time it ends, and the inky step begins with no word from the printer."""
    b = Bench(recipe(each=(WARM, INK, PULL, LIFT)))
    assert (b.hand, b.waits) == (None, ["Warm"])
    assert b.advance(1.9) == []
    assert b.advance(0.1) == ["step finished", "step started"]
    assert [w.how for w in b.ended("Warm")] == ["ended itself"]
    assert b.hand == "Ink"
    assert b.entries("step started")[-1].word == "time passed"


def test_a_wait_runs_beside_the_hands_where_order_lets_it():
    """With boards as a last wait, the next sheet is inked while they press."""
    b = Bench(recipe(each=(INK, PULL, LIFT, "{do: Boards, hands: free, time: 30 min}")))
    b.works(["Ink", "Wash and dry hands", "Pull", "Lift"])
    assert (b.hand, b.waits) == ("Ink", ["Boards"])
    assert b.s.hand == b.key("Ink", 2)


def test_a_place_that_is_taken_is_said_and_never_refused():
    """The hot plate holds one: the second is warned about and begins all the same."""
    b = Bench(recipe(each=["{do: Ink, hands: inky, at: hot plate}", PULL, LIFT,
                           "{do: Dry, hands: free, at: hot plate, time: 30 min}"]))
    b.works(["Ink", "Wash and dry hands", "Pull", "Lift"])
    assert (b.hand, b.waits) == ("Ink", ["Dry"])
    assert b.view.now.taken == "Dry"
    assert "hot plate is taken: Dry" in b.view.warnings


def test_a_step_out_of_reach_ends_with_the_tread_after_it_its_time_not_taken():
    """One tread ends both, and neither has a time."""
    b = Bench(recipe(each=[INK, "{do: Lay, hands: clean, out of reach: true}", PULL, LIFT]))
    b.works(["Ink", "Wash and dry hands"])
    assert b.hand == "Lay"
    b.work("Lay", minutes=6)
    assert b.hand == "Lift"
    assert [(w.how, w.taken) for w in b.ended("Lay") + b.ended("Pull")] == [
        ("out of reach", False), ("done", False)]
    assert b.sheets[0].pulls[0].at is None


def test_as_last_step_of_the_day_a_step_out_of_reach_takes_a_tread_of_its_own():
    """Nothing comes after it, so its tread is its own and the day closes."""
    b = Bench(recipe(after=["{do: Put out, hands: clean, out of reach: true}"]), wanted=1)
    b.until("Put out")
    b.tread()
    assert [(w.how, w.taken) for w in b.ended("Put out")] == [("done", True)]
    assert b.s.closed is not None


def test_an_optional_step_is_offered_and_not_due():
    """The day goes by it; chosen, it is done."""
    b = Bench(recipe(each=[INK, "{do: Dust, hands: inky, optional: true}", WIPE, PULL, LIFT]))
    b.work("Ink")
    assert b.hand == "Wipe"
    b.say(a.Choose(b.key("Dust", 1)))
    assert b.hand == "Dust"
    b.tread()
    assert b.hand == "Wipe"
    b.until("Ink")
    b.work("Ink")
    assert b.hand == "Wipe"
    assert len(b.ended("Dust")) == 1


def test_a_step_every_second_sheet_is_due_on_the_first_and_the_third():
    """It belongs to impressions 1, 3, 5 … and stands in the way of no other."""
    b = Bench(recipe(each=["{do: Scrim, hands: inky, every: 2}", INK, PULL, LIFT]))
    seen = []
    for _ in range(18):
        seen.append(b.hand)
        b.tread()
    assert [n for n, do in enumerate(seen) if do == "Scrim"] == [0, 9]
    assert [w.key.impression for w in b.ended("Scrim")] == [1, 3]


def test_nothing_left_to_do_is_said_and_nothing_is_written():
    """Only a wait of another sheet is left and no step needs it: the tread ends that wait."""
    b = Bench(recipe(each=(INK, PULL, LIFT, "{do: Boards, hands: free, time: 30 min}"),
                     after=[RAGS]), wanted=1)
    b.until("Rags")
    b.say(a.Must("hung open"))
    assert b.s.closed is not None
    assert b.refused(a.GoOn()).why == "The session is closed"


SOLVENT = "{do: Plate clean with white spirit, hands: inky, time: 10 min}"
CARE = "{do: Clean the slab, hands: inky, care: Solvent burns; gloves first.}"


@pytest.mark.parametrize("solvent", [SOLVENT, CARE])
def test_a_solvent_step_is_never_passed_unseen_by_a_step_out_of_reach(solvent: str):
    """It comes on the screen, with its caution, and takes a tread; its time is not taken."""
    b = Bench(recipe(after=["{do: Slab, hands: inky, out of reach: true}", solvent, RAGS]),
              wanted=1)
    b.until("Slab")
    before, s = b.room, b.s
    entries = b.do(a.GoOn()).entries
    do = b.s.recipe.after[1].do
    assert (b.hand, [w.how for w in b.ended("Slab")]) == (do, ["out of reach"])
    if s.recipe.after[1].care:
        assert [c.text for c in b.view.now.cares] == ["Solvent burns; gloves first."]
        assert "Care: Solvent burns; gloves first." in describe_change(before, b.room, entries)
    b.work(do, 8)
    assert [(w.how, w.taken) for w in b.ended(do)] == [("done", False)]
    assert b.hand == "Wash and dry hands"


def test_only_a_tread_of_its_own_ends_the_wash_after_a_step_out_of_reach():
    """Nobody said that hands were washed."""
    b = Bench(recipe(after=["{do: Slab, hands: inky, out of reach: true}",
                            "{do: Blankets, hands: clean, time: 5 min}"]), wanted=1)
    b.until("Slab")
    b.tread()
    assert (b.hand, b.hands) == ("Wash and dry hands", "inky")
    b.tread()
    assert (b.hand, b.hands) == ("Blankets", "clean")


def test_a_tread_begins_what_came_due_since_time_was_last_looked_at():
    """The paper has rested by then: nothing holds the pull, and nothing is refused."""
    b = Bench(DAMP)
    b.until("Sheets out of the water")
    b.tread(2)
    assert (b.hand, b.packs[0].where(b.t)) == (None, "resting")
    b.clock.advance(15 * MIN)
    b.tread()
    assert b.hand == "Pull"
