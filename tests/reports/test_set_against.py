"""A day beside the days before it, a reading beside its own scatter, sheets beside each other."""

from __future__ import annotations

import json
import random
import re
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.book.queries import print_of_row
from benchapp.cli import main
from benchapp.clock import FakeClock
from benchapp.edition import actions as acts
from benchapp.events.entry import Draft
from benchapp.reports import comparison as beside
from benchapp.reports.charts import ascii_chart, chart_svg, text_chart
from benchapp.reports.comparison import ComparedLine
from benchapp.reports.json_form import json_values
from benchapp.reports.limits import chart_limits, limit_charts
from benchapp.reports.reading import EARLIER, days_before, read_back, standard_of
from benchapp.reports.review import Review
from benchapp.reports.review_blocks import review_page, review_text
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.edition_links import sheet_id
from tests.service.edition_days import Studio, pear
from tests.session.support import DAMP, LIFT, MIN, PULL, WIPE, recipe

TEXT = recipe(each=(WIPE, PULL, LIFT),
              extra="readings: [{name: tone, unit: grade 1-5, at: Lift}]\n")


def printed(*wipes: tuple[float, ...], text: str = TEXT) -> Book:
    """Days one after the other; each figure is the minutes one sheet's plate was wiped."""
    book, clock = Book.in_memory(), FakeClock()
    for day in wipes:
        shop = SessionService(book, clock)
        shop.open_session("slack-water", text, None, typed=True)
        for n, wipe in enumerate(day, 1):
            for minutes in (wipe, 1.5, 4, 3):
                clock.advance(round(minutes * MIN))
                shop.do(a.GoOn())
            shop.do(a.Judge("spoiled" if wipe > 15 else "keep", n))
        book.append([Draft(f"session/{shop.room.session.id}", "closed", {})], clock.now(), "close")
        clock.advance(24 * 60 * MIN)
    return book


def last_review(book: Book) -> Review:
    """The last session of a book, read back."""
    return read_back(book, book.sessions()[-1])


def last(book: Book) -> dict:
    """The same as JSON."""
    return json_values(last_review(book))


# -- the days before ----------------------------------------------------------------------------


def test_a_step_that_took_longer_than_before_is_said() -> None:
    """Ten minutes on two days, then fourteen on five sheets: four longer, from six times."""
    found = last(printed((10, 10, 10), (10, 10, 10), (14, 14, 14, 14, 14)))["earlier"]
    assert found["sentence"] == "Compared with the 2 sessions before, each time: Wipe 4 min longer"
    wipe = next(x for x in found["by_step"] if x["step"] == "Wipe")
    assert (wipe["times"], wipe["middle_seconds"], wipe["over_seconds"]) == (6, 600, 240)
    assert [x["session"] for x in found["sessions"]] == ["2026-05-03", "2026-05-04"]


def test_few_times_before_are_told_and_nothing_is_made_of_them() -> None:
    """Two sheets on the one day before are too few, and no day at all is said to be none."""
    days = printed((10, 10), (16, 16))
    assert last(days)["earlier"]["sentence"] == (
        "Compared with the session before: too few times taken to tell")
    first = read_back(days, days.sessions()[0])
    assert first.earlier.sentence == "No earlier session of this print to compare it with"
    assert "Compared with earlier sessions" not in review_text(first)


def test_a_day_like_the_others_took_about_as_long() -> None:
    """Half a minute on a wipe is nothing to speak of."""
    found = last(printed((10, 10, 10), (10.5, 10.5, 10.5)))["earlier"]
    assert found["sentence"] == "Compared with the session before: every step took about as long"


def test_only_the_last_days_of_the_same_print_are_before_a_day() -> None:
    """No later day, no other print, and no more than a few."""
    book = printed(*[(10,)] * (EARLIER + 3))
    rows = book.sessions()
    assert days_before(book, rows[0]) == []
    assert [r.id for r in days_before(book, rows[-1])] == [r.id for r in rows[-EARLIER - 1 : -1]]


def test_text_and_page_set_the_day_against_the_days_before() -> None:
    """The same figures in the terminal and on the page, and what each sheet took of the hands."""
    found = last_review(printed((10, 10, 10), (14, 14, 14)))
    lines = review_text(found)
    assert "  Wipe: 14 min, before 10 min (3 times)" in lines
    assert any(line.startswith("  Hands, sheet by sheet:  1: 23 min") for line in lines)
    page = review_page([found])
    assert "10 min (3)" in page
    assert "Wipe 4 min longer" in page


def test_a_page_of_the_whole_book_sets_each_day_against_those_before(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As the page of one day does; the first day says nothing of days that were not."""
    path = tmp_path / "studio.book"
    with Book.open(path, write=True, create=True) as book:
        book.merge(printed((10, 10, 10), (14, 14, 14)).entries())
    page = tmp_path / "all.html"
    assert main(["--book", str(path), "export", "--html", str(page)]) == 0
    text = page.read_text(encoding="utf-8")
    assert text.count("Wipe 4 min longer") == 2
    assert "No earlier session" not in text


def test_a_review_with_the_days_before_is_the_same_after_merging() -> None:
    """It hangs on entries alone: another book that took them in reads the same bytes."""
    one = printed((10, 10, 10), (14, 14))
    other = Book.in_memory()
    other.merge(one.entries())
    assert json.dumps(last(one)) == json.dumps(last(other))


def test_what_a_sheet_took_stands_beside_what_its_steps_usually_take() -> None:
    """A wipe of ten, a wash of one and a half, a pull and a lift: as the recipe has it."""
    review = last_review(printed((10, 14), (12, 16, 20)))
    found = json_values(review)
    assert found["earlier"]["a_sheet"] == {
        "times": 3, "middle_seconds": 1470, "times_before": 2, "before_seconds": 1230}
    assert ("  Hands a sheet: median 25 min (3 sheets), before 21 min (2 sheets)"
            in review_text(review))
    (sheet, *_) = last(printed((10, 14)))["by_impression"]
    assert (sheet["hands_seconds"], sheet["usual_seconds"], sheet["not_taken"]) == (1110, 1110, 0)


# -- an instrument's readings -------------------------------------------------------------------


def gloss(n: int, seed: int = 3) -> list[list[float]]:
    """So many steady readings of an instrument."""
    dice = random.Random(seed)
    return [[k, round(40 + dice.gauss(0, 1), 1)] for k in range(1, n + 1)]


def test_limits_wait_for_twenty_and_are_never_drawn_from_grades() -> None:
    """Nineteen are too few, and an eye that grades is no instrument."""
    assert chart_limits("gloss", "GU", gloss(19), []) is None
    assert chart_limits("tone", "grade 1-5", gloss(30), []) is None


def test_a_reading_far_outside_is_named_by_its_impression() -> None:
    """Twenty steady, two within, one far out: both charts mark it."""
    found = chart_limits("gloss", "GU", [*gloss(22), (23, 60.0)], [])
    assert found is not None
    assert found.drawn.outside == (23,)
    assert found.sentence.startswith("Gloss: no. 23 is outside the usual scatter of "
                                        "impressions 1 to 20, ")
    single, average = limit_charts("gloss", "GU", [*gloss(22), (23, 60.0)], found)
    assert any("*" in line for line in ascii_chart(single, 76, 8))
    assert average.points[-1][0] == 23
    assert [x.name for x in single.limits] == ["high", "middle", "low"]


def test_readings_within_are_said_to_be_within() -> None:
    """Five more of the same."""
    found = chart_limits("gloss", "GU", gloss(25), [])
    assert found is not None
    assert found.sentence.startswith("Gloss: all 5 readings since are within the usual scatter")


def test_limits_rest_on_readings_between_changes() -> None:
    """After a change at 10 they begin with 11; changed every ten there are none to rest on."""
    found = chart_limits("gloss", "GU", gloss(35), [10])
    assert found is not None
    assert (found.from_, found.to) == (11, 30)
    none = chart_limits("gloss", "GU", gloss(35), [10, 20, 30])
    assert none is not None
    assert none.from_ is None
    assert "no limits are drawn" in none.sentence
    assert limit_charts("gloss", "GU", gloss(35), none) == []


def test_readings_that_move_give_no_limits() -> None:
    """Twenty that fall all along are not the usual scatter."""
    falling = [(k, 50 - k) for k in range(1, 26)]
    found = chart_limits("gloss", "GU", falling, [])
    assert found is not None
    assert found.from_ is None


@pytest.mark.full
def test_what_is_said_of_chance_holds_over_a_thousand_stable_runs() -> None:
    """Of thirty readings after twenty: outside in 2 runs of 10, either chart in 3 of 10.

    With limits known for certain the theory has 30 x .0027 = 8 of 100 for single readings;
    limits drawn from twenty are themselves unsure, which makes the rest.
    """
    dice = random.Random(11)
    out = either = runs = 0
    for _ in range(1_000):
        values = [(n, dice.gauss(0, 1)) for n in range(1, 51)]
        found = chart_limits("gloss", "GU", values, [])
        if found is None or found.from_ is None:
            continue  # a direction in the first twenty, by chance: no limits are drawn
        runs += 1
        out += bool(found.drawn.outside)
        either += bool(found.drawn.outside or found.drawn.average_outside)
    print(f"of {runs} stable runs {out} had a reading outside, {either} something on either chart")
    assert 0.15 < out / runs < 0.25
    assert 0.22 < either / runs < 0.34


def test_a_chart_is_drawn_in_dots_or_in_ascii() -> None:
    """The same chart; in ASCII nothing else."""
    found = chart_limits("gloss", "GU", gloss(25), [])
    assert found is not None
    chart = limit_charts("gloss", "GU", gloss(25), found)[0]
    assert all(line.isascii() for line in text_chart(chart, plain=True))
    assert not all(line.isascii() for line in text_chart(chart))


def test_the_page_names_limits_beside_the_field_and_keeps_a_chart_with_its_sentence() -> None:
    """No name lies over a value: it begins where the lines of the chart have ended."""
    found = chart_limits("gloss", "GU", gloss(25), [])
    assert found is not None
    drawn = chart_svg(limit_charts("gloss", "GU", gloss(25), found)[0])
    end = max(float(x) for x in re.findall(r'x2="([0-9.]+)"', drawn))
    names = re.findall(r'x="([0-9.]+)" y="[0-9.]+" text-anchor="start">(?:high|middle|low) ', drawn)
    assert len(names) == 3
    assert all(float(x) > end for x in names)
    assert all(float(x) < end for x in re.findall(r'cx="([0-9.]+)"', drawn))


def test_times_of_a_recipe_are_said_short_on_the_page() -> None:
    """Three of a kind with the unit once, three alike as one."""
    page = review_page([last_review(printed((10, 10)))])
    assert "8/10/12 min" in page
    assert '<td class="n">3 min</td>' in page


# -- beside each other --------------------------------------------------------------------------


def cells(lines: tuple[ComparedLine, ...], what: str) -> list[str]:
    """What stands in one line."""
    return next([*x.said] for x in lines if x.what == what)


def test_sheets_stand_beside_each_other_in_words() -> None:
    """Verdict, grade, tags, notes, settings, how long the paper waited; a column may be empty."""
    clock = FakeClock()
    shop = SessionService(Book.in_memory(), clock)
    shop.open_session("slack-water", DAMP, None, typed=True)
    while sum(i.laid for i in shop.room.session.impressions) < 2:
        clock.advance(6 * MIN)
        shop.do(a.GoOn())
    for action in (a.Judge("keep", 1), a.Judge("spoiled", 2), a.Tag("salty", 2),
                   a.Note("dry hand", 1), a.TakeReading("tone", "4", "grade 1-5", 1)):
        assert shop.do(action).ok
    one, two = last_review(shop.book).impressions[:2]
    lines = beside.compare_sheets([None, ("2026-05-03", one), ("2026-05-03", two)])
    assert cells(lines, "verdict") == ["", "keep", "spoiled"]
    assert cells(lines, "tone") == ["", "4", ""]
    assert cells(lines, "tags") == ["", "", "salty"]
    assert cells(lines, "notes") == ["", "dry hand", ""]
    assert cells(lines, "soaked")[1] != ""
    assert next(x.same for x in lines if x.what == "session")
    assert not next(x.same for x in lines if x.what == "verdict")


def test_one_sheet_alone_is_the_same_as_nothing() -> None:
    """With one column no line is the same as another's."""
    found = last_review(printed((10,)))
    lines = beside.compare_sheets([("2026-05-03", found.impressions[0])])
    assert not any(x.same for x in lines)


def test_sessions_stand_beside_each_other() -> None:
    """How many, the hours, steps in the middle, spoilage."""
    book = printed((10, 10), (16, 16, 16))
    both = [read_back(book, row) for row in book.sessions()]
    lines = beside.compare_sessions(both)
    assert cells(lines, "pulled") == ["2", "3"]
    assert cells(lines, "spoilage") == ["0 of 2 judged", "3 of 3 judged"]
    assert cells(lines, "Wipe") == ["10 min (2 times)", "16 min (3 times)"]
    groups = list(dict.fromkeys(x.group for x in lines))
    assert groups[:3] == ["how many", "the hours", "steps, median"]
    text = beside.comparison_text(beside.Comparison(("one", "two"), lines))
    assert "  pulled: 2  |  3" in text
    assert "  recipe: slack-water (the same)" in text


def test_sheets_are_held_against_the_bat_else_the_standard() -> None:
    """No print has one at first; then the sheet that is named is it, until there is a BAT."""
    studio = Studio()
    session = studio.day(pear())
    row = studio.book.sessions()[0]
    print_ = print_of_row(row)
    assert standard_of(studio.book, print_) is None
    bat, named = sheet_id(session, 3), sheet_id(session, 4)
    assert studio.editions.do(acts.NameStandard(print_, named)).ok
    assert standard_of(studio.book, print_) == (named, "standard")
    assert studio.editions.do(acts.GiveProof(print_, bat, "BAT")).ok
    assert standard_of(studio.book, print_) == (bat, "BAT")
