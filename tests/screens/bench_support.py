"""The Bench under a pilot: an app over a book in memory, its gate open, its clock told."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from textual import events
from textual.pilot import Pilot

from benchapp.quantities import Duration
from benchapp.safe_text import cell_width
from benchapp.screens.app import Benchapp
from benchapp.screens.bench import BenchScreen
from benchapp.session.state import Impression, Session
from benchapp.settings import Preferences
from benchapp.views.bench import BenchView, bench_view
from tests.screens.support import has_all, screen_text, until
from tests.session.support import Bench


class Studio(Bench):
    """A bench with a screen on it."""

    app: Benchapp
    pilot: Pilot[Any]

    async def press(self, *keys: str) -> None:
        """Press keys, each let through to its end."""
        await self.pilot.press(*keys)

    async def at(self, seconds: float, key: str = "space") -> None:
        """Press a key at that moment of the keys' own clock."""
        event = events.Key(key, key if len(key) == 1 else None)
        event.time = 1000 + seconds
        self.app.screen.post_message(event)
        await self.pilot.pause()

    async def typed(self, text: str) -> None:
        """Type a text and take it."""
        names = {" ": "space", ".": "full_stop", ":": "colon", ",": "comma"}
        await self.pilot.press(*(names.get(sign, sign) for sign in text), "enter")

    async def shows(self, *parts: str) -> None:
        """Wait until all of these stand on the screen."""
        await until(self.pilot, lambda: has_all(self.text, parts), what=f"{parts} shown")

    async def settled(self) -> None:
        """Let everything that was asked of the screen be drawn."""
        self.app.look_again()
        await self.pilot.pause(0.05)
        self.app.look_again()
        await self.pilot.pause(0.02)

    @property
    def text(self) -> str:
        """The whole screen."""
        return screen_text(self.app)

    @property
    def last(self) -> Impression:
        """The sheet pulled last."""
        return max(self.sheets, key=lambda i: i.number or 0)


@asynccontextmanager
async def on_the_bench(
    text: str, *, wanted: int | None = None, size: tuple[int, int] = (80, 24),
    gate_ms: int = 0, theme: str = "dark", studio: Studio | None = None, start: str = "bench",
    **preferred: Any,
) -> AsyncIterator[Studio]:
    """Open a session on that recipe and have it on the screen; `preferred`: other preferences.

    Everything is shown unless `bench="short"`.
    """
    here = studio or Studio(text, wanted)
    preferred = {"bench": "full", **preferred}
    preferences = Preferences(gate=Duration(gate_ms, "ms"),
                              theme="light" if theme == "light" else "dark", **preferred)
    here.app = Benchapp(here.shop, settings=preferences, start=start, environ={})
    async with here.app.run_test(size=size, notifications=True) as pilot:
        here.pilot = pilot
        await until(pilot, lambda: len(here.app.screen_stack) > 1 and here.app.screen.is_mounted)
        await pilot.pause()
        yield here


def run(work: Any) -> None:
    """Run a test's coroutine."""
    asyncio.run(work)


def wide_at_most(text: str, cells: int) -> bool:
    """Whether no line takes more cells."""
    return all(cell_width(line) <= cells for line in text.splitlines())


__all__ = [
    "BenchScreen",
    "BenchView",
    "Session",
    "Studio",
    "bench_view",
    "on_the_bench",
    "run",
    "wide_at_most",
]
