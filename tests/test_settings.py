"""Preferences: none needed, read strictly, every slip with its place and mend."""

from __future__ import annotations

from fractions import Fraction

import pytest

from benchapp import files, settings
from benchapp.quantities import Duration, Length
from benchapp.recipe.problems import RecipeError
from benchapp.settings import Preferences


def complaints(text: str) -> list[str]:
    """The problems of such a file, as they are printed."""
    with pytest.raises(RecipeError) as caught:
        settings.read_preferences(text)
    return [str(p) for p in caught.value.problems]


def test_no_file_means_the_defaults(home):
    """Without a file everything stands as it is, and none is made."""
    assert settings.load() == Preferences()
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
    assert Preferences().row_height == Length(Fraction(5))


def test_everything_can_be_said():
    """Each preference is read in the printer's units."""
    text = (
        "studio: Tollerbank\ngate: 1 s\ntreads: [a, shift+f1]\nrow height: 1/4 in\ntheme: light\n"
    )
    found = settings.read_preferences(text)
    assert found == Preferences(
        Duration(1000), ("a", "shift+f1"), Length(Fraction("6.35")), "light", "Tollerbank"
    )


def test_the_gate_may_be_nothing():
    """0 ms takes every press, as a machine that drives the bench needs."""
    assert settings.read_preferences("gate: 0 ms\n").gate == Duration(0)


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("gate: 750\n", '1:7: gate: "750" has no unit; write 750 min, or one of s, min, h, days or '
                        "weeks"),
        ("gate: 1 h\n", '1:7: gate: "1 h" is too long; write at most 10 s'),
        ("row height: 0 mm\n", '1:13: row height: "0 mm" is no height of a row; measure one, such '
                               "as 5 mm"),
        ("row height: 5\n", '1:13: row height: "5" has no unit; write 5 mm (units: mm, cm or in)'),
        ("\ntreads: [Space Bar]\n", '2:9: treads: "Space Bar" is no name of a key; write small '
                                    "letters and digits, such as space, f13 or shift+f1"),
        ("theme: blue\n", '1:8: theme: "blue" is not one of its words; write dark or light'),
        ("them: dark\n", '1:1: "them" is not known in this file; write theme'),
        ("- gate\n", "1:1: this file is not made of keys; write such as gate: 750 ms"),
    ],
)  # fmt: skip
def test_a_slip_is_named_with_its_place_and_mend(text, problem):
    """Line, column, what is wrong, what to write."""
    assert complaints(text) == [problem]


def test_all_slips_are_named_at_once():
    """Nobody has to mend a file one error at a time."""
    assert len(complaints("gate: 1\ntheme: blue\nrow height: 5\n")) == 3


def test_the_starter_file_says_the_defaults(home):
    """The commented file reads as what stands without it, and is never written twice."""
    path = settings.write_starter()
    assert path == home / "preferences.yaml"
    assert settings.load() == Preferences()
    with pytest.raises(files.AlreadyThere):
        settings.write_starter()
