"""How long a day of treads takes, and that the day's length does not slow the next tread."""

from __future__ import annotations

import statistics
import time
from pathlib import Path

import pytest

import benchapp.session.fold as fold
from benchapp import plain
from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.reports.review import review_session
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.session.support import SCREWS, SOAK, WIPE, Bench, recipe

RECIPES = Path(__file__).parents[2] / "recipes"
LONG_DAY = recipe(before=[SCREWS], damp=SOAK, each=(
    "{do: Ink, hands: inky, time: 5 min}", WIPE,
    "{do: Pull, hands: clean, at: press, time: 4 min, pulls: key}",
    "{do: Lift, hands: clean, time: 3 min, asks: [verdict, tags, note]}"))


def _treads(b: Bench, count: int) -> list[float]:
    """So many treads, two minutes apart, and the seconds each kept us busy."""
    taken = []
    for _ in range(count):
        b.clock.advance(120_000)
        start = time.process_time()
        b.shop.tick()
        b.go()
        taken.append(time.process_time() - start)
    return taken


@pytest.mark.full
def test_the_last_of_two_thousand_treads_are_not_much_slower():
    """Over 300 sheets, with time passing before each.

    A day begun anew is gone through in turns with the end of the long one, so that a machine
    that is busy with something else for a while is as slow for both.
    """
    long, fresh = Bench(LONG_DAY), Bench(LONG_DAY)
    before = sum(_treads(long, 1_800))
    _treads(fresh, 100)
    last, first = [], []
    for _ in range(20):
        last += _treads(long, 10)
        first += _treads(fresh, 10)
    in_all = before + sum(last)
    slow, quick = statistics.median(last), statistics.median(first)
    print(f"{in_all:.1f} s in all for {len(long.sheets)} sheets; a tread {quick * 1e3:.2f} ms at "
          f"first, {slow * 1e3:.2f} ms at last")
    assert slow < 8 * quick


class TimedLines:
    """Empty lines to the session by lines; the seconds each kept us busy."""

    def __init__(self, count: int) -> None:
        self.left, self.taken = count, []
        self._began: float | None = None

    def take(self) -> str | None:
        now = time.process_time()
        if self._began is not None:
            self.taken.append(now - self._began)
        self.left -= 1
        self._began = time.process_time()
        return "" if self.left >= 0 else None

    def give(self, text: str) -> None:
        pass


@pytest.mark.full
def test_the_last_of_two_thousand_empty_lines_are_not_much_slower():
    """An endless day by lines: a line late in it is answered about as soon as an early one."""
    clock, book = FakeClock(), Book.in_memory()
    lines = TimedLines(2_000)
    text = (RECIPES / "weigh-house.yaml").read_text(encoding="utf-8")
    assert plain.run_plain(SessionService(book, clock), lines, "weigh-house", text, None) == 0
    quick, slow = statistics.median(lines.taken[100:400]), statistics.median(lines.taken[-300:])
    told = review_session(book.entries(), book.sessions()[0].id)
    print(f"{sum(lines.taken):.1f} s in all for {told.pulled} sheets; a line {quick * 1e3:.2f} "
          f"ms at first, {slow * 1e3:.2f} ms at last")
    assert len(lines.taken) == 2_000
    assert told.pulled > 200
    assert slow < 8 * quick


def test_a_day_is_folded_anew_once_for_a_take_back(monkeypatch):
    """Deciding it folds nothing: the journal is gone through when the entry is in the book."""
    b = Bench(LONG_DAY)
    _treads(b, 100)
    folded = []
    whole = fold._fold

    def counted(*args):
        folded.append(len(args[0]))
        return whole(*args)

    monkeypatch.setattr(fold, "_fold", counted)
    entries = len(b.room.journal)
    b.say(a.TakeBack())
    assert folded == [entries + 1]
