"""A session read back: where its hours went, what was changed, what its paper had been through."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from benchapp.history.drift import reading_figure
from benchapp.quantities import join_words
from benchapp.reports.html_day import day_drawing
from benchapp.reports.json_form import json_values
from benchapp.reports.review import Review, review_session
from benchapp.reports.review_blocks import review_text
from benchapp.reports.review_day import cut_stretches, join_stretches, total_length
from benchapp.session import actions as a
from benchapp.views.messages import describe_change
from tests.session.support import DAMP, LIFT, PULL, WIPE, Bench, recipe

GRADED = recipe(each=(WIPE, PULL, LIFT),
                extra="readings: [{name: tone, unit: grade 1-5, at: Lift}]\n")
USUAL = (("Wipe", 10), ("Wash and dry hands", 1.5), ("Pull", 4), ("Lift", 3))


def sheet(b: Bench, **took: float) -> None:
    """One impression at its usual times, or as said."""
    for do, usual in USUAL:
        b.advance(took.get(do, usual))
        b.work(do)


def back(b: Bench) -> Review:
    """The session on the Bench, read back."""
    return review_session(b.book.entries(), b.s.id)


def test_the_text_has_the_paper_the_pauses_and_the_recipe_beside_each_step():
    """How long a sheet's paper waited, when the day was interrupted, what a wipe should take."""
    b = Bench(GRADED)
    sheet(b)
    b.say(a.Pause())
    b.advance(20)
    b.say(a.Resume())
    sheet(b, Wipe=12)
    lines = review_text(back(b))
    assert "  Wipe: 2 times, median 11 min, in all 22 min; recipe 10 min" in lines
    assert "  paused 20 min, 19 min after it was opened" in lines
    damp = Bench(DAMP)
    while not any(i.laid for i in damp.s.impressions):
        damp.advance(6)
        damp.shop.do(a.GoOn())
    told = review_text(back(damp))
    assert told[told.index("Paper, sheet by sheet") + 1].startswith("  D1: soaked ")


def test_sheets_that_were_sprayed_are_not_soaked_for_no_time():
    """No time in the water anywhere: not in the figures, the text, the timeline or the lines."""
    b = Bench(recipe(damp="{method: spray, rest: 60 min, pack: 4}"), wanted=1)
    before = b.room
    done = b.do(a.GoOn()).entries
    told = describe_change(before, b.room, done)
    assert told[:2] == ("3 sheets sprayed", "3 sheets stacked, rest 1 h")
    b.advance(60)
    b.until("Lift")
    read = back(b)
    (found,) = json_values(read.impressions[0].paper)
    assert (found["method"], found["soaked_seconds"], found["rested_seconds"]) == (
        "spray", None, 3600)
    assert read.packs[0].soaked_seconds is None
    assert [x.row for x in read.timeline] == ["hands", "press"]
    lines = review_text(read)
    assert lines[lines.index("Paper, sheet by sheet") + 1].startswith(
        "  D1: sprayed, rested 1 h")
    assert not any("soaked" in x or "water" in x for x in lines)


def test_what_time_did_is_told_in_words():
    """The machine slept, its clock was set back, and the day was left and gone on with."""
    b = Bench(GRADED)
    b.clock.sleep(12 * 60_000)
    b.shop.tick()
    b.clock.step_wall(-3_600_000)
    b.shop.tick()
    lines = review_text(back(b))
    told = lines[lines.index("When the clock jumped") + 1:]
    assert [x[8:] for x in told] == [
        "the machine slept 12 min", "the machine's clock was set back by 1 h"]


def test_the_day_adds_up():
    """Hands, waiting, idle and paused are the whole day, each second once."""
    b = Bench(GRADED)
    sheet(b)
    b.say(a.Pause())
    b.advance(20)
    b.say(a.Resume())
    sheet(b)
    h = json_values(back(b))["hours"]
    parts = sum(h[f"{x}_seconds"] for x in ("hands", "waiting", "idle", "paused"))
    assert parts == h["day_seconds"]
    assert h["paused_seconds"] == 20 * 60
    assert h["pauses"] == [{"after_seconds": 1110, "seconds": 1200, "away": False}]
    assert h["hands_seconds"] == 2 * 1110


def test_time_away_is_no_work_in_any_sum():
    """An hour away in a wipe: not in the day's work, the step, the sheet, nor the hands' row."""
    b = Bench(GRADED)
    sheet(b)
    sheet(b, Wipe=60)
    work = next(w for w in b.s.history if w.question == "asked")
    assert json_values(back(b))["hours"]["hands_seconds"] == 1110 + 1110 + 50 * 60
    b.say(a.Explain("away", work.key))
    review = back(b)
    found = json_values(review)
    h = found["hours"]
    assert (h["away_seconds"], h["paused_seconds"]) == (3600, 3600)
    assert h["hands_seconds"] == 1110 + (1110 - 10 * 60)
    assert h["pauses"] == [{"after_seconds": 1110, "seconds": 3600, "away": True}]
    wipe = next(x for x in found["by_step"] if x["step"] == "Wipe")
    assert (wipe["times"], wipe["not_taken"], wipe["total_seconds"]) == (1, 1, 600)
    assert [x["seconds"] for x in found["steps"] if x["step"] == "Wipe"][:2] == [
        600, None]
    second = found["by_impression"][1]
    assert (second["hands_seconds"], second["not_taken"]) == (1110 - 600, 1)
    rows = {x["row"]: [bar["what"] for bar in x["bars"]] for x in found["timeline"]}
    assert rows["away"] == ["Wipe"]
    assert rows["hands"].count("Wipe") == 2  # the first, and the one in progress
    assert any("1 h away" in line and "paused" not in line for line in review_text(review))
    assert "away 1 h, 19 min after it was opened" in "\n".join(review_text(review))


def test_a_step_whose_end_was_forgotten_has_no_time():
    """Its length is not known, so no sum has it."""
    b = Bench(GRADED)
    sheet(b, Wipe=60)
    work = next(w for w in b.s.history if w.question == "asked")
    b.say(a.Explain("forgot", work.key))
    wipe = next(x for x in json_values(back(b))["by_step"] if x["step"] == "Wipe")
    assert (wipe["times"], wipe["not_taken"], wipe["total_seconds"]) == (0, 1, 0)


def test_steps_stand_beside_the_recipe():
    """Two wipes of 14 and 16 against 8/10/12: the middle is five minutes over the usual."""
    b = Bench(GRADED)
    sheet(b, Wipe=14)
    sheet(b, Wipe=16)
    wipe = next(x for x in json_values(back(b))["by_step"] if x["step"] == "Wipe")
    assert wipe["recipe"] == {"low": 480, "usual": 600, "high": 720}
    assert (wipe["times"], wipe["middle_seconds"], wipe["over_usual_seconds"]) == (2, 900, 300)
    assert (wipe["shortest_seconds"], wipe["longest_seconds"]) == (840, 960)


def test_rows_of_the_day():
    """The hands have a row, and the press one of its own with the pulls alone."""
    b = Bench(GRADED)
    sheet(b)
    rows = {x["row"]: x["bars"] for x in json_values(back(b))["timeline"]}
    assert [bar["what"] for bar in rows["press"]] == ["Pull"]
    assert [bar["what"] for bar in rows["hands"]][:4] == ["Wipe", "wash", "Pull", "Lift"]
    assert rows["press"][0]["impression"] == 1
    assert rows["press"][0]["from"] < rows["press"][0]["to"]


def test_what_was_changed_and_what_was_seen():
    """Salty in 3 and 4, the pressure up after 4, not since: said as it happened."""
    b = Bench(GRADED)
    b.say(a.Set("pressure", "3.25 turns"))
    for n in range(1, 7):
        sheet(b)
        if n in (3, 4):
            b.say(a.Tag("salty", n))
        if n == 4:
            b.say(a.Set("pressure", "3.5 turns"))
        if n == 6:
            b.say(a.Set("pressure", "3.5 turns"))
    (change,) = json_values(back(b))["changes"]
    assert change["sentence"] == (
        "pressure 3.25 turns → 3.5 turns after 4; salty in 3 and 4, not since")
    assert (change["was"], change["now"], change["after"]) == ("3.25 turns", "3.5 turns", 4)
    assert change["not_since"] == {"salty": [3, 4]}
    assert f"  {change['sentence']}" in review_text(back(b))


def test_a_grade_that_falls_is_said_and_few_are_too_few():
    """From eight graded editions on it is told; before, that there are too few."""
    b = Bench(GRADED)
    for n in range(1, 13):
        sheet(b)
        b.say(a.TakeReading("tone", str(max(1, 6 - (n + 1) // 2)), "grade 1-5", n))
        if n == 6:
            (few,) = json_values(back(b))["drift"]
            assert few["sentence"] == "4 impressions with tone: too few to tell"
    (drift,) = json_values(back(b))["drift"]
    assert drift["direction"] == "falling"
    assert drift["tolerance"] == 3
    assert drift["n"] == 10  # two warm-ups are left out


def test_nothing_is_held_against_a_standard_where_there_is_none():
    """A varied edition and a proofing day have no drift."""
    for extra in ("varied: true\n", "proofing: {for: TP}\n"):
        b = Bench(GRADED + extra)
        sheet(b)
        b.say(a.TakeReading("tone", "4", "grade 1-5", 1))
        assert json_values(back(b))["drift"] == []


def test_what_the_paper_of_a_sheet_had_been_through():
    """Soaked, rested as the recipe has it, and then waited for the press."""
    b = Bench(DAMP, wanted=1)
    b.until("Pull", 200)
    found = None
    for _ in range(40):
        b.advance(5)
        b.go()
        sheets = json_values(back(b))["impressions"]
        if sheets:
            (found,) = sheets[0]["paper"]
            break
    assert found is not None
    (pack,) = json_values(back(b))["packs"][:1]
    assert found["pack"] == pack["pack"]
    assert found["soaked_seconds"] == pack["soaked_seconds"]
    assert found["rested_seconds"] + found["waited_seconds"] >= 0


@pytest.mark.parametrize(("text", "value"), [
    ("4", 4), ("-2", -2), ("20.5", 20.5), ("nan", "nan"), ("inf", "inf"), ("1e999", "1e999"),
    ("about four", "about four"), ("9" * 5000, "9" * 5000)])
def test_a_reading_that_is_no_number_stays_a_text(text, value):
    """What JSON has no number for stays as it was typed."""
    assert reading_figure(text) == value


@pytest.mark.parametrize(("stretches", "gone", "left"), [
    ([(0, 10), (5, 12)], [], 12), ([(0, 10)], [(3, 5)], 8), ([(0, 10)], [(0, 10)], 0),
    ([(0, 4), (6, 9)], [(3, 7)], 5),
])  # fmt: skip
def test_stretches_are_counted_once(stretches, gone, left):
    """Time that overlaps is one time."""
    assert total_length(cut_stretches(join_stretches(stretches), gone)) == left


def test_numbers_are_listed_as_one_says_them():
    """3; 3 and 4; 3, 4 and 6."""
    assert [join_words(map(str, x)) for x in ([3], [3, 4], [3, 4, 6])] == [
        "3", "3 and 4", "3, 4 and 6"]


def test_the_drawn_day_has_impressions_as_they_passed_and_whole_hours():
    """Numbers over the rows from left to right, whole hours under them, each on the page."""
    b = Bench(GRADED)
    for _ in range(8):
        sheet(b)
    root = ElementTree.fromstring(day_drawing(back(b).day_chart))
    texts = [(float(x.get("x", 0)), x.text) for x in root if x.tag.endswith("text")]
    numbers = [(x, said) for x, said in texts if (said or "").isdigit()]
    assert [said for _, said in numbers] == [str(n) for n in range(1, 9)]
    assert numbers == sorted(numbers)
    assert {"11:00", "12:00"} <= {said for _, said in texts}
    assert all(0 <= x <= 640 for x, _ in texts)
