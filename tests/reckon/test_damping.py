"""Damping: what one sheet weighs, what the stack drinks, how it grows and how long it keeps."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities import (
    Grammage,
    Length,
    Mass,
    Percentage,
    Size,
    read_duration,
    read_grammage,
    read_humidity,
    read_mass,
    read_percentage,
    read_size,
    read_temperature,
)
from benchapp.reckon.air import Air
from benchapp.reckon.answer import Answer, Origin
from benchapp.reckon.damp import ControlSheet, damp_weight, paper_moisture, wet_basis
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.growth import Growth, paper_growth
from benchapp.reckon.keeping import paper_keeping

PIECE = read_size("380 x 280 mm")
PAPER = ControlSheet(PIECE, read_grammage("270 g/m2"))


def origin_of(answer: Answer, name: str) -> Origin:
    """Where an input of an answer comes from."""
    (found,) = (given.source for given in answer.inputs if given.name.startswith(name))
    return found


def test_a_target_is_a_weight_and_the_stack_a_pour():
    """The sentence is what is done at the scale and the tray."""
    found = damp_weight(PAPER, 6)
    assert found.sentence == "Damp until one sheet weighs 43.2 g; 6 sheets take up 87 g of water"
    assert found.figures["from_g"] < found.figures["target_g"] < found.figures["to_g"]


def test_defaults_say_where_they_come_from():
    """Delivered moisture is published, the target common practice, what was given is given."""
    usual = damp_weight(PAPER)
    assert origin_of(usual, "moisture as delivered") is Origin.PUBLISHED
    assert origin_of(usual, "moisture wanted") is Origin.PRACTICE
    own = damp_weight(
        ControlSheet(PIECE, read_grammage("270 g/m2"), delivered=read_percentage("7 %")),
        target=read_percentage("40 %"),
    )
    assert {origin_of(own, n) for n in ("moisture as", "moisture wanted")} == {Origin.GIVEN}


def test_the_scale_beats_the_wrapper():
    """A weighed sheet needs no grammage, and is started from."""
    found = damp_weight(ControlSheet(weighed=read_mass("30 g")))
    assert found.figures["as_delivered_g"] == 30
    assert found.figures["dry_g"] == Fraction("28.2")
    assert not any("wrapper" in note for note in found.notes)
    assert any("wrapper" in note for note in damp_weight(PAPER).notes)


def test_a_target_outside_the_usual_is_answered_with_a_caution():
    """The printer decides."""
    found = damp_weight(PAPER, target=read_percentage("25 %"))
    assert "25 % is outside what printers use, 30 % to 45 %" in found.notes


@pytest.mark.parametrize(
    ("sheet", "told"),
    [
        ({}, "sheet: the sheet's weight is not known; give size and g/m2"),
        ({"size": "22 x 30 mm", "grammage": "300 g/m2"}, "inches are written as 22 in"),
        ({"size": "560 x 760 in", "grammage": "300 g/m2"}, "larger than a sheet can be"),
        ({"size": "560 x 760 mm", "grammage": "0.3 g/m2"}, "weight: 0.3 g/m2 is not a weight of "
                                                           "paper"),
        ({"size": "560 x 760 mm"}, "the sheet's weight is not known"),
    ],
)
def test_paper_that_cannot_be_is_refused(sheet, told):
    """Which figure is wrong, and what to give."""
    read = {"size": read_size, "grammage": read_grammage}
    with pytest.raises(ReckonError, match=told):
        ControlSheet(**{name: read[name](text) for name, text in sheet.items()})


@pytest.mark.parametrize(
    ("target", "count", "told"),
    [
        ("6 %", 1, "target: 6 % is not damper than the sheet comes, 6 %"),
        ("0.4 %", 1, "a part of one such as 0.4 is written 40 %"),
        ("80 %", 1, "60 % on the dry basis is 37.5 % on the wet"),
        ("40 %", 0, "sheets: 0 sheets are not a stack"),
    ],
)
def test_a_target_that_cannot_be_is_refused(target, count, told):
    """Drier than it comes, a mistaken per cent, the other basis, no sheets."""
    with pytest.raises(ReckonError, match=told):
        damp_weight(PAPER, count, target=read_percentage(target))


def test_paper_that_is_damp_already_is_not_as_delivered():
    """20 % is the most that still feels dry."""
    with pytest.raises(ReckonError, match="delivered: paper at 25 % is damp already"):
        ControlSheet(weighed=read_mass("30 g"), delivered=read_percentage("25 %"))


def test_impossible_weighings_are_refused():
    """A wet sheet is never lighter than dry, and a sheet weighs something."""
    with pytest.raises(ReckonError, match="wet: 90 g is lighter than dry"):
        paper_moisture(read_mass("90 g"), read_mass("100 g"))
    with pytest.raises(ReckonError, match="dry: the sheet weighs nothing"):
        paper_moisture(read_mass("90 g"), read_mass("0 g"))


@given(st.integers(100, 600), st.integers(60, 2000), st.integers(60, 2000),
       st.integers(21, 70), st.integers(1, 200))  # fmt: skip
def test_the_damped_sheet_has_the_moisture_asked_for(gsm, width, height, percent, count):
    """Exactly, and the water is what every sheet gained."""
    size = Size(Length(Fraction(width)), Length(Fraction(height)))
    target = Percentage(Fraction(percent, 100))
    found = damp_weight(ControlSheet(size, Grammage(Fraction(gsm))), count, target=target).figures
    assert wet_basis(Mass(found["target_g"]), Mass(found["dry_g"])) == target
    assert found["water_g"] == count * (found["target_g"] - found["as_delivered_g"])


def test_the_plate_mark_shrinks_most_across_the_grain():
    """With the grain along the height the width is across it."""
    found = paper_growth(read_size("250 x 190 mm"), "height")
    wide, high = found.figures["dry_mm"]
    assert (wide, high) == (250 / Fraction("1.02"), 190 / Fraction("1.005"))
    assert found.figures["dry_from_mm"][0] < wide < found.figures["dry_to_mm"][0]
    assert found.sentence == (
        "The plate of 250 × 190 mm leaves about 245.1 × 189.1 mm when the sheet is dry"
    )
    assert origin_of(found, "growth across") is Origin.PRACTICE


def test_the_printers_own_growth_needs_no_range():
    """Measured once, the figure is theirs."""
    own = Growth(read_percentage("1.2 %"), read_percentage("0.2 %"))
    found = paper_growth(read_size("250 x 190 mm"), "width", own=own,
                         sheet=read_size("380 x 280 mm"))
    assert found.figures["dry_mm"] == [250 / Fraction("1.002"), 190 / Fraction("1.012")]
    assert found.figures["sheet_grows_mm"] == [Fraction("0.76"), Fraction("3.36")]
    assert "dry_from_mm" not in found.figures
    assert "The sheet itself grows by 0.8 × 3.4 mm on the bed" in found.notes
    assert origin_of(found, "growth along") is Origin.GIVEN


def test_300_mm_across_the_grain_grows_3_to_9_mm():
    """1 to 3 % across (common practice): 3 to 9 mm on 300."""
    grown = [paper_growth(read_size("200 x 200 mm"), "height", sheet=read_size("300 x 300 mm"),
                          own=Growth(read_percentage(p), read_percentage("0 %")))
             for p in ("1 %", "3 %")]  # fmt: skip
    assert [g.figures["sheet_grows_mm"][0] for g in grown] == [3, 9]


@pytest.mark.parametrize(
    ("across", "along", "told"),
    [
        ("12 %", "1 %", "across: no paper grows 12 %"),
        ("1 %", "2 %", "along: 2 % is more than 1 % across the grain; swap the two"),
    ],
)
def test_growth_no_paper_has_is_refused(across, along, told):
    """Also when the grain was read the wrong way round."""
    with pytest.raises(ReckonError, match=told):
        Growth(read_percentage(across), read_percentage(along))


#: Damp paper is looked at; nobody is told to smell for mould.
MUSTY = "look; if it smells musty, throw the paper away"


def air(degrees: str, humidity: str) -> Air:
    """A workroom."""
    return Air(read_temperature(degrees), read_humidity(humidity))


@pytest.mark.parametrize(
    ("age", "room", "cold", "sentence"),
    [
        ("10 h", None, False, f"Good for another 38 h, then {MUSTY}"),
        ("30 h", ("18 °C", "50 %"), False,
         f"Good for another 18 h, then {MUSTY}"),
        ("30 h", ("30 °C", "40 %"), False,
         f"Damp for 30 h in hot air: {MUSTY}"),
        ("23 h", ("30 °C", "70 %"), False,
         f"Good for another 1 h, then {MUSTY}"),
        ("50 h", ("18 °C", "50 %"), False,
         f"Damp for 50 h: mould is possible; {MUSTY}"),
        ("50 h", ("30 °C", "70 %"), True,
         f"Good for another 70 h, then {MUSTY}"),
    ],
)  # fmt: skip
def test_how_long_damp_paper_keeps(age, room, cold, sentence):
    """48 h as a rule, a look from 24 h when hot, five days in the cold."""
    found = paper_keeping(read_duration(age), air=air(*room) if room else None, refrigerated=cold)
    assert found.sentence == sentence


def test_the_recipes_own_life_stands_beside_the_published_one():
    """It never takes the warning away."""
    found = paper_keeping(read_duration("50 h"), keeps=read_duration("72 h"))
    assert found.figures["warns"]
    assert found.figures["keeps_ms"] == 72 * 3_600_000
    shorter = paper_keeping(read_duration("30 h"), keeps=read_duration("24 h"))
    assert "Your recipe says it keeps 24 h" in shorter.notes


def test_an_age_in_the_wrong_unit_is_refused():
    """Damp paper is not kept for months."""
    with pytest.raises(ReckonError, match="age: 100 days is not an age of damp paper"):
        paper_keeping(read_duration("100 days"))


LIGHT = ControlSheet(read_size("280 x 190 mm"), read_grammage("100 g/m2"))
GAMPI = ControlSheet(PIECE, read_grammage("30 g/m2"))


def test_light_sheets_are_weighed_as_a_pack():
    """One is 8 g: eight on the scale tell the difference."""
    pack = damp_weight(LIGHT, 8)
    assert pack.sentence == (
        "Damp until 8 sheets together weigh 64 g, 8 g each; 8 sheets take up 21.5 g of water"
    )
    assert "30 % to 45 % is 57.2 to 72.7 g for 8 sheets (common practice)" in pack.notes
    assert pack.figures["pack_g"] == 8 * pack.figures["target_g"]


def test_one_light_sheet_is_told_in_tenths_and_asked_for_its_pack():
    """Whole grams would hide what lies between too dry and too wet."""
    notes = damp_weight(LIGHT).notes
    assert "30 % to 45 % is 7.1 to 9.1 g a sheet (common practice)" in notes
    assert any("with its pack" in note for note in notes)
    assert not any("with its pack" in note for note in damp_weight(PAPER).notes)


@pytest.mark.parametrize("sheet", [GAMPI, ControlSheet(PIECE, weighed=read_mass("3.2 g"))])
def test_thin_paper_is_asked_how_damp_it_should_be(sheet):
    """By the wrapper or by the scale: 37.5 % is for printing paper."""
    with pytest.raises(ReckonError, match=r"target: 37.5 % is for heavier paper.*give --target"):
        damp_weight(sheet)
    told = damp_weight(sheet, 8, target=read_percentage("20 %"))
    assert told.figures["from_g"] is told.figures["to_g"] is None
    assert "30 % to 45 % is for heavier paper; no range is known for thin paper" in told.notes
