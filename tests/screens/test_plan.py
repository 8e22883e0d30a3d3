"""The Plan: the plain line first, rows over the clock, what if by key, the day begun from it."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest

from benchapp.clock import FakeClock
from benchapp.files import guess_kept
from benchapp.recipe.reader import read_recipe
from benchapp.screens import plan as plan_module
from benchapp.service.sessions import SessionService
from tests.planning.plans import WORKED
from tests.screens.bench_support import Studio, on_the_bench
from tests.screens.days import MINUTE, Screens, on_bench, run, screens, workshop
from tests.screens.support import until

DAMP = WORKED.replace("wash: 0 min", """\
paper: {name: cotton, damp: {method: soak, soak: 10 min, rest: 5 min, pack: 4, keeps: 24 h}}
wash: 0 min
proofing: {for: TP}""")


async def said(here: Screens, *parts: str) -> None:
    """Wait until all stand there and nothing is being planned."""
    for _ in range(600):
        await asyncio.sleep(0.05)
        await here.pilot.pause()
        text = here.text
        if "planning …" not in text and all(x in text for x in parts):
            return
    raise AssertionError(f"never came true: {parts}\n{here.text}")


async def answer(here: Screens, key: str, text: str) -> None:
    """Press a key that asks, and give this in place of what stands there."""
    await here.press(key, "ctrl+u")
    await here.typed(text)


@asynccontextmanager
async def planned(text: str = WORKED, *, shop: SessionService | None = None, hour: int = 14,
                  size: tuple[int, int] = (80, 24), **about: Any) -> AsyncIterator[Screens]:
    """The Plan of a recipe, at that hour; of three hours it is made at once."""
    if shop is None:
        shop, clock = workshop()
        clock.advance((hour - 10) * 60 * MINUTE)
    async with screens(shop, over="plan", size=size, recipe=read_recipe(text), called="slack-water",
                       text=text, **about) as here:
        await said(here, "to 17:00")
        yield here


@pytest.mark.full
def test_the_worked_day_and_what_would_change_it() -> None:
    """From 09:30, lunch at one: 10 by 16:47, an 11th 17:19; lunch 5 min later lets 11 in (CP-SAT).

    A helper wins nothing, and one key leads back to the day as it was at first.
    """

    async def work() -> None:
        async with planned(hour=10) as here:
            lines = here.text.splitlines()
            assert lines[1].strip().startswith("Count on ")
            assert lines[2].strip() == ("Sun 3 May, 10:00 to 17:00 · break 13:00 45 min · "
                                        "as many as fit")
            assert "Hands     ▒▒▒" in here.text
            await answer(here, "f", "09:30")
            await said(here, ". A 9th would end at 17:19.", "09:30 to 17:00")
            first = here.text.splitlines()[1]
            assert first.strip().startswith("Count on ")
            await here.press("right")
            await said(here, "break 13:05 45 min", f"Before that: {first.strip()[:40]}")
            assert here.text.splitlines()[1].strip().startswith("Count on ")
            await here.press("left", "h")
            await said(here, "break 13:00 45 min", "with a helper")
            assert here.text.splitlines()[1] == first
            await here.press("0")
            await said(here, "10:00 to 17:00")
            assert here.text.splitlines()[1:3] == lines[1:3]

    run(work())


@pytest.mark.full
def test_a_number_wanted_is_planned_for_and_the_day_begun() -> None:
    """Typed, or one more by one key; what is no day is said where it is typed.

    Number, packs and helper are handed over to the session; the recipe's file stays.
    """
    shop, clock = workshop()
    clock.advance(4 * 60 * MINUTE)

    async def work() -> None:
        async with planned(DAMP, shop=shop, size=(80, 42)) as here:
            await answer(here, "w", "3")
            await said(here, "wanted 3", "3 by ")
            await here.press("plus")
            await said(here, "wanted 4", "4 by ", "Pack 1 in: 4 sheets", "How sure")
            await answer(here, "a", "2")
            await said(here, "packs of 2", "Pack 2 in: 2 sheets")
            await answer(here, "u", "09:00")
            await here.shows("the day ends before it begins")
            await here.press("escape")
            await answer(here, "t", "someday")
            await here.shows("is not a day")
            await here.press("escape")
            await here.press("d")
            await said(here, "The evening before", "Damp 2 sheets of cotton", "To set up")
            assert "Pack 1 in" not in here.text
            await here.press("h")
            await said(here, "with a helper")
            await here.press("s")
            await here.shows("Set-up of Slack Water", "As planned: wanted 4, packs of 2")
            session = on_bench(shop)
            paper = session.recipe.paper
            assert session.wanted == 4
            assert paper is not None
            assert paper.damp is not None
            assert paper.damp.pack == 2
            assert shop.room.helper is not None

    run(work())


@pytest.mark.full
def test_another_day_is_begun_only_when_asked_twice() -> None:
    """In the evening tomorrow is planned; a stray key begins nothing."""
    shop, clock = workshop()
    clock.advance(8 * 60 * MINUTE)

    async def work() -> None:
        async with planned(shop=shop) as here:
            assert "Mon 4 May, 09:00 to 17:00" in here.text
            await here.press("s")
            await here.shows("planned for Monday 4 May. Begin now?")
            await here.press("space", "enter")
            assert shop.room.session is None
            await here.press("1")
            await here.shows("Set-up of Slack Water")
            assert on_bench(shop).wanted == 9  # eleven fit, two of them warm-ups

    run(work())


def test_the_page_over_the_press_is_one_key(home: Path) -> None:
    """The landscape page with its ticks, written into the folder of papers."""

    async def work() -> None:
        async with planned(wanted=2) as here:
            await here.press("f8")
            await here.shows("Written")
            page = (home / "papers" / "plan-2026-05-03-slack-water.html").read_text("utf-8")
            assert "size:landscape" in page
            assert "The day by hands" in page

    run(work())


@pytest.mark.full
def test_the_calendar_is_never_written_over_silently(home: Path) -> None:
    """Once it is there it is asked, and the old one is kept."""

    async def work() -> None:
        async with planned(wanted=2) as here:
            path = home / "papers" / "plan-2026-05-03-slack-water.ics"
            await here.press("c")
            await here.shows("Written:")
            first = path.read_text(encoding="utf-8")
            assert "SUMMARY:Begin · Slack Water" in first
            await answer(here, "w", "3")
            await said(here, "wanted 3")
            await here.press("c")
            await here.shows("is there already")
            await here.press("escape")
            assert path.read_text(encoding="utf-8") == first
            await here.press("c", "1")
            await until(here.pilot, lambda: path.read_text(encoding="utf-8") != first)
            kept = path.with_name(path.name + ".before")
            assert kept.read_text(encoding="utf-8") == first

    run(work())


def test_the_screen_goes_on_while_a_plan_is_made(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keys are taken while a plan takes long; of several only the last day is planned."""
    made: list[int | None] = []
    waits = threading.Event()
    real = plan_module.plan_asked_day

    def slow(asked: Any, known: Any) -> Any:
        made.append(asked.wanted)
        assert waits.wait(30)
        return real(asked, known)

    monkeypatch.setattr(plan_module, "plan_asked_day", slow)

    async def work() -> None:
        shop, _ = workshop()
        async with screens(shop, over="plan", recipe=read_recipe(WORKED), wanted=1) as here:
            await here.shows("planning …", "wanted 1")
            await here.press("plus", "plus", "plus")
            await here.shows("wanted 4")
            await here.press("question_mark")
            await here.shows("Help: The plan")
            await here.press("escape")
            waits.set()
            await said(here, "4 with 2 warm-ups more by ")
            assert made == [1, 4]

    run(work())


def test_where_there_is_nothing_to_plan_it_says_so() -> None:
    """Opened over no session it names the way."""

    async def work() -> None:
        async with screens(workshop()[0], over="plan") as here:
            await here.shows("choose a recipe in the Studio")
            await here.press("plus", "w", "s", "c", "escape")
            await here.shows("Studio")

    run(work())


def test_the_studio_leads_to_it(home: Path) -> None:
    """By the key in its footer, for the recipe chosen."""
    path = home / "recipes" / "slack-water.yaml"
    path.parent.mkdir(parents=True)
    path.write_text(WORKED, encoding="utf-8")

    async def work() -> None:
        async with screens(workshop()[0]) as here:
            await here.shows("Slack Water")
            await here.press("right", "home")
            await here.shows("l plan the day")
            await here.press("l")
            await said(here, "Plan · Slack Water", ". An 8th would end ")
            await here.press("escape")
            await here.shows("Studio")

    run(work())


def test_the_evening_before_stands_in_the_studio_in_one_line(home: Path) -> None:
    """From the afternoon on, for the print worked on last: what to damp; the whole by one key."""
    text = DAMP.replace("12 min", "80 min")
    path = home / "recipes" / "slack-water.yaml"
    path.parent.mkdir(parents=True)
    path.write_text(text, encoding="utf-8")
    shop, clock = workshop()
    assert shop.open_session("slack-water", text).ok
    shop.leave_bench()
    proposal = "m  tomorrow, Slack Water: damp 3 sheets of cotton this evening. Count on "

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("At the press", "1 open", "Slack Water")
            assert "tomorrow," not in here.text
            clock.advance(6 * 60 * MINUTE)
            here.app.look_again()
            await said(here, proposal)
            await here.press("m")
            await said(here, "Mon 4 May, 09:00 to 17:00", "a pack damped",
                       "The evening before",
                       "Damp 3 sheets of cotton (what the day still needs; soak, 10 min in")
            await here.press("escape")
            assert shop.damp_pack(read_recipe(text), 4).ok
            here.app.look_again()
            await said(here, "tomorrow, Slack Water: the paper is damp. Count on ")

    run(work())


def test_without_times_the_studio_proposes_no_plan_and_the_plan_asks(home: Path) -> None:
    """The evening line says which times are missing; its key opens the Plan, which asks.

    The guess begun with holds for the session, and for the next evening's line.
    """
    text = WORKED.replace("hands: inky, time: 12 min", "hands: inky") + "proofing: {for: TP}\n"
    path = home / "recipes" / "slack-water.yaml"
    path.parent.mkdir(parents=True)
    path.write_text(text, encoding="utf-8")
    shop, clock = workshop()
    assert shop.open_session("slack-water", text).ok
    shop.leave_bench()
    clock.advance(6 * 60 * MINUTE)

    async def work() -> None:
        async with screens(shop, size=(120, 40)) as here:
            await said(here, "tomorrow, Slack Water: no plan, no time is known for Wipe; the Plan "
                             "asks for a guess")
            await here.press("m")
            await here.shows("How long does one print take you?")
            await here.press("escape")
            await said(here, "No plan: no time is known for Wipe.", "Press e")
            await here.press("e")
            await here.shows("How long does one print take you?")
            await here.typed("34 min")
            await said(here, "Count on ", "By a guess: 34 min a print.",
                       "guess: 34 min a print", "Steps without a time: Wipe")
            await here.press("s")
            await here.shows("Begin now?")
            await here.press("1")
            await here.shows("Set-up of Slack Water")
            await here.press("space")
            await here.shows("CLEAN HANDS")
        assert guess_kept(on_bench(shop).id) == 34 * MINUTE
        shop.leave_bench()
        async with screens(shop, size=(120, 40)) as here:
            await said(here, "tomorrow, Slack Water: Count on ", "By a guess: 34 min a")

    run(work())


def test_what_is_left_of_the_day_is_planned_from_the_bench() -> None:
    """Three from 14:00 are over at 16:18; with an hour's break from half past two an hour later.

    Gone by, the promise on the Bench counts on the break, and on the number wanted. As time
    goes on the plan does; what is as it is cannot be asked otherwise.
    """

    clock = FakeClock()
    clock.advance(4 * 60 * MINUTE)
    bench = Studio(WORKED + "proofing: {for: TP}\n", 3, clock)

    async def work() -> None:
        async with on_the_bench("", studio=bench) as here:
            await here.shows("3 by 15:58")
            await here.press("f3")
            await here.shows("3 by 16:18: likely. By 17:00 count on ")
            await here.shows("Sun 3 May, 14:00 to 17:00 · no break")
            await here.press("f")
            await here.shows("The day has begun")
            await here.press("minus")
            await here.shows("2 by 15:46: as good as sure. ", "Before that: 3 by 16:18")
            await here.press("k")
            await here.typed("14:30 60 min")
            await here.shows("break 14:30 1 h", "2 by 16:5")
            here.clock.advance(60_000)
            here.app.look_again()
            await here.shows("Sun 3 May, 14:01 to 17:00")
            await here.press("s")
            await here.shows("As planned: wanted 2, break 14:30")
            await here.shows("2 by 16:3")
            assert here.s.wanted == 2

    run(work())
