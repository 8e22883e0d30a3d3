"""The day prepared on the screen: opened from the Studio, its number changed by one key."""

from __future__ import annotations

import re

import pytest

from benchapp.history.stats import NOTHING
from benchapp.planning.checklist import make_checklist
from benchapp.recipe.reader import read_recipe
from benchapp.screens.prepare import prepare_rows
from tests.screens.bench_support import on_the_bench
from tests.screens.days import opened, run, screens, shipped, workshop
from tests.screens.support import until


def test_the_studio_opens_it_for_the_recipe_chosen() -> None:
    """One key on the shelf; another number is one key more, and a wrong one is said."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop, size=(80, 60)) as here:
            await here.press("right")
            await here.shows("prepare")
            await here.press("p")
            await here.shows("Prepare · ", "wanted 10")
            await here.press("f9", "end")
            await here.shows("What it rests on", "the recipe)")
            await here.press("f9", "end")
            await until(here.pilot, lambda: "What it rests on" not in here.text)
            await here.press("b")
            await here.press("backspace", "backspace")
            await here.typed("0")
            await here.shows("1 to 5000")
            await here.press("backspace")
            await here.typed("4")
            await here.shows("wanted 4")
            await here.press("escape")
            await here.shows("Studio")

    run(work())


def test_an_open_session_is_prepared_for_what_it_wants() -> None:
    """Chosen at the press, the number stands already."""
    shop, _ = workshop()
    opened(shop, shipped("weigh-house"), wanted=7)
    shop.leave_bench()

    async def work() -> None:
        async with screens(shop) as here:
            await here.press("p")
            await here.shows("Prepare · The Weigh House", "wanted 7", "by folding in halves")

    run(work())


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (120, 40)])
def test_it_stands_in_any_window(size: tuple[int, int]) -> None:
    """Nothing is cut at the right that has another line to go to."""
    shop, _ = workshop()
    opened(shop, shipped("pane-moth"))

    async def work() -> None:
        async with screens(shop, "bench", over="prepare", size=size) as here:
            await here.shows("Tear")
            await here.press("end")
            await here.shows("Pressure is not reckoned")

    run(work())


def test_everything_prepared_stands_in_the_rows() -> None:
    """Each part's sentence and the recipe's own number, in the order of the hands."""
    day = make_checklist(read_recipe(shipped("weigh-house")), NOTHING, 10)
    rows = prepare_rows(day, 76, why=True)
    text = " ".join("".join(text for text, _ in row.spans).strip() for row in rows)
    places = [text.index(part) for part in (
        "4 sheets by folding", "15 sheets, 2 of them", "2 packs to damp", "Mix 72 g",
        "Screws as the recipe has them", "What it rests on", "charge 9 g (the recipe)")]
    assert places == sorted(places)


def test_a_weighing_is_taken_at_the_bench_by_one_key() -> None:
    """The weighings that teach something stand among the readings, in grams."""
    async def work() -> None:
        async with on_the_bench(shipped("thistle-heads")) as here:
            await here.press("g")
            await here.shows("ink used of the day (g)", "control sheet of the day (g)",
                             "dry sheet of the day (g)")
            number = next(line for line in here.text.splitlines() if "ink used of" in line)
            await here.press(re.search(r"\d", number)[0])  # type: ignore[index]
            await here.shows("ink used of the day, in g")
            await here.typed("21.5")
            await here.settled()
            assert [(x.name, x.value) for x in here.s.settings] == [("ink used", "21.5 g")]

    run(work())
