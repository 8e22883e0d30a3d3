"""Preferences: none needed, read strictly, every slip with its place and mend."""

from __future__ import annotations

from datetime import time
from fractions import Fraction

import pytest

from benchapp import files, settings
from benchapp.quantities import Duration, Length
from benchapp.recipe.edits import put_value
from benchapp.recipe.problems import RecipeError
from benchapp.settings import Preferences


def complaints(text: str) -> list[str]:
    """The problems of such a file, as they are printed."""
    with pytest.raises(RecipeError) as caught:
        settings.read_preferences(text)
    return [str(p) for p in caught.value.problems]


def test_no_file_means_the_defaults(home):
    """Without a file everything stands as it is, and none is made."""
    assert settings.load_preferences() == Preferences()
    assert not home.exists()


@pytest.mark.parametrize("text", ["", "\n\n", "# nothing\n"])
def test_an_empty_file_means_the_defaults(text):
    """A file of comments alone changes nothing."""
    assert settings.read_preferences(text) == Preferences()


def test_the_defaults_are_the_keys_pedals_send():
    """Space and enter, presenters' keys, and the function keys no keyboard has."""
    assert Preferences().gate == Duration(750)
    assert Preferences().treads[:3] == ("space", "enter", "pagedown")
    assert {"f5", "f13", "f24"} <= set(Preferences().treads)
    assert not {"up", "down"} & set(Preferences().treads)  # terminals make those of the wheel
    assert Preferences().row_height == Length(Fraction(5))


FIRST = ("treads: [space, enter, pagedown, right, down, f5,\n"
         "  f13, f14, f15, f16, f17, f18, f19, f20, f21, f22, f23, f24]\n")


def test_a_list_of_keys_nobody_changed_is_read_as_the_one_of_today():
    """The list files were written with at first; one that was changed stays, down in it too."""
    assert settings.read_preferences(FIRST).treads == settings.TREADS
    for changed in ("treads: [space, down]\n", FIRST.replace("f24]", "f24, b]"),
                    FIRST.replace("right, down", "down, right")):
        assert "down" in settings.read_preferences(changed).treads
    assert settings.read_preferences(FIRST.replace(" f13,", "")).treads[:6] == (
        "space", "enter", "pagedown", "right", "down", "f5")


def test_the_mouse_can_be_left_to_the_terminal():
    """On unless the printer says off."""
    assert Preferences().mouse == "on"
    assert settings.read_preferences("mouse: off\n").mouse == "off"
    assert complaints("mouse: maybe\n") == [
        '1:8: mouse: "maybe" is not one of its words; write on or off']


def test_everything_can_be_said():
    """Each preference is read in the printer's units."""
    text = (
        "studio: Tollerbank\ngate: 1 s\ntreads: [a, shift+f1]\nrow height: 1/4 in\ntheme: light\n"
    )
    found = settings.read_preferences(text)
    assert found == Preferences(
        Duration(1000), ("a", "shift+f1"), Length(Fraction("6.35")), "light", "Tollerbank"
    )


def test_the_folder_of_pages_is_a_whole_path():
    """From the user's own folder or the top: a part of one would depend on where one stands."""
    assert settings.read_preferences("papers folder: ~/prints\n").papers_folder == "~/prints"
    assert complaints("papers folder: prints\n") == [
        '1:16: papers folder: "prints" does not say where the folder is; '
        "write the whole path, such as ~/Desktop/prints"]


def test_sound_voice_and_player_can_be_said():
    """Each by its word; the starter asks about the sound."""
    found = settings.read_preferences("sound: soft\nvoice: off\nplayer: aplay\n")
    assert (found.sound, found.voice, found.player) == ("soft", "off", "aplay")
    assert settings.read_preferences(settings.STARTER).sound == "ask"
    assert complaints("sound: loud\n") == [
        '1:8: sound: "loud" is not one of its words; write ask, on, soft or off']
    assert complaints("voice: louder\n") == [
        '1:8: voice: "louder" is not one of its words; write on or off']


def test_the_hours_of_the_boards_can_be_said():
    """By the clock on the wall; a silence may lie over midnight, or there is none."""
    found = settings.read_preferences(
        "boards first day: 17:30\nboards later: 7:05\nboards silent: 22:00-06:30\n"
        "boards grace: 90 min\n")
    assert (found.boards_first, found.boards_later) == (time(17, 30), time(7, 5))
    assert (found.boards_silent, found.boards_grace) == (
        (time(22), time(6, 30)), Duration(5_400_000))
    never = settings.read_preferences("boards silent: none\n").boards_silent
    assert never[0] == never[1]
    assert settings.read_preferences(settings.STARTER) == Preferences()


@pytest.mark.parametrize(("text", "problem"), [
    ("boards later: 24:00\n", '1:15: boards later: "24:00" is not a time of day; write one '
     "such as 09:30, 17:00, 17 or 5 pm"),
    ("boards silent: night\n", '1:16: boards silent: "night" is not a span of the day; write such '
     "as 21:00-08:00"),
    ("boards grace: 3 days\n", '1:15: boards grace: "3 days" is too long; write at most 24 h'),
])  # fmt: skip
def test_hours_that_are_none_are_refused_at_their_place(text, problem):
    """What is wrong, where, and what to write."""
    assert complaints(text) == [problem]


def test_the_gate_may_be_nothing():
    """0 ms takes every press, as a machine that drives the bench needs."""
    assert settings.read_preferences("gate: 0 ms\n").gate == Duration(0)


def test_the_other_pedals_the_slip_the_far_view_and_the_pace_can_be_said():
    """A set of three pedals, and how the bench behaves."""
    found = settings.read_preferences(
        "treads: [a]\ntake back keys: [b]\nlook again keys: []\nslip: 2 s\n"
        "far view: by itself\nwalk: 3 s\n")
    assert (found.treads, found.back_keys, found.again_keys) == (("a",), ("b",), ())
    assert (found.slip_ms, found.far_view, found.walk) == (2_000, "by itself", Duration(3_000))


@pytest.mark.parametrize(("text", "ms"), [
    ("", 4_000), ("slip: 0 s\n", 0), ("gate: 0 ms\n", 0), ("gate: 0 ms\nslip: 9 s\n", 0),
])  # fmt: skip
def test_a_slip_is_taken_back_for_four_seconds_and_never_without_a_gate(text, ms):
    """Where every press counts, the second is meant as one."""
    assert settings.read_preferences(text).slip_ms == ms


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("gate: 750\n", '1:7: gate: "750" has no unit; write 750 min, or one of s, min, h, days or '
                        "weeks"),
        ("gate: 1 h\n", '1:7: gate: "1 h" is too long; write at most 10 s'),
        ("row height: 0 mm\n", '1:13: row height: "0 mm" is not the height of a row; measure '
                               'one, such '
                               "as 5 mm"),
        ("row height: 5\n", '1:13: row height: "5" has no unit; write 5 mm (units: mm, cm or in)'),
        ("\ntreads: [Space Bar]\n", '2:9: treads: "Space Bar" is not the name of a key; write '
                                    'small '
                                    "letters and digits, such as space, f13 or shift+f1"),
        ("slip: 2 min\n", '1:7: slip: "2 min" is too long; write at most 60 s'),
        ("take back keys: [b, space]\n", '1:17: take back keys: "space" does something else '
                                         "already; give each key one thing to do"),
        ("take back keys: [b]\nlook again keys: [b]\n",
         '2:18: look again keys: "b" does something else already; give each key one thing to do'),
        ("treads: []\n", "1:9: treads is empty; write it, or take the line out"),
        ("far view: never\n", '1:11: far view: "never" is not one of its words; write by key or '
                              "by itself"),
        ("walk: 500 ms\n", '1:7: walk: "500 ms" is not a pace to walk at; write 1 s to 60 s, or '
                           'off'),
        ("theme: blue\n", '1:8: theme: "blue" is not one of its words; write dark or light'),
        ("them: dark\n", '1:1: "them" is not known in this file; write theme: dark or light'),
        ("- gate\n", "1:1: this file has no keys under it; write such as gate: 750 ms"),
    ],
)  # fmt: skip
def test_a_slip_is_named_with_its_place_and_mend(text, problem):
    """Line, column, what is wrong, what to write."""
    assert complaints(text) == [problem]


def test_all_slips_are_named_at_once():
    """Nobody has to mend a file one error at a time."""
    assert len(complaints("gate: 1\ntheme: blue\nrow height: 5\n")) == 3


def test_the_starter_file_says_the_defaults():
    """The commented file reads as what stands without it."""
    assert settings.read_preferences(settings.STARTER.encode()) == Preferences()


# -- changing them -----------------------------------------------------------------------

OWN = """\
# mine, do not touch
gate:   1 s   # the old pedal
treads:
  - space   # the big one
  - a
theme: light
"""


def test_a_value_is_changed_alone(home):
    """Comments, order and spacing of the printer's file stay; what was not there comes last."""
    path = files.preferences_file()
    files.write_new(path, OWN)
    found = settings.save_preferences({"gate": "900 ms", "slip": "2 s", "take back keys": ["b"]})
    assert path.read_text() == OWN.replace("1 s ", "900 ms ") + "slip: 2 s\ntake back keys: [b]\n"
    assert found == settings.load_preferences()
    assert (found.gate, found.slip, found.treads) == (
        Duration(900), Duration(2_000), ("space", "a"))


def test_a_list_is_written_in_brackets_whatever_it_was(home):
    """A list of dashes becomes one in brackets; the line after it stays its own."""
    files.write_new(files.preferences_file(), OWN)
    found = settings.save_preferences({"treads": ["shift+f1", "f13"], "walk": "3 s"})
    assert (found.treads, found.theme, found.walk) == (
        ("shift+f1", "f13"), "light", Duration(3_000))
    assert settings.save_preferences({"treads": ["space"]}).treads == ("space",)


def test_without_a_file_the_commented_one_is_written_with_the_change(home):
    """The starter with one value changed."""
    settings.save_preferences({"gate": "1 s"})
    assert files.preferences_file().read_text() == settings.STARTER.replace("750 ms", "1 s", 1)


def test_what_would_not_be_read_again_is_not_written(home):
    """A value that is none, or a file with a slip, leaves the file as it was."""
    files.write_new(files.preferences_file(), OWN)
    with pytest.raises(RecipeError):
        settings.save_preferences({"gate": "1 h"})
    assert files.preferences_file().read_text() == OWN
    files.write_over(files.preferences_file(), "gate: soon\n")
    with pytest.raises(RecipeError):
        settings.save_preferences({"theme": "light"})
    assert files.preferences_file().read_text() == "gate: soon\n"


@pytest.mark.parametrize(("before", "after"), [
    ("", "gate: 1 s\n"), ("# bare", "# bare\ngate: 1 s\n"),
    ("{theme: light}", "{theme: light, gate: 1 s}"),
    ("theme: dark\r\n", "theme: dark\r\ngate: 1 s\r\n"),
    ("gate:\n  750 ms\n", "gate:\n  1 s\n"), ("gate: [x]\n", "gate: 1 s\n"),
    ("  theme: dark\n", "  theme: dark\n  gate: 1 s\n"),
])  # fmt: skip
def test_a_value_finds_its_place_in_any_file(before, after):
    """Empty, without a line end, in braces, with other line ends, all of it further in."""
    assert put_value(before, "gate", "1 s") == after
