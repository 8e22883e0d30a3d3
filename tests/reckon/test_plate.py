"""Bites from times in all, times from a strip, and what a mordant's strength is told of."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities import Duration
from benchapp.reckon.bite import Area, bite_stages, bites_of
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.pchip import MonotoneCurve
from benchapp.reckon.strength import THINNED, strength_of, thinned_by_volume
from benchapp.reckon.strip import Patch, Scale, Strip, pool, strip_times

MIN = 60_000
areas = st.lists(st.integers(0, 240), min_size=1, max_size=12).filter(any).map(
    lambda times: [Area(f"area {n}", Duration(t * MIN)) for n, t in enumerate(times)])
readings = st.lists(st.integers(0, 200), min_size=3, max_size=9)


def strip_of(values: list[int], scale: Scale = Scale.DENSITY) -> Strip:
    """Patches a minute apart."""
    return Strip([Patch(Duration(n * MIN), Fraction(v)) for n, v in enumerate(values, 1)], scale)


@given(areas)
def test_every_area_is_bitten_for_its_time_and_no_longer(parts: list[Area]) -> None:
    """The bites until it is stopped out come to the time in all of each area."""
    first, bites = bites_of(parts)
    got = dict.fromkeys(first, 0)
    for number, bite in enumerate(bites):
        still = bite.stopped if number < len(bites) - 1 else [
            a.name for a in parts if a.name not in got]
        got |= dict.fromkeys(still, sum(b.long_ms for b in bites[:number + 1]))
    assert got == {area.name: area.in_all.ms for area in parts}


@given(areas, st.integers(1, 30))
def test_the_whole_time_is_bites_and_stoppings_out(parts: list[Area], stop: int) -> None:
    """Nothing is stopped out after the last bite."""
    found = bite_stages(parts, stop_out=Duration(stop * MIN)).figures
    assert found["whole_ms"] == sum(found["bites_ms"]) + stop * MIN * (len(found["bites_ms"]) - 1)


def test_the_rows_name_what_is_stopped_out_when() -> None:
    """First what is never bitten, then bite by bite with the clock."""
    parts = [Area(name, Duration(int(minutes * MIN))) for name, minutes in (
        ("margin", 0), ("sky", 3), ("roof", 7.5), ("wall", 7.5), ("door", 20))]
    rows = bite_stages(parts, stop_out=Duration(10 * MIN), from_minute=23 * 60 + 30).body
    assert rows == (
        "first    stop out margin",
        "bite 1   3 min, in all 3 min  in 23:30, out 23:33; then stop out sky",
        "bite 2   4.5 min, in all 7.5 min  in 23:43, out 23:47:30; then stop out roof and wall",
        "bite 3   12.5 min, in all 20 min  in 23:57:30, out 00:10 1 day later")


@given(readings)
def test_pooled_readings_rise_and_keep_their_mean(values: list[int]) -> None:
    """And what rises already stays as it is."""
    found = pool([float(v) for v in values])
    assert all(a <= b for a, b in pairwise(found))
    assert sum(found) == pytest.approx(sum(values))
    assert pool(sorted(map(float, values))) == sorted(values)


@given(readings.filter(lambda v: pool([float(x) for x in v])[0] < pool([float(x) for x in v])[-1]),
       st.floats(0, 1))
def test_a_darker_tone_never_takes_less_time(values: list[int], share: float) -> None:
    """And a time read off gives the tone back."""
    strip = strip_of(values)
    low, high = strip.pooled[0], strip.pooled[-1]
    tone = Fraction(low + (high - low) * share).limit_denominator(1000)
    if not low <= tone <= high:
        return
    time = strip.time_for(tone)
    assert strip.time_for(Fraction(low).limit_denominator(10**6)) <= time + 1e-6
    curve = MonotoneCurve([n * MIN for n in range(1, len(values) + 1)], strip.pooled)
    assert curve(time) == pytest.approx(float(tone), abs=1e-6)


def test_a_strip_falls_in_reflectance_and_rises_in_density() -> None:
    """The same strip read both ways gives the same times."""
    fell = strip_of([80, 60, 40], Scale.REFLECTANCE)
    rose = strip_of([20, 40, 60], Scale.DENSITY)
    assert fell.time_for(Fraction(50)) == pytest.approx(rose.time_for(Fraction(50)))


def test_a_slip_of_reading_is_told() -> None:
    """A patch lighter than one bitten shorter: both at their mean, and it says so."""
    told = strip_times(strip_of([80, 60, 65, 40], Scale.REFLECTANCE), [Fraction(70)])
    assert told.notes[0].startswith("2 patches read out of order")


@pytest.mark.parametrize("tone", [30, 81])
def test_beyond_the_strip_is_a_guess_and_refused(tone: int) -> None:
    """Lighter than the lightest and darker than the darkest."""
    with pytest.raises(ReckonError, match="guess; ask for 80 % to 40 %"):
        strip_of([80, 60, 40], Scale.REFLECTANCE).time_for(Fraction(tone))


@pytest.mark.parametrize("of", ["nitric acid", "Sulphuric Acid", "hydrochloric", "acid", "bleach",
                                "dutch mordant", "ferric chloride and acid"])
def test_nothing_but_what_a_studio_thins_gets_a_figure(of: str) -> None:
    """Concentrated acid is bought diluted; others are left to who sells them."""
    with pytest.raises(ReckonError, match="gets no figure"):
        thinned_by_volume(of, Fraction(40), Fraction(30), _litre())


@pytest.mark.parametrize("of", [*THINNED, "Ferric  Chloride", "perchloride of iron"])
def test_what_a_studio_thins_goes_into_the_water(of: str) -> None:
    """The solution is put into the water, and the averaged degrees are named as wrong."""
    told = thinned_by_volume(of, Fraction(40), Fraction(20), _litre())
    assert "into" in told.sentence.partition("of water")[0]
    assert told.notes[0] == ("Degrees do not average: with as much water again it would be "
                             "23.2 °Bé")


@given(st.integers(1, 69))
def test_degrees_and_gravity_say_the_same(degrees: int) -> None:
    """There and back, to the tenth of a degree that is shown."""
    gravity = strength_of(baume=Fraction(degrees)).figures["specific_gravity"]
    back = strength_of(gravity=gravity).figures["baume"]
    assert abs(back - degrees) <= Fraction(1, 10)


def _litre():
    from benchapp.quantities.volumes import Volume

    return Volume(Fraction(1000), "l")
