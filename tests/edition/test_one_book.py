"""One book: nothing is named that the printer did not bring about; rules have no side door."""

from __future__ import annotations

import pytest

from benchapp.edition import actions as a
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.holding import SheetLabel
from benchapp.edition.state import Cap
from tests.edition.model import CAPS, SIZE, correction
from tests.edition.support import P, Studio, declared, number, sheet, sign, texts
from tests.edition.test_apart import meet
from tests.edition.test_histories import begun

LEDGER = "the ledger"


def recalled(*lines: a.Recalled) -> a.Recall:
    """An old paper taken in."""
    return a.Recall(P, lines)


FIRST = f"edition 1 of {P}, known from {LEDGER}"


@pytest.mark.parametrize("between", [
    [a.Correct(P, FIRST, SheetLabel("edition", 2), "a slip")], [a.TakeNumberBack(P, FIRST)]])
def test_a_line_of_an_old_paper_put_right_and_then_the_true_one(between: list[a.Action]) -> None:
    """Two sheets: what was typed wrong first, and the one it was mistaken for."""
    studio = begun()
    studio.do(recalled(a.Recalled(LEDGER, 1, signed=False)), *between,
              recalled(a.Recalled(LEDGER, 1, signed=True)))
    assert len(studio.e.holdings) == 2
    assert texts(studio.register) == []


def test_proofs_of_an_old_paper_with_and_without_a_number() -> None:
    """Each line is a sheet, whatever became of another."""
    studio = begun()
    studio.do(recalled(a.Recalled(LEDGER, None, "AP"), a.Recalled(LEDGER, 1, "AP"),
                       a.Recalled(LEDGER, None, "progressive", signed=False),
                       a.Recalled(LEDGER, None, "progressive", signed=False)))
    first = next(s for s in studio.e.holdings if s.startswith("progressive"))
    studio.do(a.TakeNumberBack(P, first), recalled(a.Recalled(LEDGER, None, "progressive")))
    assert len(studio.e.holdings) == 5
    assert texts(studio.register) == []


def test_the_same_ledger_of_sold_sheets_in_two_books() -> None:
    """Two hundred lines the same are two hundred sheets, and nothing to decide."""
    lines = recalled(*(a.Recalled(LEDGER, n, place="sold") for n in range(1, 4)))
    for both in meet([], [lines], [lines]):
        assert texts(both.register) == []
        assert len(both.e.holdings) == 3


def test_a_signed_trial_proof_does_not_open_an_edition() -> None:
    """Nothing is raised after the first signature, nor opened."""
    studio = Studio(sheet("K1"), sheet("K2", purpose="TP"))
    studio.do(declared(SIZE, caps=CAPS), sign("K2"), number("K1", 1), sign("K1"))
    no = studio.no(a.Declare(P, "Slack Water", "Wren Halloran", None, "open", CAPS))
    assert no.rule == "signed"


def test_what_a_correction_says_of_one_sheet_changes_no_size() -> None:
    """A misprint on one of three; and an odd one after the plate was cancelled."""
    studio = begun()
    studio.do(a.GiveNumbers(P, (("K1", 1), ("K2", 2), ("K3", 3))), sign("K1", "K2", "K3"),
              a.Correct(P, "K3", SheetLabel("edition", 3, 4), "a misprint"))
    assert studio.no(declared(4, caps=CAPS)).rule == "signed"
    assert texts(studio.register) == ["K3 is marked 3/4, but the edition is 5"]
    alone = begun()
    alone.do(number("K1", 1), sign("K1"), a.CancelPlate(P, "scored"),
             a.Correct(P, "K1", SheetLabel("edition", 1, 8), "as pencilled"))
    assert alone.no(declared(8, caps=CAPS)).rule == "signed"


def test_a_void_sheet_looked_at_and_then_destroyed() -> None:
    """Nothing is left to decide about it."""
    studio = begun()
    studio.do(number("K1", 1), a.VoidNumber(P, 1, "smudged"),
              a.Correct(P, "K1", SheetLabel("edition", 1, 5), "signed all the same", signed=True))
    assert texts(studio.register) == []
    studio.do(a.Destroy(P, "K1", "torn"))
    assert texts(studio.register) == []


def test_both_sheets_of_one_number_destroyed() -> None:
    """One after the other, each by whoever had seen both."""
    studio = begun()
    studio.do(number("K1", 1), correction("K2", 1))
    assert len(unsettled_clashes(studio.register, P)) == 1
    studio.do(a.Destroy(P, "K1", "torn"))
    assert texts(studio.register) == []
    studio.do(a.Destroy(P, "K2", "torn"))
    assert texts(studio.register) == []


def test_an_open_edition_that_was_signed_stays_open() -> None:
    """Also by a sheet without a number: what was sold as open is not made limited."""
    studio = begun()
    studio.do(a.Declare(P, "Slack Water", "Wren Halloran", None, "open", CAPS), sign("K1"))
    assert studio.no(declared(SIZE, caps=CAPS)).rule == "signed"
    assert texts(studio.register) == []


def test_proofs_are_not_counted_inside_where_there_is_no_room_left() -> None:
    """Five numbers of five, and one proof outside: it stays outside."""
    studio = begun()
    studio.do(declared(SIZE, caps={"HC": Cap(1)}), a.GiveProof(P, "K6", "HC"),
              a.GiveNumbers(P, tuple((f"K{n}", n) for n in range(1, 6))))
    assert studio.no(declared(SIZE, caps={"HC": Cap(1, inside=True)})).rule == "size"
    studio.do(declared(SIZE + 1, caps={"HC": Cap(1, inside=True)}))
    assert texts(studio.register) == []


def test_a_lost_sheet_is_taken_in_and_not_laid_away():
    """Whoever found it says so; where it lies is said of what is here."""
    studio = begun()
    studio.do(a.Put(P, "K1", "drawer"), a.Put(P, "K1", "lost"))
    assert studio.no(a.Put(P, "K1", "drawer")).rule == "out"
    studio.do(a.TakeIn(P, "K1", "drawer"), a.Put(P, "K1", "framed"))
