"""Press, blankets and heat belong to the room: what another session set since is recorded."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.session import actions as a
from benchapp.session.room_settings import otherwise_words
from benchapp.session.state import NOT_KNOWN
from benchapp.views.setup_card import in_force
from benchapp.views.sheets import sheet_whole
from tests.session.support import LIFT, PULL, RAGS, TWO_EACH, Bench, recipe

INK = "{do: Ink, hands: clean, time: 5 min}"
PRESS = "press: {pitch: 2 mm, handle side: 3.25 turns, far side: 3.25 turns}\n"
WITH_PRESS = recipe(each=("{do: Ink, hands: inky, time: 5 min}", PULL, LIFT), extra=PRESS)
OTHER_FIGURE = WITH_PRESS.replace("3.25", "2.875")
OTHER_NAMES = WITH_PRESS.replace("handle side", "left side").replace("far side", "right side")
TWO_PLATES = recipe(each=TWO_EACH, plates=("tone", "key"), extra="press:\n"
                    "  tone: {pitch: 2 mm, handle side: 3.5 turns}\n"
                    "  key: {pitch: 2 mm, handle side: 3.625 turns}\n")


def two(first: str = WITH_PRESS, second: str = WITH_PRESS) -> tuple[Bench, str, str]:
    """Two sessions with a helper in, so that hands never stand in the way; the first at work."""
    b = Bench(first)
    one = b.s.id
    b.say(a.Helper(joins=True))
    b.open(second)
    other = b.s.id
    b.say(a.SwitchSession(one))
    return b, one, other


def pulled(b: Bench) -> dict[str, str]:
    """Pull one sheet whole; the settings its record has."""
    count = len(b.sheets)
    while len(b.sheets) == count or not b.sheets[-1].laid:
        b.go()
    return recorded(b, b.sheets[-1].ordinal)


def recorded(b: Bench, ordinal: int) -> dict[str, str]:
    """The settings the record of a sheet has."""
    whole = sheet_whole(b.s, ordinal)
    assert whole is not None
    return dict(whole.settings)


def put(b: Bench, value: str, *names: str) -> None:
    """Say these settings."""
    for name in names:
        b.say(a.Set(name, value))


SIDES = ("handle side", "far side")


def test_what_the_other_session_set_is_said_on_coming_back_and_recorded():
    """Before the first plate, and from that pull on; what was pulled before keeps its figures."""
    b, one, other = two()
    put(b, "3.5 turns", *SIDES)
    assert pulled(b) == dict.fromkeys(SIDES, "3.5 turns")
    b.say(a.SwitchSession(other))
    assert b.view.warnings == ()
    put(b, "2.875 turns", *SIDES)
    assert pulled(b) == dict.fromkeys(SIDES, "2.875 turns")
    b.say(a.SwitchSession(one))
    assert b.view.warnings == ("The screws are at 2.875; this print had 3.5 turns",)
    b.until("Pull")
    assert b.view.warnings == ("The screws are at 2.875; this print had 3.5 turns",)
    assert pulled(b) == dict.fromkeys(SIDES, "2.875 turns")
    assert b.view.warnings == ()
    assert pulled(b) == dict.fromkeys(SIDES, "2.875 turns")
    found = b.entries("setting found")
    assert [dict(e.body) for e in found] == [
        {"impression": 2, "name": name, "value": "2.875 turns", "by": other} for name in SIDES]
    assert recorded(b, 1) == dict.fromkeys(SIDES, "3.5 turns")


def test_screws_set_back_are_as_they_were_and_nothing_is_added():
    """The printer's word is the last one; a switch alone writes nothing."""
    b, one, other = two()
    put(b, "3.5 turns", *SIDES)
    b.say(a.SwitchSession(other))
    put(b, "2.875 turns", *SIDES)
    b.say(a.SwitchSession(one))
    put(b, "3.5 turns", "handle side")
    assert b.view.warnings == (
        "The screws are at far side 2.875; this print had far side 3.5 turns",)
    put(b, "3.5 turns", "far side")
    assert b.view.warnings == ()
    assert pulled(b) == dict.fromkeys(SIDES, "3.5 turns")
    assert b.entries("setting found") == []


def test_a_pull_taken_back_takes_its_record_with_it():
    """And what the other session took back was never set."""
    b, one, other = two()
    put(b, "3.5 turns", "handle side")
    b.say(a.SwitchSession(other))
    put(b, "2.875 turns", "handle side")
    b.say(a.SwitchSession(one))
    b.until("Pull")
    assert "setting found" in b.tread()
    b.back()
    assert b.view.warnings == ("The screws are at 2.875; this print had 3.5 turns",)
    assert in_force(b.s) == {"handle side": "3.5 turns"}
    b.say(a.SwitchSession(other))
    b.back()
    b.say(a.SwitchSession(one))
    assert b.view.warnings == ()


@pytest.mark.parametrize(("second", "said", "words", "value"), [
    (OTHER_FIGURE, {}, "Nobody has recorded how the screws are set; this print had 3.5 turns",
     NOT_KNOWN),
    (OTHER_NAMES, {}, "Nobody has recorded how the screws are set; this print had 3.5 turns",
     NOT_KNOWN),
    (OTHER_NAMES, {"left side": "3 turns"},
     "Nobody has recorded how the screws are set; this print had 3.5 turns", NOT_KNOWN),
    (WITH_PRESS.replace("3.25", "3.5"), {}, None, "3.5 turns"),
    (recipe(), {}, None, "3.5 turns"),
    (WITH_PRESS, {"handle side": "7/2 turns", "far side": "3.5 turns"}, None, "3.5 turns"),
    (WITH_PRESS, {"handle side": "not known", "far side": "3 turns"},
     "The screws are at handle side not known, far side 3; this print had 3.5 turns", NOT_KNOWN),
    (WITH_PRESS.replace("recipe: 1", "recipe: 1\nplaces: {press: 2}"),
     {"handle side": "3 turns"}, None, "3.5 turns"),
])
def test_what_nobody_said_is_not_known(second, said, words, value):
    """A silent pull leaves the screws in doubt only where the recipe has them otherwise."""
    b, one, other = two(second=second)
    put(b, "3.5 turns", *SIDES)
    b.say(a.SwitchSession(other))
    for name, turns in said.items():
        put(b, turns, name)
    pulled(b)
    b.say(a.SwitchSession(one))
    assert b.view.warnings == (() if words is None else (words,))
    assert pulled(b)["handle side"] == value


def test_blankets_and_heat_are_of_the_room_too_and_nothing_else_is():
    """By their names; the ink and the room's warmth stay with the session that said them."""
    b, one, other = two()
    for name, value in (("blankets", "two thick"), ("blankets thickness", "6 mm"),
                        ("hot plate", "60 °C"), ("ink tin", "black, 3"), ("room", "18 °C")):
        put(b, value, name)
    b.say(a.SwitchSession(other))
    for name, value in (("blankets", "one thin"), ("hot plate", "45 °C"), ("ink tin", "blue, 1"),
                        ("room", "21 °C")):
        put(b, value, name)
    b.say(a.SwitchSession(one))
    assert b.view.warnings == (
        "Blankets: one thin now; this print had two thick",
        "Blankets thickness: not known now; this print had 6 mm",
        "Hot plate: 45 °C now; this print had 60 °C")
    assert pulled(b) == {
        "blankets": "one thin", "blankets thickness": NOT_KNOWN, "hot plate": "45 °C",
        "ink tin": "black, 3", "room": "18 °C"}


def test_the_press_let_off_and_the_heat_turned_off_are_known_no_more():
    """The end of the other day let both off; what a printer sets again they have to say."""
    after = ("{do: Hot plate off, hands: clean, must: [turned off, left on]}",
             "{do: 'Pressure off, blankets out and hung', hands: clean}")
    b, one, other = two(second=recipe(after=after))
    put(b, "3.5 turns", *SIDES)
    put(b, "60 °C", "hot plate")
    b.say(a.SwitchSession(other))
    b.say(a.Enough())
    b.until("Hot plate off")
    b.say(a.Must("turned off"))
    b.to_close()
    b.say(a.SwitchSession(one))
    assert b.view.warnings == ("The pressure is off; this print had 3.5 turns",
                               "Hot plate: off now; this print had 60 °C")
    assert set(pulled(b).values()) == {NOT_KNOWN}
    # What is not known is no proposal for the next day.
    assert in_force(b.s) == {}


def test_of_two_plates_the_one_that_comes_next_is_named():
    """The other plate's screw was to be turned from there: nobody knows to what."""
    b, one, other = two(TWO_PLATES, WITH_PRESS)
    put(b, "3.5 turns", "tone handle side")
    put(b, "3.625 turns", "key handle side")
    assert pulled(b) == {"tone handle side": "3.5 turns", "key handle side": "3.625 turns"}
    b.say(a.SwitchSession(other))
    # Between two plates nothing is left standing by the other day's words alone.
    put(b, "2.875 turns", "handle side")
    b.say(a.SwitchSession(one))
    assert b.view.warnings == ("The screws are at 2.875; this print had 3.5 turns for tone",)
    assert pulled(b) == {"tone handle side": "2.875 turns", "key handle side": NOT_KNOWN}


def test_between_two_plates_of_one_sheet_the_second_is_recorded_on_that_sheet():
    """The tone went through by its own figure; the key by what was set meanwhile."""
    b, one, other = two(TWO_PLATES, WITH_PRESS)
    put(b, "3.5 turns", "tone handle side")
    put(b, "3.625 turns", "key handle side")
    b.until("Pull key")
    b.say(a.SwitchSession(other))
    put(b, "2.875 turns", "handle side")
    b.say(a.SwitchSession(one))
    assert b.view.warnings == ("The screws are at 2.875; this print had 3.625 turns for key",)
    b.tread()
    assert recorded(b, 1) == {
        "tone handle side": NOT_KNOWN, "key handle side": "2.875 turns"}


SETS = st.sampled_from(["2.875 turns", "3.5 turns", "3.625 turns"])
MOVES = st.lists(st.one_of(
    st.just(("switch",)), st.just(("pull",)), st.just(("pull",)),
    st.tuples(st.just("set"), st.sampled_from(["tone handle side", "key handle side"]), SETS)),
    min_size=4, max_size=14)


@settings(max_examples=25)
@given(MOVES)
def test_a_press_is_set_in_one_way_at_a_time(moves):
    """Two days of two plates each: unless it was said anew, a pull records what the last pull had.

    Where the day before the press was the other one, that is its figure, or it is not known.
    """
    b, one, other = two(TWO_PLATES, TWO_PLATES)
    last: tuple[str, str | None] = b.s.id, None
    said = False  # whether the day on the Bench said a figure since the other one's last pull
    for move, *about in moves:
        if move == "switch":
            b.say(a.SwitchSession(other if b.s.id == one else one))
            said = last[0] == b.s.id
        elif move == "set":
            b.say(a.Set(*about))
            said = True
        else:
            sheet = pulled(b)
            tone, key = sheet.get("tone handle side"), sheet.get("key handle side")
            if not said and last[1] is not None and tone is not None and last[0] != b.s.id:
                assert tone in (last[1], NOT_KNOWN)
            last, said = (b.s.id, key), True


def test_pressure_that_this_session_let_off_itself_is_not_known_at_one_more_pull() -> None:
    """After the last work, one more: the screws were let off, and nobody said them again."""
    b = Bench(recipe(each=("{do: Ink, hands: inky, time: 5 min}", PULL, LIFT), after=(
        "{do: Pressure off and blankets hung, hands: clean, time: 5 min}", RAGS),
        extra="press: {handle side: 3.5 turns}\n"), 1)
    b.say(a.Set("handle side", "3.5 turns"))
    b.until("Pressure off and blankets hung")
    b.tread()
    b.say(a.OneMore())
    b.until("Pull")
    assert otherwise_words(b.room, b.s, 2) == (
        "The pressure is off; this print had 3.5 turns",)
    b.until("Lift")
    assert [e.body["value"] for e in b.room.journal if e.kind == "setting found"] == [None]
