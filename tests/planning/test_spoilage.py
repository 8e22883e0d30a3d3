"""A plan for so many good prints reckons with those that are spoiled on the way."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date

import pytest

from benchapp.history.stats import NOTHING
from benchapp.planning.checklist import make_checklist
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.question import DayQuestion, Known, Zero, plan_asked_day
from benchapp.planning.spoilage import spread_counts
from benchapp.recipe.reader import read_recipe
from benchapp.reckon.sheets import Record
from benchapp.reports.json_form import json_values
from benchapp.reports.plan_report import plan_report
from benchapp.reports.plan_text import plan_sentence
from tests.planning.plans import WORKED

DAMPED = WORKED.replace("wash: 0 min", "paper: {name: rag, weight: 300 g/m2, damp: "
                        "{method: soak, soak: 20 min, rest: 20 min, pack: 6, handling: 3 min}}\n"
                        "wash: 0 min")
ASKED = DayQuestion(read_recipe(DAMPED), Zero(date(2026, 5, 3), 9 * 60, UTC), wanted=10)


def planned(asked: DayQuestion, known: Known) -> PlannedDay:
    """The day as it is planned while a printer waits: what is spoiled is reckoned the same way."""
    return plan_asked_day(asked, known, thorough=False)


@pytest.mark.parametrize(("record", "good", "sure", "sheets"), [
    (Record(0, 0), 10, .90, 13), (Record(3, 60), 25, .95, 29),
])
def test_counts_are_spread_as_the_law_says(record, good, sure, sheets):
    """Their quantiles are scipy's for the beta-binomial (scipy.stats.betabinom)."""
    counts = sorted(spread_counts(record, good, 4000))
    assert counts[round(sure * 4000)] == sheets
    assert spread_counts(record, good, 400) == spread_counts(record, good, 400)


def test_the_interval_of_a_wanted_number_holds_what_is_spoiled():
    """Who spoils a third ends later, less surely, and is told how many that are."""
    without = planned(ASKED, Known())
    clean = planned(ASKED, Known(record=Record(0, 200)))
    third = planned(ASKED, Known(record=Record(20, 60)))
    assert clean.spoiled is None
    assert third.interval[1] > without.interval[1] + 60 * 60
    assert abs(clean.interval[1] - without.interval[1]) < 10 * 60
    assert third.spoiled is not None
    assert third.spoiled.count in (4, 5)
    assert f"With {third.spoiled.count} spoiled, by " in plan_sentence(third)
    late = replace(ASKED, until=24 * 60)
    assert planned(late, Known(record=Record(20, 60))).in_time < planned(
        late, Known(record=Record(0, 200))).in_time


def test_the_packs_are_those_that_prepare_damps():
    """The same sheets in both, for the pulls that the plan has."""
    day = json_values(plan_report(planned(ASKED, Known(record=Record(20, 60)))))
    parts = make_checklist(ASKED.recipe, replace(NOTHING, record=Record(20, 60)), 10).parts
    packs = next(p for p in parts if p.what == "packs")
    assert [p["sheets"] for p in day["packs"]] == packs.figures["sizes"]
    assert sum(packs.figures["sizes"]) == day["pulls"]
