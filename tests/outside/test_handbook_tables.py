"""Numbers as handbooks print them; each table's place stands beside it."""

from __future__ import annotations

import unicodedata
from fractions import Fraction
from math import exp, log
from time import strptime

import pytest

from benchapp.edition.roman import read_roman, roman_numeral
from benchapp.history.usual_time import learn_time
from benchapp.quantities import Duration, QuantityError, Span, read_size, read_temperature
from benchapp.quantities.daytimes import read_minutes
from benchapp.reckon.air import saturation_pressure
from benchapp.reckon.normal import normal_below, normal_quantile
from benchapp.reckon.student import t_quantile
from benchapp.reckon.tear import Piece, tear_sheet
from tests.outside.test_paper_sizes import A_SERIES

#: NIST/SEMATECH e-Handbook, 1.3.6.7.2: degrees of freedom, then .90 .95 .975 .99 .995.
STUDENT = {
    1: (3.078, 6.314, 12.706, 31.821, 63.657), 2: (1.886, 2.920, 4.303, 6.965, 9.925),
    3: (1.638, 2.353, 3.182, 4.541, 5.841), 5: (1.476, 2.015, 2.571, 3.365, 4.032),
    10: (1.372, 1.812, 2.228, 2.764, 3.169), 30: (1.310, 1.697, 2.042, 2.457, 2.750),
    100: (1.290, 1.660, 1.984, 2.364, 2.626)}


@pytest.mark.parametrize("freedom", STUDENT)
def test_the_critical_values_of_student_s_t(freedom: int) -> None:
    """NIST/SEMATECH e-Handbook, 1.3.6.7.2, to its printed digits."""
    chances = (0.90, 0.95, 0.975, 0.99, 0.995)
    assert tuple(round(t_quantile(p, freedom), 3) for p in chances) == STUDENT[freedom]


@pytest.mark.parametrize(("z", "area"), [
    (0.5, 0.19146), (1.0, 0.34134), (1.96, 0.47500), (2.58, 0.49506), (3.0, 0.49865)])
def test_the_area_under_the_normal_curve(z: float, area: float) -> None:
    """NIST/SEMATECH e-Handbook, 1.3.6.7.1: from the middle to z, to its five digits."""
    assert round(normal_below(z) - 0.5, 5) == area
    assert normal_quantile(0.5 + area) == pytest.approx(z, abs=1e-2)


@pytest.mark.parametrize(("warmth", "pascals"), [
    ("-20 °C", 103.24), ("-5 °C", 401.74), ("5 °C", 872.6), ("25 °C", 3169.7), ("50 °C", 12351.3)])
def test_the_table_of_saturation_pressures(warmth: str, pascals: float) -> None:
    """ASHRAE Handbook, Fundamentals, chapter 1, table 3 (from memory), within its 3 in 10,000."""
    assert saturation_pressure(read_temperature(warmth)) == pytest.approx(pascals, rel=3e-4)


@pytest.mark.parametrize(("fahrenheit", "celsius"), [
    ("32", Fraction(0)), ("212", Fraction(100)), ("-40", Fraction(-40)), ("68", Fraction(20)),
    ("98.6", Fraction(37)), ("70", Fraction(190, 9))])
def test_degrees_fahrenheit(fahrenheit: str, celsius: Fraction) -> None:
    """NIST SP 811 (2008), B.8: t/°C = (t/°F − 32)/1.8, exactly."""
    found = read_temperature(f"{fahrenheit} °F")
    assert found.c == celsius
    assert found.f == Fraction(fahrenheit)


@pytest.mark.parametrize("sign", "ⅠⅡⅢⅣⅤⅥⅦⅧⅨⅩⅪⅫⅬⅭⅮⅯ")
def test_roman_numerals_are_unicode_s(sign: str) -> None:
    """Unicode Character Database: the value of the sign, and the letters it is made of (NFKC)."""
    value, letters = int(unicodedata.numeric(sign)), unicodedata.normalize("NFKC", sign)
    assert roman_numeral(value) == letters
    assert read_roman(letters) == value


@pytest.mark.parametrize("text", [
    "12:30 am", "1:05 am", "10:00 am", "11:59 am", "12:30 pm", "1:05 pm", "5:00 pm", "11:59 pm"])
def test_the_twelve_hour_clock_is_posix_s(text: str) -> None:
    """IEEE 1003.1, strptime: %I is the hour from 01 to 12, %p the half."""
    there = strptime(text, "%I:%M %p")
    assert read_minutes(text) == there.tm_hour * 60 + there.tm_min


@pytest.mark.parametrize("text", ["12 am", "12 pm", "12:00 am", "12:00 pm"])
def test_twelve_am_and_pm_are_nobody_s_time(text: str) -> None:
    """NIST, Times of Day FAQs: 12 a.m. and 12 p.m. are ambiguous and should not be used."""
    with pytest.raises(QuantityError, match="noon or midnight"):
        read_minutes(text)


@pytest.mark.parametrize(("whole", "part", "pieces"), [
    (0, 1, 2), (0, 2, 4), (0, 4, 16), (1, 3, 4), (2, 5, 8), (3, 4, 2)])
def test_a_sheet_of_the_a_series_is_torn_into_the_next_ones(
        whole: int, part: int, pieces: int) -> None:
    """ISO 216: each size is half of the one before, so An gives 2^m of A(n+m)."""
    found = tear_sheet(read_size(A_SERIES[whole]), [Piece(read_size(A_SERIES[part]))]).json()
    assert found["pieces"] == pieces == 2 ** (part - whole)
    assert found["tears"] == pieces - 1  # each tear makes one piece more


@pytest.mark.parametrize(("days", "minutes"), [(1, 15), (3, 18), (10, 19), (30, 20)])
def test_a_time_is_learnt_as_a_normal_mean_is(days: int, minutes: int) -> None:
    """Gelman and others, Bayesian Data Analysis, 3rd ed., 2.5: precisions add, means are weighed.

    A recipe of 15 min (sd .25 of ln), one time of 20 min a day (sd .10 a day, and of a median .20
    times √1.57). Within one standard deviation the recipe's own value is left alone.
    """
    prior, each = 1 / 0.25**2, 1 / (0.10**2 + 1.57 * 0.20**2)
    mean = (prior * log(15) + days * each * log(20)) / (prior + days * each)
    left = abs(mean - log(15)) < (prior + days * each) ** -0.5
    assert minutes == (15 if left else round(exp(mean)))
    recipe = Span(*[Duration(15 * 60_000, "min")] * 3)
    assert learn_time(recipe, recipe, [[20 * 60_000]] * days).usual.ms == minutes * 60_000
