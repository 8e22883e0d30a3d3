"""Charts: whole in 80 columns, the same in ASCII, the numbers beside, and safe as a drawing."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.reports.charts import (
    Chart,
    ChartLevel,
    ascii_chart,
    braille_lines,
    chart_frame,
    chart_svg,
    numbered_values,
)
from benchapp.safe_text import cell_width


def pairs(values):
    """Values as points at 1, 2, 3 …"""
    return tuple((float(n), float(v)) for n, v in enumerate(values, 1))


GRADES = Chart("tone", pairs([5, 5, 4, 4, 3, 2]), y_name="grade 1-5",
               limits=(ChartLevel("no longer good", 3),), low=1, high=5)
HOSTILE = "</svg><script>alert(1)</script>\x1b[31m\u202e\"'&"


def test_the_whole_chart_in_ascii():
    """Axes, units, the limit by name, every value at its place."""
    assert ascii_chart(GRADES, 40, 5) == [
        "tone",
        "grade 1-5",
        "5 +o      o",
        "4 +              o       o",
        "3 + - - - - - - - - - - - - - - o - - -",
        "2 +                                    o",
        "1 +",
        "  +------------------------------------+",
        "   1            impression             6",
        "  - - no longer good 3",
    ]


def test_braille_has_the_same_frame():
    """The dots stand where the signs stand: first top left, last low at the right."""
    lines = braille_lines(GRADES, 40, 5)
    assert lines[2].startswith("5 ┤⠛")
    assert "⠶" in lines[5] or "⣤" in lines[5] or "⠛" in lines[5]
    assert lines[-1] == "  · · no longer good 3"


@given(st.lists(st.floats(-1e6, 1e6), max_size=60), st.integers(20, 200), st.integers(1, 30))
def test_no_line_is_wider_than_asked(values, columns, rows):
    """Any values, any size: never wider than asked (24 at least), and never an error."""
    chart = Chart("reading of the room", pairs(values), y_name="°C")
    for lines in (braille_lines(chart, columns, rows), ascii_chart(chart, columns, rows)):
        assert max(map(cell_width, lines)) <= max(columns, 24)
    assert all(len(line) <= max(columns, 40) for line in numbered_values(chart, columns))


@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=60))
def test_every_value_lies_inside_the_axes(values):
    """The frame holds all points, and its ticks rise in even steps."""
    axes = chart_frame(Chart("x", pairs(values)))
    assert axes is not None
    # A tick is laid where a value misses it by a billionth of a step: nobody sees that.
    slack = 1e-6 + 2e-9 * (axes.ticks[1] - axes.ticks[0])
    assert axes.bottom <= min(values) + slack
    assert axes.top >= max(values) - slack
    assert list(axes.ticks) == sorted(axes.ticks)


def test_nothing_to_draw_is_said():
    """Without values there is a sentence, in text and as a drawing."""
    empty = Chart("tone", ())
    assert ascii_chart(empty) == ["tone", "  no values yet"]
    assert "no values yet" in chart_svg(empty)
    assert numbered_values(empty) == []


def test_the_numbers_stand_beside():
    """Every value with its place, as many a line as fit."""
    assert numbered_values(GRADES, 30) == ["1: 5   2: 5   3: 4   4: 4", "5: 3   6: 2"]


@pytest.mark.parametrize("text", [HOSTILE, "a\nb", "<b>&amp;"])
def test_a_drawing_takes_no_text_for_its_own(text):
    """Hostile titles and names stay text: the drawing parses, and holds no other element."""
    chart = Chart(text, pairs([1, 2]), x_name=text, y_name=text, limits=(ChartLevel(text, 1.5),))
    root = ET.fromstring(chart_svg(chart))
    kinds = {e.tag.rpartition("}")[2] for e in root.iter()}
    assert kinds <= {"svg", "title", "line", "circle", "path", "text"}
    assert "\x1b" not in chart_svg(chart)
    assert not any("\x1b" in line for line in ascii_chart(chart))


def test_a_drawing_has_a_point_a_value():
    """Six values are six circles, one of them marked."""
    marked = Chart("tone", GRADES.points, marks=frozenset({2}))
    root = ET.fromstring(chart_svg(marked))
    circles = [e.get("class") for e in root.iter() if e.tag.endswith("circle")]
    assert circles == ["point", "point", "mark", "point", "point", "point"]
