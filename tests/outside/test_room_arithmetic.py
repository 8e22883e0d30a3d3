"""Paper, ink, press and air against numbers nobody here made; each source stands beside it."""

from __future__ import annotations

from fractions import Fraction

import pytest

from benchapp.quantities import (
    Mass,
    read_duration,
    read_grammage,
    read_humidity,
    read_length,
    read_mass,
    read_percentage,
    read_size,
    read_temperature,
)
from benchapp.reckon.air import Air, saturation_pressure
from benchapp.reckon.damp import ControlSheet, damp_weight, dry_basis, paper_moisture, wet_basis
from benchapp.reckon.diffusion import tau_at, uptake
from benchapp.reckon.ink import Ingredient, mix_ink
from benchapp.reckon.keeping import paper_keeping
from benchapp.reckon.press import ThicknessChange, press_turns
from benchapp.reckon.weight import board_pressure, board_weight


def parts(*shares: str) -> list[Ingredient]:
    """Nameless parts, in order."""
    return [Ingredient(f"part {i}", Fraction(share)) for i, share in enumerate(shares, 1)]


def test_moisture_on_the_wet_basis_and_on_the_dry():
    """160 g wet of 100 g dry is 37.5 % (ISO 287, definition) and 60 % on the dry basis."""
    wet, dry = read_mass("160 g"), read_mass("100 g")
    assert str(wet_basis(wet, dry)) == "37.5 %"
    assert str(dry_basis(wet, dry)) == "60 %"
    assert paper_moisture(wet, dry).figures["wet_basis_percent"] == Fraction("37.5")


def test_a_sheet_of_250_grams_damped():
    """560 x 760 mm of 250 g/m2: 106.4 g (ISO 536), 100.0 dry at 6 %, takes up 53.6 (derived)."""
    found = damp_weight(ControlSheet(read_size("560 x 760 mm"), read_grammage("250 g/m2"))).figures
    assert found["as_delivered_g"] == Fraction("106.4")
    assert round(found["dry_g"], 1) == Fraction("100.0")
    assert round(found["water_a_sheet_g"], 1) == Fraction("53.6")


def test_the_water_of_twenty_sheets():
    """20 of .76 x .56 m, 300 g/m2, from 7 % wet basis to .6 g/g dry: 1,246 g (derived)."""
    paper = ControlSheet(read_size("560 x 760 mm"), read_grammage("300 g/m2"),
                         delivered=read_percentage("7 %"))  # fmt: skip
    found = damp_weight(paper, 20)
    assert found.figures["target_g"] / found.figures["dry_g"] == Fraction("1.6")
    assert round(found.figures["water_g"]) == 1246
    assert found.sentence.endswith("20 sheets take up 1,246 g of water")


@pytest.mark.parametrize("tau", [0.0001, 0.001, 0.003, 0.01])
def test_four_times_as_long_takes_up_twice_the_water(tau):
    """At first L grows with √t, so L(4t) = 2 L(t) (Washburn, Phys. Rev. 17 (1921) 273)."""
    assert uptake(4 * tau) == pytest.approx(2 * uptake(tau), rel=2e-3)


def test_half_the_water_is_in_at_the_half_time():
    """tau(.5) = .04918 (Crank, The Mathematics of Diffusion, plane sheet)."""
    assert round(tau_at(0.5), 5) == 0.04918
    assert uptake(tau_at(0.5)) == pytest.approx(0.5, rel=1e-12)


def test_damp_paper_warns_at_48_hours():
    """Above 21 °C and 60 % RH mould comes within 48 h (US National Park Service)."""
    air = Air(read_temperature("22 °C"), read_humidity("61 %"))
    before, then = (paper_keeping(read_duration(age), air=air) for age in ("47 h 59 min", "48 h"))
    assert (before.figures["warns"], then.figures["warns"]) == (False, True)
    assert then.figures["warm_and_humid"]


@pytest.mark.parametrize(
    ("shares", "total", "step", "grams"),
    [
        # Lalanne ss. 72.
        (["880", "100", "20"], "1000 g", "0.1 g", ["880", "100", "20"]),
        # Largest remainder, ties to the first written.
        (["1", "1", "1"], "100.0 g", "0.1 g", ["33.4", "33.3", "33.3"]),
        (["880", "100"], "980 g", "0.1 g", ["880", "100"]),
    ],
)
def test_parts_to_grams(shares, total, step, grams):
    """The figures of the source, and a total that is exact."""
    found = mix_ink(parts(*shares), read_mass(total), read_mass(step)).figures
    assert list(found["grams"].values()) == [Fraction(g) for g in grams]
    assert found["total_g"] == read_mass(total).g


def test_the_smallest_batch_a_scale_weighs_honestly():
    """7:2:0.1 on 0.1 g, every part within 2 %: 227.5 g (derived)."""
    found = mix_ink(parts("7", "2", "0.1"), read_mass("300 g"), read_mass("0.1 g")).figures
    assert found["smallest_batch_g"] == Fraction("227.5")


def test_turns_for_a_change_of_plate():
    """0.267 mm at 2 mm pitch: 0.1335 turn, 48.1° (definition of pitch)."""
    found = press_turns(ThicknessChange(plate=Fraction("0.267")), read_length("2 mm")).figures
    assert found["turns"] == Fraction("0.1335")
    assert round(float(found["degrees"]), 1) == 48.1


def test_pressure_under_a_board():
    """40 kg on 0.4256 m2 with g 9.80665 (CGPM 1901): 921.7 Pa (definition)."""
    board, mass = read_size("560 x 760 mm"), read_mass("40 kg")
    assert round(float(board_pressure(mass, board)), 1) == 921.7
    assert board_weight(board, mass).json()["pascals"] == pytest.approx(921.7, abs=0.05)
    assert board_pressure(Mass(Fraction(40_000)),
                          board) * Fraction("0.4256") == 40 * Fraction("9.80665")


@pytest.mark.parametrize(
    ("warmth", "pascals"),
    [("10 °C", 1228.0), ("20 °C", 2338.8), ("25 °C", 3169.2), ("30 °C", 4246.0)],
)
def test_saturation_pressure(warmth, pascals):
    """Hyland & Wexler, as ASHRAE's table and psychrolib give it."""
    assert round(saturation_pressure(read_temperature(warmth)), 1) == pascals
