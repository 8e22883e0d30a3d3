"""One count has one number: wanted sheets, packs and boards, read from every place that says it."""

from __future__ import annotations

import re

import pytest

from benchapp.edition.stacks import wall
from benchapp.papers.boards import boards_values
from benchapp.recipe.reader import read
from benchapp.session import actions as a
from benchapp.session.learnt import NOTHING
from benchapp.session.prepare import prepare
from benchapp.session.standing import status
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


@pytest.mark.parametrize("wanted", [2, 7, 10])
def test_wanted_and_packs_are_the_same_everywhere(wanted: int) -> None:
    """Set-up card, Bench, Studio, Plan and `prepare` say one number wanted and one first pack."""
    shop, _ = workshop()
    pack = min(6, wanted + 2)
    told = prepare(read(shipped("weigh-house")), NOTHING, wanted)
    part = next(p for p in told.parts if p.what == "packs")
    seen: list[str] = []

    async def work() -> None:
        async with set_up(shop, shipped("weigh-house"), wanted, size=SIZE) as here:
            await here.shows("Set-up of The Weigh House")
            seen.extend(read_numbers(here.text, r"w +wanted +([0-9]+)"))
            await here.press("space")
            await here.shows("CLEAN HANDS")
            seen.extend(read_numbers(here.text, r"wanted ([0-9]+)"))
            lines = "\n".join(status(shop.room, shop.now()))
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
    assert packs_of(part.sentence)[0] == pack
    assert sum(packs_of(part.sentence)) == wanted + 2


def test_the_pack_that_went_in_is_one_number_in_bench_studio_and_prepare() -> None:
    """Six go in: Bench and Studio say six; `prepare` takes six off what is to be damped."""
    shop, clock = workshop()
    opened(shop, shipped("weigh-house"), wanted=10)
    clock.advance(MINUTE)
    assert shop.do(a.GoOn()).ok
    lines = status(shop.room, shop.now())
    (pack,) = shop.room.packs.values()
    assert pack.left == 6
    assert any("6 sheets in the water" in x for x in lines)

    async def work() -> None:
        shop.leave_bench()
        async with screens(shop, size=SIZE) as here:
            await here.shows("6 sheets in the water", "1 pack")
            await here.press("p")
            await here.shows("1 pack to damp, 6 sheets; 6 of this paper are damp already")

    run(work())


def test_boards_are_one_number_in_studio_and_boards() -> None:
    """Four laid, one spoiled since: both count what lies there."""
    shop, clock = workshop()
    session = opened(shop, shipped("three-steps"))
    printed(shop, clock, 4)
    shop.do(a.Judge("spoiled", 1), session=session)
    there = sum(len(s.sheets) for s in shop.stacks().up)
    values = boards_values(shop.stacks(), wall(shop.now()))

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
