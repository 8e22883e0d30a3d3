"""How long one action takes to be on disk, and a day to be read back."""

from __future__ import annotations

import sqlite3
import statistics
import time
from pathlib import Path

import pytest

from tests.book.samples import DAY, moment, note, opened, writing


def _bare(path: Path) -> float:
    """The median of as many one-row commits of SQLite alone, as durable as the book's."""
    file = sqlite3.connect(path, isolation_level=None)
    file.execute("PRAGMA journal_mode = wal")
    file.execute("PRAGMA synchronous = full")
    file.execute("CREATE TABLE row (number INTEGER PRIMARY KEY, text TEXT)")
    taken = []
    for n in range(1000):
        start = time.perf_counter()
        file.execute("BEGIN IMMEDIATE")
        file.execute("INSERT INTO row VALUES (?, ?)", (n, f"note {n}"))
        file.execute("COMMIT")
        taken.append(time.perf_counter() - start)
    file.close()
    return statistics.median(taken)


@pytest.mark.full
def test_an_action_is_on_disk_at_once(tmp_path: Path) -> None:
    """A one-entry action costs no more than ten times what the disk takes for a row.

    And entries are read quicker than they were written.
    """
    taken = []
    with writing(tmp_path / "book.db") as book:
        book.append([opened()], moment(), "open")
        for n in range(1000):
            start = time.perf_counter()
            book.append([note(f"note {n}")], moment(n), "note")
            taken.append(time.perf_counter() - start)
        start = time.perf_counter()
        replayed = book.entries([DAY], since=601)
        replay = time.perf_counter() - start
    bare = _bare(tmp_path / "bare.db")
    spread = statistics.quantiles(taken, n=100)
    print(f"action p50 {spread[49] * 1e3:.2f} ms, p99 {spread[98] * 1e3:.2f} ms; SQLite alone "
          f"p50 {bare * 1e3:.2f} ms; 400 entries read in {replay * 1e3:.1f} ms")
    assert len(replayed) == 400
    assert statistics.median(taken) < 10 * bare
    assert replay < sum(taken[-400:])
