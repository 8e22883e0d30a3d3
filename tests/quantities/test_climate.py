"""Warmth and humidity: read in one unit, and never one taken for the other."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities import (
    QuantityError,
    Temperature,
    read_humidity,
    read_temperature,
)


@pytest.mark.parametrize(
    ("text", "c", "shown"),
    [
        ("20 °C", "20", "20 °C"),
        ("20°C", "20", "20 °C"),
        ("21.5 C", "21.5", "21.5 °C"),
        ("68 °F", "20", "68 °F"),
        ("70 ° F", "190/9", "70 °F"),
        ("-5 °C", "-5", "-5 °C"),
        ("\u221240 °F", "-40", "-40 °F"),
        ("15 °C (59 °F)", "15", "15 °C"),
        ("15 °C / 59 °F", "15", "15 °C"),
        ("59 °F = 15 °C", "15", "59 °F"),
    ],
)
def test_a_warmth_is_read_exactly_and_printed_as_it_was_written(text, c, shown):
    """Fahrenheit is converted without rounding, and comes back as Fahrenheit."""
    found = read_temperature(text)
    assert found.c == Fraction(c)
    assert str(found) == shown


@pytest.mark.parametrize(("c", "f"), [(0, 32), (100, 212), (-40, -40), (37, "98.6")])
def test_fixed_points_of_the_two_scales(c, f):
    """Ice, steam, the crossing and blood heat (NIST SP 811, table B.8)."""
    assert Temperature(Fraction(c)).f == Fraction(f)
    assert read_temperature(f"{f} °F").c == c


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("15 °C (122 °F)", "15 °C is 59 °F, not 122 °F; write one of them, such as 15 °C"),
        ("122 °F / 15 °C", "122 °F is 50 °C, not 15 °C; write one of them, such as 122 °F"),
        ("68", '"68" has no unit; write 68 °C or 68 °F'),
        ("20 K", '"K" is not a unit for this; write °C or °F'),
        ("20 %", '"%" is not a unit for this; write °C or °F'),
        ("warm", '"warm" has no warmth in it; write one such as 20 °C'),
        ("20,5 °C", '"20,5" has a decimal comma; write a point: 20.5'),
        ("-300 °C", '"-300 °C" is colder than anything; write one such as 20 °C'),
    ],
)
def test_a_warmth_that_could_be_mistaken_is_refused(text, wrong):
    """Two units that disagree, none, or a strange one: each says what to write."""
    with pytest.raises(QuantityError) as caught:
        read_temperature(text)
    assert str(caught.value) == wrong


def test_a_warmth_is_never_a_float():
    """Only exact values come in."""
    with pytest.raises(TypeError, match="never a float"):
        Temperature(20.5)
    with pytest.raises(QuantityError, match="is not a unit of warmth"):
        Temperature(20, "K")


@pytest.mark.parametrize(("text", "part"), [("60 %", "3/5"), ("37.5 % RH", "3/8"), ("100%", "1")])
def test_a_humidity_is_a_percentage(text, part):
    """With or without the letters RH behind it."""
    assert read_humidity(text).fraction == Fraction(part)


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("0.6", '"0.6" has no unit; write 60 % if that is meant'),
        ("60", '"60" has no unit; write 60 % (units: %)'),
        ("120 %", '"120 %" is more than air can hold; write at most 100 %, such as 55 %'),
    ],
)
def test_a_humidity_that_could_be_mistaken_is_refused(text, wrong):
    """A bare part of one, or more than all."""
    with pytest.raises(QuantityError) as caught:
        read_humidity(text)
    assert str(caught.value) == wrong


@given(st.integers(-27_000, 20_000), st.sampled_from(["°C", "°F"]))
def test_what_is_printed_reads_as_the_same_warmth(hundredths, unit):
    """Writing and reading again changes nothing, in either unit."""
    warmth = Temperature(Fraction(hundredths, 100), unit)
    again = read_temperature(str(warmth))
    assert (again, again.unit) == (warmth, unit)


@given(st.text(max_size=120))
def test_no_text_brings_another_error(text):
    """Whatever is written is read or refused in words."""
    for read in (read_temperature, read_humidity):
        try:
            read(text)
        except QuantityError as refused:
            assert refused.mend  # noqa: PT017
