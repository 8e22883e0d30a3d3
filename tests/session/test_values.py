"""What a named value is read as, what is refused of it, and which sheet or day it is about."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities import QuantityError, read_turns
from benchapp.recipe.reader import read_recipe
from benchapp.session import actions as a
from benchapp.session.values import about_day, recorded_reading, wrong_reading, wrong_setting
from tests.session.support import INK, LIFT, PULL, Bench, recipe

EXTRA = (
    "press: {pitch: 2 mm, left side: 3 turns, right side: 3.5 turns}\n"
    "readings:\n"
    "  - {name: tone, unit: grade 1-5, at: Lift}\n"
    "  - {name: film, unit: g, at: Ink}\n"
    "  - {name: room, unit: °C, at: Screws}\n"
    "  - {name: gap, unit: mm}\n"
    "  - {name: scrim used, unit: grade 1-5}\n")
TEXT = recipe(before=["{do: Screws, hands: clean}"], each=(INK, PULL, LIFT), extra=EXTRA)
KNOWN = read_recipe(TEXT)


@pytest.mark.parametrize(("name", "value", "said"), [
    ("left side", "3,250 turns",
     '"3,250" has a decimal comma; write a point: 3.250, or 3250 if thousands are meant'),
    ("Left Side", "3.25", '"3.25" has no unit; write 3.25 turns (units: turns)'),
    ("left side", "3 turns and a bit", '"turns and a bit" is not a unit for this'),
    ("left side", "as in spring", "has no figure"),
    ("blankets thickness", "11", "has no unit"),
    ("blankets", "3.5", "has no unit; write 3.5 mm, or in words what it is"),
    ("blankets", "3,5 mm felt", "decimal comma"),
    ("control sheet", "127", "has no unit"),
    ("ink used", "84 t", "not a unit"),
    ("room", "19", '"19" has no unit; write 19 °C or 19 °F'),
    ("room", "19,5", '"19.5" has no unit'),
    ("hot plate", "60", "has no unit"),
    ("plate heat", "48 K", "not a unit"),
    ("humidity", "0.6", "has no unit"),
    ("drying rack", "felt of 3,5 mm", '"3,5" has a decimal comma; write a point: 3.5'),
])
def test_a_setting_that_cannot_be_read_as_what_it_teaches_is_refused(
    name: str, value: str, said: str
) -> None:
    """With what is wrong and what to write; nothing is in the book."""
    b = Bench(TEXT)
    refusal = b.refused(a.Set(name, value))
    assert said in str(refusal)
    assert refusal.why.startswith(f"{name}: ")
    assert b.s.settings == ()


@pytest.mark.parametrize(("name", "value"), [
    ("left side", "3.25 turns"), ("left side", "3 1/4 turns"), ("right side", "1/8 turn"),
    ("paper thickness", "0.6 mm"), ("control sheet", "127 g"), ("room", "19 °C"),
    ("room", "19 °C, 60 %"), ("room", "66 F"), ("room", "cold, 2 windows open"),
    ("hot plate", "low"), ("hot plate", "dial at 3"), ("hot plate", "3 of 6"),
    ("hot plate", "off"), ("ink tin", "bone black, new"), ("ink tin", "3"), ("ink", "8/14"),
    ("blankets", "two new ones"), ("blankets", "3 mm felt, 2 mm felt"), ("blankets", "11 turns"),
    ("paper", "cotton, 300 g/m2"), ("drawer", "12"), ("room", "-2 °C"), ("left", "1, 2 and 3"),
    ("ink tin", "tins 3,4"), ("ink tin", "3,4"), ("ink tin", "no. 1,500 black"),
])
def test_words_and_what_can_be_read_are_free(name: str, value: str) -> None:
    """As they were written."""
    b = Bench(TEXT)
    b.say(a.Set(name, value))
    assert [(x.name, x.value) for x in b.s.settings] == [(name, value)]


@pytest.mark.parametrize(("name", "value", "recorded"), [
    ("left side", "3,25 turns", "3.25 turns"), ("Left Side", "3 1/4 turns", "3 1/4 turns"),
    ("paper thickness", "0,6 mm", "0.6 mm"), ("paper thickness", '0,02"', "0.508 mm"),
    ("paper thickness", "1/3 inches", "8.467 mm"), ("blankets thickness", "1.2 cm", "1.2 cm"),
    ("ink used", "3 oz", "85.049 g"), ("control sheet", "1 lb", "453.59237 g"),
    ("room", "19,5 °C, 61,5 %", "19.5 °C, 61.5 %"), ("room", "66 F", "66 F"),
    ("hot plate", "low, then 3", "low, then 3"),
])
def test_a_setting_is_recorded_with_a_point_and_metric(
    name: str, value: str, recorded: str
) -> None:
    """The inch and the pound of the agreement of 1959; what is recorded is shown."""
    b = Bench(TEXT)
    b.say(a.Set(name, value))
    assert [(x.name, x.value) for x in b.s.settings] == [(name, recorded)]


@pytest.mark.parametrize(("name", "value", "unit", "recorded"), [
    ("film", "8,4", None, ("8.4", None)), ("film", "1", "oz", ("28.35", "g")),
    ("gap", "0,1", "in", ("2.54", "mm")), ("ink used", "2", "lb", ("907.18474", "g")),
    ("ink used", "84", "g", ("84", "g")), ("tone", "3", None, ("3", None)),
    ("offset", "2", "in", ("2", "in")),
])
def test_a_reading_is_recorded_with_a_point_and_metric(
    name: str, value: str, unit: str | None, recorded: tuple[str, str | None]
) -> None:
    """Where the recipe reads mm or g, or a weighing is meant."""
    assert recorded_reading(KNOWN, name, value, unit) == recorded


@given(st.text("0123456789.,/ turnsmg°C%+-", min_size=1, max_size=12))
def test_a_screw_is_taken_only_where_the_reader_reads_it(value: str) -> None:
    """One reader: what is taken teaches."""
    try:
        read_turns(value)
        read_it = True
    except QuantityError:
        read_it = False
    assert (wrong_setting(KNOWN, "left side", value) is None) is read_it


@pytest.mark.parametrize(("name", "value", "unit", "said"), [
    ("film", "8.4.1", None, "is not a figure"),
    ("film", "8.4", "mg", "film is read in g, not in mg; write the figure in g"),
    ("tone", "6", None, "6 is not a grade 1-5; write a whole grade 1-5"),
    ("tone", "٣", None, "٣ is not a number"),
    ("ink used", "84", None, "has no unit"),
    ("hot plate", "48", None, "has no unit"),
])
def test_a_reading_is_a_plain_figure_in_its_unit(
    name: str, value: str, unit: str | None, said: str
) -> None:
    """The same reader as everywhere."""
    assert said in str(wrong_reading(KNOWN, name, value, unit))


def test_what_is_about_the_day_is_known_by_step_or_name() -> None:
    """Where the recipe names a step, that decides."""
    assert [name for name in ("tone", "film", "room", "gap", "scrim used", "ink used",
                              "control sheet", "room humidity", "plate heat")
            if about_day(KNOWN, name)] == ["room", "ink used", "control sheet", "room humidity"]


def test_a_measurement_is_filed_under_the_sheet_in_hand() -> None:
    """Before its pull too; a grade, as a verdict, under the sheet that is pulled."""
    b = Bench(TEXT)
    b.until("Lift")
    b.tread()
    assert b.s.hand is not None
    assert b.s.hand.impression == 2
    for name, value in (("film", "8.4"), ("gap", "3"), ("tone", "4"), ("room", "19"),
                        ("scrim used", "2")):
        b.say(a.TakeReading(name, value))
    b.say(a.TakeReading("ink used", "84", "g"))
    one, two = b.s.impressions[:2]
    assert [r.name for r in one.readings] == ["tone", "scrim used"]
    assert [r.name for r in two.readings] == ["film", "gap"]
    assert [(x.name, x.value) for x in b.s.settings] == [("room", "19 °C"), ("ink used", "84 g")]
