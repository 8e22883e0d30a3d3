"""The hands gate: a monkey at the keys of the Bench, in whatever state the day is."""

from __future__ import annotations

import asyncio
import random
from pathlib import Path

import pytest
from textual import events

from benchapp.screens.bench import BenchScreen
from benchapp.session import actions as a
from benchapp.session.actions import WHILE_INKY
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.session.support import MIN

SHIPPED = Path(__file__).parents[2] / "recipes"
#: What four pedals and keys may do; time is no key.
ALLOWED = {"go on", "back", "look again", "pause"}
OTHERS = [
    *"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789", "tab", "shift+tab", "delete",
    "escape", "home", "end", "up", "left", "pageup", "insert", "plus", "minus", "full_stop",
    "comma", "question_mark", "greater_than_sign", "less_than_sign", "equals_sign", "slash",
    "colon", "f1", "f2", "f3", "ctrl+z", "ctrl+s", "ctrl+p", "alt+x", "left_shift", "right_super",
    "ctrl+@", "é", "日",
]  # fmt: skip
SWITCH = ["space", "enter", "pagedown", "right", "f5", "f13", "shift+f1", "backspace", "l", "p"]


def send(screen: BenchScreen, key: str, at_s: float) -> None:
    """A key as the framework hands it to the screen."""
    event = events.Key(key, key if len(key) == 1 else None)
    event.time = at_s
    screen.on_key(event)


async def monkey(here: Studio, presses: int, seed: int) -> int:
    """Press so many keys while hands are inky; how many there were before the day was done."""
    rng = random.Random(seed)
    pressed = now = 0
    screen = here.app.screen
    assert isinstance(screen, BenchScreen)
    while pressed < presses and here.s.closed is None:
        now += 1
        here.clock.advance(rng.choice([0, 200, 5_000, 2 * MIN]))
        room, stack = here.room, tuple(here.app.screen_stack)
        if room.clean:
            must = here.view.now.must
            send(screen, "1" if must else "space", float(now))
            continue
        pressed += 1
        key = rng.choice(OTHERS) if rng.random() < 0.9 else rng.choice(SWITCH)
        send(screen, key, float(now))
        done = here.room.journal[len(room.journal):]
        words = {e.word for e in done if e.word not in ("time", "time passed")}
        assert words <= ALLOWED, (key, words)
        assert tuple(here.app.screen_stack) == stack, key
        if key.lower() not in SWITCH:
            assert words == set(), key
        if here.room.clean:
            assert any(e.kind in ("step finished", "taken back") for e in done), key
        if pressed % 100 == 0:
            await asyncio.sleep(0)
            assert here.app.is_running
    return pressed


def let_loose(recipe: str, presses: int, seed: int) -> None:
    """The monkey on a shipped recipe, wanted without end."""

    async def work() -> None:
        text = (SHIPPED / f"{recipe}.yaml").read_text(encoding="utf-8")
        async with on_the_bench(text, wanted=500) as here:
            assert await monkey(here, presses, seed) == presses

    run(work())


def test_a_monkey_with_inky_hands_does_four_things_at_most() -> None:
    """Three hundred keys: no other word in the book, no other screen, hands clean by wash alone."""
    let_loose("three-steps", 300, 1)


@pytest.mark.full
@pytest.mark.parametrize("recipe", ["weigh-house", "ferry-lamp", "signal-box"])
def test_monkeys_at_whole_days_do_no_more(recipe: str) -> None:
    """Two thousand keys and more at each of three recipes."""
    let_loose(recipe, 2_200, 7)


@pytest.mark.parametrize("made", [x for spec in a.REGISTRY for x in spec.means])
def test_the_gate_knows_every_action_of_the_registry(made: type) -> None:
    """What is marked for inky hands is what the gate lets through, and nothing else is."""
    inky_word = any(made in spec.means and spec.inky for spec in a.REGISTRY)
    assert inky_word == (made in WHILE_INKY)
