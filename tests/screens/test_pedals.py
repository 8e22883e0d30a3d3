"""The pedals at the Bench: a slip taken back, sets of three, and a tread that only shows."""

from __future__ import annotations

import pytest
from textual import events

from benchapp.clock import FakeClock
from benchapp.quantities import Duration
from benchapp.screens.listening import Listening
from benchapp.screens.switch import PedalSwitch
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.session.support import INK, LIFT, MIN, PULL, RAGS, WARM, recipe

DAY = recipe(
    before=["{do: Screws, hands: clean, time: 5/10/20 min}"],
    each=["{do: Ink, hands: inky, time: 3/5/8 min}", PULL,
          "{do: Lift, hands: clean, time: 3 min, asks: [verdict]}"], after=[RAGS])


def words(here: Studio) -> list[str]:
    """What the printer did, in order, an action once."""
    seen = {e.action: e.word for e in here.entries() if e.word not in ("time passed", "run")}
    return list(seen.values())


# -- a wait that ended by itself ---------------------------------------------------------


def test_a_tread_just_after_a_wait_ended_by_itself_changes_nothing() -> None:
    """The plate is warm and the inking has begun: the foot was a second late, and is told so."""

    async def late() -> None:
        async with on_the_bench(recipe(each=[WARM, INK, PULL, LIFT])) as here:
            here.clock.advance(2 * MIN)
            here.app.look_again()
            await here.shows("INKY HANDS")
            written = here.book.last_sequence()
            here.clock.advance(1_900)
            await here.press("space")
            await here.shows("That press was for the wait")
            assert (here.book.last_sequence(), here.hand) == (written, "Ink")
            here.clock.advance(100)
            await here.press("space")
            assert here.hand == "Wash and dry hands"

    run(late())


# -- the slip ---------------------------------------------------------------------------


def test_a_slip_is_taken_back_by_the_next_tread() -> None:
    """One minute into the screws a foot slips; two seconds later it is taken back."""

    async def slip() -> None:
        async with on_the_bench(DAY, gate_ms=750) as here:
            here.clock.advance(MIN)
            await here.at(0)
            assert (here.hand, here.hands) == ("Ink", "inky")
            here.clock.advance(2_000)
            await here.at(2)
            await here.shows("undone: Screws goes on")
            assert (here.hand, here.hands) == ("Screws", "clean")
            here.clock.advance(9 * MIN)
            await here.at(600)
            assert here.hand == "Ink"
            assert words(here) == ["go on", "back", "go on"]
            took = here.ended("Screws")[-1]
            assert (took.finished_t or 0) - took.started_t == 10 * MIN + 2_000

    run(slip())


@pytest.mark.parametrize(("worked", "seconds", "slip_s"), [
    (6 * MIN, 2, 4), (MIN, 4.1, 4), (MIN, 2, 0), (MIN, 2.1, 2)])
def test_a_second_tread_goes_on_where_the_first_was_no_slip(
    worked: int, seconds: float, slip_s: int
) -> None:
    """After its low time, after the few seconds, or where a slip is never taken back."""

    async def goes_on() -> None:
        async with on_the_bench(DAY, gate_ms=750, slip=Duration(slip_s * 1000, "s")) as here:
            here.clock.advance(worked)
            await here.at(0)
            here.clock.advance(round(seconds * 1000))
            await here.at(seconds)
            assert words(here) == ["go on", "go on"]

    run(goes_on())


def test_treads_that_a_still_screen_brings_together_are_told_by_their_own_moments() -> None:
    """Two presses ten seconds apart, handled at once, are two treads."""

    async def still() -> None:
        async with on_the_bench(DAY, gate_ms=750) as here:
            here.clock.advance(MIN)
            await here.at(0)
            await here.at(10)
            assert words(here) == ["go on", "go on"]

    run(still())


# -- sets of pedals ---------------------------------------------------------------------


def test_a_set_of_three_pedals_treads_takes_back_and_marks() -> None:
    """a goes on, b takes back, c marks the sheet; also with inky hands, one gate for all."""

    async def three() -> None:
        async with on_the_bench(DAY, gate_ms=750, treads=("a",), back_keys=("b",),
                                again_keys=("c",)) as here:
            here.clock.advance(10 * MIN)
            await here.at(0, "a")
            await here.at(0.3, "b")  # both under one foot: only the first counts
            assert here.hand == "Ink"
            await here.at(2, "b")
            assert here.hand == "Screws"
            await here.at(4, "a")
            await here.at(6, "c")
            assert here.s.impressions[0].look_again
            assert here.hands == "inky"
            assert words(here) == ["go on", "back", "go on", "look again"]

    run(three())


def test_each_key_of_a_set_means_one_thing() -> None:
    """F13 counts in both of its spellings; a key named twice is a tread."""
    switch = PedalSwitch.of(["a"], 0, back=["f13", "a"], again=["c"])
    assert [switch.press(k, 0)[1] for k in ("a", "f13", "shift+f1", "c", "x")] == [
        "tread", "take back", "take back", "look again", "another key"]


# -- whether it listens -------------------------------------------------------------------


def test_while_it_is_not_heard_a_tread_shows_that_it_is() -> None:
    """NOT LISTENING goes away, it is said, and nothing is done; the next tread goes on."""

    async def away() -> None:
        async with on_the_bench(DAY, gate_ms=750) as here:
            said: list[str] = []
            here.app.aloud = said.append
            here.clock.advance(10 * MIN)
            here.app.post_message(events.AppBlur())
            await here.shows("the keys and the pedal go to another window")
            await here.at(0)
            await here.shows("The pedal works")
            await here.settled()
            assert "the keys and the pedal go" not in here.text
            assert (words(here), len(said)) == ([], 1)
            await here.at(2)
            assert words(here) == ["go on"]

    run(away())


def test_back_in_the_window_a_tread_is_a_tread() -> None:
    """The terminal said that keys come here again: nothing has to be shown."""

    async def back() -> None:
        async with on_the_bench(DAY, gate_ms=750) as here:
            here.app.post_message(events.AppBlur())
            here.app.post_message(events.AppFocus())
            await here.pilot.pause()
            await here.at(0)
            assert words(here) == ["go on"]

    run(back())


def test_the_tread_that_wakes_the_machine_goes_no_further() -> None:
    """After a sleep the first one only shows; the second, two seconds later, goes on."""

    async def woken() -> None:
        async with on_the_bench(DAY, gate_ms=750) as here:
            await here.settled()
            here.clock.sleep(20 * MIN)
            await here.at(0)
            await here.shows("The pedal works")
            assert words(here) == []
            await here.at(2)
            assert words(here) == ["go on"]

    run(woken())


def test_time_alone_wakes_nobody() -> None:
    """An hour at work, a stepped wall clock and a new boot are no sleep; one is kept in mind."""
    clock = FakeClock()
    known = Listening().looked(clock.now())
    for pass_time in (lambda: clock.advance(60 * MIN), lambda: clock.step_wall(60 * MIN),
                      clock.reboot):
        pass_time()
        known = known.looked(clock.now())
        assert not known.woken
    clock.sleep(3_000)
    known = known.looked(clock.now()).looked(clock.now())
    assert known.woken
    known, only_showed = known.tread(clock.now())
    assert only_showed
    assert not known.tread(clock.now())[1]


# -- the walk at lift and look --------------------------------------------------------------


def test_lift_and_look_walks_and_a_tread_picks() -> None:
    """Spoiled and a tag by the switch alone; shown large, said aloud, one entry each."""

    async def walk() -> None:
        async with on_the_bench(DAY, gate_ms=750, walk=Duration(3_000, "s")) as here:
            said: list[str] = []
            here.app.aloud = said.append
            now = 0.0

            async def tread(after_s: float) -> None:
                nonlocal now
                now += after_s
                here.clock.advance(round(after_s * 1000))
                here.app.look_again()
                await here.at(now)

            while here.hand != "Lift":
                await tread(600)
            await tread(600)
            await here.shows("Verdict of D1: the pedal picks go on")
            here.clock.advance(3_500)
            here.app.look_again()
            await here.shows("the pedal picks keep")
            await tread(6)
            await here.shows("Tag of D1: the pedal picks none")
            await tread(4)
            assert (here.last.verdict, here.last.tags, here.hand) == ("spoiled", ("salty",), "Lift")
            assert said == ["go on", "keep", "spoiled", "none", "salty"]
            await here.settled()
            assert "else nothing is recorded" not in here.text
            await tread(2)  # judged: a tread goes on
            assert here.hand != "Lift"
            assert words(here).count("spoiled") == 1

    run(walk())


def test_silence_ends_the_walk_and_two_treads_go_on() -> None:
    """All pass and nothing is written; then one tread begins again and the next goes on."""

    async def silent() -> None:
        async with on_the_bench(DAY, gate_ms=750, walk=Duration(3_000, "s")) as here:
            for n in range(20):
                if here.hand == "Lift":
                    break
                here.clock.advance(10 * MIN)
                await here.at(600 * n)
            before = here.book.last_sequence()
            await here.at(20_000)
            await here.shows("the pedal picks go on")
            here.clock.advance(13_000)
            await here.settled()
            assert "else nothing is recorded" not in here.text
            assert (here.hand, here.book.last_sequence()) == ("Lift", before)
            await here.at(20_020)
            await here.at(20_021)
            assert here.hand != "Lift"
            assert here.last.verdict is None

    run(silent())
