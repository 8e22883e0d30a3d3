"""A day prepared: for so many wanted, what to tear, damp, mix and turn."""

from __future__ import annotations

import io
import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from benchapp.book import Book
from benchapp.book.queries import sessions_of
from benchapp.cli import main
from benchapp.clock import FakeClock
from benchapp.history.stats import NOTHING, Learnt, learn_stats
from benchapp.planning.checklist import Prepared, make_checklist
from benchapp.quantities import Mass, Percentage
from benchapp.recipe.model import Recipe
from benchapp.recipe.reader import read_recipe
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.ink_need import Used
from benchapp.reports.checklist import prepare_json, prepare_text
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.screens.days import closed, opened, printed, shipped

KEYS = ("tear", "sheets", "packs", "ink", "press")
SHIPPED = ("weigh-house", "ferry-lamp", "pane-moth", "signal-box", "thistle-heads", "three-steps")


def recipe(name: str) -> Recipe:
    """A shipped recipe."""
    return read_recipe(shipped(name))


def document(prepared: Prepared) -> dict[str, Any]:
    """The JSON as another program gets it."""
    found = json.loads(json.dumps(prepare_json(prepared), allow_nan=False))
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize("name", SHIPPED)
def test_every_shipped_recipe_can_be_prepared(name: str) -> None:
    """The keys are there whatever a recipe says, each with a sentence and the recipe's own."""
    found = document(make_checklist(recipe(name), NOTHING, 10))
    assert found["wanted"] == 10
    for key in KEYS:
        assert found[key]["sentence"], key
        assert "recipe" in found[key], key
        assert isinstance(found[key]["others"], list), key
    text = prepare_text(make_checklist(recipe(name), NOTHING, 10), why=True)
    assert sum(line.startswith("[ ] ") for line in text) == len(found["plates"]) + sum(
        1 + len(found[key]["others"]) for key in KEYS)


def test_a_day_hangs_together() -> None:
    """Ten wanted by the prior are 13 (scipy), two warm-ups more; torn, packed, inked for 15."""
    found = document(make_checklist(recipe("weigh-house"), NOTHING, 10))
    assert (found["sheets"]["sheets"], found["sheets"]["warm_ups"]) == (15, 2)
    assert (found["tear"]["sheets"], found["tear"]["pieces"]) == (4, 16)
    assert found["tear"]["recipe"] == {"sheet_mm": [560, 760], "piece_mm": [380, 280]}
    assert (found["packs"]["sizes"], found["packs"]["to_damp"]) == ([6, 6], 12)
    assert (found["packs"]["sheets"], found["packs"]["spare"]) == (12, 3)
    assert found["packs"]["sentence"] == (
        "2 packs to damp, 6 + 6 sheets (the recipe's pack); keep 3 sheets more dry, for those that "
        "are spoiled")
    assert found["packs"]["recipe"]["pack"] == 6
    assert found["ink"]["impressions"] == 15
    assert (found["ink"]["batch_g"], found["ink"]["recipe"]) == (72, {"charge_g": 9})
    assert found["ink"]["mix"]["total_g"] == 72
    assert found["press"]["recipe"] == {"left side": 3.25, "right side": 3.375}


def test_damp_sheets_that_lie_there_are_not_damped_again() -> None:
    """Five are damp: of twelve pulls seven are left. The seventh sheet is not damped alone."""
    found = document(make_checklist(recipe("weigh-house"), NOTHING, 10, damp_already=5))
    assert (found["packs"]["sizes"], found["packs"]["damp_already"]) == ([6, 2], 5)
    assert found["packs"]["why"] == ["the recipe's pack", "what the day still needs and 1 spare"]
    none = document(make_checklist(recipe("weigh-house"), NOTHING, 10, damp_already=40))
    assert none["packs"]["sizes"] == []
    assert none["packs"]["sentence"].startswith("No more to damp")


def test_the_sheet_that_is_torn_is_the_one_that_is_weighed() -> None:
    """Half of 56 × 76 is 56 × 38: 300 g/m² of it, 6 % to 37.5 % moist, are 96 g and not 86 g."""
    text = shipped("weigh-house").replace("380 x 280 mm", "380 x 500 mm").replace(
        "  grain: long\n", "").replace("270 g/m2", "300 g/m2")
    found = document(make_checklist(read_recipe(text), NOTHING, 10))
    assert "16 of 560 × 380 mm" in found["tear"]["sentence"]
    assert found["packs"]["sentence"].startswith("2 packs to damp")
    told = prepare_text(make_checklist(read_recipe(text), NOTHING, 10), why=True)
    assert "    Damp until one sheet weighs 96 g; 12 sheets take up 386 g of water" in told
    assert "  sheet 560 × 380 mm (the recipe: as torn)" in told


def test_a_piece_that_is_cut_out_is_weighed_as_it_is() -> None:
    """With the grain to keep it is torn by rows: the piece itself goes into the water."""
    text = shipped("weigh-house").replace("380 x 280 mm", "380 x 500 mm").replace(
        "270 g/m2", "300 g/m2")
    told = prepare_text(make_checklist(read_recipe(text), NOTHING, 10), why=True)
    assert any("Damp until one sheet weighs 86 g" in line for line in told)
    assert "  sheet 380 × 500 mm (the recipe: piece)" in told


def test_more_certainty_takes_more_of_everything() -> None:
    """99 % instead of 90 %."""
    usual, sure = (make_checklist(recipe("weigh-house"), NOTHING, 20, sure=x)
                   for x in (None, Percentage(Fraction(99, 100))))
    assert sure.sheets > usual.sheets
    assert document(sure)["ink"]["batch_g"] > document(usual)["ink"]["batch_g"]


def test_three_weighings_stand_before_the_charge_which_stays_beside() -> None:
    """475 cm² at 8 mg/cm², 15 impressions: 57 g, mixed to its upper limit."""
    weigh_house = recipe("weigh-house")
    size = weigh_house.plates[0].size
    used = tuple(Used(Mass(Fraction(grams)), 10, size, f"day {n}")
                 for n, grams in enumerate((37, 38, 39), 1))
    found = document(make_checklist(weigh_house, Learnt(ink={"ink used": used}), 10))
    assert found["ink"]["grams"] == 57
    assert found["ink"]["recipe_g"] == 72
    assert 57 < found["ink"]["at_most_g"] <= found["ink"]["batch_g"] < 65
    assert found["ink"]["sentence"].startswith(f"Mix {found['ink']['batch_g']} g: 57 g of ink")
    origin = next(x for x in found["ink"]["inputs"] if x["name"] == "ink used")
    assert (origin["source"], origin["detail"]) == ("learnt from your own sessions",
                                                    "day 1, day 2, day 3")


@pytest.mark.parametrize("wanted", [0, 5001])
def test_a_number_nobody_prints_is_refused(wanted: int) -> None:
    """The figure is named."""
    with pytest.raises(ReckonError, match=r"^good: "):
        make_checklist(recipe("three-steps"), NOTHING, wanted)


def test_a_piece_that_does_not_fit_spoils_only_the_tearing() -> None:
    """A torn edge needs 2 mm there are not; the rest of the day is prepared all the same."""
    text = shipped("weigh-house").replace("piece: 380 x 280 mm", "piece: 559 x 759 mm")
    found = document(make_checklist(read_recipe(text), NOTHING, 10))
    assert found["tear"]["sentence"].startswith("Not reckoned: piece: 559")
    assert found["ink"]["batch_g"] == 72


def test_a_figure_of_the_recipe_that_will_not_do_spoils_only_its_part() -> None:
    """A pitch no press has: it is named, and ink and paper are prepared."""
    text = shipped("weigh-house").replace("pitch: 2 mm", "pitch: 200 mm")
    found = document(make_checklist(read_recipe(text), NOTHING, 10))
    assert found["press"]["sentence"].startswith("Not reckoned: pitch: 200 mm")
    assert found["ink"]["batch_g"] == 72


def test_a_thicker_plate_turns_the_screws_of_last_time() -> None:
    """0.2 mm more at a pitch of 2 mm is a tenth of a turn up."""
    text = shipped("weigh-house")
    clock = FakeClock()
    shop = SessionService(Book.in_memory(), clock)
    opened(shop, text)
    shop.do(a.Set("left side", "3 turns"))
    shop.do(a.Set("right side", "3 turns"))
    printed(shop, clock, 4)
    for ordinal in (3, 4):
        shop.do(a.Judge("keep", ordinal))
    thicker = read_recipe(text.replace("thickness: 1.5 mm", "thickness: 1.7 mm"))
    learnt = learn_stats(sessions_of(shop.book, thicker.print))
    found = document(make_checklist(thicker, learnt, 4))
    assert found["press"]["sides"] == {"left side": 2.9, "right side": 2.9}
    assert found["press"]["recipe"] == {"left side": 3.25, "right side": 3.375}


def test_the_command_prints_a_checklist_and_writes_nothing(
    capsys: pytest.CaptureFixture[str], home: Path
) -> None:
    """Text first line, boxes, what it rests on where asked; JSON with the same figures."""
    assert main(["prepare", "weigh-house", "--wanted", "10"]) == 0
    out = capsys.readouterr().out.split("\n")
    assert out[0] == "The Weigh House, Idony Threlwick: prepare 15 sheets for 10 wanted"
    assert ("[ ] Packs: 2 packs to damp, 6 + 6 sheets (the recipe's pack); keep 3 sheets more dry, "
            "for those that are spoiled") in out
    assert "What this rests on: add --why" in out
    assert "What it rests on" not in out
    assert main(["prepare", "weigh-house", "--wanted", "10", "--why"]) == 0
    assert "\nWhat it rests on\n" in capsys.readouterr().out
    assert main(["prepare", "weigh-house", "--wanted", "10", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["sheets"]["sheets"] == 15
    assert not home.exists()


@pytest.mark.parametrize("argv", [["weigh-house"], ["weigh-house", "--wanted", "x"],
                                  ["weigh-house", "--wanted", "5", "--sure", "100%"],
                                  ["nowhere", "--wanted", "5"]])
def test_wrong_use_is_2(capsys: pytest.CaptureFixture[str], argv: list[str]) -> None:
    """Nothing on stdout."""
    assert main(["prepare", *argv]) == 2
    assert capsys.readouterr().out == ""


def test_the_command_learns_from_the_book_and_counts_its_packs(
    capsys: pytest.CaptureFixture[str], home: Path
) -> None:
    """Judged sheets, settings and damp paper of the book stand in the answer."""
    home.mkdir()
    clock = FakeClock()
    with Book.open(home / "studio.book", write=True, create=True, state=home) as book:
        shop = SessionService(book, clock)
        opened(shop, shipped("weigh-house"))
        shop.do(a.Set("left side", "3.5 turns"))
        printed(shop, clock, 6)
        for ordinal in range(3, 7):
            shop.do(a.Judge("keep", ordinal))
        closed(shop, clock)
    assert main(["prepare", "weigh-house", "--wanted", "10", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["press"]["sentence"].startswith("Screws as last time: left side 3.5 turns")
    assert any("right side by the recipe" in x.get("detail", "") for x in found["press"]["inputs"])
    assert found["sheets"]["recipe"] == {"without_record": 15}


def test_the_plain_lines_propose_when_a_step_begins(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Sheets as the session opens, grams at the mixing, nothing while wiping."""
    monkeypatch.setattr("sys.stdin", io.StringIO("\n" * 7))
    assert main(["run", "weigh-house", "--plain", "--wanted", "10"]) == 0
    lines = capsys.readouterr().out.split("\n")
    proposed = [line for line in lines if line.startswith("Proposed: ")]
    assert proposed[0].startswith("Proposed: 15 sheets, 2 of them to warm up")
    assert [line for line in proposed if "Mix 72 g of warm black" in line]
    wiping = next(n for n, line in enumerate(lines) if line.startswith("Now: Turn the scrim"))
    assert not [line for line in lines[wiping:] if line.startswith("Proposed")]
