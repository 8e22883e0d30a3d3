"""One way to name a sheet: each name leads to its sheet, and what a refusal shows can be typed."""

from __future__ import annotations

import pytest

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition.holding import SheetLabel
from benchapp.edition.naming import find_sheet, print_of_sheet, split_names
from benchapp.edition.numbers import sheet_words
from tests.edition.support import P, Studio, number, sheet, sign, studio

OLD = "the 2019 notebook"


@pytest.fixture(scope="module")
def full() -> Studio:
    """K1 is 1/30, K2 AP I/III, K3 the BAT; 2/30, AP II and two progressives are from old papers;
    K7 is on two sheets."""
    s = studio()
    s.pull(sheet("K7"), sheet("K7", "2026-06-01", id="other"))
    s.do(number("K1", 1), a.GiveProof(P, "K2", "AP"), a.GiveProof(P, "K3", "BAT"),
         a.VoidNumber(P, 9, "a slip"),
         a.Recall(P, (a.Recalled(OLD, 2), a.Recalled(OLD, 2, "AP"),
                      a.Recalled(OLD, None, "progressive"), a.Recalled(OLD, None, "progressive"))))
    return s


def found(s: Studio, said: str) -> str | Refusal:
    """The sheet of that name."""
    return find_sheet(s.register, said, P, pulls={"K7": "2026-05-03:7", "other": "2026-06-01:1"})


@pytest.mark.parametrize(("said", "sheet_"), [
    ("K1", "K1"), ("k1", "K1"), ("1/30", "K1"), ("1", "K1"), ("AP I", "K2"), ("ap 1/3", "K2"),
    ("BAT", "K3"), ("K7 of 1 June 2026", "other"), ("2/30", f"edition 2 of {P}, known from {OLD}"),
    ("AP II/III", f"AP 2 of {P}, known from {OLD}"),
    ("old:2", f"edition 2 of {P}, known from {OLD}"),
    ("old:AP 2", f"AP 2 of {P}, known from {OLD}"),
    ("old:progressive (2)", f"progressive without a number (2) of {P}, known from {OLD}"),
])
def test_a_sheet_is_found_by_each_of_its_names(full: Studio, said: str, sheet_: str) -> None:
    """Mark, number with or without its total, in figures or Roman; and what an old paper said."""
    assert found(full, said) == sheet_
    assert print_of_sheet(full.register, sheet_) == P


@pytest.mark.parametrize(("said", "why"), [
    ("K7", "2 sheets are called K7: 2026-05-03:7 and 2026-06-01:1; name one of these"),
    ("3/30", "No sheet is 3/30; the number is free"),
    ("31", "No sheet is 31/30; 31 is not between 1 and 30"),
    ("1/40", "The edition is 30, not 40; leave the total out"),
    ("AP I/IX", "AP is of 3, not 9; leave the total out"),
    ("9", "9/30 is void: a slip; no sheet has it"),
    ("AP", "AP alone is not enough to name a sheet; there are AP I/III, AP II/III"),
    ("HC", "No sheet is HC; name it by its mark (K7), its number (12/40, AP II), or session and "
           "pull (last:3)"),
    ("progressive", "2 sheets are called progressive: old:progressive (2) of the 2019 notebook and "
                    "old:progressive of the 2019 notebook; name one of these"),
    ("Z9", "No sheet Z9 is in the book; name it by its mark (K7), its number (12/40, AP II), or "
           "session and pull (last:3)"),
])
def test_no_sheet_is_guessed(full: Studio, said: str, why: str) -> None:
    """What is wrong, and what to write instead."""
    assert str(found(full, said)) == why


def test_every_sheet_is_shown_by_a_name_that_leads_to_it(full: Studio) -> None:
    """Also one whose number was taken away by a correction, and one whose number two have."""
    names = {h.sheet: sheet_words(h) for h in full.e.holdings.values()}
    assert {x: found(full, name) for x, name in names.items()} == {x: x for x in names}
    s = studio()
    s.do(a.Recall(P, (a.Recalled(OLD, 2),)))
    (old,) = s.e.holdings.values()
    assert sheet_words(old) == "2/30"
    s.do(a.Correct(P, old.sheet, None, "nothing stands on it"))
    assert sheet_words(s.held(old.sheet)) == "old:2"
    assert found(s, "old:2") == old.sheet
    s.do(a.Correct(P, old.sheet, SheetLabel("edition", 4), "it says 4"), number("K1", 5),
         a.Correct(P, "K1", SheetLabel("edition", 4), "so does this"))
    why = found(s, "4/30")
    assert isinstance(why, Refusal)
    assert why.why == "2 sheets are called 4/30: K1 and old:2 of the 2019 notebook"
    assert found(s, "old:2 of the 2019 notebook") == old.sheet


def test_a_mark_that_reads_like_a_number_is_not_taken_for_one() -> None:
    """A sheet may bear a mark of its own: 12. Which is meant is asked, unless it is one sheet."""
    s = studio()
    s.pull(sheet("12", id="marked"))
    assert found(s, "12") == "marked"
    s.do(number("K1", 12))
    assert isinstance(found(s, "12"), Refusal)
    assert found(s, "12/30") == "K1"


def test_the_name_of_an_old_sheet_follows_the_declaration() -> None:
    """While nothing is signed the size may change, and Roman numbers come in."""
    s = studio()
    s.do(a.Recall(P, (a.Recalled(OLD, 4, signed=False),)))
    (old,) = s.e.holdings
    s.do(a.Declare(P, "Slack Water", "Wren Halloran", 40, roman=True))
    assert sheet_words(s.held(old)) == "IV/XL"
    assert found(s, "IV/XL") == found(s, "4") == old
    assert s.no(sign(old, old)).why.startswith("IV/XL is signed already")


@pytest.mark.parametrize(("words", "names"), [
    (["K7", "AP", "II", "12/40"], ["K7", "AP II", "12/40"]), (["AP II"], ["AP II"]),
    (["BAT", "3"], ["BAT", "3"]), (["AP", "K7"], ["AP", "K7"]), (["E.V.", "7/12"], ["E.V. 7/12"]),
    (["ap", "2/4", "3"], ["ap 2/4", "3"]), ([], []),
])
def test_a_proof_and_its_number_may_be_two_words(words: list[str], names: list[str]) -> None:
    """As they are typed without quotes."""
    assert split_names(words) == names
