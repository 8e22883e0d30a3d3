"""A printer at the Bench with a recipe of their own: keys at human times, and what each one meant.

Everything goes through the real screen with the gate shut, as it is by default. Beside each key
stands what the printer meant by it, so that the book can be held against that line by line.
"""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from typing import Any

from textual import events

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.screens.app import Benchapp
from benchapp.screens.opening import Opening
from benchapp.service.sessions import SessionService
from benchapp.session.state import Impression
from benchapp.settings import Preferences
from benchapp.views.bench import NowView
from tests.screens.bench_support import Studio
from tests.screens.support import until
from tests.session.support import MIN

#: How long between two keys of a command, and between two letters of a word, seconds.
KEY_S, LETTER_S = 1.1, 0.14

RECIPE = """\
recipe: 1
print: {title: Eel House at Low Water, artist: Idony Threlwick, edition: 30}
plates:
  - name: key
    metal: copper
    size: 180 x 130 mm
    techniques: [hard-ground line]
    life: 300 impressions
paper:
  name: cotton rag
  weight: 250 g/m2
  damp: {method: soak, soak: 20 min, rest: 10 min, keeps: 48 h, pack: 5, handling: 2 min}
press: {pitch: 2 mm, left side: 3 turns, right side: 3 turns}
tags: {eel house: [sky thin, rope lost], ink: [oily rim]}
phrases: [second wipe by hand, left the plate warm]
readings: [{name: tone, unit: grade 1-5, at: Lift and look}, {name: line depth, unit: D}]
before:
  - {do: Blankets and both screws, hands: clean, time: 10/15/25 min}
each:
  - {do: Warm the plate, hands: free, at: hot plate, time: 2 min, ends: itself}
  - {do: Ink the plate, hands: inky, time: 3/5/8 min}
  - {do: Wipe, hands: inky, time: 6/10/16 min}
  - do: Lay and pull
    hands: clean
    at: press
    time: 2/4/7 min
    uses: sheet
    pulls: key
    care: Press crushes. Keep hands, sleeves and hair clear of roller and bed.
  - {do: Lift and look, hands: clean, time: 2/4/8 min, asks: [verdict, tags, note]}
after:
  - {do: Left-over damp sheets, hands: clean, time: 3 min, must: [wrapped, dried, none]}
  - do: Rags
    hands: clean
    time: 2 min
    must: [wet in a lidded metal can, out of the building]
    care: Oily rags can catch fire by themselves. Fire code and label come first.
"""


class Morning(Studio):
    """A studio with a screen and no session yet."""

    def __init__(self) -> None:
        self.clock = FakeClock()
        self.book = Book.in_memory()
        self.shop = SessionService(self.book, self.clock)


@asynccontextmanager
async def at_the_card(size: tuple[int, int], wanted: int) -> AsyncIterator[Studio]:
    """The set-up card of a day about to be opened, the gate shut as it is by default."""
    here = Morning()
    here.app = Benchapp(here.shop, settings=Preferences(), start="set-up", environ={},
                        opening=Opening("eel-house", RECIPE, wanted))
    async with here.app.run_test(size=size, notifications=True) as pilot:
        here.pilot = pilot
        await here.shows("Set-up of")
        yield here


@dataclass
class Printer:
    """Hands, a clock, and a list of what was meant."""

    here: Studio
    keys_s: float = 1000.0
    meant: list[tuple[Any, ...]] = field(default_factory=list)

    async def wait(self, minutes: float) -> None:
        """Let time go by at the bench, in pieces as long as a screen looks away."""
        self.keys_s += minutes * 60
        left = round(minutes * MIN)
        while left > 0:
            step = min(left, MIN)
            self.here.clock.advance(step)
            self.here.app.look_again()
            left -= step
        await self.here.pilot.pause()

    async def key(self, key: str, after: float = KEY_S) -> None:
        """One press, so many seconds after the one before."""
        self.keys_s += after
        self.here.clock.advance(round(after * 1000))
        names = {" ": "space", ".": "full_stop", ",": "comma", ":": "colon"}
        event = events.Key(names.get(key, key), key if len(key) == 1 else
                           " " if key == "space" else None)
        event.time = self.keys_s
        self.here.app.post_message(event)
        await self.here.pilot.pause()

    async def keys(self, *keys: str) -> None:
        """Some presses, one after the other."""
        for key in keys:
            await self.key(key)

    async def words(self, text: str) -> None:
        """Type a text and take it."""
        for letter in text:
            await self.key(letter, LETTER_S)
        await self.key("enter", 0.6)

    async def tread(self) -> None:
        """One press of the pedal, and the book has it."""
        before = self.here.book.last_sequence()
        await self.key("space", 2.0)
        await until(self.here.pilot, lambda: self.here.book.last_sequence() > before,
                    what="the tread in the book")

    async def go_on(self, there: Callable[[NowView], bool], most: int = 60) -> None:
        """Work on as the screen says: each step for its usual time, each wait to its end.

        Raises:
            AssertionError: It never came to be `there`.
        """
        for _ in range(most):
            now = self.here.view.now
            if there(now):
                return
            count = now.count
            if count is not None and count.down:
                await self.wait(max(0, count.ms) / MIN + 0.2)
                if self.here.view.now.key != now.key:
                    continue
            else:
                await self.wait((count.usual or 3 * MIN) / MIN if count is not None else 3)
            await self.tread()
        raise AssertionError(f"the day did not come there\n{self.here.text}")

    async def go_on_to_close(self) -> None:
        """Tread on until the session is closed."""
        for _ in range(20):
            if self.here.s.closed is not None:
                return
            await self.wait(3)
            await self.key("space", 2.0)
        raise AssertionError(f"the session never closed\n{self.here.text}")

    def say(self, *meaning: Any) -> None:
        """Take down what the keys just pressed were meant to write."""
        self.meant.append(meaning)

    @property
    def sheet(self) -> Impression:
        """The sheet in hand, or pulled last."""
        return self.here.last
