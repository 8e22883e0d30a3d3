"""A long book is searched, read back and taken in without waiting: ratios to a book of one day."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.commands.looking import read_whole
from benchapp.papers.reading import EARLIER, lives_of
from tests.speed import ten_years
from tests.speed.ten_years import make

#: Half a year of the ten: what takes long would show by its ratio.
SESSIONS = 250


def took(work: Callable[[], object], times: int = 5) -> float:
    """The middle of some runs, in seconds of this process."""
    found = []
    for _ in range(times):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return statistics.median(found)


@pytest.mark.full
def test_search_and_review_in_a_long_book(tmp_path: Path):
    """Reading a session back does not grow with the book; a key of a search stays under 150 ms."""
    for name, sessions in (("one", 1), ("long", SESSIONS)):
        make(tmp_path / name, sessions)
    with Book.reading(tmp_path / "one") as one, Book.reading(tmp_path / "long") as long:
        back = [took(lambda b=b: read_whole(b, b.sessions()[-1])) for b in (one, long)]
        finder = long.finder()
        keys = {w: took(lambda w=w: finder.find(w, most=50))
                for w in ("s", "salty", "heron", "salty lunch", "no such word")}
        ready = took(long.finder)
    print(f"review {back[0] * 1e3:.0f} ms in a book of one day, {back[1] * 1e3:.0f} in one of "
          f"{SESSIONS}; search ready in {ready * 1e3:.0f} ms, "
          + ", ".join(f"{w} {t * 1e3:.1f} ms" for w, t in keys.items()))
    assert back[1] < 2 * back[0] + 0.02
    assert max(keys.values()) < 0.15


@pytest.mark.full
def test_days_of_one_print(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """A day is set against a few before it, however many there are; a life takes its days' time."""
    monkeypatch.setattr(ten_years, "PRINTS", 1)
    monkeypatch.setattr(ten_years, "SESSIONS", 8 * (EARLIER + 1))
    for name, sessions in (("few", EARLIER + 1), ("many", 8 * (EARLIER + 1))):
        make(tmp_path / name, sessions)
    with Book.reading(tmp_path / "few") as few, Book.reading(tmp_path / "many") as many:
        back = [took(lambda b=b: read_whole(b, b.sessions()[-1])) for b in (few, many)]
        lives = [took(lambda b=b: lives_of(b, b.sessions()[-1]), 3) for b in (few, many)]
    print(f"review {back[0] * 1e3:.0f} ms with {EARLIER} days before it, {back[1] * 1e3:.0f} with "
          f"{8 * EARLIER + 7}; life {lives[0] * 1e3:.0f} and {lives[1] * 1e3:.0f} ms")
    assert back[1] < 2 * back[0] + 0.02
    # Every pair of readings is looked at, so it is a little more than eight times as long.
    assert lives[1] < 20 * lives[0] + 0.1
