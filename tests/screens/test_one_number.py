"""One count has one number: wanted sheets, packs and boards, read from every place that says it."""

from __future__ import annotations

import re
from datetime import date

import pytest

from benchapp.drying.stacks import wall_time
from benchapp.history.stats import NOTHING
from benchapp.planning.checklist import make_checklist
from benchapp.planning.question import DayQuestion, Known, Zero, plan_asked_day
from benchapp.planning.sentences import pack_alarms
from benchapp.recipe.reader import read_recipe
from benchapp.reports.drying import boards_report
from benchapp.reports.json_form import json_values
from benchapp.session import actions as a
from benchapp.views.status import status_lines
from tests.screens.days import (
    MINUTE,
    opened,
    printed,
    run,
    screens,
    set_up,
    shipped,
    workshop,
)

SIZE = (100, 44)


def read_numbers(text: str, *patterns: str) -> list[str]:
    """The first group of each pattern, where it stands on a screen; empty: it does not."""
    return ["" if (found := re.search(x, text)) is None else found[1] for x in patterns]


def packs_of(sentence: str) -> list[int]:
    """The sheets of each pack that `prepare` names."""
    found = re.search(r"to damp, ([0-9 +]+) sheet", sentence)
    return [] if found is None else [int(n) for n in found[1].split(" + ")]


@pytest.mark.parametrize(("wanted", "pack", "why"), [
    (2, 4, "what the day still needs"),
    pytest.param(5, 6, "the recipe's pack", marks=pytest.mark.full),
    pytest.param(10, 6, "the recipe's pack", marks=pytest.mark.full)])
def test_wanted_and_packs_are_the_same_everywhere(wanted: int, pack: int, why: str) -> None:
    """Set-up card, Bench, Studio, Plan and `prepare` say one number wanted and one first pack.

    Each says why it has so many sheets.
    """
    shop, _ = workshop()
    day = plan_asked_day(DayQuestion(read_recipe(shipped("weigh-house")),
                                     Zero(date(2026, 5, 4), 9 * 60),
                                     wanted=wanted), Known())
    planned = [words for _, words in pack_alarms(day.plan) if " in: " in words]
    told = make_checklist(read_recipe(shipped("weigh-house")), NOTHING, wanted)
    part = next(p for p in told.parts if p.what == "packs")
    seen: list[str] = []

    async def work() -> None:
        async with set_up(shop, shipped("weigh-house"), wanted, size=SIZE) as here:
            await here.shows("Set-up of The Weigh House")
            seen.extend(read_numbers(here.text, r"w +wanted +([0-9]+)"))
            assert f"Damp first: {pack} sheets ({why})" in here.text
            await here.press("space")
            await here.shows("CLEAN HANDS")
            assert f"{pack} sheets ({why})" in here.text
            seen.extend(read_numbers(here.text, r"wanted ([0-9]+)"))
            lines = "\n".join(status_lines(shop.room, shop.now()))
            assert read_numbers(lines, r"Sheets into the water: ([0-9]+)") == [str(pack)]
        shop.leave_bench()
        async with screens(shop, size=SIZE) as here:
            await here.shows("At the press", "wanted")
            seen.extend(read_numbers(here.text, r"wanted ([0-9]+)"))
            await here.press("p")
            await here.shows("Prepare · ", "to damp")
            seen.extend(read_numbers(here.text, r"wanted ([0-9]+)"))
            assert packs_of(here.text) == packs_of(part.sentence)

    run(work())
    assert seen == [str(wanted)] * 4
    found = packs_of(part.sentence)
    assert f"sheets ({why}" in part.sentence
    assert planned[0] == f"Pack 1 in: {pack} sheets ({why})"
    assert [p.sheets for p in day.plan.packs] == found
    assert (found[0], sum(found)) == (pack, wanted + 2 + (wanted == 5))  # no sheet by itself


def test_the_pack_that_went_in_is_one_number_in_bench_studio_and_prepare() -> None:
    """Six go in: Bench and Studio say six; `prepare` takes six off what is to be damped."""
    shop, clock = workshop()
    opened(shop, shipped("weigh-house"), wanted=10)
    clock.advance(MINUTE)
    assert shop.do(a.GoOn()).ok
    lines = status_lines(shop.room, shop.now())
    (pack,) = shop.room.packs.values()
    assert pack.left == 6
    assert any("6 sheets in the water" in x for x in lines)

    async def work() -> None:
        shop.leave_bench()
        async with screens(shop, size=SIZE) as here:
            await here.shows("6 sheets in the water", "1 pack")
            await here.press("p")
            await here.shows("1 pack to damp, 6 sheets (the recipe's pack); 6 of this paper are "
                             "damp already")

    run(work())


def test_boards_are_one_number_in_studio_and_boards() -> None:
    """Four laid, one spoiled since: both count what lies there."""
    shop, clock = workshop()
    session = opened(shop, shipped("three-steps"))
    printed(shop, clock, 4)
    shop.do(a.Judge("spoiled", 1), session=session)
    there = sum(len(s.sheets) for s in shop.stacks().up)
    values = json_values(boards_report(shop.stacks(), wall_time(shop.now())))

    async def work() -> None:
        async with screens(shop, size=SIZE) as here:
            await here.shows("Under boards")
            (count,) = read_numbers(here.text, r"Under boards[^0-9\n]*([0-9]+) sheets")
            assert count == str(there)
            await here.press("b")
            await here.shows("Under boards")
            assert f"{there} sheets" in here.text

    run(work())
    assert sum(len(v["sheets"]) for v in values) == there
