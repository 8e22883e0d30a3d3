"""Packs and clocks call on every screen, whatever began them, and are answered where they call."""

from __future__ import annotations

import pytest

from benchapp.recipe.reader import read_recipe
from benchapp.safe_text import SafeText
from benchapp.screens.opening import Opening
from benchapp.screens.pick import Pick
from benchapp.screens.registry import MAIN, SCREENS
from benchapp.screens.widgets.call_bar import CallBar
from benchapp.service.sessions import SessionService
from tests.screens.bench_support import run
from tests.screens.days import shipped
from tests.screens.support import until
from tests.screens.test_hearing import Heard, hearing
from tests.session.support import DAY, INK, LIFT, MIN, PULL, SETTLE, WIPE, recipe

SOAKED = read_recipe(shipped("weigh-house"))  # soaks 25 min, packs of 6
OF_A_SESSION = ("impressions", "round", "review", "beside", "beside days", "plate life", "sort")


def in_the_studio(*, damped: bool = True) -> Heard:
    """A workshop whose one day is over; a pack of six goes in now."""
    here = Heard(recipe(), 1)
    here.to_close()
    here.shop.leave_bench()
    if damped:
        assert here.shop.damp_pack(SOAKED, 6).ok
    return here


def kinds(here: Heard, family: str) -> list[str]:
    """The kinds of all entries of packs or clocks, in order."""
    book = here.shop.book
    return [e.kind for e in book.entries(streams=book.streams(family))]


def test_a_soak_begun_in_the_studio_calls_counts_by_the_second_and_is_answered_there() -> None:
    """Tone, words and a line with its key; each second shows; F6 takes the sheets out."""
    async def work() -> None:
        async with hearing(in_the_studio(), "studio") as here:
            await here.shows("in for 0:00, 25:00 to go")
            here.clock.advance(7_000)
            here.app.look_again()
            await here.shows("in for 0:07, 24:53 to go")
            here.clock.advance(25 * MIN)
            here.app._time_passed()
            await here.heard("Sheets out of the water")
            await here.shows("CALLS ▶ 6 sheets in the water: 0:07 over · F6 out")
            assert kinds(here, "pack")[-2:] == ["due", "called"]
            here.clock.advance(36_000)
            here.app.look_again()
            await here.shows("6 sheets in the water: 0:43 over", "in for 25:43, 0:43 over")
            await here.press("f6")
            await here.shows("6 sheets out of the water, rest", "6 sheets resting")
            assert kinds(here, "pack")[-1] == "out"
            here.player.played.clear()
            here.clock.advance(10 * MIN)
            here.app._time_passed()
            await here.pilot.pause(0.1)
            assert here.player.phrases == []
            assert "CALLS" not in here.text

    run(work())


def test_sheets_that_have_rested_are_told_once() -> None:
    """A rest that is over harms nothing: it is said, and not repeated."""
    async def work() -> None:
        here = in_the_studio()
        here.shop.pack_out(here.packs[0].id)
        async with hearing(here, "studio") as here:
            here.clock.advance(20 * MIN)
            await here.heard("The sheets have rested: they are ready")
            here.player.played.clear()
            here.clock.advance(10 * MIN)
            here.app._time_passed()
            await here.pilot.pause(0.1)
            assert here.player.phrases == []

    run(work())


def test_a_pack_damped_in_another_run_calls_as_soon_as_a_screen_is_open() -> None:
    """As `damp` on the command line does it; also where its time was up by then."""
    async def work() -> None:
        here = in_the_studio()
        here.clock.advance(27 * MIN)
        here.shop = SessionService(here.book, here.clock)
        async with hearing(here, "studio") as here:
            here.app._time_passed()
            await here.heard("Sheets out of the water, 2 minutes late")
            await here.shows("6 sheets in the water: 2:00 over · F6 out")

    run(work())


@pytest.mark.parametrize("name", [
    name if n % 6 == 0 else pytest.param(name, marks=pytest.mark.full)
    for n, name in enumerate(sorted(set(SCREENS) - MAIN))])
def test_every_screen_shows_the_call_and_stays_open_when_it_is_answered(name: str, home) -> None:
    """The bar takes a row of its own; the answer leaves the screen as it was."""
    async def work() -> None:
        here = Heard(DAY)
        here.shop.damp_pack(SOAKED, 6)
        about: dict[str, object] = {"session": here.s.id} if name in OF_A_SESSION else (
            {"opening": Opening("print", DAY)} if name == "set-up" else {})
        async with hearing(here) as here:
            here.app.over(name, **about)
            await until(here.pilot, lambda: type(here.app.screen).__name__ == SCREENS[name].cls
                        and here.app.screen.is_mounted)
            here.clock.advance(25 * MIN)
            here.app._time_passed()
            await here.shows("CALLS ▶ 6 sheets in the water")
            assert here.app.screen.query_one(CallBar).region.height == 1
            await here.press("f6")
            await until(here.pilot, lambda: kinds(here, "pack")[-1] == "out")
            await until(here.pilot, lambda: not list(here.app.screen.query(CallBar)))
            assert type(here.app.screen).__name__ == SCREENS[name].cls

    run(work())


def test_a_call_comes_over_a_text_line_and_what_is_written_there_stays() -> None:
    """Sound and bar; F6 is no text; the note goes on."""
    async def work() -> None:
        here = Heard(DAY)
        here.shop.damp_pack(SOAKED, 6)
        async with hearing(here) as here:
            await here.press("n", "f", "o", "x")
            here.clock.advance(25 * MIN)
            here.app._time_passed()
            await here.heard("Sheets out of the water")
            await here.shows("CALLS ▶ 6 sheets in the water: 0:00 over · F6 out", "fox")
            await here.press("f6")
            await here.shows("6 sheets out of the water")
            await here.press("y", "enter")
            await until(here.pilot, lambda: here.s.notes == ("foxy",))

    run(work())


def test_a_call_comes_over_a_picker_and_its_answer_picks_nothing() -> None:
    """A list stands over the Bench: the row of the call is above it, and it stays."""
    async def work() -> None:
        here = Heard(DAY)
        here.shop.damp_pack(SOAKED, 6)
        async with hearing(here) as here:
            here.app.push_screen(Pick(SafeText("Which plate"),
                                      [SafeText("pear"), SafeText("plum")]))
            await here.shows("Which plate")
            picker = here.app.screen
            here.clock.advance(25 * MIN)
            here.app._time_passed()
            await here.heard("Sheets out of the water")
            await here.shows("CALLS ▶ 6 sheets in the water: 0:00 over · F6 out", "2  plum")
            await here.press("f6")
            await here.shows("6 sheets out of the water", "2  plum")
            assert here.app.screen is picker

    run(work())


def test_a_wait_that_ends_in_a_pause_is_answered_and_the_pause_stays() -> None:
    """The call sounds and shows over the pause; its answer ends the wait and nothing else."""
    async def work() -> None:
        here = Heard(recipe(each=(INK, SETTLE, WIPE, PULL, LIFT)))
        async with hearing(here) as here:
            await here.press("space", "p")
            await here.shows("PAUSED")
            here.clock.advance(6 * MIN)
            here.app._time_passed()
            await here.heard("Settle: time is up")
            await here.shows("PAUSED", "CALLS ▶ Settle: now · F6 answer")
            await here.press("f6")
            await until(here.pilot, lambda: here.waits == [])
            assert here.s.paused_t is not None
            await here.shows("PAUSED")
            await here.press("backspace")  # only the answer is taken back
            await until(here.pilot, lambda: here.waits == ["Settle"])
            assert here.s.paused_t is not None

    run(work())


def test_inky_hands_are_not_called_to_paper_nobody_looks_after_until_the_wash() -> None:
    """Told at the wash as a list, calling after it; F6 with inky hands says to wash first."""
    async def work() -> None:
        here = Heard(recipe(each=(INK, WIPE, PULL, LIFT)))
        here.shop.damp_pack(SOAKED, 6)
        async with hearing(here) as here:
            here.clock.advance(26 * MIN)
            here.app._time_passed()
            await here.shows("6 sheets in the water: 1 min over · clean hands · waits")
            await here.pilot.pause(0.1)
            assert here.player.phrases == []
            assert kinds(here, "pack")[-1] == "due"
            await here.press("f6")
            assert kinds(here, "pack")[-1] == "due"
            await here.press("space", "space")
            assert here.hand == "Wash and dry hands"
            await here.heard("Sheets out of the water, 1 minute late")
            await here.press("space")
            await until(here.pilot, lambda: here.hand == "Pull")
            here.app._time_passed()
            assert kinds(here, "pack")[-1] == "called"
            await here.shows("CALLS ▶ 6 sheets in the water: 1 min over · F6 out · clean hands")
            await here.press("space")  # a tread answers what calls, and nothing else
            assert (kinds(here, "pack")[-1], here.hand) == ("answered", "Pull")
            await here.shows("6 sheets in the water: 1 min over · clean hands · waits")
            await here.press("backspace")
            await here.shows("CALLS ▶ 6 sheets in the water")
            await here.press("f6")
            await until(here.pilot, lambda: kinds(here, "pack")[-1] == "out")

    run(work())


def test_a_timer_without_a_session_asks_name_and_time_and_calls_on_any_screen() -> None:
    """`c` in the Studio; counted by the second, kept over a restart, answered in the bar."""
    async def work() -> None:
        here = in_the_studio(damped=False)
        async with hearing(here, "studio") as here:
            await here.press("c")
            await here.shows("What is the clock for?")
            await here.typed("varnish")
            await here.shows("varnish: for how long")
            await here.typed("5")
            await here.shows("write")  # a figure without its unit is asked again, and stays
            await here.press(*" min", "enter")
            await here.shows("Clocks", "varnish", "5:00 to go")
            here.clock.advance(61_000)
            here.app.look_again()
            await here.shows("3:59 to go")
        here.shop = SessionService(here.book, here.clock)
        async with hearing(here, "studio") as here:
            here.app.over("help")
            here.clock.advance(5 * MIN)
            here.app._time_passed()
            await here.heard("varnish: time is up, 1 minute late")
            await here.shows("CALLS ▶ varnish: 1:01 over · F6 answer")
            await here.press("f6")
            await until(here.pilot, lambda: "CALLS" not in here.text)
            assert kinds(here, "clock") == ["started", "due", "called", "answered"]
            assert here.room.timers == {}
        assert SessionService(here.book, here.clock).room.timers == {}

    run(work())


def test_a_timer_is_stopped_before_its_time_in_the_studio() -> None:
    """`delete` on its line, asked first; it never calls."""
    async def work() -> None:
        here = in_the_studio(damped=False)
        assert here.shop.start_timer("rosin", 5 * MIN).ok
        async with hearing(here, "studio") as here:
            await here.shows("rosin", "5:00 to go")
            await here.press("left")
            await here.shows("▸ rosin", "delete stop this clock")
            await here.press("delete")
            await here.shows("Stop the clock rosin", "esc let it run")
            await here.press("1")
            await until(here.pilot, lambda: kinds(here, "clock") == ["started", "stopped"])
            here.clock.advance(6 * MIN)
            here.app._time_passed()
            await here.pilot.pause(0.1)
            assert "rosin" not in " ".join(here.player.phrases)

    run(work())


def test_a_timer_keeps_its_time_over_a_restart_of_the_machine() -> None:
    """The wall bridges it, and what is late is about so late."""
    async def work() -> None:
        here = in_the_studio(damped=False)
        assert here.shop.start_timer("varnish", 5 * MIN).ok
        here.clock.reboot(7 * MIN)
        here.shop = SessionService(here.book, here.clock)
        async with hearing(here, "studio") as here:
            here.app._time_passed()
            await here.heard("varnish: time is up, about 2 minutes late")
            await here.shows("CALLS ▶ varnish: 2:00 over", "≈ 2:00 over")

    run(work())
