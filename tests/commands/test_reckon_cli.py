"""`benchapp reckon`: one question of the day's arithmetic, by figures or by a recipe."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from benchapp.book import Book
from benchapp.cli import main
from benchapp.clock import FakeClock
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.screens.days import closed, opened, printed, shipped


@dataclass
class Result:
    """What one call gave back."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> dict[str, Any]:
        found = json.loads(self.out)
        assert isinstance(found, dict)
        return found


Call = Callable[..., Result]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Call:
    """Calls the command line in this process."""

    def one(*argv: str) -> Result:
        code = main(argv)
        out, err = capsys.readouterr()
        return Result(code, out, err)

    return one


SHEETS = ("sheets", "--good", "20", "--spoilage", "10%", "--sure", "95%")
TEAR = ("tear", "--sheet", "22 x 16 mm", "--piece", "5 x 3 mm")
INK = ("ink", "--part", "black:880", "--part", "oil:100", "--total", "980 g", "--step", "0.1 g")
#: Every question by figures, in each of its forms.
ASKED = (
    SHEETS,
    ("sheets", "--good", "20"),
    TEAR,
    ("tear", "--sheet", "560 x 760 mm", "--piece", "280 x 380 mm: 6", "--piece", "90 x 90 mm: 4"),
    ("tear", "--sheet", "560 x 760 mm", "--piece", "280 x 380 mm", "--piece", "90 x 90 mm"),
    ("damp", "--sheet", "560 x 760 mm", "--weight", "300 g/m2", "--sheets", "20"),
    ("damp", "--weighed", "127 g", "--delivered", "7 %", "--target", "40 %"),
    ("damp", "--wet", "160 g", "--dry", "100 g"),
    ("damp", "--plate", "250 x 190 mm", "--grain", "width", "--sheet", "280 x 380 mm"),
    ("damp", "--plate", "250 x 190 mm", "--grain", "width", "--across", "2 %", "--along", "0.5 %"),
    ("damp", "--age", "30 h", "--warmth", "30 °C", "--humidity", "70 %"),
    ("damp", "--age", "3 days", "--cold"),
    ("soak", "--before", "120 g", "--after", "5 min: 150 g", "--after", "20 min: 170 g",
     "--target", "165 g", "--note", "20 min"),
    ("soak", "--before", "120 g", "--after", "5 min: 150 g", "--full", "185 g",
     "--target", "165 g"),
    INK,
    ("ink", "--plate", "250 x 190 mm", "--impressions", "10", "--charge", "9 g"),
    ("ink", "--plate", "250 x 190 mm", "--impressions", "10", "--used", "84 g: 12",
     "--used", "60 g: 8", "--used", "75 g: 10"),
    ("press", "--pitch", "2 mm", "--plate", "1.2 mm to 1.5 mm",
     "--side", "handle side: 3.25 turns", "--side", "far side: 3 1/4 turns",
     "--more-is", "tighter"),
    ("weight", "--board", "560 x 760 mm", "--mass", "40 kg", "--day", "2"),
    ("weight", "--warmth", "15 °C", "--humidity", "70 %"),
    ("bite", "--area", "sky: 3 min", "--area", "roof: 7.5 min", "--stop-out", "10 min",
     "--from", "09:30"),
    ("bite", "--patch", "1 min: 80", "--patch", "3 min: 60", "--patch", "6 min: 40",
     "--tone", "sky: 70", "--tone", "roof: 50"),
    ("strip", "--patch", "1 min: 0.1", "--patch", "3 min: 0.3", "--patch", "6 min: 0.6",
     "--reading", "density", "--tone", "0.4", "--strip-warmth", "20 °C", "--warmth", "25 °C"),
    ("strength", "--baume", "42"),
    ("strength", "--gravity", "1.381", "--scale", "144"),
    ("strength", "--of", "ferric chloride", "--baume", "42", "--to-baume", "37", "--volume", "1 l"),
    ("strength", "--of", "ferric chloride", "--percent", "40 %", "--to-percent", "30 %",
     "--mass", "1 kg"),
)  # fmt: skip


# -- the lines the work was agreed by ----------------------------------------------------------


def test_sheets_for_twenty_good_at_a_known_rate(call: Call) -> None:
    """N + nbinom.ppf(.95, 20, .9) is 25 (scipy); no warm-ups are added to bare figures."""
    found = call("reckon", *SHEETS, "--json").json
    assert (found["sheets"], found["warm_ups"]) == (25, 0)


def test_pieces_of_a_small_sheet(call: Call) -> None:
    """22 × 16 by 5 × 3 gives 22, whichever way is offered first (Gilmore & Gomory's recursion)."""
    found = call("reckon", *TEAR, "--json").json
    assert found["pieces"] == 22
    assert found["first"] == "fold"


def test_a_mixture_to_the_step_of_the_scale(call: Call) -> None:
    """Parts that sum to the batch weigh what they are."""
    found = call("reckon", *INK, "--json").json
    assert found["grams"] == {"black": 880, "oil": 100}
    assert found["total_g"] == 980


def test_a_demand_of_several_sizes(call: Call) -> None:
    """Three of one and two of another, from as few sheets as hold them."""
    found = call("reckon", "tear", "--sheet", "560 x 760 mm", "--piece", "280 x 380 mm: 3",
                 "--piece", "280 x 190 mm: 2", "--json").json
    assert found["sheets"] == 1
    assert [x["wanted"] for x in found["sizes"]] == [3, 2]


# -- every question --------------------------------------------------------------------------


@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_an_answer_begins_with_its_sentence(call: Call, asked: tuple[str, ...], home: Path) -> None:
    """The first line is what a printer would say; JSON has it too; nothing is made."""
    told, found = call("reckon", *asked), call("reckon", *asked, "--json").json
    assert (told.code, told.err) == (0, "")
    assert told.out.split("\n")[0] == f"{found['sentence']}."
    assert all(x["source"] for x in found["inputs"])
    assert not home.exists()


@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_help_gives_formula_and_source(call: Call, asked: tuple[str, ...]) -> None:
    """Each part of the formula and of the source that an answer names stands in its help."""
    found = call("reckon", *asked, "--json").json
    help_ = re.sub(r"\s+", " ", call("reckon", asked[0], "--help").out)
    for text in (found["formula"], found["source"]):
        for part in re.split("; ", text):
            assert part.removeprefix("limit ") in help_, part


@pytest.mark.parametrize(("argv", "said"), [
    (("sheets", "--good", "0"), ("good", "1 to 5000")),
    (("sheets", "--good", "20", "--sure", "100%"), ("sure", "less than 100 %")),
    (("sheets", "--good", "20", "--spoilage", "0.1"), ("--spoilage", "write 0.1 %")),
    (("sheets", "--good", "twenty"), ("--good", "whole number")),
    (("sheets",), ("needs --good", "--help")),
    (("tear", "--sheet", "22 x 30"), ("--sheet", "no unit")),
    (("tear", "--sheet", "22 x 30 in", "--piece", "280 x 380 in"), ("piece", "look at the unit")),
    (("tear", "--sheet", "560 x 760 mm", "--piece", "600 x 800 mm"), ("piece", "does not fit")),
    (("tear", "--sheet", "560 x 760 mm"), ("needs --piece",)),
    (("damp", "--sheet", "22 x 30 mm", "--weight", "300 g/m2"), ("sheet", "inches are written")),
    (("damp", "--sheet", "22 x 30 in", "--weight", "140 lb"), ("--weight", "g/m2")),
    (("damp", "--weighed", "127 g", "--target", "0.4 %"), ("target", "40 %")),
    (("damp", "--age", "30 h", "--warmth", "122 °F", "--humidity", "50 %"),
     ("warmth", "0 to 45 °C")),
    (("damp", "--age", "30 h", "--warmth", "15 °C (122 °F)", "--humidity", "50 %"),
     ("--warmth", "59 °F")),
    (("damp", "--age", "30 h", "--warmth", "20 °C", "--humidity", "0.5"), ("--humidity", "50 %")),
    (("damp", "--age", "30 h", "--warmth", "20 °C"), ("needs --humidity",)),
    (("damp",), ("--sheet SIZE", "--weighed MASS")),
    (("damp", "--wet", "160 g", "--dry", "100 g", "--sheets", "3"), ("--sheets", "leave one")),
    (("soak", "--before", "120 g", "--after", "150 g", "--target", "160 g"),
     ("--after", "5 min: 150 g")),
    (("soak", "--before", "120 g", "--after", "5 min: 150 g", "--target", "160 g"),
     ("weighings", "second")),
    (("ink", "--part", "black", "--total", "9 g"), ("--part", "black:880")),
    (("ink", "--part", "black:10", "--total", "9.05 g"), ("total", "ask for 9 or 9.1 g")),
    (("ink", "--part", "black:10"), ("needs --total",)),
    (("ink",), ("--part", "--impressions")),
    (("press", "--pitch", "2 in"), ("pitch", "0.5 to 12 mm")),
    (("press", "--pitch", "2 mm", "--plate", "0.3 mm"), ("--plate", "1.2 mm to 1.5 mm")),
    (("press", "--pitch", "2 mm", "--plate", "1.2 mm to 1.5 in"), ("plate", "inches")),
    (("press", "--pitch", "2 mm", "--side", "left: 3 turns", "--side", "left: 4 turns"),
     ("--side", "twice")),
    (("weight", "--board", "22 x 30 mm"), ("board", "inches")),
    (("weight",), ("needs --board",)),
    (("bite",), ("needs --area",)),
    (("bite", "--area", "sky: 3 min", "--from", "09:30"), ("--stop-out",)),
    (("bite", "--area", "sky: 3 min", "--area", "sky: 4 min"), ("sky", "twice")),
    (("bite", "--area", "sky: 0 min"), ("nothing is bitten",)),
    (("strip", "--patch", "1 min: 80", "--patch", "3 min: 60", "--tone", "70"), ("at least 3",)),
    (("strip", "--patch", "1 min: 80", "--patch", "3 min: 60", "--patch", "6 min: 40", "--tone",
      "30"), ("guess", "80 % to 40 %")),
    (("strip", "--patch", "1 min: 40", "--patch", "3 min: 60", "--patch", "6 min: 80", "--tone",
      "50"), ("do not darken", "--reading")),
    (("strength",), ("--baume", "--of NAME")),
    (("strength", "--baume", "90"), ("90 °Bé", "0 to 70")),
    (("strength", "--of", "nitric acid", "--percent", "60 %", "--to-percent", "10 %", "--mass",
      "1 kg"), ("no figure", "bought diluted", "data sheet")),
    (("strength", "--of", "ferric chloride", "--baume", "37", "--to-baume", "42", "--volume",
      "1 l"), ("does not bring", "fewer degrees")),
    (("tears",), ("no question tears", "tear")),
    (("ink", "--impression", "3"), ("no option --impression", "--impressions")),
])  # fmt: skip
def test_bad_input_says_which_figure_and_what_would_do(
    call: Call, argv: tuple[str, ...], said: tuple[str, ...]
) -> None:
    """Exit 2, nothing on stdout, no traceback."""
    told = call("reckon", *argv)
    assert (told.code, told.out) == (2, "")
    for part in said:
        assert part in told.err, told.err


# -- by a recipe ------------------------------------------------------------------------------


def test_a_recipe_brings_its_paper_with_the_grain_fixed(call: Call) -> None:
    """Four pieces by two folds; the tolerance is shown where it comes from."""
    found = call("reckon", "tear", "weigh-house", "--json").json
    assert (found["pieces"], found["first"]) == (4, "fold")
    sources = {x["name"]: (x["value"], x["source"]) for x in found["inputs"]}
    assert sources["grain"] == ("fixed", "the recipe")
    assert sources["tolerance of a torn edge"] == (2, "common practice")


@pytest.mark.parametrize(("asked", "caution"), [
    (("press", "--pitch", "2 mm", "--plate", "1.2 mm to 1.5 mm"), "Nip crushes"),
    (("press", "weigh-house", "--plate", "1.2 mm to 1.5 mm"), "Nip crushes"),
    (("ink", "--part", "black: 10", "--part", "oil: 1", "--total", "11 g"), "Dust and pigment"),
    (("ink", "--part", "black: 10", "--part", "magnesium carbonate: 1", "--total", "11 g"),
     "Magnesium carbonate is a fine dust; mask"),
    (("ink", "weigh-house", "--impressions", "8"), "Magnesium carbonate is a fine dust; mask"),
    (("ink", "ferry-lamp", "--impressions", "8"), "Dust and pigment"),
])
def test_one_line_of_caution_at_press_and_ink(
    call: Call, asked: tuple[str, ...], caution: str, home: Path
) -> None:
    """The last line says what hurts and who has the last word; in JSON a list of its own."""
    lines = call("reckon", *asked).out.splitlines()
    assert lines[-1].startswith(f"! {caution}")
    assert sum(line.startswith("!") for line in lines) == 1
    assert re.search("data sheet first|label comes first", lines[-1])
    (said,) = call("reckon", *asked, "--json").json["cautions"]
    assert lines[-1] == f"! {said}"


def test_a_recipe_brings_its_warm_ups(call: Call) -> None:
    """Two more than the bare figures, and shown; a proofing day has none."""
    bare = call("reckon", "sheets", "--good", "20", "--json").json
    found = call("reckon", "sheets", "weigh-house", "--good", "20", "--json").json
    assert found["sheets"] == bare["sheets"] + 2
    assert found["warm_ups"] == 2
    assert "2 of them to warm up" in found["sentence"]
    assert call("reckon", "sheets", "signal-box", "--good", "5", "--json").json["warm_ups"] == 0


def test_a_recipe_with_two_inks_gets_two_answers(call: Call) -> None:
    """The second stands under `others` in JSON, and under its name in the text."""
    found = call("reckon", "ink", "ferry-lamp", "--impressions", "10", "--json").json
    assert (found["of"], found["recipe_g"], found["batch_g"]) == ("dusk blue", 33, 33)
    assert sum(found["mix"]["grams"].values()) == 33
    assert [x["of"] for x in found["others"]] == ["brown black"]
    assert "\nbrown black: " in call("reckon", "ink", "ferry-lamp", "--impressions", "10").out


def test_a_recipe_brings_its_screws_and_its_soak(call: Call) -> None:
    """Readings by the printer's own names; a note of the recipe stands before the curve."""
    found = call("reckon", "press", "weigh-house", "--plate", "1.5 mm to 1.7 mm", "--json").json
    assert found["sides"] == {"left side": 3.15, "right side": 3.275}
    assert found["recipe"] == {"left side": 3.25, "right side": 3.375}
    soak = call("reckon", "soak", "weigh-house", "--before", "30 g", "--after", "5 min: 36 g",
                "--full", "50 g", "--target", "43 g").out
    assert soak.startswith("25 min as your own note says; ")


@pytest.mark.parametrize("argv", [
    ("tear", "three-steps"), ("ink", "three-steps", "--impressions", "3"),
    ("press", "three-steps"), ("damp", "three-steps"),
])  # fmt: skip
def test_what_a_recipe_does_not_say_is_not_made_up(call: Call, argv: tuple[str, ...]) -> None:
    """Exit 1, and what to write in the recipe, or why there is nothing to reckon."""
    told = call("reckon", *argv)
    assert (told.code, told.out) == (1, "")
    assert "Pear on a Sill" in told.err


def test_figures_beside_a_recipe_are_not_overheard(call: Call) -> None:
    """A figure the recipe gives already is refused, not dropped."""
    told = call("reckon", "press", "weigh-house", "--pitch", "3 mm")
    assert (told.code, told.out) == (2, "")
    assert "--pitch cannot be used with a recipe" in told.err


def test_the_record_of_a_print_feeds_its_answer(call: Call, home: Path) -> None:
    """Four kept, four spoiled: more sheets than a print nobody has printed asks for."""
    before = call("reckon", "sheets", "weigh-house", "--good", "10", "--json").json
    home.mkdir()
    clock = FakeClock()
    with Book.open(home / "studio.book", write=True, create=True, state=home) as book:
        shop = SessionService(book, clock)
        opened(shop, shipped("weigh-house"))
        printed(shop, clock, 10)
        for ordinal in range(3, 11):
            shop.do(a.Judge("keep" if ordinal % 2 else "spoiled", ordinal))
        shop.do(a.TakeReading("ink used", "84", "kg"))
        closed(shop, clock)
    told = call("reckon", "sheets", "weigh-house", "--good", "10", "--json")
    learnt = next(x for x in told.json["inputs"] if x["source"] == "learnt from your own sessions")
    assert learnt["value"] == "4 spoiled of 8"
    assert told.json["sheets"] > before["sheets"]
    assert "left out: 2026-05-03: ink used" in told.err
