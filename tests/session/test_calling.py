"""What will call is known ahead, and is what the decider then does; ink left lying."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.session import actions as a
from benchapp.session.calls import CallClock, Calling, foresee_calls
from benchapp.session.compiled_recipe import WASH
from benchapp.session.ink_lying import lying_ink, to_say
from tests.session.support import (
    INK,
    LIFT,
    MIN,
    PULL,
    SETTLE,
    SHEET_WAITS,
    TWO_EACH,
    WIPE,
    Bench,
    recipe,
)

RECIPES = Path(__file__).parents[2] / "recipes"
SOAKED = "{method: soak, soak: 30 min, pack: 3}"
BESIDE = recipe(plates=("tone", "key"), each=(
    "{do: Ink tone, hands: inky, plate: tone, time: 5 min}",
    "{do: Settle, hands: free, plate: tone, time: 6 min}",
    "{do: Ink key, hands: inky, plate: key, time: 26 min}",
    "{do: Pull tone, hands: clean, pulls: tone, within: 8 min, time: 4 min}",
    "{do: Pull key, hands: clean, pulls: key}",
    "{do: Lift, hands: clean, asks: [verdict]}"))


def seen(b: Bench) -> Calling:
    """What is foreseen now."""
    return foresee_calls(b.room, b.t)


def clock(b: Bench, call: str) -> CallClock:
    """The clock whose call begins so."""
    return next(c for c in seen(b).clocks if c.call.startswith(call))


def test_a_soak_is_known_from_its_first_minute():
    """Due at thirty minutes, most harmful, for clean hands; gone while the sheets are taken out."""
    b = Bench(recipe(before=["{do: Screws, hands: clean}"], damp=SOAKED), wanted=1)
    start = b.t
    b.work("Sheets into the water", 3)
    soak = clock(b, "soak")
    assert (soak.due_t - start, soak.clean, soak.harm) == (33 * MIN, True, 0)
    b.advance(30)
    b.tread()
    assert clock(b, "soak").answered is True
    b.tread()
    assert (b.hand, seen(b).clocks) == ("Sheets out of the water", ())


def test_a_wait_is_known_with_what_it_spoils():
    """Over at six minutes; what follows within eight is spoilt at fourteen, before the wash."""
    b = Bench(BESIDE)
    b.work("Ink tone", 5)
    start = b.t
    wait = clock(b, "step")
    assert (wait.due_t - start, wait.clean) == (6 * MIN, True)
    assert wait.spoils_t == start + 14 * MIN
    assert (seen(b).hands, seen(b).next_wash_t) == ("inky", start + 26 * MIN)


def test_the_next_wash_comes_nearer_with_the_work_and_is_now_when_it_runs_over():
    """Twenty-six minutes of inking: after ten, sixteen are left; after thirty, none."""
    b = Bench(BESIDE)
    b.work("Ink tone", 5)
    b.advance(10)
    assert seen(b).next_wash_t == b.t + 16 * MIN
    b.advance(20)
    assert seen(b).next_wash_t == b.t


def test_at_the_wash_the_one_after_it_is_expected():
    """Wash 1.5, pull 4, lift 3, ink 5, wipe 10: the next comes in 23.5 minutes."""
    b = Bench(recipe(each=(INK, WIPE, PULL, LIFT)))
    b.work("Ink")
    b.work("Wipe")
    assert b.s.hand is not None
    assert b.s.hand.step == WASH
    assert (seen(b).hands, seen(b).next_wash_t) == ("washing", b.t + round(23.5 * MIN))


def test_hands_are_free_to_be_called_where_nothing_is_in_hand_or_a_helper_is_in():
    """Inky and idle, or a clean-handed helper: nothing is held back."""
    b = Bench(recipe(each=(INK, SETTLE, PULL, LIFT)))
    b.work("Ink")
    assert (b.hands, b.hand, seen(b).hands) == ("inky", None, "clean")
    b = Bench(BESIDE)
    assert seen(b).hands == "inky"
    b.say(a.Helper(joins=True))
    assert seen(b).hands == "clean"


def test_a_hands_step_that_calls_is_known_and_a_pause_puts_it_off():
    """`calls: 2 min` of ten calls at eight; four minutes of pause make it twelve."""
    b = Bench(recipe(each=("{do: Ink, hands: inky, time: 10 min, calls: 2 min}", PULL, LIFT)))
    start = b.t
    assert clock(b, "step").due_t - start == 8 * MIN
    assert clock(b, "step").phrase == "Ink: 2 min left"
    b.advance(3)
    b.say(a.Pause())
    assert seen(b).clocks == ()
    b.advance(4)
    b.say(a.Resume())
    assert clock(b, "step").due_t - start == 12 * MIN
    assert b.advance(5) == ["due", "called"]


def test_hands_steps_and_waits_that_end_themselves_are_silent():
    """Nobody is called for a count that only stands beside its usual time."""
    b = Bench(recipe(each=("{do: Warm, hands: free, time: 2 min, ends: itself}", INK, PULL, LIFT)))
    assert seen(b).clocks == ()
    b.advance(2)
    assert (b.hand, seen(b).clocks) == ("Ink", ())


def test_a_muted_clock_is_silent_for_its_time_and_a_new_one_is_not_muted():
    """Ten minutes for the one that calls; the one started afterwards calls."""
    b = Bench()
    b.say(a.StartClock(MIN, "varnish"))
    b.advance(1)
    b.say(a.Mute(ms=10 * MIN))
    b.say(a.StartClock(MIN, "rosin"))
    first, second = seen(b).clocks
    assert (first.muted, first.muted_until_t) == (False, b.t + 10 * MIN)
    assert (second.muted, second.muted_until_t) == (False, None)
    assert (second.phrase, second.clean) == ("rosin: time is up", False)
    assert b.advance(1) == ["due", "called"]


def test_a_call_that_sounded_before_anyone_looked_is_an_entry():
    """The screen stood still over the end of a wait: due and called are written, once."""
    b = Bench(BESIDE)
    b.work("Ink tone")
    call = clock(b, "step").call
    assert b.say(a.Sounded((call,))) == []
    b.clock.advance(6 * MIN)
    assert b.say(a.Sounded((call, "step no such"))) == ["due", "called"]
    assert b.say(a.Sounded((call,))) == []
    assert b.s.actions[-1].word == "go on"


def test_what_was_told_at_the_wash_waits_for_its_end_to_be_answered():
    """A list spoken at the wash is no call that takes a tread of its own."""
    b = Bench(recipe(before=["{do: Screws, hands: clean}"], each=(INK, WIPE, PULL, LIFT),
                     damp=SOAKED), wanted=1)
    b.work("Sheets into the water")
    b.advance(30)
    b.tread()
    b.until("Ink")
    b.say(a.DampPack(3))
    b.works(["Ink", "Wipe"])
    assert b.hand == "Wash and dry hands"
    b.clock.advance(30 * MIN)
    assert b.say(a.Sounded((clock(b, "soak").call,))) == ["due"]
    b.tread()
    assert b.room.inky is False


DAYS = (BESIDE, SHEET_WAITS, recipe(
    each=(INK, SETTLE, WIPE, PULL, LIFT), before=["{do: Screws, hands: clean}"], damp=SOAKED))


@given(st.sampled_from(DAYS), st.lists(st.integers(-1, 12), max_size=24))
def test_whatever_calls_was_foreseen_and_nothing_foreseen_fails_to_call(day, moves):
    """Treads and minutes in any order: called entries and the clocks seen before agree.

    A move below zero is a tread; else so many minutes pass. What the decider calls at a
    moment was among the clocks of the moment before, due by then; and what was due and
    not held back by inky hands is called.
    """
    b = Bench(day, wanted=2)
    for move in moves:
        if move < 0:
            b.go()
            continue
        before = {c.call: c for c in seen(b).clocks}
        b.clock.advance(move * MIN)
        out = b.shop.tick()
        called = {e.body["call"] for e in out.entries if e.kind == "called"}
        assert all(before[call].due_t <= b.t for call in called)
        now = seen(b)
        for c in now.clocks:
            held = c.clean and now.hands != "clean" and not (
                c.spoils_t is not None and now.hands == "inky"
                and (now.next_wash_t is None or c.spoils_t < now.next_wash_t))
            if c.due_t <= b.t and not held:
                assert b.s.calls[c.call].called, f"{c} was not called"


# -- ink left lying -----------------------------------------------------------------------


def test_ink_is_counted_for_each_plate_from_the_end_of_its_wiping():
    """Tone wiped, then key for five minutes: tone has lain five, key none."""
    b = Bench(recipe(each=TWO_EACH, plates=("tone", "key")))
    b.work("Ink tone", 5)
    b.work("Ink key", 5)
    assert [(i.plate, b.t - i.since_t, i.within_ms) for i in lying_ink(b.s)] == [
        ("tone", 5 * MIN, 40 * MIN), ("key", 0, 40 * MIN)]
    b.work("Wash and dry hands", 2)
    assert b.hand == "Pull tone"
    assert [(i.plate, i.at_press) for i in lying_ink(b.s)] == [("tone", True), ("key", False)]
    b.advance(1)
    assert [(c.name, c.count.ms) for c in b.view.clocks] == [
        ("since key was wiped", 3 * MIN), ("since tone was wiped", 8 * MIN)]
    b.tread()  # tone is pulled
    assert [c.name for c in b.view.clocks] == ["since key was wiped"]


def test_only_ink_of_the_print_in_hand_is_counted_on_the_bench():
    """What another open session left wiped is counted where that one is on the Bench."""
    b = Bench(recipe(each=(INK, WIPE, PULL, LIFT)))
    first = b.s.id
    b.works(["Ink", "Wipe", "Wash and dry hands"])
    b.open(recipe())
    b.advance(3)
    assert [i.plate for i in lying_ink(b.room.sessions[first])] == ["key"]
    assert b.view.clocks == ()
    b.until("Wash and dry hands")
    b.tread()
    b.say(a.SwitchSession(first))
    assert [c.name for c in b.view.clocks] == ["since key was wiped"]


def test_a_single_plate_may_lie_fifteen_minutes_and_a_recipe_says_its_own():
    """Common practice for one plate; `within` on the pull stands before it."""
    b = Bench(recipe(each=(INK, WIPE, PULL, LIFT)))
    b.works(["Ink", "Wipe"])
    assert [i.within_ms for i in lying_ink(b.s)] == [15 * MIN]
    own = "{do: Pull, hands: clean, pulls: key, within: 6 min}"
    b = Bench(recipe(each=(INK, WIPE, own, LIFT)))
    b.works(["Ink", "Wipe"])
    assert [i.within_ms for i in lying_ink(b.s)] == [6 * MIN]


def test_ink_is_spoken_of_at_half_its_time_and_when_it_is_up():
    """Silent at seven minutes of fifteen, a word at eight, another at fifteen."""
    b = Bench(recipe(each=(INK, WIPE, PULL, LIFT)))
    b.works(["Ink", "Wipe"])
    b.advance(7)
    assert list(to_say(b.room, b.t)) == []
    b.advance(1)
    assert [w.text for w in to_say(b.room, b.t)] == [
        "The ink on key has waited 8 min, limit 15"]
    b.advance(7)
    assert [w.text for w in to_say(b.room, b.t)] == [
        "The ink on key has waited 15 min, limit 15: it may skin, pull it or wipe again"]


@pytest.mark.parametrize("name", ["ferry-lamp"])
def test_the_day_of_a_shipped_two_plate_recipe_never_lets_ink_skin(name):
    """Each step at its usual time, four impressions: no ink lies longer than it may."""
    b = Bench((RECIPES / f"{name}.yaml").read_text(encoding="utf-8"), wanted=4)
    sid, longest = b.s.id, 0
    for _ in range(400):
        s = b.room.sessions[sid]
        if s.closed is not None:
            break
        step = None if s.hand is None else s.shape.by_id[s.hand.step]
        usual = 0 if step is None or step.time is None else step.time.usual.ms
        b.advance(usual / MIN)
        for ink in lying_ink(b.room.sessions[sid]):
            assert ink.at_press or b.t - ink.since_t <= ink.within_ms
            longest = max(longest, b.t - ink.since_t)
        b.go()
    assert b.room.sessions[sid].closed is not None
    assert longest > 5 * MIN
