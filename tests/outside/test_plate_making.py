"""Biting, strips and the strength of a mordant against figures in print."""

from __future__ import annotations

from fractions import Fraction

import pytest

from benchapp.quantities import Mass, Percentage, read_duration, read_temperature
from benchapp.quantities.volumes import read_volume
from benchapp.reckon.bite import Area, bites_of
from benchapp.reckon.strength import (
    SCALES,
    baume_gravity,
    gravity_baume,
    mixed_gravity,
    strength_of,
    thinned_by_mass,
    thinned_by_volume,
    water_by_volume,
)
from benchapp.reckon.strip import Patch, Scale, Strip, warmth_factor


def minutes(*figures: str) -> list[Area]:
    """Areas named by their times in all."""
    return [Area(f"{figure} min", read_duration(f"{figure} min")) for figure in figures]


@pytest.mark.parametrize(("degrees", "gravity"), [
    (10, "1.0741"), (20, "1.1600"), (30, "1.2609"), (40, "1.3810"), (45, "1.4500"),
])  # fmt: skip
def test_degrees_of_the_us_heavy_scale(degrees: int, gravity: str) -> None:
    """SG = 145 / (145 − °Bé): Roberts & Etherington, "Baumé"; and back again."""
    found = baume_gravity(Fraction(degrees))
    assert f"{float(found):.4f}" == gravity
    assert gravity_baume(found) == degrees


def test_thirty_degrees_to_three_places() -> None:
    """1.261, and the scale it is said on."""
    told = strength_of(baume=Fraction(30)).sentence
    assert "1.261" in told
    assert "US heavy scale" in told


@pytest.mark.parametrize(("scale", "gravity"), [
    ("144", "1.2632"), ("144.3", "1.2625"), ("145", "1.2609"), ("146.78", "1.2569"),
])  # fmt: skip
def test_other_scales_in_print_are_not_the_same(scale: str, gravity: str) -> None:
    """30 °Bé by the definition of each modulus: they differ in the third place."""
    assert f"{float(baume_gravity(Fraction(30), SCALES[scale])):.4f}" == gravity


def test_degrees_do_not_average() -> None:
    """40 °Bé with an equal volume of water is 23.2, not 20 (derived; against Lalanne, s. 29)."""
    mixed = gravity_baume(mixed_gravity(baume_gravity(Fraction(40)), Fraction(1)))
    assert f"{float(mixed):.1f}" == "23.2"
    assert abs(mixed - 20) > 3


def test_water_for_fewer_degrees_gives_them() -> None:
    """Mass and volume are kept (definition): the mixture has the degrees asked for."""
    first, last = baume_gravity(Fraction(42)), baume_gravity(Fraction(37))
    assert gravity_baume(mixed_gravity(first, water_by_volume(first, last))) == 37
    told = thinned_by_volume("ferric chloride", Fraction(42), Fraction(37), read_volume("1 l"))
    assert told.figures["water_ml"] == 1000 * water_by_volume(first, last)


def test_dilution_by_mass() -> None:
    """40 % to 30 %, 1 kg: 750 g and 250 g of water (definition)."""
    found = thinned_by_mass("ferric chloride", Percentage(Fraction(40, 100)),
                            Percentage(Fraction(30, 100)), Mass(Fraction(1000), "kg")).figures
    assert (found["solution_g"], found["water_g"]) == (750, 250)


def test_the_trial_plate() -> None:
    """Lalanne 1880, introduction, 9: 3, 6, 10, 20, 30 min in all."""
    _, bites = bites_of(minutes("3", "6", "10", "20", "30"))
    assert [bite.long_ms // 60_000 for bite in bites] == [3, 3, 4, 10, 10]


def test_four_baths_come_to_fourteen_minutes() -> None:
    """Blaney 1895, average bitings through tissue, 5, 5, 2 and 2 min: 14 in all."""
    _, bites = bites_of(minutes("5", "10", "12", "14"))
    assert [bite.long_ms // 60_000 for bite in bites] == [5, 5, 2, 2]
    assert bites[-1].in_all_ms == 14 * 60_000


def test_winter_against_summer() -> None:
    """4.5 times over 20 °C (Lalanne 1880, s. 34, taken as so far apart): 2.121 over ten."""
    warm, cold = read_temperature("25 °C"), read_temperature("15 °C")
    assert f"{warmth_factor(warm, cold):.3f}" == "2.121"
    assert warmth_factor(warm, cold) * warmth_factor(cold, warm) == pytest.approx(1)


def test_a_strip_read_at_a_density() -> None:
    """A strip in densities (ISO 5) at 0.7: 7.57 min by SciPy's PCHIP (1.17.1), read inversely."""
    read = (("1", "0.1"), ("3", "0.3"), ("6", "0.6"), ("12", "0.9"), ("25", "1.2"), ("50", "1.4"))
    strip = Strip([Patch(read_duration(f"{m} min"), Fraction(d)) for m, d in read], Scale.DENSITY)
    assert strip.time_for(Fraction("0.7")) / 60_000 == pytest.approx(7.5684, abs=5e-5)
