"""What is said of each sheet before it is recorded as signed, and which are left to sign."""

from __future__ import annotations

from datetime import date

import pytest

from benchapp.drying import actions as boards
from benchapp.drying.dryness import DryStep
from benchapp.edition import actions as a
from benchapp.views.signing import ToSign, to_sign, unsigned_sheets
from tests.drying.test_stacks import DAY_MS, LIST, Rack, S
from tests.edition.support import P, Studio, declared, number, sheet, sign, studio

#: Ten days after the sheets of the tests were pulled, on 3 May.
LATER = date(2026, 5, 20)
NO_RACK = Rack(()).boards


def of(s: Studio, name: str, today: date = LATER, rack: Rack | None = None) -> ToSign:
    """What is said of one sheet."""
    said, = to_sign(s.register, NO_RACK if rack is None else rack.boards, P, (name,), today)
    return said


def laid(*marks: str, drying: tuple[DryStep, ...] = LIST) -> Rack:
    """Sheets under the boards since 3 May."""
    rack = Rack(drying)
    assert all(rack.try_(boards.Lay(S, ((x, x),))) is None for x in marks)
    return rack


def test_the_unsigned_come_in_the_order_of_their_numbers() -> None:
    """The numbered edition first, then each kind of proof; without what is signed or torn."""
    s = studio(6)
    s.do(a.GiveProof(P, "K1", "AP", 2), number("K2", 9), number("K3", 4),
         a.GiveProof(P, "K4", "AP", 1), number("K5", 1), sign("K5"), number("K6", 2),
         a.Destroy(P, "K6", "torn"))
    assert unsigned_sheets(s.e) == ("K3", "K2", "K4", "K1")
    assert unsigned_sheets(s.e, ["K1", "K5", "K6", "K2", "nowhere"]) == ("K1", "K2")


def test_a_good_dry_sheet_is_signed_without_a_word() -> None:
    """Its number and its mark, and nothing against it."""
    s = studio()
    s.do(number("K1", 7))
    said = of(s, "K1")
    assert said == ToSign("K1", "K1", "7/30", ())
    assert said.words == "7/30 · K1"
    assert of(s, "K2").words == "no number · K2"


@pytest.mark.parametrize(("told", "warning"), [
    ({"verdict": None}, "not judged"),
    ({"verdict": "doubtful"}, "judged doubtful"),
    ({"verdict": "spoiled"}, "judged spoiled"),
    ({"purpose": "warm-up"}, "pulled as warm-up"),
    ({"purpose": "ghost"}, "pulled as ghost"),
])
def test_how_it_was_judged_and_pulled_is_said(told: dict[str, object], warning: str) -> None:
    """A sheet to keep that was pulled for the edition needs no word."""
    s = Studio(sheet("K1", **told))
    s.do(declared())
    assert of(s, "K1").warnings == (warning,)


def test_the_sheet_others_are_held_against_is_named() -> None:
    """The BAT; or a standard while there is none."""
    s = studio()
    s.do(a.NameStandard(P, "K2"))
    assert of(s, "K2").warnings == ("it is the standard",)
    s.do(a.GiveProof(P, "K1", "BAT"))
    assert of(s, "K1").warnings == ("it is the BAT",)
    assert of(s, "K3").warnings == ()


def test_a_sheet_that_has_left_is_named_with_where_it_is() -> None:
    """One in the drawer is at hand."""
    s = studio()
    s.do(number("K1", 1), number("K2", 2), a.HandOut(P, "K1", "gallery"), a.Put(P, "K2", "drawer"))
    warning, = of(s, "K1").warnings
    assert warning.startswith("not in the studio: ")
    assert "gallery" in warning
    assert of(s, "K2").warnings == ()


def test_before_the_day_to_sign_the_day_is_said() -> None:
    """Ten days after the pull where no stack is known (common practice, no source)."""
    s = studio()
    early = "too early: sign from 13 May 2026 (common practice)"
    assert of(s, "K1", date(2026, 5, 12)).warnings == (early,)
    assert of(s, "K1", date(2026, 5, 13)).warnings == ()
    unknown = Studio(sheet("K1", pulled_ms=None))
    unknown.do(declared())
    assert of(unknown, "K1", date(2026, 5, 3)).warnings == ()


def test_a_sheet_under_the_boards_is_said_to_be_there() -> None:
    """With the day from the recipe's list; down and dry, nothing is said."""
    s, rack = studio(), laid("K1", "K2")
    first = "too early: sign from 13 May 2026 (the recipe)"
    assert of(s, "K1", date(2026, 5, 12), rack).warnings == ("still under boards", first)
    assert of(s, "K1", LATER, rack).warnings == ("still under boards",)
    assert of(s, "K3", LATER, rack).warnings == ()
    assert rack.try_(boards.TakeDown(S)) is None
    assert of(s, "K1", LATER, rack).warnings == ()


def test_a_control_sheet_that_loses_weight_speaks_against_its_stack() -> None:
    """Weighed twice, a day apart, more than a step of the scale lighter."""
    s, rack = studio(), laid("K1", "K2")
    for mg in (40_000, 39_000):
        assert rack.try_(boards.Weigh(S, "K2", mg, 100)) is None
        rack.clock.advance(DAY_MS)
    assert of(s, "K1", LATER, rack).warnings[0] == "not dry: the control sheet still loses weight"
    assert of(s, "K3", LATER, rack).warnings == ()


def test_a_sheet_known_from_an_old_paper_is_named_by_its_number() -> None:
    """Nobody judged it here, and nobody knows when it was pulled."""
    s = studio()
    s.do(a.Recall(P, (a.Recalled("ledger", 5),)))
    old, = (h.sheet for h in s.e.holdings.values() if h.papers is not None)
    said = of(s, old, date(2026, 5, 3))
    assert (said.label, said.who, said.warnings) == ("5/30", "from old papers", ())
