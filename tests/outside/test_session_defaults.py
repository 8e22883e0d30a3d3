"""The day's defaults against their sources; those without one are marked common practice."""

from __future__ import annotations

import pytest

from benchapp.edition.packs import SHEET_OPEN_MS
from benchapp.recipe.model import USUAL_WARM_UPS
from benchapp.recipe.order import ONE_PLATE, SEVERAL_PLATES, TO_BOARDS, TO_LIFT, step_limits
from benchapp.recipe.reader import read_recipe
from benchapp.recipe.warnings import recipe_warnings
from benchapp.session import actions as a
from benchapp.session.auto_steps import OVER_MS
from benchapp.session.counting import PAUSE_MS
from tests.session.support import HOUR, MIN, Bench, recipe


def _about_rest(text: str) -> list[str]:
    return [str(e) for e in recipe_warnings(read_recipe(text)) if "12 h" in str(e)]


def test_damp_paper_is_warned_about_after_48_hours():
    """US National Park Service, Museum Handbook: mould within 48 h when warm and humid."""
    b = Bench(recipe(damp="{method: spray, keeps: 48 h, pack: 4}"), wanted=2)
    b.tread()
    b.clock.advance(48 * HOUR)
    b.shop.tick()
    assert not any("damp for" in w for w in b.view.warnings)
    b.clock.advance(1)
    musty = "look; if it smells musty, throw the paper away"
    assert f"Sheets damp for 48 h: {musty}" in b.view.warnings


@pytest.mark.parametrize(
    ("damp", "warned"),
    [
        ("{method: pack, rest: 11 h, pack: 4}", True),
        ("{method: pack, rest: 12 h, pack: 4}", False),
        ("{method: soak, soak: 30 min, rest: 15 min}", False),
        ("{method: spray, rest: 1 h}", False),
        ("{method: dip, rest: 1 h}", False),
    ],
)
def test_a_damp_pack_rests_at_least_12_hours(damp, warned):
    """Lalanne, A Treatise on Etching, tr. Koehler 1880, note K n.24: 12 h least, 24 better."""
    assert bool(_about_rest(recipe(damp=damp))) is warned


def test_an_inked_plate_waits_15_minutes_and_40_where_two_go_under_one_sheet():
    """Common practice, no source: ink skins and prints streaky."""
    assert (ONE_PLATE.ms, SEVERAL_PLATES.ms) == (15 * MIN, 40 * MIN)


def test_the_sheet_is_lifted_within_5_minutes_and_under_boards_within_30():
    """Common practice, no source; the recipe's own figure stands before both."""
    assert (TO_LIFT.ms, TO_BOARDS.ms) == (5 * MIN, 30 * MIN)
    text = recipe(
        each=(
            "{do: Ink, hands: inky}",
            "{do: Pull, hands: clean, pulls: key}",
            "{do: Lift, hands: clean, asks: [verdict], within: 2 min}",
            "{do: Boards, hands: clean}",
        )
    )
    found = {x.step: (x.within.ms, x.said) for x in step_limits(read_recipe(text))}
    assert found == {
        "each.2": (15 * MIN, False),
        "each.3": (2 * MIN, True),
        "each.4": (30 * MIN, False),
    }


def test_two_warm_ups_and_one_after_45_minutes_of_pause():
    """Common practice, no source: cold plate, clean scrim, unsettled blankets."""
    assert (USUAL_WARM_UPS, PAUSE_MS) == (2, 45 * MIN)


def test_a_sheet_lies_open_5_minutes_and_a_step_may_run_5_over():
    """Common practice, no source."""
    assert (SHEET_OPEN_MS, OVER_MS) == (5 * MIN, 5 * MIN)


def test_the_wash_takes_a_minute_and_a_half():
    """Common practice, no source: one to three minutes, one and a half as a rule."""
    b = Bench()
    b.tread()
    assert b.view.now.count is not None
    assert (b.view.now.do, b.view.now.count.usual) == ("Wash and dry hands", 90_000)
    assert b.say(a.GoOn()) == ["step finished", "step started"]
