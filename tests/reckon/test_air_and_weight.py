"""Drying says longer or not, and boards say how much weight they want."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities import Mass, Percentage, Temperature, read_mass, read_size
from benchapp.quantities import read_humidity as rh
from benchapp.quantities import read_temperature as warmth
from benchapp.reckon.air import USUAL, Air, drying_speed, saturation_pressure
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.weight import board_pressure, board_weight, mass_for

BOARD = read_size("560 x 760 mm")


def test_a_cold_damp_day_takes_longer():
    """Said in a sentence, with the deficit among the figures and no minutes anywhere."""
    found = drying_speed(Air(warmth("12 °C"), rh("70 %")))
    assert found.sentence == "Longer today: the air takes up less water than on a usual day"
    assert found.figures["longer"] is True
    assert found.figures["part_of_usual"] == pytest.approx(0.36, abs=0.01)
    assert not [name for name in found.figures if "min" in name or "_ms" in name]


def test_a_dry_day_is_never_said_to_be_quicker():
    """Nobody is tempted to take prints out early."""
    found = drying_speed(Air(warmth("28 °C"), rh("30 %")))
    assert found.sentence == "No longer than usual today"
    assert found.figures["part_of_usual"] > 1


def test_the_usual_day_is_its_own_measure():
    """20 °C and 50 % is one whole of itself."""
    assert drying_speed(USUAL).figures["part_of_usual"] == 1
    assert drying_speed(USUAL).figures["longer"] is False


@pytest.mark.parametrize(
    ("degrees", "humidity", "figure", "told"),
    [
        ("122 °F", "50 %", "warmth",
         "122 °F, that is 50 °C, is not the warmth of a workroom; give 0 to 45 °C (32 to 113 °F)"),
        ("-5 °C", "50 %", "warmth",
         "-5 °C is not the warmth of a workroom; give 0 to 45 °C (32 to 113 °F)"),
        ("20 °C", "0.6 %", "humidity",
         "0.6 % is not the humidity of a workroom; give 5 to 100 %; 60 % perhaps"),
        ("20 °C", "0 %", "humidity", "0 % is not the humidity of a workroom; give 5 to 100 %"),
    ],
)  # fmt: skip
def test_a_mistaken_unit_is_caught(degrees, humidity, figure, told):
    """15 °C written as 122 °F is 50 °C, and a part of one is no percentage."""
    with pytest.raises(ReckonError) as caught:
        Air(warmth(degrees), rh(humidity))
    assert caught.value.figure == figure
    assert str(caught.value) == f"{figure}: {told}"


def test_the_formula_is_not_used_where_it_does_not_hold():
    """Hyland & Wexler end at 200 °C."""
    with pytest.raises(ReckonError, match="outside the formula"):
        saturation_pressure(Temperature(Fraction(201)))


@given(st.integers(0, 4499), st.integers(50, 1000))
def test_warmer_or_drier_air_takes_up_more(c100, per_mille):
    """The deficit rises with warmth and falls with humidity, to nothing at 100 %."""
    wet = Percentage(Fraction(per_mille, 1000))
    here = Air(Temperature(Fraction(c100, 100)), wet)
    assert here.deficit <= Air(Temperature(Fraction(c100 + 1, 100)), wet).deficit
    assert here.deficit >= Air(here.warmth, Percentage(Fraction(1))).deficit == 0


@pytest.mark.parametrize(
    ("mass", "day", "sentence"),
    [
        ("40 kg", None, "40 kg on this board: right for the first days"),
        ("40 kg", 1, "40 kg on this board: right for day 1"),
        ("5 kg", 1, "5 kg on this board: light for day 1, 8.7 kg would be the least"),
        ("60 kg", 3, "60 kg on this board: heavy for day 3, 43 kg would be the most"),
        ("60 kg", 4, "60 kg on this board: right for day 4"),
        (None, None, "8.7 to 43 kg on this board for the first days"),
        (None, 5, "8.7 to 60 kg on this board for day 5"),
        ("61 kg", 5, "61 kg on this board: heavy for day 5, 60 kg would be the most"),
    ],
)
def test_the_weight_is_told_in_kilograms(mass, day, sentence):
    """Pascals stand among the figures; the sentence is what is stacked."""
    found = board_weight(BOARD, read_mass(mass) if mass else None, day=day)
    assert found.sentence == sentence
    assert ("pascals" in found.figures) is (mass is not None)


def test_what_flattens_a_plate_mark_is_said():
    """With the weight, and why no more is advised than a table at home carries."""
    notes = " ".join(board_weight(BOARD).notes)
    assert "Much weight on a damp print flattens its plate mark" in notes
    assert "Never more than 60 kg" in notes


@pytest.mark.parametrize(
    ("board", "mass", "day", "told"),
    [
        ("22 x 30 mm", "40 kg", None, "inches are written as 22 in"),
        ("560 x 760 in", "40 kg", None, "millimetres are written as 560 mm"),
        ("560 x 760 mm", "0 kg", None, "mass: 0 kg is not a weight to lay on a board"),
        ("560 x 760 mm", "3000 kg", None, "give up to 2000 kg"),
        ("560 x 760 mm", "40 kg", 0, "day: there is no day 0"),
    ],
)
def test_what_cannot_be_is_refused(board, mass, day, told):
    """Inches for millimetres, no weight, and a day before the first."""
    with pytest.raises(ReckonError, match=told):
        board_weight(read_size(board), read_mass(mass), day=day)


@given(st.integers(1, 5000), st.integers(50, 3000), st.integers(50, 3000))
def test_mass_and_pressure_are_each_other_turned_round(pascals, width, height):
    """The mass asked for presses as hard as was asked, exactly."""
    board = read_size(f"{width} x {height} mm")
    assert board_pressure(mass_for(pascals, board), board) == pascals
    assert board_pressure(Mass(mass_for(pascals, board).g * 2), board) == 2 * pascals
