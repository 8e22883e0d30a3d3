"""A plate's life over its days: numbers that count on, shares, tags that grew, and its drift."""

from __future__ import annotations

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.events.entry import Draft
from benchapp.reports.charts import ascii_chart
from benchapp.reports.json_form import json_values
from benchapp.reports.plate_life import plate_life
from benchapp.reports.reading_drift import drift_chart
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.fold import replay_entries
from tests.session.support import LIFT, MIN, PULL, WIPE, recipe

TEXT = recipe(each=(WIPE, PULL, LIFT),
              extra="readings: [{name: tone, unit: grade 1-5, at: Lift}]\n").replace(
                  "metal: copper,", "metal: copper, life: 60 impressions,")


def days(*grades: str) -> list:
    """Days one after the other, each sheet graded as said; a 1 or 2 is spoiled and tagged wear."""
    book, clock = Book.in_memory(), FakeClock()
    for row in grades:
        shop = SessionService(book, clock)
        shop.open_session("slack-water", TEXT, None, typed=True)
        for n, grade in enumerate(row, 1):
            for minutes in (10, 1.5, 4, 3):
                clock.advance(round(minutes * MIN))
                shop.do(a.GoOn())
            shop.do(a.TakeReading("tone", grade, None, n))
            shop.do(a.Judge("spoiled" if grade in "12" else "keep", n))
            if grade in "12":
                shop.do(a.Tag("wear", n))
        open_ = shop.room.session
        assert open_ is not None
        book.append([Draft(f"session/{open_.id}", "closed", {})], clock.now(), "close")
        clock.advance(24 * 60 * MIN)
    return [replay_entries(book.stream(r.stream)).sessions[r.id] for r in book.sessions()]


def test_a_plate_wears_over_its_days():
    """Three days from 5 down to 2: falling, the warm-ups left out, against a life of 60."""
    found = json_values(plate_life(days("5555554", "4444433", "3333222"), "key"))
    assert found["impressions"] == 21
    assert [(d["from"], d["to"]) for d in found["days"]] == [(1, 7), (8, 14), (15, 21)]
    (tone,) = found["drift"]
    assert tone["direction"] == "falling"
    assert tone["life"] == 60
    assert [n for n, _ in tone["values"]] == [3, 4, 5, 6, 7, 10, 11, 12, 13, 14,
                                              17, 18, 19, 20, 21]
    assert found["grown"] == [{"tag": "wear", "earlier": 0, "later": 3}]


def test_shares_come_with_their_interval():
    """Of 14 judged 12 are kept; the interval is Wilson's (scipy binomtest: .6006, .9599)."""
    (day, other) = json_values(plate_life(days("4444444", "4444422"), "key"))["days"]
    assert day["verdicts"]["kept_share"] == 1
    assert other["verdicts"]["spoiled"] == 2
    found = json_values(plate_life(days("4444444", "4444422"), "key"))["verdicts"]
    assert (found["keep"], found["spoiled"], found["not judged"]) == (12, 2, 0)
    assert round(found["kept_low"], 4) == 0.6006
    assert round(found["kept_high"], 4) == 0.9599


def test_what_it_gave_before_the_book_counts():
    """Thirty impressions before: the first here is the thirty-first."""
    found = json_values(plate_life(days("4444"), "key", before=30))
    assert (found["days"][0]["from"], found["impressions"]) == (31, 34)
    assert found["drift"][0]["sentence"] == "2 impressions with tone: too few to tell"


def test_another_plate_has_no_days():
    """Nothing is known of it."""
    assert json_values(plate_life(days("4"), "tone plate"))["impressions"] == 0


def test_its_chart_has_the_limit_by_name():
    """Grades stand between 1 and 5, with the line of what is no longer good."""
    (tone,) = plate_life(days("5544"), "key").drift
    lines = ascii_chart(drift_chart(tone), 60, 5)
    assert lines[-1] == "  - - no longer good 3"
    assert lines[2].startswith("5 +")
