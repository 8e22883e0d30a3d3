"""What a plan says at once: paper damped the evening before, days past midnight, many packs."""

from __future__ import annotations

from datetime import UTC, date, datetime

from benchapp.planning.question import DayQuestion, Known, Zero, plan_asked_day
from benchapp.recipe.reader import read_recipe
from benchapp.reports.json_form import json_values
from benchapp.reports.plan_report import plan_report
from benchapp.reports.plan_text import plan_sentence, plan_text
from benchapp.reports.press_page import press_page
from benchapp.session.pack_size import pack_sizes_words, size_packs
from tests.planning.plans import WORKED

PACKED = WORKED.replace("wash: 0 min", "paper: {name: rag, damp: {method: pack, rest: 14 h, "
                        "pack: 6, handling: 3 min}}\nwash: 0 min")


def asked(text, **more):
    """Two wanted, from nine."""
    return DayQuestion(read_recipe(text), Zero(date(2026, 5, 3), 9 * 60, UTC), wanted=2, **more)


def test_paper_damped_as_a_pack_is_damped_the_evening_before():
    """Planned for one day alone it says so first, and offers the evening; with it, it does not."""
    said = plan_sentence(plan_asked_day(asked(PACKED), Known()))
    assert said.startswith("This paper is damped as a pack and rests 14 h: damp it the evening "
                           "before and plan with --evening")
    assert plan_sentence(plan_asked_day(asked(PACKED, evening=True), Known())).startswith("2 with")
    assert plan_sentence(plan_asked_day(asked(WORKED), Known())).startswith("2 with 2 warm-ups")


def test_a_plan_as_lines_and_as_a_page_names_the_same():
    """The evening and what to set up in both; on a page texts are escaped."""
    day = plan_asked_day(asked(PACKED.replace("paper: {name: rag", "paper: {name: <rag>"),
                               evening=True), Known())
    lines, page = plan_text(day, 60), press_page(day)
    assert lines[0] == plan_sentence(day)
    assert "How sure" in lines
    for part in ("The evening before", "To set up"):
        assert part in lines
        assert f"<h2>{part}</h2>" in page
    assert any("<rag>" in line for line in lines)
    assert "&lt;rag&gt;" in page
    assert "<rag>" not in page
    assert "<pre>" in page


def test_times_past_midnight_have_their_day():
    """In the first line, and in JSON as whole moments."""
    day = plan_asked_day(asked(PACKED), Known())
    assert " on 2026-05-04" in plan_sentence(day)
    found = json_values(plan_report(day))
    assert found["finish_at"].startswith(f"2026-05-04T{found['finish']}")
    assert all(datetime.fromisoformat(s["from_at"]).utcoffset() is not None
               for s in found["steps"])
    pack = found["packs"][0]
    assert (pack["in_at"][:10], pack["ready_at"][:10], pack["out_at"]) == (
        "2026-05-03", "2026-05-03", None)


def test_many_packs_are_said_by_their_sizes():
    """A thousand sheets do not fill the screen."""
    assert pack_sizes_words(size_packs(6, 1000)).startswith("166 of 6 sheets and 1 of 4 sheets (")
    assert pack_sizes_words(size_packs(6, 600)) == "6 sheets each (the recipe's pack)"
    assert pack_sizes_words(size_packs(6, 15)).startswith("6 + 6 + 3 sheets (")
