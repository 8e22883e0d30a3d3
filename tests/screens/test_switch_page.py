"""The screen of the switch: listening to a pedal, keeping what was learnt, practising."""

from __future__ import annotations

from pathlib import Path

from textual import events

from benchapp import settings
from benchapp.quantities import Duration
from benchapp.screens.switch_page import SwitchScreen
from tests.screens.days import Screens, run, screens, workshop


def post(here: Screens, key: str, at: float, delay: float = 0.7, repeats: int = 20) -> None:
    """Send what a terminal tells of a key held down, all of it before any is heard."""
    for moment in (0.0, *(delay + 0.033 * n for n in range(repeats))):
        event = events.Key(key, key if len(key) == 1 else None)
        event.time = at + moment
        here.app.screen.post_message(event)


async def hold(here: Screens, key: str, at: float, repeats: int = 20) -> None:
    """Hold a key down, and let it be heard."""
    post(here, key, at, repeats=repeats)
    await here.pilot.pause()


def test_a_set_of_pedals_is_learned_kept_and_practised(home: Path) -> None:
    """Hold, keep, hold, keep; the file has it, the switch goes by it at once."""
    shop, _ = workshop()

    async def learn() -> None:
        async with screens(shop, gate_ms=750) as here:
            here.app.push_screen(SwitchScreen(30, 0.1, 1))
            await here.shows("Settings", "750 ms of silence", "5 rows 5.4 m, 7 rows 7.5 m")
            await here.press("t")
            await here.shows("go on: press the pedal, hold it for three seconds")
            await hold(here, "a", 100)
            await here.shows("Learned: go on. Press k to keep it", "after 700 ms, then every 33 ms",
                             "910 ms of")
            await here.press("k")
            await here.shows("Saved in the preferences")
            await here.press("l")
            await hold(here, "escape", 200, repeats=0)
            await here.shows("Learned: look again", "It did not repeat")
            await here.press("k")
            await here.shows("look again  esc")
            kept = settings.load_preferences()
            assert (kept.treads[0], kept.again_keys, kept.gate) == (
                "a", ("escape",), Duration(910))
            assert here.app.settings == kept
            await here.press("p")
            # Sent together: a machine that is busy between them makes no silence that ends it.
            post(here, "a", 300)
            post(here, "escape", 303, repeats=0)
            post(here, "q", 305, repeats=0)
            await here.shows("go on 1 · undo 0 · look again 1", "too soon 20 · other keys 1")
            await here.shows("p practise")  # a silence ends it, though escape is a pedal
            await here.press("n")
            assert settings.load_preferences().again_keys == ()
            assert here.shop.book.last_sequence() == 0

    run(learn())
    assert (home / "preferences.yaml").read_text().startswith("# Preferences of this studio.")


def test_what_was_heard_is_shown_while_it_listens() -> None:
    """A pedal that is not let go yet: each of its presses is counted."""
    shop, _ = workshop()

    async def listen() -> None:
        async with screens(shop, gate_ms=750) as here:
            here.app.push_screen(SwitchScreen(30, 30, 30))
            await here.shows("Settings")
            await here.press("t")
            await here.shows("go on: press the pedal")
            await hold(here, "a", 100)
            await here.shows("Heard so far: a, 21 times")

    run(listen())


def test_what_cannot_be_learned_is_said_and_changes_nothing(home: Path) -> None:
    """Nothing arrives; then pieces of a sequence: `k` keeps neither."""
    shop, _ = workshop()

    async def learn() -> None:
        async with screens(shop, gate_ms=750) as here:
            here.app.push_screen(SwitchScreen(0.2, 0.1, 0.1))
            await here.shows("Settings")
            await here.press("t")
            await here.shows("Not learned: go on", "Nothing arrived")
            await here.press("t")
            for key in ("left_square_bracket", "1", "semicolon", "9", "x"):
                post(here, key, 100, repeats=0)
            await here.shows("sends a sequence this terminal does not know")
            await here.press("k")
            await here.shows("sends a sequence this terminal does not know")
            await here.press("escape")
            await here.shows("Studio")

    run(learn())
    assert not home.exists()


def test_a_file_with_a_slip_is_left_as_it_is(home: Path) -> None:
    """The problem is named; what was learnt holds nowhere."""
    home.mkdir(parents=True)
    (home / "preferences.yaml").write_text("gate: soon\n")
    shop, _ = workshop()

    async def learn() -> None:
        async with screens(shop, gate_ms=750) as here:
            here.app.push_screen(SwitchScreen(5, 0.1, 0.1))
            await here.shows("Settings")
            await here.press("n")
            await here.shows("gate:")
            assert here.app.switch.back == frozenset()

    run(learn())
    assert (home / "preferences.yaml").read_text() == "gate: soon\n"
