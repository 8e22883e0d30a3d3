"""How long the editions of years are read: a command about one number should not be waited for."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.service.editions import EditionService
from tests.speed.ten_years import make

SESSIONS = 150


@pytest.mark.full
def test_the_editions_of_thousands_of_sheets_are_read_at_once(tmp_path: Path) -> None:
    """3,000 impressions, half of them numbered and signed: less than a third of the time that
    folding every day takes."""
    path = tmp_path / "years.book"
    make(path, SESSIONS)
    with Book.open(path, write=True) as book:
        book.derive()
    with Book.reading(path) as book:
        start = time.perf_counter()
        editions = EditionService(book, FakeClock())
        sheets = editions.register.sheets
        load = time.perf_counter() - start
        start = time.perf_counter()
        for day in editions.days[:5]:
            assert editions.session(day.row.id) is not None
        fold = (time.perf_counter() - start) / 5
    print(f"{len(sheets)} impressions of {SESSIONS} sessions in {load * 1e3:.0f} ms; "
          f"a session folded in {fold * 1e3:.1f} ms")
    assert len(sheets) == 20 * SESSIONS
    assert load < SESSIONS * fold / 3
