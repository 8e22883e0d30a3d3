"""The told-in-figures parts of a review: drift first, the day by place, time, what followed."""

from __future__ import annotations

from typing import Any

from benchapp.reports.review import Review, review_session
from benchapp.reports.review_day import DayBar, DayChart, DayRow
from benchapp.reports.review_times import time_blocks
from benchapp.safe_text import cell_width, sanitize
from benchapp.screens.block_rows import render_rows
from benchapp.screens.day_drawing import timeline_rows
from benchapp.screens.review import review_rows
from benchapp.session import actions as a
from tests.screens.days import closed, opened, printed, run, screens, shipped, workshop
from tests.screens.test_review import text_of


def graded(grades: str, recipe: str = "weigh-house") -> tuple[Any, str]:
    """A day of so many sheets with those grades of tone; salty is gone after the third."""
    shop, clock = workshop()
    session = opened(shop, shipped(recipe), wanted=len(grades))
    for n, grade in enumerate(grades, 1):
        printed(shop, clock, n)
        shop.do(a.TakeReading("tone", grade, "grade 1-5", n))
        if n in (2, 3):
            shop.do(a.Tag("salty", n))
        if n == 3:
            shop.do(a.Set("left side", "3.25 turns"))
    closed(shop, clock)
    return shop, session


def read(shop: Any, session: str) -> Review:
    """That session, read back."""
    return review_session(shop.book.entries(
        streams=[f"session/{session}", *shop.book.streams("pack")]), session)


def test_the_sentence_stands_first_then_the_row_of_grades_then_the_chart() -> None:
    """Plain words before any figure; every grade beside the chart; no line over 76 cells."""
    lines = text_of(review_rows(read(*graded("554443332211")))).splitlines()
    said = next(n for n, line in enumerate(lines) if line.startswith("! Tone is falling"))
    row = next(n for n, line in enumerate(lines) if line.startswith("3: 4"))
    drawn = next(n for n, line in enumerate(lines) if "no longer good 3" in line)
    assert said < 6 < row < drawn
    # Two warm-ups by rule are no part of it: the grades of sheets 3 to 12 are.
    assert " ".join(lines[row : row + 2]).split() == [
        "3:", "4", "4:", "4", "5:", "4", "6:", "3", "7:", "3", "8:", "3", "9:", "2", "10:", "2",
        "11:", "1", "12:", "1"]
    assert max(cell_width(sanitize(line)) for line in lines) <= 76


def test_few_grades_say_so_and_mark_nothing() -> None:
    """Three are too few to tell, and no sign calls for a look."""
    text = text_of(review_rows(read(*graded("432"))))
    assert "1 impression with tone: too few to tell" in text
    assert "! " not in text


def test_a_change_stands_with_what_was_seen_and_claims_no_more() -> None:
    """The screw after sheet 3, and the tag that was there before it."""
    text = text_of(review_rows(read(*graded("44444"))))
    assert "left side 3.25 turns after 3; salty in 2 and 3, not since" in text
    assert "(no proof)" in text


def test_the_day_has_a_row_for_the_hands_and_one_a_place() -> None:
    """Times of day over them, and each impression by its number where it began."""
    rows = text_of(timeline_rows(read(*graded("444")).day_chart, 76)).splitlines()
    assert rows[0].split()[:3] == ["╷10:00", "╷10:30", "╷11:00"]
    by_name = {line[:12].strip(): line[13:] for line in rows[1:-1]}
    assert set(by_name) == {"hands", "press", "slab", "hot plate", "in the water"}
    numbers = [word.strip("─━") for word in by_name["press"].split()]
    assert [n for n in numbers if n] == ["1", "2", "3", "4"]
    assert by_name["in the water"].strip().strip("━") == ""


def day(*bars: tuple[str, str | None, int | None], seconds: float = 3600) -> DayChart:
    """A day from ten with these bars of the hands."""
    at = "2026-05-03T{}:00+02:00".format
    return DayChart(at("10:00"), seconds, (DayRow("hands", tuple(
        DayBar(at(a), None if b is None else at(b), "ink", n) for a, b, n in bars)),))


def test_bars_lie_where_their_times_are() -> None:
    """An hour over sixty cells: a cell a minute; what runs still goes to the end."""
    rows = text_of(timeline_rows(day(("10:10", "10:20", None), ("10:30", None, 7)), 74))
    line = rows.splitlines()[1][13:]
    assert line == " " * 10 + "━" * 10 + " " * 10 + "7" + "─" * 29


def test_a_bar_of_no_length_or_from_before_the_day_is_a_cell_at_least() -> None:
    """Paper put in the evening before, a wait of a moment, a clock that was set back."""
    for bar in (("08:00", "09:00", None), ("10:30", "10:30", None), ("10:30", "10:10", None),
                ("12:00", "12:30", None)):
        line = text_of(timeline_rows(day(bar), 74)).splitlines()[1][13:]
        assert line.count("━") == 1


def test_an_empty_day_has_no_rows_by_place() -> None:
    """Nothing ran, so nothing is drawn."""
    assert timeline_rows(day(seconds=0), 76) == []


def test_slow_and_quick_steps_bear_a_sign_beside_the_recipes_time() -> None:
    """Every step takes four minutes here: the hot plate is said to take one, the ink twenty."""
    lines = text_of(render_rows(time_blocks(read(*graded("44"))), 76)).splitlines()
    assert lines[0].startswith("The day, ")
    plate = next(line for line in lines if line.startswith("Hot plate on"))
    ink = next(line for line in lines if line.startswith("Mix and temper"))
    assert "▲ +3 min" in plate
    assert "▽ -16 min" in ink
    assert lines[-1] == "▲ above the recipe's high   ▽ below its low"
    assert plate.split()[3:8] == ["1", "4", "min", "1", "min"]


def test_it_is_readable_at_80_by_24_without_colour() -> None:
    """The sentence with its sign and the day stand in the plain text of the first screen."""
    shop, session = graded("554443332211")

    async def work() -> None:
        async with screens(shop, over="review", session=session) as here:
            await here.shows("! Tone is falling", "The day, place by place", "hands", "press",
                             "Where the time went", "▲ +3 min")

    run(work())
