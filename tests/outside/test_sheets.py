"""Sheets to damp against published values and scipy's laws."""

from __future__ import annotations

from fractions import Fraction
from itertools import islice
from math import isclose

import pytest

from benchapp.quantities import Percentage, read_percentage
from benchapp.reckon.sheets import Record, reckon_sheets
from benchapp.reckon.waiting import KnownRate, waiting_chances
from tests.outside.data import make_sheets
from tests.outside.data.kept import load


def percent(figure):
    """So many percent."""
    return Percentage(Fraction(figure, 100))


@pytest.mark.parametrize(
    ("good", "spoilage", "number"), [(20, "10 %", 25), (30, "15 %", 40), (10, "25 %", 17)]
)
def test_a_known_rate_at_95_percent(good, spoilage, number):
    """N 20, 30, 10 with .9, .85, .75 good: 25, 40, 17 sheets (scipy.stats.nbinom)."""
    answer = reckon_sheets(good, spoilage=read_percentage(spoilage), sure=percent(95))
    assert answer.json()["sheets"] == number


@pytest.mark.parametrize(
    ("good", "record", "sure", "number", "chance"),
    [(10, None, 90, 13, 0.9023), (25, Record(3, 60), 95, 29, 0.9527)],
)
def test_a_record_over_the_prior(good, record, sure, number, chance):
    """N 10 without a record, N 25 with 3 spoiled of 60 (scipy.stats.betabinom)."""
    found = reckon_sheets(good, sure=percent(sure), record=record).json()
    assert found["sheets"] == number
    assert round(found["chance"], 4) == chance


def test_the_third_strike_at_the_seventh_well():
    """r 3, p .2, 7th trial: 0.049152 (Penn State STAT 414, 11.6)."""
    whole, sums = waiting_chances(KnownRate(Fraction(8, 10)), 3)
    sixth, seventh = islice(sums, 3, 5)  # of 3, 4, 5, 6, 7 trials
    assert isclose((seventh - sixth) / whole, 0.049152, rel_tol=1e-12)


def test_a_coin_is_exactly_fair():
    """At 50 % spoiled, 63 good of 125 are just 50 % sure, by symmetry; a float may say 126."""
    answer = reckon_sheets(63, spoilage=percent(50), sure=percent(50)).json()
    assert (answer["sheets"], answer["chance"]) == (125, 0.5)


def differs(row):
    """Whether our answer to a question is another than scipy's."""
    if "percent" in row:
        answer = reckon_sheets(row["good"], sure=percent(row["sure"]),
                               spoilage=percent(row["percent"]))
    else:
        record = Record(row["spoiled"], row["pulled"])
        answer = reckon_sheets(row["good"], sure=percent(row["sure"]), record=record)
    found = answer.json()
    if found["chance"] == row["sure"] / 100 and found["sheets"] == row["sheets"] - 1:
        return False  # exactly as sure as asked, where scipy's float falls just short
    same = isclose(found["chance"], row["chance"], rel_tol=1e-11, abs_tol=1e-12)
    return found["sheets"] != row["sheets"] or not same


def test_random_questions_as_scipy_answers_them():
    """Six hundred questions, known rates and records, kept from scipy."""
    kept = load("sheets")
    assert len(kept) >= 500
    assert [row for row in kept if differs(row)] == []


@pytest.mark.full
def test_fresh_questions_as_scipy_answers_them():
    """Other questions, asked of scipy now."""
    pytest.importorskip("scipy", reason="scipy is not installed: pip install '.[reference]'")
    assert [row for row in make_sheets.rows(7, 600) if differs(row)] == []
