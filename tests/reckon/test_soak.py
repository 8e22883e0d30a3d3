"""Soaking: minutes from the printer's own weighings, and from nothing else."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from benchapp.quantities import Duration, Mass, read_duration, read_mass
from benchapp.reckon.diffusion import LEVELLING, rate_of_two, tau_at, uptake
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.soak import SoakWeighing, soak_time

DRY = read_mass("120 g")


def weighed(*pairs: str) -> list[SoakWeighing]:
    """`5 min: 150 g`, …"""
    split = (pair.split(": ") for pair in pairs)
    return [SoakWeighing(read_duration(after), read_mass(mass)) for after, mass in split]


def test_two_weighings_give_minutes_labelled_as_theirs():
    """The sentence says what the minutes rest on."""
    found = soak_time(DRY, weighed("5 min: 150 g", "20 min: 170 g"), read_mass("160 g"))
    assert (
        found.sentence == "9 min in the water until the sheet weighs 160 g, from your two weighings"
    )
    assert 170 < found.figures["full_g"] < 180
    grams = [point["g"] for point in found.figures["curve"]]
    assert grams == sorted(grams)


def test_the_curve_goes_through_both_weighings():
    """Asked for the weight of a weighing, it answers the time of it."""
    two = weighed("5 min: 150 g", "20 min: 170 g")
    for point in two:
        found = soak_time(DRY, two, point.mass)
        assert found.figures["soak_ms"] == pytest.approx(point.after.ms, abs=2)


def test_one_weighing_and_the_full_weight_are_enough():
    """Half the water after 5 min: three quarters of it after what the curve says."""
    found = soak_time(DRY, weighed("5 min: 150 g"), read_mass("165 g"), full=read_mass("180 g"))
    expected = 300_000 * tau_at(0.75) / tau_at(0.5)
    assert found.figures["soak_ms"] == pytest.approx(expected, abs=1)
    assert "from your one weighing and the full weight" in found.sentence


def test_the_printers_own_note_stands_first():
    """What is reckoned comes second."""
    found = soak_time(DRY, weighed("5 min: 150 g"), read_mass("160 g"), full=read_mass("180 g"),
                      note=read_duration("25 min"))  # fmt: skip
    assert found.sentence.startswith("25 min as your own note says; from your one weighing")
    assert found.figures["note_ms"] == 1_500_000


def test_a_short_soak_is_told_to_half_a_minute():
    """Waterleaf is wet in a minute or two."""
    found = soak_time(DRY, weighed("1 min: 160 g"), read_mass("158 g"), full=read_mass("180 g"))
    assert found.sentence.startswith("1 min in the water")
    slower = soak_time(DRY, weighed("3 min: 160 g"), read_mass("155 g"), full=read_mass("180 g"))
    assert slower.sentence.startswith("2 min in the water")
    half = soak_time(DRY, weighed("3 min: 160 g"), read_mass("158 g"), full=read_mass("180 g"))
    assert half.sentence.startswith("2.5 min in the water")


def test_a_time_far_beyond_the_weighings_says_so():
    """It is answered, with the advice to weigh then."""
    found = soak_time(DRY, weighed("1 min: 140 g"), read_mass("175 g"), full=read_mass("180 g"))
    assert "This is well beyond the last weighing: weigh a sheet then" in found.notes
    near = soak_time(DRY, weighed("5 min: 150 g"), read_mass("152 g"), full=read_mass("180 g"))
    assert not any("beyond" in note for note in near.notes)


@pytest.mark.parametrize(
    ("pairs", "target", "full", "told"),
    [
        ([], "160 g", None, "nobody has weighed this paper"),
        ([], "160 g", "180 g", "nobody has weighed this paper"),
        (["5 min: 150 g"], "160 g", None, "give a second, later one, or the weight of the sheet"),
        (["5 min: 150 g", "9 min: 160 g", "20 min: 170 g"], "160 g", None, "give 2"),
        (["5 min: 150 g", "9 min: 160 g"], "160 g", "180 g", "give 1: one and the full weight"),
        # 20 and 40 g more at one and four times the time: √t still.
        (["5 min: 140 g", "20 min: 160 g"], "150 g", None, "drank as fast to the end"),
        (["5 min: 140 g", "20 min: 159.8 g"], "150 g", None, "weigh once more, much later"),
        (["5 min: 160 g", "20 min: 160 g"], "150 g", None, "full at the first; weigh a sheet ear"),
        (["5 min: 160 g", "5 min: 165 g"], "150 g", None, "the later weighing is not heavier"),
        (["5 min: 119 g", "20 min: 160 g"], "150 g", None, "weighing after 5 min: 119 g is not he"),
        (["5 min: 181 g"], "150 g", "180 g", "181 g is the full weight already"),
        (["0 min: 150 g"], "150 g", "180 g", "that is not a time in the water"),
        (["5 min: 150 g"], "120 g", "180 g", "target: 120 g is not heavier than the sheet was"),
        (["5 min: 150 g"], "180 g", "180 g", "full before it weighs 180 g; ask for less than 179"),
        (["5 min: 150 g"], "150 kg", "180 g", "target: 150 kg is not the weight of a sheet"),
        (["5 min: 150 g"], "150 g", "110 g", "full: 110 g is not heavier than the sheet was"),
    ],
)
def test_what_gives_no_minutes_is_refused(pairs, target, full, told):
    """Which figure, why, and what to weigh next."""
    with pytest.raises(ReckonError, match=told):
        soak_time(DRY, weighed(*pairs), read_mass(target), full=read_mass(full) if full else None)


@given(st.floats(1e-6, 0.4), st.floats(1e-6, 0.4))
def test_uptake_rises_and_both_series_are_one_curve(one, other):
    """Later is never less, also where one series is left for the other."""
    first, second = sorted((one, other))
    assert 0 < uptake(first) <= uptake(second) < 1
    assert uptake(0.1 - 1e-12) == pytest.approx(uptake(0.1), abs=1e-10)


@given(st.floats(0.001, 0.999))
def test_the_time_of_a_share_is_the_time_of_that_share(share):
    """The inverse, there and back."""
    assert uptake(tau_at(share)) == pytest.approx(share, rel=1e-9)


@pytest.mark.parametrize("share", [0, 1, -0.1, 1.5])
def test_no_time_for_a_share_that_is_never_reached(share):
    """Saturation itself takes for ever."""
    with pytest.raises(ValueError, match="between 0 and 1"):
        tau_at(share)


@given(st.floats(1e-5, 1e-2), st.integers(20, 600), st.integers(2, 30), st.integers(5, 200))
def test_two_points_of_a_curve_give_back_its_rate(rate, early, times, most):
    """Wherever levelling off is to be seen between them."""
    late = early * times
    one, other = most * uptake(rate * early), most * uptake(rate * late)
    assume(other / most > LEVELLING and one / other < 0.99 and other / most < 0.9999)
    found = rate_of_two((early, one), (late, other))
    assert found == pytest.approx(rate, rel=1e-4)


@given(st.integers(1, 400), st.integers(1, 400), st.integers(1, 3600), st.integers(1, 3600))
def test_any_two_weighings_are_answered_or_refused_in_words(one, other, first, second):
    """No other error, and no time that is not a time."""
    points = [SoakWeighing(Duration(first * 1000), Mass(Fraction(one))),
              SoakWeighing(Duration(second * 1000), Mass(Fraction(other)))]  # fmt: skip
    try:
        found = soak_time(Mass(Fraction(100)), points, Mass(Fraction(150)))
    except ReckonError as refused:
        assert refused.mend  # noqa: PT017
    else:
        assert found.figures["soak_ms"] > 0
