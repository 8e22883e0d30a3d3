"""How long a day of treads takes, and that the day's length does not slow the next tread."""

from __future__ import annotations

import statistics
import time

import pytest

import benchapp.session.fold as fold
from benchapp.session import actions as a
from tests.session.support import SCREWS, SOAK, WIPE, Bench, recipe

LONG_DAY = recipe(before=[SCREWS], damp=SOAK, each=(
    "{do: Ink, hands: inky, time: 5 min}", WIPE,
    "{do: Pull, hands: clean, at: press, time: 4 min, pulls: key}",
    "{do: Lift, hands: clean, time: 3 min, asks: [verdict, tags, note]}"))


def _day(treads: int) -> tuple[Bench, list[float]]:
    """So many treads of a day without end, two minutes apart, and the seconds each kept us busy."""
    b, taken = Bench(LONG_DAY), []
    for _ in range(treads):
        b.clock.advance(120_000)
        start = time.process_time()
        b.shop.tick()
        b.go()
        taken.append(time.process_time() - start)
    return b, taken


@pytest.mark.full
def test_two_thousand_treads_take_less_than_ten_seconds():
    """Over 300 sheets, with time passing before each: and the last are not much slower."""
    b, taken = _day(2_000)
    first, last = statistics.median(taken[100:300]), statistics.median(taken[-200:])
    print(f"{sum(taken):.1f} s in all for {len(b.sheets)} sheets; a tread {first * 1e3:.2f} ms at "
          f"first, {last * 1e3:.2f} ms at last")
    assert sum(taken) < 10
    assert last < 5 * first


def test_a_day_is_folded_anew_once_for_a_take_back(monkeypatch):
    """Deciding it folds nothing: the journal is gone through when the entry is in the book."""
    b, _ = _day(100)
    folded = []
    whole = fold._fold

    def counted(*args):
        folded.append(len(args[0]))
        return whole(*args)

    monkeypatch.setattr(fold, "_fold", counted)
    entries = len(b.room.journal)
    b.say(a.TakeBack())
    assert folded == [entries + 1]
