"""A long book is searched, read back and taken in without waiting: ratios to a book of one day."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.commands.looking import read_whole
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
