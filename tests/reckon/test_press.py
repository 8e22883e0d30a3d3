"""Press: turns for a change, the printer's own sides, and what corrections teach."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities import read_length, read_turns
from benchapp.reckon.answer import Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.press import (
    GUESS,
    Gives,
    LiftCorrection,
    Sides,
    ThicknessChange,
    added_thickness,
    learn_gives,
    press_turns,
)

PITCH = read_length("2 mm")
LAST = Sides(
    (("handle side", read_turns("3.25 turns")), ("far side", read_turns("3 3/8 turns"))),
    Origin.LEARNT,
    "2026-05-03",
)


def plate(mm: str) -> ThicknessChange:
    """A plate thicker by so much."""
    return ThicknessChange(plate=Fraction(mm))


def test_both_sides_by_the_printers_own_names():
    """A thicker plate lifts the roller; where more is tighter the readings fall."""
    found = press_turns(plate("0.267"), PITCH, sides=LAST, more_is="tighter")
    assert found.sentence == (
        "Let the roller up 48°, 0.13 turn, both sides: "
        "handle side 3.25 to 3.12 turns, far side 3.375 to 3.24 turns"
    )
    assert found.figures["sides"] == {
        "handle side": Fraction("3.1165"), "far side": Fraction("3.2415")
    }  # fmt: skip
    assert [i.detail for i in found.inputs if i.name.endswith("side")] == ["2026-05-03"] * 2


def test_where_more_is_looser_the_readings_rise():
    """The same lift, counted the other way."""
    found = press_turns(plate("0.5"), PITCH, sides=LAST, more_is="looser")
    assert found.figures["sides"]["handle side"] == Fraction("3.5")
    thinner = press_turns(plate("-0.5"), PITCH, sides=LAST, more_is="looser")
    assert thinner.figures["sides"]["handle side"] == 3
    assert thinner.sentence.startswith("Let the roller down 90°, 0.25 turn, both sides")


def test_without_knowing_which_way_no_reading_is_invented():
    """Turns and direction are still answered."""
    found = press_turns(plate("0.5"), PITCH, sides=LAST)
    assert found.figures["sides"] is None
    assert found.sentence == "Let the roller up 90°, 0.25 turn, both sides"
    assert any("more is tighter or looser" in note for note in found.notes)


def test_nothing_changed_is_as_last_time():
    """The last good settings, without needing the direction."""
    found = press_turns(ThicknessChange(), PITCH, sides=LAST)
    assert found.sentence == ("Screws as last time: handle side 3.25 turns, far side 3 3/8 turns")
    assert found.figures["sides"] == {"handle side": Fraction("3.25"), "far side": Fraction(27, 8)}
    assert press_turns(ThicknessChange(), PITCH).sentence == "Screws as last time"


def test_no_pressure_is_given_and_it_is_said_why():
    """No figure of it, in any unit."""
    found = press_turns(plate("0.5"), PITCH)
    assert not [n for n in found.figures if "press" in n or "pa" in n.split("_")]
    assert found.notes[-1] == (
        "Pressure is not reckoned: under blankets the formulas are a hundred times off"
    )


def test_paper_and_blankets_give_less_than_a_plate():
    """Guesses until corrected, and marked so."""
    found = press_turns(ThicknessChange(paper=Fraction("0.5"), blankets=Fraction(1)), PITCH)
    assert found.figures["lift_mm"] == Fraction("0.65")
    marks = [i for i in found.inputs if i.name.startswith("give of")]
    assert {i.source for i in marks} == {Origin.PRACTICE}
    assert any("guesses" in note for note in found.notes)


def test_a_setting_below_its_zero_is_warned_of():
    """It is shown and not hidden."""
    low = Sides((("left", read_turns("1/8 turn")),))
    found = press_turns(plate("0.5"), PITCH, sides=low, more_is="tighter")
    assert found.figures["sides"]["left"] == Fraction("-0.125")
    assert found.notes[0] == "left would be 0.13 turn below its zero: read the screws again"


def test_without_corrections_the_guesses_stand():
    """Nothing learnt, nothing moved."""
    assert learn_gives([]) == GUESS


def test_one_correction_moves_a_give_part_of_the_way():
    """It is neither ignored nor believed outright, and the other gives stay."""
    found = learn_gives([LiftCorrection(ThicknessChange(paper=Fraction("0.3")), Fraction("0.3"))])
    assert GUESS.paper < found.paper < 1
    assert (found.plate, found.blankets) == (GUESS.plate, GUESS.blankets)
    assert found.learnt_from == (0, 1, 0)


def test_many_corrections_are_believed():
    """The guess fades as they add up."""
    seen = [LiftCorrection(ThicknessChange(blankets=Fraction(b)), Fraction(b) / 2)
            for b in (1, -2, 3, 2, -1)]
    found = learn_gives(seen * 20)
    assert float(found.blankets) == pytest.approx(0.5, abs=0.001)
    answer = press_turns(ThicknessChange(blankets=Fraction(1)), PITCH, gives=found)
    (give,) = (i for i in answer.inputs if i.name == "give of blankets")
    assert (give.source, give.detail) == (Origin.LEARNT, "100 corrections")
    assert not any("guesses" in note for note in answer.notes)


@given(st.lists(st.tuples(*[st.integers(-400, 400)] * 3), max_size=6))
def test_corrections_that_agree_with_the_guesses_change_nothing(changes):
    """Exactly: the sums are fractions."""
    seen = [ThicknessChange(*(Fraction(v, 100) for v in layers)) for layers in changes]
    found = learn_gives([LiftCorrection(change, GUESS.lift(change)) for change in seen])
    assert found.layers == GUESS.layers


@given(st.integers(-800, 800), st.integers(50, 1200))
def test_a_change_and_its_undoing_bring_the_screws_back(hundredths, pitch):
    """Turns there and turns back are the same, and lift is turns times pitch."""
    screw = read_length(f"{pitch / 100:.2f} mm")
    there, back = (press_turns(plate(f"{s * hundredths}/100"), screw).figures for s in (1, -1))
    assert there["turns"] == -back["turns"]
    assert there["turns"] * screw.mm == Fraction(hundredths, 100)
    assert there["degrees"] == there["turns"] * 360


def test_a_give_no_layer_has_is_questioned():
    """Learnt from corrections noted the wrong way round."""
    found = press_turns(ThicknessChange(paper=Fraction(1)), PITCH,
                        gives=Gives(paper=Fraction(-1, 2)))
    assert "The give of paper came out as -0.5: check what you noted" in found.notes


def test_thickness_differences_keep_their_units():
    """Inches become millimetres before they are compared."""
    assert added_thickness(read_length("1.2 mm"), read_length("1/16 in")) == Fraction("0.3875")
    assert added_thickness(read_length("1.5 mm"), read_length("1.2 mm")) == Fraction("-0.3")


@pytest.mark.parametrize(
    ("change", "pitch", "told"),
    [
        ({"plate": "16"}, "2 mm", "plate: 16 mm is not a change of plate"),
        ({"paper": "6.78"}, "2 mm", "look whether inches were meant"),
        ({"blankets": "-80"}, "2 mm", "blankets: 80 mm is not a change of blankets"),
        ({"plate": "0.2"}, "2 in", "pitch: 2 in is not the pitch of a press screw"),
        ({"plate": "0.2"}, "0.08 mm", "pitch: 0.08 mm is not the pitch of a press screw"),
    ],
)
def test_a_mistaken_unit_is_caught(change, pitch, told):
    """Inches for millimetres, in the change or in the pitch."""
    with pytest.raises(ReckonError, match=told):
        press_turns(ThicknessChange(**{k: Fraction(v) for k, v in change.items()}),
                    read_length(pitch))


def test_more_turns_than_a_screw_has_are_refused():
    """Each figure can be right alone and the sum still be wrong."""
    far = ThicknessChange(plate=Fraction(8), paper=Fraction(5), blankets=Fraction(25))
    with pytest.raises(ReckonError, match="change: it asks for 42 turns"):
        press_turns(far, read_length("0.5 mm"), gives=Gives(blankets=Fraction(4, 10)))
