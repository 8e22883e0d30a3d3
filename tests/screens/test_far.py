"""The far view: what stands there, how large, when; in both themes and without colour."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.safe_text import SafeText, cell_width, sanitize
from benchapp.screens.angle import reach_mm
from benchapp.screens.far import Far, draw_far_view, far_heights
from tests.screens.bench_support import Studio, on_the_bench, run, wide_at_most
from tests.screens.contrast import LEAST, contrast
from tests.screens.support import colour_pairs
from tests.session.support import MIN, PULL, RAGS, recipe

DAY = recipe(
    before=["{do: Screws, hands: clean, time: 5/10/20 min}"],
    each=["{do: Ink, hands: inky, time: 3/5/8 min}",
          "{do: Warm the plate, hands: free, time: 10 min}",
          "{do: Wipe, hands: inky, time: 8/14/27 min}", PULL,
          "{do: Lift, hands: clean, time: 3 min, asks: [verdict]}"], after=[RAGS])
SHORTS = ["WIPE", "LAY AND PULL", "KEY THROUGH", "INK AND WIPE", "HEAT OFF", "PLATE CLEAN", "WASH"]


def far(name: str, count: str = "12:05", hands: str = "INKY", clock: str = "-0:30") -> Far:
    """What is said, with a clock beside."""
    return Far(name, sanitize(name.capitalize()), count, hands, clock, sanitize("6 sheets resting"))


@pytest.mark.parametrize("name", SHORTS)
@pytest.mark.parametrize("size", [(78, 23), (118, 39)])
def test_all_four_are_five_rows_high_where_a_terminal_has_its_usual_size(
    name: str, size: tuple[int, int]
) -> None:
    """What to do, count, hands and the other clock: 80 × 24 carries 5 m, 120 × 40 too."""
    found = far_heights(far(name), *size)
    assert min(found.name, found.count, found.hands, found.clock) >= 5
    assert reach_mm(found.least, 5.0) > 5_000


def test_a_larger_window_draws_larger() -> None:
    """Twice the rows, twice the size of what counts first."""
    small, large = (far_heights(far("WIPE"), *size) for size in ((78, 23), (118, 39)))
    assert (small.count, large.count, large.name) == (5, 10, 10)


@pytest.mark.parametrize("size", [(78, 23), (98, 29), (118, 39)])
def test_plate_and_ink_have_a_row_where_nothing_drawn_gives_way(size: tuple[int, int]) -> None:
    """A size smaller is drawn for it; what would not be drawn at all goes first."""
    for name in ("TONE", "KEY", "INK", "INK AND WIPE"):
        plain, told = far(name), replace(far(name), told=SafeText("Tone plate, dusk blue"))
        small, large = far_heights(told, *size), far_heights(plain, *size)
        assert [h > 0 for h in (small.name, small.count, small.hands, small.clock)] == [
            h > 0 for h in (large.name, large.count, large.hands, large.clock)]
        rows = ["".join(t for t, _ in row) for row in draw_far_view(told, *size)]
        assert "Tone plate, dusk blue" in rows or (name, size) == ("INK AND WIPE", (78, 23))


def test_where_not_all_fit_the_count_stays_first_then_what_to_do() -> None:
    """In a small window the rest is plain text, and still there."""
    what = far("WIPE", clock="")
    assert (far_heights(what, 78, 12).count, far_heights(what, 78, 12).name) == (5, 5)
    assert far_heights(what, 78, 8).count == 5
    text = "\n".join("".join(t for t, _ in row) for row in draw_far_view(far("WIPE"), 40, 9))
    assert "Wipe" in text
    assert "-0:30 6 sheets resting" in text


@given(st.text("ABCDEFGHIKLMNOPRSTUW &", max_size=12), st.sampled_from(
    ["", "0:05", "12:05", "≈1:12:05", "-100:00"]), st.sampled_from(["INKY", "CLEAN"]),
    st.sampled_from(["", "9:59", "-1:00:00"]), st.integers(10, 130), st.integers(3, 45))
def test_nothing_is_ever_wider_or_higher_than_the_room(
    name: str, count: str, hands: str, clock: str, columns: int, lines: int
) -> None:
    """Whatever is said, in whatever window; the words of the hands never go missing."""
    name = " ".join(name.split())
    what = far(name, count, hands, clock)
    seen = draw_far_view(what, columns, lines)
    assert len(seen) <= lines
    assert all(cell_width(SafeText("".join(t for t, _ in row))) <= max(columns, 12) for row in seen)
    if lines >= 7:
        assert any(role == "hands" for row in seen for _, role in row)


def far_on(here: Studio) -> bool:
    """Whether the far view stands: the line of what comes next does not."""
    return bool(here.app.screen.query_one("#far").display) and "Next:" not in here.text


def test_the_far_view_comes_by_its_key_and_goes_by_it() -> None:
    """Also with inky hands; treads go on under it; a fact is read near."""

    async def by_key() -> None:
        async with on_the_bench(DAY, wanted=1) as here:
            assert not far_on(here)
            await here.press("f2")
            assert far_on(here)
            await here.press("space")
            assert (here.hands, far_on(here)) == ("inky", True)
            before = here.book.last_sequence()
            await here.press("f2")
            assert not far_on(here)
            assert here.book.last_sequence() == before
            await here.press("f2")
            while not here.view.now.must:
                assert far_on(here)
                here.clock.advance(MIN)
                await here.press("space")
            await here.shows("1  in the can")
            assert not far_on(here)

    run(by_key())


def test_by_itself_it_stands_while_hands_are_inky() -> None:
    """It comes with the ink and goes with the wash; the key holds until the hands turn."""

    async def by_itself() -> None:
        async with on_the_bench(DAY, far_view="by itself") as here:
            await here.settled()
            assert not far_on(here)
            for _ in range(2):
                while here.hands == "clean":
                    await here.press("space")
                await here.settled()
                assert far_on(here)
                while here.hands == "inky":
                    await here.press("space")
                await here.settled()
                assert not far_on(here)
            while here.hands == "clean":
                await here.press("space")
            await here.settled()
            await here.press("f2")
            await here.settled()
            assert not far_on(here)

    run(by_itself())


@pytest.mark.parametrize(("size", "theme"), [
    ((80, 24), "light"), ((120, 40), "dark"),
    pytest.param((80, 24), "dark", marks=pytest.mark.full),
    pytest.param((120, 40), "light", marks=pytest.mark.full)])
def test_it_is_legible_and_fits(size: tuple[int, int], theme: str) -> None:
    """Contrast of 7:1 for its text, no line too wide, a calling clock named in words."""

    async def look() -> None:
        async with on_the_bench(DAY, size=size, theme=theme, far_view="by itself") as here:
            await here.press("space", "space")
            here.clock.advance(11 * MIN)
            await here.settled()
            assert far_on(here)
            await here.shows("▶ CALLS ▶ Warm the plate")
            assert wide_at_most(here.text, size[0])
            pairs = [pair for pair, text in colour_pairs(here.app).items()
                     if any(map(str.isalnum, text))]
            assert min(contrast(*pair) for pair in pairs) >= LEAST

    run(look())
