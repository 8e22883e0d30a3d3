"""Each caution of each shipped recipe, read on each screen: whole, then short, and from afar."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchapp.recipe.hazards import HAZARDS, short_care
from benchapp.recipe.reader import read_recipe
from benchapp.screens.far import draw_far_view, far_view
from benchapp.screens.glyphs import HEIGHTS, glyph_rows
from benchapp.screens.widgets.plain_text import Para
from benchapp.session import actions as a
from benchapp.views.cautions import CareView, worst_hazard
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.screens.support import strips, until
from tests.session.support import INK, LIFT, Bench, recipe

RECIPES = sorted((Path(__file__).parents[2] / "recipes").glob("*.yaml"))
#: The narrowest and the usual screen are read every time, the wide one with the heavy counts.
SIZES = [(80, 24), *(pytest.param(x, marks=pytest.mark.full) for x in ((120, 40), (60, 20)))]
#: Of the whole days the quick tier reads one.
DAYS = [pytest.param(file, size, marks=() if (file.stem, size) == ("ferry-lamp", (80, 24))
                     else pytest.mark.full, id=f"{file.stem}-{size}")
        for file in RECIPES for size in ((80, 24), (120, 40), (60, 20))]


def text_in(here: Studio, para: Para) -> str:
    """What the terminal shows where that text stands, as one line."""
    place = para.region
    rows_there = strips(here.app)[place.y:place.bottom]
    return " ".join(" ".join(strip.crop(place.x, place.right).text.strip()
                             for strip in rows_there).split())


def cautions_on(here: Studio) -> str:
    """All cautions the Bench shows, read off its rows."""
    paras = [p for p in here.app.screen.query(Para)
             if p.has_class("care") and p.is_on_screen and p.region.height]
    return " ".join(text_in(here, para) for para in paras)


def far_lines(here: Studio, size: tuple[int, int]) -> list[str]:
    """The rows of the far view in a window of that size."""
    seen = draw_far_view(far_view(here.view, here.view.clocks), size[0] - 2, size[1] - 1)
    return ["".join(text for text, _ in row) for row in seen]


def stands_in(lines: list[str], name: str) -> bool:
    """Whether the sign and the name stand there, as text or drawn."""
    words, bare = f"! {name}", [line.strip() for line in lines]
    pictures = [[row.strip() for row in glyph_rows(words, high)] for high in HEIGHTS]
    return words in bare or any(all(row in bare for row in p) for p in pictures)


async def read_all(here: Studio, size: tuple[int, int]) -> set[str]:
    """Tread through the day; every caution is read off the screen the first time it stands so."""
    read_so: set[str] = set()
    for _ in range(400):
        if here.s.closed is not None:
            return read_so
        cares = here.view.now.cares
        if any(care.text not in read_so for care in cares):
            here.app.look_again()
            for care in cares:
                words = f"! {care.text}"
                await until(here.pilot, lambda words=words: words in cautions_on(here),
                            what=f"{words!r} read whole")
            read_so |= {care.text for care in cares}
            assert stands_in(far_lines(here, size), worst_hazard(cares)), cares
        here.go()
    raise AssertionError("the day never ended")


@pytest.mark.parametrize(("file", "size"), DAYS)
def test_each_caution_is_read_on_each_screen(file: Path, size: tuple[int, int]) -> None:
    """Whole at first, its short form later, never cut; the far view has sign and hazard."""

    async def work() -> None:
        text = file.read_text(encoding="utf-8")
        meant = read_recipe(text)
        # Two warm-ups come first, but for state proofs: each step is done twice at least.
        wanted = 2 if meant.proofing else 1
        async with on_the_bench(text, wanted=wanted, size=size) as here:
            seen = await read_all(here, size)
        steps = [step for step in meant.steps if step.care and not step.optional]
        assert {step.care for step in steps} <= seen
        again = {short_care(s) for s in steps if s.section == "each" and s.every is None}
        assert again <= seen

    run(work())


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_every_hazard_is_read_whole_and_short_on_each_screen(size: tuple[int, int]) -> None:
    """Each row of the table, on the inky side, over a long list of reminders."""
    steps = [f"{{do: Work {n}, hands: inky, time: 3/5/8 min, care: \"{hazard.full}\", lines: "
             "[one thing, another thing, a third thing, a fourth thing to keep in mind]}"
             for n, hazard in enumerate(HAZARDS, 1)]
    day = recipe(each=[*steps, "{do: Lay and pull, hands: clean, pulls: key}", LIFT])

    async def work() -> None:
        async with on_the_bench(day, wanted=2, size=size) as here:
            seen = await read_all(here, size)
        assert {hazard.full for hazard in HAZARDS} <= seen
        assert {hazard.short for hazard in HAZARDS} <= seen

    run(work())


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_the_far_view_has_the_sign_and_the_hazard_on_the_real_screen(
    size: tuple[int, int]
) -> None:
    """By its key, while the solvent is in the printer's hand."""
    day = recipe(each=["{do: Ink, hands: inky, care: \"Solvent harms; gloves, data sheet first\"}",
                       "{do: Lay and pull, hands: clean, pulls: key}", LIFT])

    async def work() -> None:
        async with on_the_bench(day, wanted=1, size=size) as here:
            await here.press("f2")
            await here.settled()
            assert stands_in(here.text.splitlines(), "SOLVENT"), here.text

    run(work())


def test_a_break_brings_the_whole_caution_back() -> None:
    """After a pause of three quarters of an hour it is read anew, whole."""
    care = "Solvent harms and burns; gloves, air, data sheet first."
    day = recipe(each=[f"{{do: Ink, hands: inky, care: \"{care}\"}}",
                       "{do: Lay and pull, hands: clean, pulls: key}", LIFT])
    b = Bench(day, wanted=3)

    def texts() -> tuple[CareView, ...]:
        return b.view.now.cares

    assert [c.text for c in texts()] == [care]
    b.until("Lift")
    b.until("Ink")
    assert [c.text for c in texts()] == ["Solvent harms: gloves, air"]
    b.say(a.Pause())
    b.advance(60)
    b.say(a.Resume())
    b.until("Lift")
    b.until("Ink")
    assert [c.text for c in texts()] == [care]


def test_a_wait_keeps_its_caution_on_the_screen() -> None:
    """Heat and etchant hurt while a wait runs, also beside other work of the hands."""
    heat = "Hot plate burns; lift with a pad, its label first."
    day = recipe(each=[f"{{do: Warm, hands: free, at: hot plate, time: 9 min, care: \"{heat}\"}}",
                       INK, "{do: Lay and pull, hands: clean, pulls: key}", LIFT])

    async def work() -> None:
        async with on_the_bench(day, wanted=1, size=(60, 20)) as here:
            await here.settled()
            assert f"! {heat}" in cautions_on(here)
            assert stands_in(far_lines(here, (60, 20)), "HOT PLATE")

    run(work())


def test_a_hot_plate_left_on_is_asked_again_before_the_day_closes() -> None:
    """And until somebody says that it is off, a step with spirit says: oil alone."""
    warm = "{do: Warm, hands: free, at: hot plate, time: 1 min, ends: itself}"
    off = "{do: Hot plate off, hands: clean, must: [turned off, left on]}"
    clean = "{do: Clean the plate, hands: inky, lines: [white spirit on a rag]}"
    day = recipe(each=[warm, INK, "{do: Lay and pull, hands: clean, pulls: key}", LIFT],
                 after=[off, clean])

    async def work() -> None:
        async with on_the_bench(day, wanted=1, size=(60, 20)) as here:
            here.until("Hot plate off")
            await here.shows("1  turned off")
            await here.press("2")
            await here.shows("Clean the plate", "The hot plate may still be on")
            await here.press("space", "space")
            await here.shows("Hot plate off", "1  turned off", "2  left on")
            await here.press("1")
            await here.shows("The session is closed")
            facts = [e.body["fact"] for e in here.entries("must answered")]
            assert facts == ["left on", "turned off"]

    run(work())
