"""Every screen at four sizes: keys shown or paged, the way back always there, nothing cut."""

from __future__ import annotations

from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.safe_text import cell_width
from benchapp.screens.registry import SCREENS
from benchapp.screens.widgets.keys import MORE_KEY, KeyLine, key_pages, key_words
from benchapp.screens.widgets.numerals import Numerals
from benchapp.screens.widgets.rows import Rows
from benchapp.views.availability import specs_now
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.screens.days import one_day, screens, set_up, small, workshop
from tests.screens.support import until

SIZES: Final = ((80, 24), (120, 40), (60, 20), (40, 12))
#: The usual size and the smallest every time, those between with the heavy counts.
size_of = pytest.mark.parametrize("size", [
    size if size in (SIZES[0], SIZES[-1]) else pytest.param(size, marks=pytest.mark.full)
    for size in SIZES])
#: What each screen shows of its way back and of help, where it is not `esc` and `?`.
_OTHERWISE: Final = {"bench": ("Studio", "help"), "set-up": ("back",), "help": ("back",),
                     "studio": ("? help", "q leave"), "search": ("back",),
                     "new recipe": ("back",)}  # ? is a sign of the text there


# -- the keys at the foot ------------------------------------------------------------------


@given(st.lists(st.tuples(st.sampled_from("abcdefghijkl"),
                          st.text("abc ", min_size=1, max_size=20)),
                unique_by=lambda pair: pair[0]),
       st.integers(30, 120), st.integers(2, 4))
def test_no_key_is_left_out_of_the_pages(
    keys: list[tuple[str, str]], across: int, rows: int
) -> None:
    """Each stands on one page; the way back and help on all; no row is wider than there is room."""
    ends = [("escape", "back"), ("question_mark", "help")]
    pages = key_pages([*keys, *ends], across, rows)
    said = [[pair[0] for row in page for pair in row] for page in pages]
    assert all("esc" in page and "?" in page for page in said)
    assert sorted(x for page in said for x in page if x not in ("esc", "?", "F7")) == sorted(
        key for key, _ in keys)
    assert all(len(page) <= rows for page in pages) or across < 60
    assert all(sum(cell_width(k) + 1 + cell_width(w) for k, w in row) + 3 * (len(row) - 1) <= across
               for page in pages for row in page)
    assert all(("F7" in page) == (len(pages) > 1) for page in said)


def pages_seen(here: Studio) -> int:
    """How many pages the keys at the foot have."""
    line = here.app.screen.query_one(KeyLine)
    return len(line._pages(line.content_size.width))


async def all_keys(here: Studio) -> str:
    """Everything that stands at the foot, page after page, as it is on the glass."""
    seen = []
    for _ in range(pages_seen(here)):
        line = here.app.screen.query_one(KeyLine)
        region = line.region
        rows = here.text.splitlines()[region.y:region.bottom]
        assert region.bottom <= here.app.size.height
        assert not any("…" in row for row in rows), rows
        seen.append(" ".join(rows))
        await here.press(MORE_KEY)
        await here.settled()
    return " ".join(" ".join(seen).split())


@size_of
def test_lift_and_look_shows_its_count_its_mark_and_all_its_keys(size: tuple[int, int]) -> None:
    """Count and mark drawn where there is room, else in figures and words.

    Every key that does something now is shown or paged; help and the way back are on each page.
    """
    async def work() -> None:
        async with on_the_bench(small(), wanted=3, size=size) as here:
            await here.press("space", "space", "space")
            await here.settled()
            head = here.text.splitlines()[0]
            assert "counting 0 of 3" in head or "counting 0 · wanted 3" in head
            drawn = {name for name in ("counted", "mark")
                     for one in here.app.screen.query(f"#clean .{name}").results(Numerals)
                     if one.region.height >= 5}
            assert drawn == {"counted", "mark"} or size == (40, 12)
            if "counted" not in drawn:
                assert "0:00  Lift" in here.text
            assert "Pencil D1" in here.text
            room = here.shop.room
            assert room.session is not None
            wanted = [f"{key_words(spec.key or '')} {spec.word}"
                      for spec in specs_now(room, room.session, here.app.now())]
            foot = await all_keys(here)
            assert [x for x in (*wanted, "1-5 grade", "F2 far view") if x not in foot] == []
            assert foot.count("? help") == foot.count("esc Studio") == pages_seen(here)

    run(work())


# -- every other screen ----------------------------------------------------------------------


@size_of
@pytest.mark.parametrize("name", [x for x in SCREENS if x not in ("bench", "set-up")])
def test_every_screen_shows_its_keys_for_back_and_help(name: str, size: tuple[int, int]) -> None:
    """On a book with a day in it; on a low screen too, whatever else has to be paged."""
    shop, _, session = one_day(sheets=2)
    about = {"session": session} if name in ("impressions", "round", "review", "sort") else {}

    async def work() -> None:
        async with screens(shop, over="" if name == "studio" else name, size=size,
                           asking=False, **about) as here:
            line = here.app.screen.query_one(KeyLine)
            await until(here.pilot, lambda: line.region.height, what="keys at the foot")
            await until(here.pilot, lambda: "esc " in here.text or name == "studio",
                        what="the way back")
            text = " ".join(here.text.split())
            for words in _OTHERWISE.get(name, ("? help",)):
                assert words in text, (name, words)
            assert line.region.bottom <= size[1]

    run(work())


@size_of
def test_the_set_up_card_keeps_its_keys_on_a_low_screen(size: tuple[int, int]) -> None:
    """Its list gives way, the keys never."""
    async def work() -> None:
        shop, _ = workshop()
        async with set_up(shop, small(), size=size) as here:
            await here.shows("Set-up of", "esc open nothing", "a all as shown")

    run(work())


@size_of
@pytest.mark.parametrize("name", ["help", "preferences"])
def test_help_and_preferences_are_read_whole(name: str, size: tuple[int, int]) -> None:
    """They say which lines are seen of how many; page by page every line stands uncut."""
    shop, _, _ = one_day(sheets=1)

    async def work() -> None:
        async with screens(shop, over=name, size=size, asking=False) as here:
            rows = here.app.screen.query_one(Rows)
            lines = len(rows.rows)
            if lines > rows.size.height:
                await here.shows(f"of {lines} lines, page down")
            room = rows.size.width - 1  # the sign of more above or below
            cut = [line for row in rows.rows
                   if cell_width(line := "".join(text for text, _ in row.spans).rstrip())
                   + 2 * (row.id is not None) > room]
            assert cut == []
            await here.press("end")
            for _ in range(lines):
                await here.press("pagedown")
                if "page down" not in here.text:
                    break
            last = "".join(text for text, _ in rows.rows[-1].spans)
            await here.shows(last.strip()[-20:])

    run(work())


def test_what_to_pencil_is_said_uncut_on_a_narrow_screen() -> None:
    """Beside the count there is no room for where; no word is cut off the sentence."""
    text = small().replace("hands: clean, asks", "hands: clean, time: 3 min, asks")

    async def work() -> None:
        async with on_the_bench(text, size=(60, 20)) as here:
            await here.press("space", "space", "space")
            await here.shows("Pencil D1")
            assert "Pencil D1 on" not in here.text

    run(work())
