"""Leaving from the Studio: at once, with nothing asked, and what is due when is printed after."""

from __future__ import annotations

import threading
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from benchapp.clock import FakeClock
from benchapp.events.moments import local_time
from benchapp.recipe.reader import read_recipe
from benchapp.screens import plan_evening
from benchapp.screens.app import farewell_lines
from benchapp.session import actions as a
from tests.screens.days import (
    MINUTE,
    closed,
    opened,
    printed,
    run,
    screens,
    shipped,
    small,
    workshop,
)
from tests.screens.support import until
from tests.screens.test_editions import RECIPE as DRIED


def test_q_leaves_while_a_plan_is_still_made(monkeypatch: pytest.MonkeyPatch, home: Path) -> None:
    """Tomorrow's plan never ends: neither q nor the end of the program waits for it."""
    begun, release = threading.Event(), threading.Event()

    def endless(asked: Any, known: Any) -> Any:
        begun.set()
        release.wait()
        raise RuntimeError("nobody waits for it")

    monkeypatch.setattr(plan_evening, "plan_asked_day", endless)
    shop, clock = workshop()
    opened(shop, shipped("three-steps"), name="three-steps")
    printed(shop, clock, 1)
    closed(shop, clock)
    shop.do(a.CanEmptied())
    shop.leave_bench()
    clock.advance(6 * 60 * MINUTE)  # after three in the afternoon

    async def work() -> None:
        async with screens(shop) as here:
            await until(here.pilot, begun.is_set, what="tomorrow is planned")
            await here.press("q")
            assert here.app._exit
            assert len(here.app.screen_stack) == 2  # nothing was asked

    slow = threading.Timer(30, release.set)  # so that a failure ends, too
    slow.start()
    try:
        run(work())
        assert not release.is_set(), "leaving waited for the plan"
    finally:
        slow.cancel()
        release.set()


def test_what_is_due_when_is_said_after_leaving() -> None:
    """Paper in the water, a clock of the printer's, boards, the open session; none calls then."""
    shop, clock = workshop()
    opened(shop, DRIED)
    printed(shop, clock, 3)
    closed(shop, clock)
    opened(shop, small("Quince"))
    shop.do(a.StartClock(90 * MINUTE, "varnish"))
    shop.leave_bench()
    assert shop.damp_pack(read_recipe(shipped("weigh-house")), 6).ok
    at = clock.now().wall_ms
    soaked = hhmm(at + 25 * MINUTE)
    assert farewell_lines(shop) == [
        "Nothing calls while benchapp is closed. What is due:",
        f"  {soaked}  6 sheets in the water",
        f"  {hhmm(at + 90 * MINUTE)}  varnish (2026-05-03b)",
        "  18:00  boards of Pear on a Sill, 2026-05-03: Change blotters",
        "Quince: session 2026-05-03b stays open. Go on with: benchapp resume 2026-05-03b"]
    clock.advance(60 * MINUTE)
    assert farewell_lines(shop)[1] == f"  overdue since {soaked}  6 sheets in the water"
    clock.advance(24 * 60 * MINUTE)
    assert farewell_lines(shop)[1] == f"  overdue since yesterday {soaked}  6 sheets in the water"


def test_paper_in_the_water_of_which_nobody_said_how_long_is_named_with_its_hour() -> None:
    """No hour is made up for it."""
    shop, clock = workshop()
    text = small().replace(
        "press:", "paper: {name: cotton, damp: {method: soak, pack: 4}}\npress:")
    assert shop.damp_pack(read_recipe(text), 4).ok
    since = hhmm(clock.now().wall_ms)
    clock.advance(12 * MINUTE)
    assert farewell_lines(shop)[1:] == [
        f"  4 sheets in the water since {since}: no length recorded"]


def test_a_studio_at_rest_says_nothing() -> None:
    """Nothing is due and nothing is open."""
    shop, _ = workshop()
    assert farewell_lines(shop) == []


def hhmm(wall_ms: int) -> str:
    """The hour on the wall of the tests' clock."""
    now = FakeClock().now()
    return f"{local_time(replace(now, wall_ms=wall_ms)):%H:%M}"
