"""Slips of layout: each where it is, in words that say what to write, and all of them at once."""

from __future__ import annotations

import random

import pytest

from benchapp.recipe.problems import Problem, RecipeError
from benchapp.recipe.reader import read_recipe
from tests.recipe.samples import FULL

TEXT = """\
recipe: 1
print:
  title: Slate Roof
  artist: Ada
plates:
  - name: key
    metal: zinc
    size: 198 x 148 mm
each:
  - do: Ink
    hands: inky
    time: 8/14/27 min
  - do: Wipe
    hands: inky
  - do: Pull
    hands: clean
    pulls: key
  - do: Lift
    hands: clean
    asks: [verdict, tags, note]
"""
_STRAIGHT = 'write straight quotes: "…"'
_CLOSE = "this quote is never closed; write the same quote at the end of the text"
_REMARK = ("is not part of the text; put quotes round the whole text; if it is a remark, write a "
           "space after #")


def _wrong(*changes: tuple[str, str]) -> list[str]:
    text = TEXT
    for old, new in changes:
        assert text.count(old) >= 1, old
        text = text.replace(old, new, 1)
    with pytest.raises(RecipeError) as caught:
        read_recipe(text)
    return [str(problem) for problem in caught.value.problems]


@pytest.mark.parametrize(("old", "new", "said"), [
    ("title: Slate Roof", "title: Plate #3", f'3:16: a # begins a remark, so "#3" {_REMARK}'),
    ("title: Slate Roof", "title: #Roof", f'3:10: a # begins a remark, so "#Roof" {_REMARK}'),
    ("title: Slate Roof", 'title: "Slate Roof', f"3:10: {_CLOSE}"),
    ("do: Wipe", "do: 'Wipe", f"13:9: {_CLOSE}"),
    ("title: Slate Roof", "title: “Slate: Roof”",
     f"3:10: curly quotes do not hold a text together; {_STRAIGHT}"),
    ("hands: inky\n    time", "hands: inky\n    lines: [“scrim, used”, hand]\n    time",
     f"12:13: curly quotes do not hold a text together, so its comma parts it; {_STRAIGHT}"),
    ("  - do: Wipe", "    do: Wipe", "13:5: this step has no dash before do:; write - do: Wipe, "
     "with the dash under the others"),
    ("  - do: Wipe", "  do: Wipe", "13:3: this step has no dash before do:; write - do: Wipe, "
     "with the dash under the others"),
    ("  - do: Wipe", "  - do:Wipe",
     "13:7: there is no space after do:; write do: and a space before its value"),
    ("  - do: Wipe\n    hands: inky", "  - do:Wipe\n    hands:inky",
     "13:5: there is no space after do:; write do: and a space before its value"),
    ("  - do: Wipe", "  -do: Wipe",
     "13:3: there is no space after this dash; write - and a space before the key"),
    ("  - do: Wipe", "  – do: Wipe",
     "13:3: a list does not begin with –; write a plain - in its place"),
    ("    size:", "     size:", "8:6: this line is further in than the one it belongs to; begin it "
     "in the same column as the line above it"),
    ("title: Slate Roof", "title: [Slate",
     "3:10: this bracket is never closed; write its closing ]"),
    ("8/14/27 min", "8-14-27 min",
     '12:11: time: "8-14-27 min" has dashes between its times; write 8/14/27 min'),
    ("8/14/27 min", "8 – 14 min", '12:11: time: "8 – 14 min" has dashes between its times; write '
     "low/usual/high, such as 3/5/8 min, or one figure"),
])
def test_a_slip_is_said_where_it_is(old: str, new: str, said: str) -> None:
    """One slip, one problem: nothing of what follows from it."""
    assert _wrong((old, new)) == [said]


def test_all_slips_are_said_at_once() -> None:
    """Each by its own line, whatever the first of them did to the reading."""
    said = _wrong(("title: Slate Roof", 'title: "Slate Roof'), ("artist: Ada", "artist: Ada: B"),
                  ("  - do: Ink", "  - do:Ink"), ("metal: zinc", "metal: 'zinc"),
                  ("  - do: Pull", "  – do: Pull"))
    assert [one.partition(":")[0] for one in said] == ["3", "4", "7", "10", "15"]


def test_what_is_right_is_not_blamed() -> None:
    """Texts of several lines, quotes inside a text, remarks and curly quotes of a title."""
    fine = TEXT.replace("title: Slate Roof", 'title: “Slate” Roof  # remark').replace(
        "do: Wipe", 'do: "Wipe\n      gently, round: once"').replace(
        "hands: inky\n    time", "care: |\n      do:this, “then that\n    hands: inky\n    time")
    assert read_recipe(fine).print.title == "“Slate” Roof"
    with pytest.raises(RecipeError) as caught:
        read_recipe(fine.replace("artist: Ada", "artist: Ada: B"))
    assert [problem.line for problem in caught.value.problems] == [4]


def test_any_broken_text_is_told_in_bounds() -> None:
    """Lines of a full recipe broken at random: problems come, each inside the text."""
    dice, many = random.Random(7), 0
    for _ in range(40):
        lines = FULL.split("\n")
        for _ in range(dice.randint(1, 4)):
            at = dice.randrange(len(lines))
            cut = dice.randint(0, len(lines[at]))
            lines[at] = lines[at][:cut] + dice.choice("\"'[]{}:-#“–&*!%@") + lines[at][cut:]
        problems = _problems("\n".join(lines))
        assert all(1 <= p.line <= len(lines) + 1 and p.column >= 1 for p in problems)
        many += len(problems)
    assert many > 40


def _problems(text: str) -> tuple[Problem, ...]:
    try:
        read_recipe(text)
    except RecipeError as error:
        return error.problems
    return ()


def test_a_slip_is_placed_by_the_line_an_editor_shows() -> None:
    """Lines may end as on an old Mac, or in a mixture: the place is the same."""
    for end in ("\n", "\r\n", "\r"):
        text = end.join(("recipe: 1", "", "varied:true", "places: [1", ""))
        with pytest.raises(RecipeError) as caught:
            read_recipe(text)
        places = [(x.line, x.column) for x in caught.value.problems]
        assert places[0] == (3, 7), caught.value
