"""Drift said in plain words, and how often it is said where there is none."""

from __future__ import annotations

import random

import pytest

from benchapp.reckon.dice import Dice
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.shares import wilson_interval
from benchapp.reckon.trend import (
    FROM,
    SURE,
    Point,
    quiet_line,
    reading_trend,
    tolerance_reach,
)
from benchapp.reckon.trend_change import change_point, changing_since
from benchapp.reckon.trend_charts import STABLE, control_charts
from benchapp.reckon.trend_line import fit_line, meet_tolerance
from benchapp.reckon.trend_rank import mann_kendall, theil_sen


def points(*values: float) -> list[Point]:
    """Values on impressions 1, 2, 3 …"""
    return [Point(n, v) for n, v in enumerate(values, 1)]


def grades(dice: random.Random, n: int, wear: float, after: int = 0) -> list[float]:
    """A plate graded by an eye: 4.2 and half a grade of scatter, less so much an impression."""
    return [float(max(1, min(5, round(4.2 - wear * max(0, k - after) + dice.gauss(0, 0.5)))))
            for k in range(1, n + 1)]


@pytest.mark.parametrize(("values", "words", "direction"), [
    ((), "No impression has tone on it yet", "too few"),
    ((4,), "1 impression with tone: too few to tell", "too few"),
    ((5, 4, 4, 3, 2, 1), "6 impressions with tone: too few to tell", "too few"),
    ((4,) * 12, "Tone is flat: 4 on all 12 impressions", "flat"),
    ((4, 4, 4, 4, 5, 4, 4, 4, 4, 4), "Tone is flat over 10 impressions", "flat"),
    ((3, 5, 2, 4, 5, 3, 4, 2), "Tone shows no clear trend over 8 impressions", "no clear trend"),
])  # fmt: skip
def test_where_nothing_can_be_said_it_is_said_so(values, words, direction):
    """Few data and level data have honest words, and no line at the bench."""
    found = reading_trend("tone", points(*values), unit="grade 1-5")
    assert found.sentence == words
    assert found.figures["direction"] == direction
    assert quiet_line(found) is None


def test_a_falling_tone_is_one_sentence_with_its_figures_behind():
    """Level to the eighth, then a tenth of a grade each: since when, how fast, and when it is 3."""
    values = [5.0] * 8 + [5 - 0.1 * k for k in range(1, 13)]
    found = reading_trend("tone", points(*values), unit="grade 1-5", tolerance=3, life=120)
    assert found.sentence.startswith("Tone is falling since about impression 8, by about 0.07")
    assert "it reaches 3 near impression" in found.sentence
    assert found.figures["since"] == 8
    assert found.figures["reaches_low"] < found.figures["reaches"] < found.figures["reaches_high"]
    assert found.figures["life"] == 120
    said = quiet_line(found)
    assert said is not None
    assert said.startswith("Tone is falling since about impression 8; reaches 3 near ")
    assert "an impression" not in said
    assert len(said) <= 78


def test_rising_readings_keep_their_unit():
    """An instrument's reading that climbs is said to rise, in its own unit."""
    found = reading_trend("plate heat", points(*(30 + 0.5 * k for k in range(10))), unit="°C")
    assert found.sentence == ("Plate heat is rising, by about 0.5 °C (0.5 to 0.5) an impression")
    assert found.figures["p"] < 0.001


def test_numbers_must_rise():
    """One impression given twice is a mistake of the caller's, and said."""
    with pytest.raises(ReckonError, match="not in rising order"):
        reading_trend("tone", [Point(1, 4), Point(1, 3)])


@pytest.mark.parametrize(("values", "tolerance", "why"), [
    ((5, 4, 3), 2, "too few readings (3 of 6)"),
    ((5, 4, 5, 4, 5, 4, 5, 4), 2, "no clear trend"),
    ((5, 4.99, 4.98, 4.97, 4.96, 4.95, 4.94, 4.93), 1, "not before impression 16"),
    ((3, 2.9, 2.8, 2.7, 2.6, 2.5, 2.4, 2.3), 4, "past that from the first"),
])  # fmt: skip
def test_no_projection_without_reason(values, tolerance, why):
    """Few, unclear, far away, or past from the start: the reason stands instead of a number."""
    found = tolerance_reach(points(*values), tolerance)
    assert found.meeting is None
    assert why in found.why


def test_a_projection_that_is_past_is_said_as_past():
    """The tolerance lies inside what was printed: it was reached, not will be."""
    found = reading_trend("tone", points(*(5 - 0.3 * k for k in range(12))), tolerance=3)
    assert "it reached 3 near impression 8" in found.sentence


def test_kendall_counts_out_small_series():
    """Eight values that all fall: 2 of 40,320 orders are as far (counted by hand)."""
    found = mann_kendall([8, 7, 6, 5, 4, 3, 2, 1])
    assert (found.s, found.exact) == (-28, True)
    assert found.p == pytest.approx(2 / 40320)
    assert not mann_kendall([2, 2, 1]).exact


def test_a_slope_needs_two_places():
    """Two values at one place have none."""
    with pytest.raises(ReckonError, match="no slope"):
        theil_sen([1, 1], [2, 3])


def test_a_step_is_found_where_it_is_and_the_same_every_time():
    """Ten at 5, ten at 4 with a little scatter: after the tenth, p at its least."""
    values = [5, 5.1, 4.9, 5, 5, 5.1, 5, 4.9, 5, 5, 4, 4.1, 3.9, 4, 4, 4.1, 4, 3.9, 4, 4]
    found = change_point(values)
    assert found is not None
    assert found.after == 10
    assert found.p == 0.001
    assert change_point(values) == found
    assert change_point([4, 4, 4, 4]) is None


def test_a_step_in_noise_has_no_small_p():
    """Of 100 series without a step, about one in twenty has a p below .05, as it should."""
    dice = random.Random(11)
    few = sum(change_point([dice.gauss(0, 1) for _ in range(20)], orders=99).p <= 0.05
              for _ in range(100))
    assert few <= 12


def test_since_when_it_falls():
    """Level for ten, then straight down; and a line from the first on has no level part."""
    xs = list(range(1, 21))
    assert changing_since(xs, [5.0] * 10 + [5 - 0.2 * k for k in range(1, 11)]) == 9
    assert changing_since(xs, [5 - 0.1 * x for x in xs]) == 0


def test_charts_wait_for_twenty_stable_readings():
    """Nineteen give no limits; after twenty a reading far out is found by its place."""
    dice = random.Random(5)
    values = [20 + dice.gauss(0, 0.2) for _ in range(STABLE)]
    assert control_charts(values[:-1]) is None
    found = control_charts([*values, 20.0, 25.0])
    assert found is not None
    assert found.outside == (STABLE + 1,)
    assert STABLE + 1 in found.average_outside


def test_the_same_seed_throws_the_same():
    """The generator has no state but its seed, and shuffles without losing anything."""
    one, two = list(range(50)), list(range(50))
    Dice(3).shuffle(one)
    Dice(3).shuffle(two)
    assert one == two != list(range(50))
    assert sorted(one) == list(range(50))
    # The first output for seed 0 that the paper's own code gives (from memory).
    assert Dice(0).word() == 0xE220A8397B1DCDAF


def test_a_share_of_nothing_is_refused():
    """Of no sheets there is not a share; and not more than all."""
    with pytest.raises(ReckonError, match="no share"):
        wilson_interval(0, 0)
    with pytest.raises(ReckonError, match="is not a share"):
        wilson_interval(4, 3)


def first_found(values):
    """After how many values, asked after each, a direction was first told; None: never."""
    return next((n for n in range(FROM, len(values) + 1)
                 if mann_kendall(values[:n]).p < SURE), None)


def test_a_wearing_plate_is_found_and_a_sound_one_left_alone():
    """Quick: of 60 editions of 30, most that wear .06 are found, and hardly one that doesn't."""
    dice = random.Random(2)
    worn = sum(first_found(grades(dice, 30, 0.06)) is not None for _ in range(60))
    sound = sum(first_found(grades(dice, 30, 0.0)) is not None for _ in range(60))
    assert worn >= 36
    assert sound <= 6


@pytest.mark.full
@pytest.mark.parametrize(("length", "fine", "most"), [
    (30, False, 2), (30, True, 3), (60, False, 4), (60, True, 5)])
def test_false_alarms_over_four_thousand_stable_editions(
        length: int, fine: bool, most: int) -> None:
    """Asked after each from the eighth: at most so many of 100, with grades or fine readings."""
    dice = random.Random(20260503)
    spoke = sum(first_found(
        [dice.gauss(0, 1) for _ in range(length)] if fine else grades(dice, length, 0.0)
    ) is not None for _ in range(4000))
    print(f"{'fine readings' if fine else 'grades'}, editions of {length}: {spoke} of 4,000")
    assert spoke <= 40 * most


@pytest.mark.full
def test_asked_once_at_the_end_a_false_alarm_is_as_seldom_as_its_chance() -> None:
    """At p < .01 of stable editions of thirty one in a hundred at most, as theory has it."""
    dice = random.Random(20260503)
    once = sum(mann_kendall(grades(dice, 30, 0.0)).p < 0.01 for _ in range(4000))
    print(f"asked once: {once} of 4,000")
    assert wilson_interval(once, 4000, 0.999)[0] <= 0.01


@pytest.mark.full
def test_a_plate_that_wears_is_found():
    """.06 of a grade an impression over 30: in about three editions of four."""
    dice = random.Random(18)
    found = [first_found(grades(dice, 30, 0.06)) for _ in range(1000)]
    at = sorted(n for n in found if n is not None)
    print(f"found in {len(at)} of 1000, in the middle after {at[len(at) // 2]}")
    assert len(at) >= 650


@pytest.mark.full
def test_the_eighty_per_cent_interval_holds_about_eighty():
    """Fieller's interval over 1,000 lines with a known meeting holds it 76 to 84 times of 100."""
    dice, held, asked = random.Random(4), 0, 0
    while asked < 1000:
        ys = [5 - 0.08 * x + dice.gauss(0, 0.3) for x in range(1, 21)]
        meeting = meet_tolerance(fit_line(range(1, 21), ys), 3)
        if meeting is not None:
            asked += 1
            held += meeting.low <= 25 <= meeting.high
    print(f"held {held} of {asked}")
    assert 760 <= held <= 840
