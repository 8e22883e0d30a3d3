"""An edition over several days: how many, which weekdays, what to damp the evening before."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from benchapp.planning.days import plan_days
from benchapp.planning.plate_wear import Given
from benchapp.planning.question import DayQuestion, Known, Zero, plan_asked_day
from benchapp.recipe.reader import read_recipe
from benchapp.reckon.sheets import Record
from benchapp.reports.json_form import json_values
from benchapp.reports.plan_days import days_text
from benchapp.reports.plan_report import plan_report
from tests.planning.plans import WORKED

DAMPED = WORKED.replace("wash: 0 min", "paper: {name: rag, damp: {method: soak, soak: 20 min, "
                        "rest: 20 min, pack: 6, handling: 3 min}}\nwash: 0 min")
PACKED = DAMPED.replace("method: soak, soak: 20 min, rest: 20 min", "method: pack, rest: 14 h")
LUNCH = ((13 * 60, 45 * 60),)
CLEAN = Known(record=Record(0, 400))


def asked(text=WORKED, wanted=20, **more):
    """A Tuesday from 09:30 to 17:00, with lunch."""
    return DayQuestion(read_recipe(text), Zero(date(2026, 5, 5), 9 * 60 + 30, UTC), 17 * 60, LUNCH,
                       wanted=wanted, **more)


def test_an_edition_takes_the_days_it_needs():
    """Ten pulls a day, two of them warm-ups (CP-SAT, the worked day): 8, 8 and 4 prints."""
    told = plan_days(asked(), CLEAN, seconds=10 * 3600)
    assert told.prints == (8, 8, 4)
    assert [d.on for d in told.days] == ["2026-05-05", "2026-05-06", "2026-05-07"]
    assert all(d.plan.end <= d.until for d in told.days if d.until is not None)
    assert told.left == 0
    assert told.between[0] <= 3 <= told.between[1]


def test_only_the_chosen_weekdays_are_printed_on():
    """Tuesdays and Thursdays."""
    told = plan_days(asked(), CLEAN, seconds=10 * 3600, weekdays=(1, 3))
    assert [date.fromisoformat(d.on).weekday() for d in told.days] == [1, 3, 1]


def test_each_evening_says_what_to_damp():
    """From the second day on; every day in JSON is a plan by itself, with whole moments."""
    told = plan_days(asked(DAMPED), CLEAN, seconds=10 * 3600)
    found = json_values(plan_report(told.days[0], told))
    days = found["days"]
    assert days[0]["damp_evening_before"] is None
    assert all(d["damp_evening_before"] == min(6, d["prints"] + 2) for d in days[1:])
    assert sum(d["prints"] for d in days) == 20
    assert [datetime.fromisoformat(d["from_at"]).date().isoformat() for d in days] == [
        d["on"] for d in days]
    text = "\n".join(days_text(told))
    assert "The evening before: damp 6 sheets of rag" in text
    assert "13:00  Break, to 13:45" in text


def test_the_plate_s_life_is_counted_over_the_days():
    """Ten, ten and six pulls of a plate for twenty: it nears its end on the second, then is past.

    What it gave before counts: after five it is past on the second day.
    """
    text = WORKED.replace("metal: copper,", "metal: copper, life: 20 impressions,")
    told, later = (plan_days(
        asked(text, wanted), Known(record=Record(0, 400), given={"key": Given(n)}),
        seconds=10 * 3600) for wanted, n in ((20, 0), (9, 12)))
    fresh, used = ([d.foretold for d in x.days] for x in (told, later))
    assert fresh[0] == ()
    assert fresh[1][0].startswith("By the end of this day the plate key will have given 20: ")
    assert fresh[1][1].startswith("It nears its end")
    assert fresh[2][1].startswith("That is more than it is good for")
    assert used[0][1].startswith("That is more than it is good for")
    assert not any(used[1:])
    assert "  Mind: It nears its end" in "\n".join(days_text(told))
    assert any("will have given 26" in x for x in json_values(
        plan_report(told.days[0], told))["days"][2]["warnings"])


def test_spoiled_sheets_take_days_too():
    """Who spoils a third needs more days, and more of them to be sure."""
    told = plan_days(asked(), Known(record=Record(20, 60)), seconds=10 * 3600)
    assert told.spoiled >= 7
    assert sum(told.prints) == 20 + told.spoiled
    assert len(told.days) == 4
    assert told.between[1] >= 4


def test_a_day_too_short_for_one_print_is_said():
    """No day, and all prints are left."""
    told = plan_days(asked(), CLEAN, seconds=3600)
    assert told.left == 0
    short = DayQuestion(read_recipe(WORKED), Zero(date(2026, 5, 5), 9 * 60, UTC), wanted=3)
    none = plan_days(short, CLEAN, seconds=3600)
    assert (none.days, none.left) == ((), 3)
    assert days_text(none) == ["No day is long enough for one print."]
    with pytest.raises(ValueError, match="how many"):
        plan_days(DayQuestion(short.recipe, short.zero), CLEAN, seconds=3600)


def test_paper_that_rests_overnight_is_named_where_no_day_holds_a_print():
    """A pack of 14 h leaves no day; it says so and offers the evening, which prints them all."""
    asked_for = asked(PACKED, wanted=4)
    told = plan_days(asked_for, CLEAN, seconds=10 * 3600)
    said = days_text(told, plan_asked_day(asked_for, CLEAN))
    assert said == [
        "This paper is damped as a pack and rests 14 h: damp it the evening before and plan with "
        "--evening (d on the Plan). Damped only that day: no day is long enough for one print."]
    evening = plan_days(asked(PACKED, wanted=4, evening=True), CLEAN, seconds=10 * 3600)
    assert sum(evening.prints) == 4


def test_a_day_damped_the_evening_before_never_lacks_paper():
    """As many as the same day without damping prints: every sheet is damped, in packs of six."""
    for until, dry in ((17 * 60, WORKED), (13 * 60, WORKED)):
        one = DayQuestion(read_recipe(PACKED), Zero(date(2026, 5, 5), 9 * 60 + 30, UTC), until,
                          LUNCH, evening=True)
        damped, ready = (plan_asked_day(x, CLEAN) for x in (
            one, DayQuestion(read_recipe(dry), one.zero, until, LUNCH)))
        assert damped.fit is not None
        assert ready.fit is not None
        assert damped.evening is not None
        assert damped.fit.fits == ready.fit.fits == damped.evening.sheets
        assert damped.clock(damped.fit.one_more.end) == ready.clock(ready.fit.one_more.end)
        assert all(p.sheets is not None and p.sheets <= 6 for p in damped.plan.packs)
        assert sum(p.sheets or 0 for p in damped.plan.packs) == damped.evening.sheets
    told = plan_days(asked(PACKED, wanted=20, evening=True), CLEAN, seconds=10 * 3600)
    assert told.prints == (8, 8, 4)
    assert "damp 10 sheets of rag" in "\n".join(days_text(told))
