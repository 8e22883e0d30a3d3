"""Whole print days through the real workshop, and screens opened over them."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Coroutine, Mapping
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from textual.pilot import Pilot

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.quantities import Duration
from benchapp.screens.app import Benchapp
from benchapp.screens.opening import Opening
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.state import Session
from benchapp.settings import Preferences
from tests.screens.support import has_all, screen_text, until

MINUTE = 60_000
DAY = 24 * 60 * MINUTE
RECIPES = Path(__file__).parents[2] / "recipes"
SMALL = """\
recipe: 1
print: {title: "%s", artist: Idony Threlwick}
plates: [{name: key, metal: copper, size: 100 x 140 mm}]
press: {pitch: 2 mm, left side: 3 turns}
each:
  - {do: Ink, hands: inky, time: 5 min}
  - {do: Pull, hands: clean, pulls: key}
  - {do: Lift, hands: clean, asks: [verdict, tags, note]}
after:
  - {do: Rags, hands: clean, must: [wet in a lidded metal can, out of the building]}
"""


def workshop() -> tuple[SessionService, FakeClock]:
    """A workshop over a book in memory, on 3 May 2026 at ten in the morning."""
    clock = FakeClock()
    return SessionService(Book.in_memory(), clock), clock


def shipped(name: str) -> str:
    """The text of a shipped recipe."""
    return (RECIPES / f"{name}.yaml").read_text(encoding="utf-8")


def small(title: str = "Pear on a Sill") -> str:
    """A recipe of three steps and one fact, by that title."""
    return SMALL % title


def opened(shop: SessionService, text: str, wanted: int | None = None, name: str = "print") -> str:
    """Open a session; gives its id."""
    assert shop.open_session(name, text, wanted).ok
    return on_bench(shop).id


def on_bench(shop: SessionService) -> Session:
    """The session on the Bench."""
    session = shop.room.session
    assert session is not None
    return session


def tread(shop: SessionService, clock: FakeClock, minutes: int = 4) -> None:
    """One step: some minutes, then a tread; a fact that is asked is *not said*."""
    clock.advance(minutes * MINUTE)
    if shop.do(a.GoOn()).refusal is not None:
        shop.do(a.Must(None))


def printed(shop: SessionService, clock: FakeClock, sheets: int) -> None:
    """Tread on until so many sheets are pulled and laid to dry."""
    for _ in range(400):
        if sum(i.laid for i in on_bench(shop).impressions) >= sheets:
            return
        tread(shop, clock)
    raise AssertionError(f"{sheets} sheets were never laid to dry")


def closed(shop: SessionService, clock: FakeClock, *, facts: bool = True) -> None:
    """Say enough, and tread through the end of the day; `facts`: say the first of each."""
    shop.do(a.Enough())
    for _ in range(200):
        session = on_bench(shop)
        if session.closed is not None:
            return
        step = None if session.hand is None else session.recipe.step(session.hand.step)
        if step is not None and step.must:
            clock.advance(2 * MINUTE)
            assert shop.do(a.Must(step.must[0] if facts else None)).ok
        else:
            tread(shop, clock)
    raise AssertionError("the session never closed")


def one_day(*, sheets: int = 3, facts: bool = True, emptied: bool = True,
            ) -> tuple[SessionService, FakeClock, str]:
    """A day closed, and the next morning come; gives its session's id too.

    Args:
        sheets: How many are laid to dry before *enough*; the one in hand comes after.
        facts: Whether the fact the day ends with was said.
        emptied: Whether the can was emptied since.
    """
    shop, clock = workshop()
    session = opened(shop, small())
    printed(shop, clock, sheets)
    closed(shop, clock, facts=facts)
    if emptied:
        shop.do(a.CanEmptied())
    shop.leave_bench()
    clock.advance(20 * 60 * MINUTE)
    return shop, clock, session


class Screens:
    """An app over a workshop, under a pilot."""

    def __init__(self, shop: SessionService, app: Benchapp, pilot: Pilot[Any]) -> None:
        self.shop, self.app, self.pilot = shop, app, pilot

    @property
    def text(self) -> str:
        """What stands on the screen."""
        return screen_text(self.app)

    async def shows(self, *parts: str) -> None:
        """Wait until all of these stand there."""
        await until(self.pilot, lambda: has_all(self.text, parts), what=f"{parts} shown")

    async def press(self, *keys: str) -> None:
        """Press keys, each let through to its end."""
        await self.pilot.press(*keys)
        await self.pilot.pause()

    async def typed(self, text: str) -> None:
        """Type a text and take it."""
        names = {" ": "space", ".": "full_stop", ",": "comma"}
        await self.pilot.press(*(names.get(sign, sign) for sign in text), "enter")
        await self.pilot.pause()

    def kinds(self, session: str, kind: str) -> list[dict[str, Any]]:
        """The bodies of the entries of that kind in a session's stream, from the book."""
        stream = self.shop.book.stream(f"session/{session}")
        return [dict(e.body) for e in stream if e.kind == kind]


@asynccontextmanager
async def screens(shop: SessionService, start: str = "studio", *, over: str = "",
                  size: tuple[int, int] = (80, 24), theme: str = "dark", gate_ms: int = 0,
                  asking: bool = True, opening: Opening | Mapping[str, str] | None = None,
                  **about: Any) -> AsyncIterator[Screens]:
    """Show the app; `over` is laid on top with what it is `about`."""
    settings = Preferences(gate=Duration(gate_ms, "ms"),
                           theme="light" if theme == "light" else "dark")
    app = Benchapp(shop, settings=settings, start=start, asking=asking, opening=opening,
                   environ={})
    async with app.run_test(size=size, notifications=True) as pilot:
        await until(pilot, lambda: len(app.screen_stack) > 1 and app.screen.is_mounted)
        if over:
            app.over(over, **about)
            await until(pilot, lambda: app.screen.is_mounted)
        await pilot.pause()
        yield Screens(shop, app, pilot)


def set_up(shop: SessionService, text: str, wanted: int | None = None, **about: Any) -> Any:
    """The set-up card of a session about to be opened, over the Studio."""
    return screens(shop, "set-up", opening=Opening("print", text, wanted), asking=False, **about)


def run(work: Coroutine[Any, Any, None]) -> None:
    """Run a test's coroutine."""
    asyncio.run(work)
