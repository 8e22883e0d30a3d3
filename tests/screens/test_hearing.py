"""Calls on the screen: flashed, written down, spoken; the sound asked about once."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace
from datetime import timedelta

import pytest

from benchapp import settings as preferences
from benchapp.book import Book
from benchapp.calls.awake import NotHeld
from benchapp.calls.pieces import Trouble
from benchapp.calls.players import RecordingPlayer
from benchapp.calls.ringer import Rang
from benchapp.calls.schedule import Sound
from benchapp.drying import actions as boards
from benchapp.drying.dryness import DryStep
from benchapp.drying.stacks import wall_time
from benchapp.quantities import Duration
from benchapp.safe_text import SafeText
from benchapp.screens.app import Benchapp
from benchapp.screens.sounding import Sounding, boot_ms, calls_in, plan_of
from benchapp.screens.widgets.flash import Flash, flash_words, stands_ms
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.settings import Preferences
from tests.screens.bench_support import Studio, run
from tests.screens.support import until
from tests.session.support import DAY, INK, LIFT, MIN, PULL, SETTLE, WIPE, Bench, recipe

WAITS = recipe(plates=("tone", "key"), each=(
    "{do: Ink tone, hands: inky, plate: tone, say: Ink the tone plate}",
    "{do: Settle, hands: free, plate: tone, time: 6 min}",
    "{do: Ink key, hands: inky, plate: key, time: 26 min}",
    "{do: Wipe tone, hands: inky, plate: tone}",
    "{do: Pull both, hands: clean, pulls: [tone, key]}",
    "{do: Lift, hands: clean, asks: [verdict]}"))
OPEN_GATE = Preferences(gate=Duration(0, "ms"), sound="on")


class Heard(Studio):
    """A bench with a screen, and all that was to be heard of it."""

    made: int = 0

    def ready(self) -> Sounding:
        """The sounding over a recording."""
        self.player = RecordingPlayer(boot_ms(self.clock))

        def make(settings: Preferences) -> RecordingPlayer:
            self.made += 1
            return self.player

        return Sounding(self.clock, OPEN_GATE, make, hold=lambda: NotHeld("nothing holds it"))

    async def heard(self, phrase: str) -> None:
        """Wait until it was said."""
        def said() -> bool:
            self.app.look_again()
            return any(phrase in text for text in self.player.phrases)

        await until(self.pilot, said, what=f"{phrase!r} heard; {self.player.played}")


@asynccontextmanager
async def hearing(here: Heard, start: str = "bench",
                  settings: Preferences = OPEN_GATE) -> AsyncIterator[Heard]:
    """The app over that bench, calls and all."""
    sounding = here.ready()
    here.app = Benchapp(here.shop, settings=settings, start=start, environ={}, sounding=sounding)
    try:
        async with here.app.run_test(size=(80, 24), notifications=True) as pilot:
            here.pilot = pilot
            await until(pilot, lambda: len(here.app.screen_stack) > 1
                        and here.app.screen.is_mounted)
            yield here
    finally:
        here.app.hearing.stop()


def test_a_wait_that_ends_sounds_flashes_and_is_in_the_book():
    """Tone, words, a bar across the whole width, due and called; repeated until a tread."""
    async def work() -> None:
        async with hearing(Heard(WAITS)) as here:
            await here.press("space")
            await here.heard("Ink key")
            here.clock.advance(6 * MIN)
            await here.heard("Settle: time is up")
            assert "end" in [kind for _, kind in here.player.tones]
            await here.shows("▶ ▶ ▶  Settle: time is up")
            assert here.app.screen.query_one(Flash).region.width == 80
            assert [e.kind for e in here.entries() if e.kind in ("due", "called")] == [
                "due", "called"]
            here.player.played.clear()
            here.clock.advance(31_000)
            await here.heard("Settle: time is up")
            await here.press("space")
            await here.heard("Ink key")
            here.player.played.clear()
            here.clock.advance(20 * MIN)
            here.app.look_again()
            await here.pilot.pause(0.1)
            assert not any("Settle" in words for words in here.player.phrases)

    run(work())


def test_what_needs_clean_hands_is_silent_until_the_wash_and_told_there_as_a_list():
    """The soak of a second pack ends while hands are inky: shown, and spoken at the wash."""
    text = recipe(before=["{do: Screws, hands: clean}"], each=(INK, WIPE, PULL, LIFT),
                  damp="{method: soak, soak: 30 min, pack: 3}")

    async def work() -> None:
        bench = Heard(text, 1)
        bench.work("Sheets into the water")
        bench.advance(30)
        bench.tread()
        bench.until("Ink")
        bench.say(a.DampPack(3))
        async with hearing(bench) as here:
            here.clock.advance(31 * MIN)
            here.app._time_passed()
            await here.shows("sheets in the water: 1 min over · clean hands · waits")
            await here.pilot.pause(0.1)
            assert here.player.phrases == []
            await here.press("space")
            await here.heard("Wipe")
            await here.press("space")
            await here.heard("Sheets out of the water, 1 minute late")
            assert here.hand == "Wash and dry hands"
            await here.press("space")
            told = [e.kind for e in here.entries() if e.kind in ("due", "called", "answered")]
            assert told[-3:] == ["due", "called", "answered"]

    run(work())


def test_a_tread_is_confirmed_by_the_words_of_the_step_it_begins():
    """The recipe's own `say` where there is one; a take-back says what goes on."""
    async def work() -> None:
        async with hearing(Heard(WAITS)) as here:
            await here.press("space")
            await here.heard("Ink key")
            await here.press("backspace")
            await here.heard("Undone: Ink the tone plate goes on")
            assert tuple(kind for _, kind in here.player.tones[:2]) == ("confirm", "confirm")

    run(work())


def test_keys_that_go_elsewhere_are_told_aloud():
    """Not listening, and listening again."""
    async def work() -> None:
        async with hearing(Heard(WAITS)) as here:
            here.app.look_again()
            here.app.on_app_blur(None)  # type: ignore[arg-type]
            await here.heard("Not listening")
            here.app.on_app_focus(None)  # type: ignore[arg-type]
            await here.heard("Listening again")

    run(work())


def test_what_the_machine_could_not_do_is_said_once_on_the_screen():
    """A player that failed, and a screen that may go dark: one message each."""
    async def work() -> None:
        async with hearing(Heard(WAITS)) as here:
            shown: list[str] = []
            here.app.notify = lambda text, **more: shown.append(text)  # type: ignore[method-assign]
            here.player.trouble.append(Trouble("aplay", "failed", "aplay made no sound"))
            await here.press("space")
            await here.heard("Ink key")
            await until(here.pilot, lambda: here.app.look_again() or "aplay made no sound" in shown)
            assert [t for t in shown if "aplay" in t] == ["aplay made no sound"]

    run(work())


def test_ink_left_lying_is_spoken_of_when_hands_can_act():
    """Wiped, then idle at the wash for eight minutes of fifteen: said once."""
    async def work() -> None:
        bench = Heard(recipe(each=(INK, WIPE, PULL, LIFT)))
        bench.works(["Ink", "Wipe"])
        async with hearing(bench) as here:
            here.clock.advance(8 * MIN)
            await here.heard("The ink on key has waited 8 min, limit 15")
            here.clock.advance(MIN)
            here.app.look_again()
            await here.pilot.pause(0.1)
            assert len([p for p in here.player.phrases if "has waited" in p]) == 1

    run(work())


@pytest.mark.parametrize(("key", "word"), [("1", "on"), ("2", "soft"), ("3", "off")])
def test_the_sound_is_asked_once_in_the_studio_and_kept(key, word, home):
    """A number answers; the commented file is written, and never asked again."""
    async def work() -> None:
        bench = Heard(DAY)
        bench.shop.leave_bench()
        asking = replace(OPEN_GATE, sound="ask")
        async with hearing(bench, "studio", asking) as here:
            await here.shows("Should a clock sound")
            await here.press(key)
            await until(here.pilot, lambda: here.app.settings.sound == word)
            here.app.look_again()
            await here.pilot.pause(0.1)
            assert "Should a clock sound" not in here.text

    run(work())
    assert preferences.load_preferences().sound == word
    assert "# The sound of calls" in (home / "preferences.yaml").read_text(encoding="utf-8")


def test_a_fresh_home_is_asked_nothing(home):
    """The Studio of a printer who has printed nothing yet is shown as it is."""
    async def work() -> None:
        bench = Heard(DAY)
        bench.shop = SessionService(Book.in_memory(), bench.clock)
        async with hearing(bench, "studio", replace(OPEN_GATE, sound="ask")) as here:
            await here.shows("On the shelf")
            here.app.look_again()
            await here.pilot.pause(0.3)
            assert "Should a clock sound" not in here.text

    run(work())
    assert not home.exists()


def test_nothing_is_asked_at_the_bench_nor_without_a_caller(home):
    """A day begun by `run` is not held up."""
    async def work() -> None:
        async with hearing(Heard(WAITS), settings=replace(OPEN_GATE, sound="ask")) as here:
            here.app.look_again()
            await here.pilot.pause(0.3)
            assert "Should a clock sound" not in here.text

    run(work())
    assert not home.exists()


def laid(here: Heard) -> None:
    """One sheet lies under boards since now, to be turned at the evening hour."""
    made = here.shop.editions
    turn = DryStep("Turn", after_ms=180 * MIN)
    assert made.on_boards(boards.Begin("one@x.1", "Pear", (turn,))).ok
    assert made.on_boards(boards.Lay("one@x.1", (("s#1", "D1"),))).ok


def test_the_boards_call_once_in_the_studio_and_what_was_done_is_an_entry(home):
    """At their hour a tone, the words and the bar; nothing is repeated; late it calls again."""
    async def work() -> None:
        bench = Heard(DAY)
        bench.shop.leave_bench()
        laid(bench)
        async with hearing(bench, "studio") as here:
            here.app.look_again()
            assert here.made == 0  # nothing near: no caller is begun for it
            evening = wall_time(here.clock.now()).replace(hour=18, minute=0)
            here.clock.advance((evening - wall_time(here.clock.now())) // timedelta(milliseconds=1))
            await here.heard("Under boards: Turn. Pear")
            await here.shows("▶ ▶ ▶  Under boards: Turn. Pear")
            here.player.played.clear()
            for _ in range(5):
                here.clock.advance(10 * MIN)
                here.app.look_again()
                await here.pilot.pause(0.02)
            assert here.player.phrases == []
            here.clock.advance(11 * MIN)
            await here.heard("Under boards, late: Turn. Pear")
            assert here.shop.editions.on_boards(boards.Changed("one@x.1")).ok
            (answer,) = here.shop.stacks().stacks["one@x.1"].answers.values()
            assert answer.how == "late"
            here.player.played.clear()
            here.clock.advance(60 * MIN)
            here.app.look_again()
            await here.pilot.pause(0.05)
            assert here.player.phrases == []

    run(work())


# -- without a screen -----------------------------------------------------------------------


def test_a_plan_is_the_same_at_every_look():
    """A clock's moment on the boot clock does not depend on when it is asked for."""
    b = Bench(recipe(each=(INK, SETTLE, PULL, LIFT)))
    b.clock.advance(1)
    b.say(a.StartClock(10 * MIN, "varnish"))
    dues = set()
    for step in (0, 1, 999, 60_001, 7):
        b.clock.advance(step)
        dues |= {d.key for d in plan_of(b.room, b.now).deadlines}
    assert dues == {(f"{b.s.id} clock 1", 1 + 10 * MIN)}


def test_a_stepped_clock_moves_no_deadline_and_a_restart_keeps_how_late():
    """48 hours either way: nothing moves. After a boot the wall bridges, and says about."""
    b = Bench()
    b.say(a.StartClock(10 * MIN, "varnish"))
    first = plan_of(b.room, b.now).deadlines
    for step in (48, -96):
        b.clock.step_wall(step * 60 * MIN)
        b.shop.tick()
        assert plan_of(b.room, b.now).deadlines == first
    b.clock.step_wall(48 * 60 * MIN)
    b.shop.tick()
    b.clock.reboot(25 * MIN)
    assert plan_of(b.room, b.now).deadlines == ()
    b.say(a.Continue())
    late = plan_of(b.room, b.now).deadlines[0]
    assert (b.now.boot_ns // 1_000_000 - late.due_ms, late.about) == (15 * MIN, True)


def test_calls_are_named_by_session_and_call():
    """Two words of a call's id stay together."""
    rang = Rang(Sound("end", "x", (("2026-05-03@ab step each.2 1", 5), ("s@x clock 1", 5))), 5, 0)
    assert calls_in(rang) == {"2026-05-03@ab": ("step each.2 1",), "s@x": ("clock 1",)}


def test_flashes_are_told_apart_without_colour_and_stand_for_a_glance():
    """By their signs; a call stands longer than its sound."""
    assert flash_words("caution", SafeText("x")).startswith("! ! !")
    assert flash_words("end", SafeText("x")) != flash_words("confirm", SafeText("x"))
    assert stands_ms("end") >= 1500
    assert stands_ms(None) < stands_ms("end") < stands_ms("caution")


def test_one_clock_of_two_is_muted_for_a_stated_time_and_says_so():
    """Which, then how long: the other goes on calling; the line says how long it is silent."""
    async def work() -> None:
        bench = Heard(DAY)
        bench.say(a.StartClock(MIN, "varnish"))
        bench.say(a.StartClock(MIN, "rosin"))
        bench.advance(1)
        async with hearing(bench) as here:
            await here.heard("varnish: time is up. rosin: time is up")
            await here.press("v")
            await here.shows("Silence which call", "all of these")
            await here.press("down", "down", "down", "enter")  # what comes and goes has no key
            await here.shows("Silent for how long")
            await here.press("3")
            await here.shows("rosin: now · muted 10 min more", "CALLS ▶ varnish")
            here.player.played.clear()
            here.clock.advance(2 * MIN)
            await here.heard("varnish: time is up, 2 minutes late")
            assert not any("rosin" in words for words in here.player.phrases)
            here.clock.advance(8 * MIN)
            await here.heard("rosin: time is up, 10 minutes late")

    run(work())
