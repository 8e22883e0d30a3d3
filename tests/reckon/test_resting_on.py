"""What an answer rests on, line by line, and the names its figures have in JSON.

A printer who doubts an answer reads these lines; whoever reads the JSON knows the names.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from benchapp.quantities import (
    read_duration,
    read_grammage,
    read_humidity,
    read_length,
    read_mass,
    read_percentage,
    read_size,
    read_temperature,
    read_turns,
)
from benchapp.reckon.air import Air
from benchapp.reckon.answer import Answer, Origin
from benchapp.reckon.damp import ControlSheet, damp_weight
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.ink import Ingredient, mix_ink
from benchapp.reckon.ink_need import ink_need
from benchapp.reckon.keeping import paper_keeping
from benchapp.reckon.press import GUESS, Sides, ThicknessChange, press_turns
from benchapp.reckon.sheets import reckon_sheets
from benchapp.reckon.soak import SoakWeighing, soak_time
from benchapp.reckon.trend import Point, reading_trend
from benchapp.reckon.trend_rank import mann_kendall, theil_sen
from benchapp.reckon.weight import board_weight

BOARD = read_size("560 x 760 mm")
PLATE = read_size("198 x 148 mm")
DRY = read_mass("120 g")
WEIGHED = (SoakWeighing(read_duration("5 min"), read_mass("150 g")),)
HOT = Air(read_temperature("29 °C"), read_humidity("70 %"))
FALLING = [Point(n, v) for n, v in enumerate((5, 5, 5, 5, 5, 5, 3, 3, 2, 2, 2, 2), 1)]


def wear(values: list[Point] = FALLING) -> Answer:
    """A tone that falls, with the tolerance and the life a recipe says."""
    return reading_trend("tone", values, unit="grade 1-5", tolerance=1, life=120,
                         where="this session")


@pytest.mark.parametrize(("ask", "lines"), [
    (lambda: board_weight(BOARD, read_mass("40 kg"), day=3), [
        "mass 40 kg (given)", "board 560 × 760 mm (given)", "day 3 (given)",
        "pressure at first 200 to 1000 Pa (common practice)",
        "pressure after day 3 up to 5000 Pa (common practice)"]),
    (lambda: paper_keeping(read_duration("30 h"), air=HOT, keeps=read_duration("24 h")), [
        "age 30 h (given)", "warmth 29 °C (given)", "humidity 70 % (given)",
        "keeps 24 h (the recipe)", "warning at 48 h (published: Park Service)",
        "look for mould from 24 h (this program's choice: hot: above 27 °C)"]),
    (lambda: paper_keeping(read_duration("30 h"), refrigerated=True), [
        "age 30 h (given)", "lies refrigerated (given)",
        "warning at 5 days (common practice: 5 to 7 days)"]),
    (lambda: ink_need(PLATE, 10, charge=read_mass("9 g")), [
        "plate 198 × 148 mm (given)", "impressions 10 (given)",
        "charged on before wiping 13 to 26 mg/cm2 (common practice: no source)",
        "carded back 50 % (common practice: about half)", "charge 9 g (the recipe)"]),
    (lambda: damp_weight(ControlSheet(weighed=None, size=BOARD,
                                      grammage=read_grammage("300 g/m2"))), [
        "moisture wanted, wet basis 37.5 % (common practice: no source found)",
        "moisture as delivered, wet basis 6 % (published: US National Park Service, 5 to 7 %)",
        "sheets 1 (given)", "sheet 560 × 760 mm (given)", "weight 300 g/m2 (given)"]),
    (lambda: soak_time(DRY, WEIGHED, read_mass("160 g"), full=read_mass("190 g"),
                       note=read_duration("30 min")), [
           "wanted 160 g (given)", "before 120 g (given)",
           "after 5 min 150 g (given: your weighing)", "full 190 g (given)",
           "soak 30 min (given: your own note)"]),
    (lambda: press_turns(
        ThicknessChange(plate=Fraction("0.3"), blankets=Fraction(2)), read_length("2 mm"),
        sides=Sides((("left", read_turns("3.25 turns")),), Origin.LEARNT, "2026-05-03")), [
        "plate thicker by 0.3 mm (given)", "blankets thicker by 2 mm (given)", "pitch 2 mm (given)",
        "give of plate 1 (common practice: a guess to be learnt)",
        "give of blankets 0.35 (common practice: a guess to be learnt)",
        "left 3.25 turns (learnt from your own sessions: 2026-05-03)"]),
    (lambda: wear(), [
        "tone on 12 impressions (learnt from your own sessions: this session)",
        "tolerance 1 grade 1-5 (given)", "expected life 120 impressions (the recipe)"]),
], ids=["weight", "hot", "cold", "ink", "damp", "soak", "press", "trend"])
def test_an_answer_says_what_it_rests_on(ask: Callable[[], Answer], lines: list[str]) -> None:
    """Each figure with its unit, and where it comes from."""
    assert [found.line() for found in ask().inputs] == lines


def test_the_parts_of_a_mixture_have_names_in_json() -> None:
    """What each is, what was asked and what the scale gives, and how far off that is."""
    found = mix_ink([Ingredient("black", Fraction(10)), Ingredient("oil", Fraction(1))],
                    read_mass("30 g"), read_mass("1 g"))
    assert found.figures["grams"] == {"black": 27, "oil": 3}
    assert found.figures["parts"][1] == {
        "name": "oil", "parts": 1, "grams": 3, "exact_g": Fraction(30, 11), "off_percent": 10}


def test_a_trend_has_names_in_json() -> None:
    """The slope with its bounds, the largest step, and the life the recipe expects."""
    found = wear()
    assert {"direction", "since", "s", "p", "exact", "slope", "slope_low", "slope_high",
            "tolerance", "reaches", "step_after", "step_p", "life", "unit"} <= found.figures.keys()
    assert (found.figures["step_after"], found.figures["life"]) == (6, 120)
    assert found.notes[0] == "The largest step is after impression 6: 5 before, 2.33 after"


def test_no_change_of_thickness_is_no_lift() -> None:
    """A fraction as all lifts are, so that turns can be reckoned from it."""
    assert isinstance(GUESS.lift(ThicknessChange()), Fraction)


@pytest.mark.parametrize(("ask", "said"), [
    (lambda: board_weight(read_size("22 x 30 mm"), read_mass("40 kg")),
     "board: 22 × 30 mm is smaller than a board can be; give sides of 50 mm or more; "
     "inches are written as 22 in"),
    (lambda: ink_need(read_size("2 x 3 mm"), 10),
     "plate: 2 × 3 mm is smaller than a plate can be; give sides of 5 mm or more; "
     "inches are written as 2 in"),
    (lambda: ink_need(read_size("2001 x 300 mm"), 10),
     "plate: 2001 × 300 mm is larger than a plate can be; give sides up to 2000 mm; "
     "millimetres are written as 2001 mm"),
    (lambda: reckon_sheets(10, spoilage=read_percentage("100 %")),
     "spoilage: 100 % spoiled leaves no good sheet; give less than 100 %"),
    (lambda: mann_kendall([1.0]), "readings: 1 are too few for a direction; give 2 or more"),
    (lambda: theil_sen([1, 1], [2, 3]),
     "readings: two at one place have no slope; give two places"),
    (lambda: soak_time(read_mass("5001 g"), WEIGHED, read_mass("160 g"), full=read_mass("190 g")),
     "before: 5001 g is not the weight of a sheet; give up to 5000 g"),
], ids=["board", "plate", "large", "spoilage", "one", "place", "heavy"])
def test_a_refusal_names_the_figure_and_what_to_give(
    ask: Callable[[], object], said: str
) -> None:
    """What is wrong, where, and what to do."""
    with pytest.raises(ReckonError) as caught:
        ask()
    assert str(caught.value) == said


def test_the_bounds_themselves_are_taken() -> None:
    """A plate of two metres and a sheet of five kilograms are the last that are."""
    assert ink_need(read_size("2000 x 300 mm"), 1).sentence
    heaviest = read_mass("5000 g")
    found = soak_time(read_mass("4000 g"),
                      (SoakWeighing(read_duration("5 min"), read_mass("4500 g")),),
                      read_mass("4600 g"), full=heaviest)
    assert found.inputs[-1].value == heaviest
