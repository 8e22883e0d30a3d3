"""The Bench's one quiet line about a reading that moves: said where found, else nothing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from benchapp.history import drift
from benchapp.history.drift import drift_line, drift_readings, reading_figure
from benchapp.reckon import trend as trend_module
from benchapp.reckon.answer import Answer
from benchapp.reckon.trend import Point
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.state import Session
from benchapp.views.bench import bench_view
from benchapp.views.status import status_lines
from tests.screens.days import on_bench, opened, printed, run, screens, small, workshop

#: Two warm-ups by rule come first; of the eight after them each pair is one worse.
FALLING = "5555443322"


def graded(grades: str, *, more: str = "", name: str = "tone") -> tuple[SessionService, Session]:
    """A session of so many sheets with those grades."""
    shop, clock = workshop()
    opened(shop, small() + more)
    for n, grade in enumerate(grades, 1):
        printed(shop, clock, n)
        shop.do(a.TakeReading(name, grade, "grade 1-5", n))
    return shop, on_bench(shop)


def test_a_tone_that_falls_is_one_line_that_fits_the_screen() -> None:
    """By the eighth sheet of the edition it is found; the line fits 78 cells."""
    _, s = graded(FALLING)
    line = drift_line(s)
    assert line is not None
    assert line.startswith("Tone is falling")
    assert "reached 3 near" in line
    assert len(line) <= 78


@pytest.mark.parametrize("grades", ["555544332", "4444444444", "4345345434"])
def test_few_level_and_scattered_grades_are_not_spoken_of(grades: str) -> None:
    """Seven in the edition, ten alike, ten without direction: no line."""
    assert drift_line(graded(grades)[1]) is None


@pytest.mark.parametrize("more", ["varied: true\n", "proofing: {for: WP}\n"])
def test_it_is_off_where_sheets_are_not_to_be_alike(more: str) -> None:
    """The same grades while proofing or in a varied edition say nothing."""
    _, s = graded(FALLING, more=more)
    assert s.recipe.varied or s.recipe.proofing is not None
    assert drift_line(s) is None


def test_the_same_figures_are_reckoned_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Looked at a hundred times, the eight of the edition are reckoned once."""
    _, s = graded(FALLING, name="sharpness")
    asked: list[int] = []

    def trend(name: str, points: Sequence[Point], **about: Any) -> Answer:
        asked.append(len(points))
        return trend_module.reading_trend(name, points, **about)

    monkeypatch.setattr(drift, "reading_trend", trend)
    drift._answer.cache_clear()
    for _ in range(100):
        drift_line(s)
    assert asked == [8]


def test_a_sheet_read_again_counts_with_its_last_figure() -> None:
    """Two figures on one sheet are one value, not a fault."""
    shop, _ = graded("44444")
    shop.do(a.TakeReading("tone", "2", "grade 1-5", 4))
    points = drift_readings(on_bench(shop), "tone")
    assert [(p.n, p.value) for p in points] == [(3, 4.0), (4, 2.0), (5, 4.0)]


@pytest.mark.parametrize("text", ["9" * 400, "-" + "9" * 5000, "nan", "inf", "²", "+-3", ""])
def test_what_is_no_number_stays_as_it_was_written(text: str) -> None:
    """Also what only looks like one, or is larger than numbers go."""
    assert reading_figure(text) == text


def test_it_stands_on_the_bench() -> None:
    """One line, quiet, while it is so."""
    shop, _ = graded(FALLING)

    async def work() -> None:
        async with screens(shop, "bench") as here:
            await here.press("f9")
            await here.shows("Tone is falling since about impression")

    run(work())
    shown = bench_view(shop.room, shop.now())
    assert shown is not None
    assert shown.drift == drift_line(on_bench(shop))


def test_it_stands_in_the_status_of_the_plain_lines() -> None:
    """Whoever works by lines reads the same sentence."""
    shop, s = graded(FALLING)
    assert drift_line(s) in status_lines(shop.room, shop.now())
