"""The wheel and the click: nothing on the Bench, lines elsewhere."""

from __future__ import annotations

import pytest
from textual import events
from textual.pilot import Pilot

from benchapp.screens.widgets.rows import Rows
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.screens.days import on_bench, screens, set_up, small, workshop
from tests.screens.support import until
from tests.session.support import PULL, RAGS, WIPE, recipe

BARE = recipe(each=[WIPE, PULL, "{do: Lift, hands: clean, time: 3 min, asks: [verdict, tags]}"],
              after=[RAGS])


async def wheel(pilot: Pilot, x: int, y: int, *, down: bool) -> None:
    """One notch of the wheel over that cell."""
    kind = events.MouseScrollDown if down else events.MouseScrollUp
    pilot.app.post_message(kind(None, x, y, 0, 0, 0, False, False, False, x, y))
    await pilot.pause()


async def click(pilot: Pilot, x: int, y: int, button: int = 1) -> None:
    """A press and a release on that cell."""
    for kind in (events.MouseDown, events.MouseUp):
        pilot.app.post_message(kind(None, x, y, 0, 0, button, False, False, False, x, y))
    await pilot.pause()


def test_wheel_and_clicks_do_nothing_on_the_bench() -> None:
    """Over every third cell of the screen, with inky hands and with clean ones."""

    async def turned() -> None:
        async with on_the_bench(BARE) as here:
            for steps in (0, 3):
                await here.press(*["space"] * steps)
                before, screen = here.book.last_sequence(), here.app.screen
                for y in range(0, 24, 3):
                    await wheel(here.pilot, 20 + y, y, down=y % 2 == 0)
                    await click(here.pilot, 20 + y, y)
                assert (here.book.last_sequence(), here.app.screen) == (before, screen)

    run(turned())


def test_an_arrow_nobody_learned_says_how_to_learn_it() -> None:
    """Down is no tread any more, with inky hands or clean; where it was learned it is one."""

    async def arrows(here: Studio) -> None:
        before = here.book.last_sequence()
        await here.press("down")
        await here.shows("↓ is not a key of your pedal", "run benchapp switch")
        assert here.book.last_sequence() == before
        await here.press("space", "space", "space", "up")
        await here.shows("↑ is not a key of your pedal")

    async def both() -> None:
        async with on_the_bench(BARE) as here:
            await arrows(here)
        async with on_the_bench(BARE, treads=("down",)) as here:
            await here.press("down")
            await here.shows("WASH")

    run(both())


def test_the_wheel_scrolls_a_text_and_comes_back() -> None:
    """The Studio's help moves three lines a notch, and says how text is selected."""

    async def scrolled() -> None:
        async with screens(workshop()[0]) as here:
            await here.press("question_mark")
            first = here.text.splitlines()[1]
            await wheel(here.pilot, 10, 10, down=True)
            assert here.text.splitlines()[1] != first
            await wheel(here.pilot, 10, 10, down=False)
            assert here.text.splitlines()[1] == first
            for _ in range(60):
                if "hold Shift" in here.text:
                    break
                await wheel(here.pilot, 10, 10, down=True)
            await here.shows("hold Shift while")

    run(scrolled())


def test_the_wheel_takes_the_line_chosen_along_only_as_far_as_it_must() -> None:
    """Down and up again: the line chosen is in sight all the while."""

    async def turned() -> None:
        async with screens(workshop()[0], over="preferences", size=(80, 12)) as here:
            rows = here.app.screen.query_one(Rows)
            first = rows.chosen
            await wheel(here.pilot, 10, 5, down=True)
            moved = rows.chosen
            assert moved != first
            assert f"▸ {moved}" in here.text
            for _ in range(10):
                await wheel(here.pilot, 10, 5, down=True)
            assert "▼" not in here.text
            for _ in range(12):
                await wheel(here.pilot, 10, 5, down=False)
            assert rows.rows[0].id == first
            assert f"  {first}" in here.text or f"▸ {first}" in here.text

    run(turned())


def test_a_click_chooses_and_a_double_click_takes(monkeypatch: pytest.MonkeyPatch) -> None:
    """As the arrows and enter do; the other buttons and a click beside the lines do nothing."""

    async def clicked() -> None:
        async with screens(workshop()[0], over="preferences", size=(100, 40)) as here:
            line = next(y for y, x in enumerate(here.text.splitlines()) if "theme" in x)
            rows = here.app.screen.query_one(Rows)
            # Two clicks are one double click however slow this machine is.
            monkeypatch.setattr(here.app, "CLICK_CHAIN_TIME_THRESHOLD", 3600.0, raising=True)
            await click(here.pilot, 10, line, button=3)
            await click(here.pilot, 10, 38)
            assert rows.chosen == "treads"
            await click(here.pilot, 10, line)
            assert rows.chosen == "theme"
            assert "Light signs on dark, or dark on light" in here.text
            assert type(here.app.screen).__name__ == "PreferencesScreen"
            await click(here.pilot, 10, line)
            await here.shows("2  light")
            line = next(y for y, x in enumerate(here.text.splitlines()) if "2  light" in x)
            await click(here.pilot, 30, line)
            await click(here.pilot, 30, line)
            await here.shows("theme            light")

    run(clicked())


def test_a_click_leaves_a_line_open_and_its_letters_where_they_are() -> None:
    """Beside the line nothing happens; the keys still go to it."""
    shop, _ = workshop()

    async def clicked() -> None:
        async with set_up(shop, small()) as here:
            await here.press("2")
            await here.press("a")
            await click(here.pilot, 40, 3)
            await wheel(here.pilot, 40, 3, down=True)
            await here.press("b", "enter")
            await here.press("space")
            await until(here.pilot, lambda: shop.room.session, what="the session is open")
            said = here.kinds(on_bench(shop).id, "setting changed")
            assert [x["value"] for x in said] == ["ab"]

    run(clicked())
