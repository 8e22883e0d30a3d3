"""Sheets to damp: what holds of every answer, how it is said, what is refused."""

from __future__ import annotations

from fractions import Fraction
from itertools import islice

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities import Percentage, read_percentage
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.sheets import Record, reckon_sheets
from benchapp.reckon.waiting import FromRecord, KnownRate, waiting_chances


def percent(figure):
    """So many percent."""
    return Percentage(Fraction(figure, 100))


goods = st.integers(1, 60)
surely = st.integers(1, 99)
rates = st.integers(0, 70)


@st.composite
def records(draw):
    """A record of up to 200 sheets, at most half of them spoiled."""
    pulled = draw(st.integers(0, 200))
    return Record(draw(st.integers(0, pulled // 2)), pulled)


@given(goods, surely, records())
def test_the_number_is_enough_and_one_fewer_is_not(good, sure, record):
    """The chance with it is as asked; by the same law one sheet fewer falls short."""
    found = reckon_sheets(good, sure=percent(sure), record=record).json()
    law = FromRecord(1 + record.spoiled, 9 + record.pulled - record.spoiled)
    whole, sums = waiting_chances(law, good)
    chances = [Fraction(t, whole) for t in islice(sums, found["sheets"] - good + 1)]
    assert chances[-1] >= Fraction(sure, 100) - Fraction(1, 2**200)
    assert len(chances) == 1 or chances[-2] < Fraction(sure, 100)


@given(goods, surely, rates)
def test_more_wanted_surer_or_worse_never_takes_fewer(good, sure, rate):
    """The number grows with the good ones wanted, with certainty and with spoilage."""

    def number(good, sure, rate):
        return reckon_sheets(good, sure=percent(sure), spoilage=percent(rate)).json()["sheets"]

    here = number(good, sure, rate)
    assert here >= good
    assert number(good + 1, sure, rate) > here
    assert number(good, min(99, sure + 5), rate) >= here
    assert number(good, sure, rate + 5) >= here


@given(goods, rates)
def test_each_further_sheet_adds_what_is_said(good, rate):
    """The chances of further sheets are those of the law, and never fall."""
    found = reckon_sheets(good, sure=percent(80), spoilage=percent(rate)).json()
    chances = [found["chance"], *(f["chance"] for f in found["further"])]
    assert chances == sorted(chances)
    whole, sums = waiting_chances(KnownRate(Fraction(rate, 100)), good)
    start = found["sheets"] - good
    assert [t / whole for t in islice(sums, start, start + 4)] == pytest.approx(chances, rel=1e-12)


def test_a_chance_that_is_just_what_was_asked_is_enough():
    """Nine of ten at 90 %: one sheet does, although .9 is no float."""
    assert reckon_sheets(1, sure=percent(90), spoilage=percent(10)).json()["sheets"] == 1
    assert reckon_sheets(2, sure=percent(81), spoilage=percent(10)).json()["sheets"] == 2


def test_the_sentence_is_one_a_printer_would_say():
    """Number, chance, good ones, what one more adds; the chance is never rounded up."""
    answer = reckon_sheets(25, sure=percent(95), record=Record(3, 60, 4))
    assert answer.sentence == "29 sheets: 95 % for 25 good; a further sheet +2 %"
    assert answer.lines(why=True)[:4] == [
        "29 sheets: 95 % for 25 good; a further sheet +2 %.",
        "  good impressions wanted 25 (given)",
        "  how sure 95 % (given)",
        "  this print's record 3 spoiled of 60 (learnt from your own sessions: 4 sessions)",
    ]


def test_warm_ups_are_added_and_shown():
    """Two more sheets, said as such; bare figures get none."""
    answer = reckon_sheets(10, warm_ups=2)
    assert answer.sentence.startswith("15 sheets, 2 of them to warm up: 90 % for 10 good")
    found = answer.json()
    assert (found["sheets"], found["for_good"], found["warm_ups"]) == (15, 13, 2)
    assert reckon_sheets(10).json()["sheets"] == 13


def test_a_given_rate_says_what_the_own_record_would():
    """The printer's own figure decides; what was learnt stands beside it."""
    answer = reckon_sheets(25, sure=percent(95), spoilage=percent(10), record=Record(3, 60))
    assert answer.json()["sheets"] == reckon_sheets(
        25, sure=percent(95), spoilage=percent(10)).json()["sheets"]  # fmt: skip
    assert (
        "This print's own record (3 spoiled of 60) would say 29, without warm-ups" in answer.notes
    )


def test_nothing_spoiled_needs_no_more():
    """At 0 % as many sheets as good ones, and a further one adds nothing."""
    answer = reckon_sheets(12, spoilage=percent(0))
    assert answer.sentence == "12 sheets: 100 % for 12 good; no further one adds anything"


@pytest.mark.parametrize(
    ("good", "how", "figure", "said"),
    [
        (0, {}, "good", "ask for 1 to 5000"),
        (5001, {}, "good", "ask for 1 to 5000"),
        (10, {"sure": "100 %"}, "sure", "no number of sheets is 100 % sure"),
        (10, {"sure": "0 %"}, "sure", "more than 0 % and less than 100 %"),
        (10, {"spoilage": "100 %"}, "spoilage", "100 % spoiled leaves no good sheet"),
        (5000, {"spoilage": "90 %"}, "sure", "it would take more than 20000 sheets; with 20000"),
        (10, {"warm_ups": -1}, "warm-ups", "give 0 or more"),
    ],
)
def test_what_cannot_be_reckoned_is_said_with_what_can(good, how, figure, said):
    """Each refusal names the figure, and what would be possible."""
    how = {k: read_percentage(v) if isinstance(v, str) else v for k, v in how.items()}
    with pytest.raises(ReckonError) as refused:
        reckon_sheets(good, **how)
    assert refused.value.figure == figure
    assert said in str(refused.value)


def test_a_record_that_cannot_be_is_refused():
    """More spoiled than pulled; a count below nothing."""
    with pytest.raises(ReckonError, match="61 spoiled of 60 cannot be; give at most 60"):
        Record(61, 60)
    with pytest.raises(ReckonError, match="below 0"):
        Record(-1, 60)
