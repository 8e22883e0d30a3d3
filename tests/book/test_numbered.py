"""What a sheet bears now, from the few entries that say so."""

from __future__ import annotations

from typing import Any

import pytest

from benchapp.book.numbered import Told, claim_in, declared_totals, is_latest_label
from benchapp.events.entry import read_event


def said(id_: str, kind: str = "number given", **body: Any) -> Told:
    """An entry about a sheet, or about an edition."""
    return id_, read_event("print/pear", kind, body)


@pytest.mark.parametrize("kind", [
    "number given", "proof given", "number taken back", "signed", "corrected"])
def test_a_later_label_stands_in_place_of_the_one_before(kind: str) -> None:
    """Whatever kind of entry says it."""
    told = [said("a"), said("b", kind)]
    assert [is_latest_label(x, told) for x in ("a", "b")] == [False, True]


@pytest.mark.parametrize(("kind", "body"), [
    ("destroyed", {}), ("handed out", {}), ("corrected", {"about": ("known",)}),
    ("corrected", {"about": ("destroyed", "signed")})])
def test_what_says_nothing_of_the_label_leaves_it(kind: str, body: dict[str, Any]) -> None:
    """Also a correction that is about something else."""
    assert is_latest_label("a", [said("a"), said("b", kind, **body)])


def test_a_correction_of_the_label_stands_in_its_place() -> None:
    """When it names what it is about; and one of before, that is about the whole."""
    assert not is_latest_label("a", [said("a"), said("b", "corrected", about=("bears",))])
    assert not is_latest_label("a", [said("a"), said("b", "corrected")])


def test_two_books_may_say_different_things() -> None:
    """What does not name the other as overtaken leaves it standing, until one names both."""
    told = [said("a", over=()), said("b", over=())]
    assert [is_latest_label(x, told) for x in ("a", "b")] == [True, True]
    told += [said("c", over=("a",)), said("d", over=("c",))]
    assert [is_latest_label(x, told) for x in "abcd"] == [False, True, False, True]
    told += [said("e", over=("b", "d"))]
    assert [is_latest_label(x, told) for x in "abcde"] == [False] * 4 + [True]


def test_an_entry_over_one_that_is_not_there_leaves_the_rest() -> None:
    """As where another book has it."""
    assert is_latest_label("a", [said("a"), said("b", over=("elsewhere",))])


@pytest.mark.parametrize(("kind", "body", "claim"), [
    ("number given", {"number": 3}, ("edition", 3, None)),
    ("signed", {"kind": "edition", "number": 3, "of": 40}, ("edition", 3, 40)),
    ("recalled", {"kind": "AP", "number": 2}, ("AP", 2, None)),
    ("proof given", {"kind": "AP", "number": 2}, ("AP", 2, None)),
    ("proof given", {"kind": "BAT", "number": None}, ("BAT", None, None)),
    ("corrected", {"now": {"kind": "AP", "number": 1, "of": 4}, "number": 9}, ("AP", 1, 4)),
    ("corrected", {"now": None, "number": 9}, (None, None, None)),
    ("destroyed", {}, (None, None, None)),
])
def test_what_an_entry_says_a_sheet_bears(kind: str, body: dict[str, Any],
                                          claim: tuple[str | None, int | None, int | None]) -> None:
    """Its kind, number and total; of a correction, what it says now."""
    assert claim_in(read_event("print/pear", kind, body)) == claim


def test_the_totals_that_stand() -> None:
    """The last one declared; of two books that do not know of one another, both."""
    first = said("a", "declared", size=15, caps={"AP": {"cap": 4}, "HC": None})
    assert declared_totals([first], None) == {15}
    assert declared_totals([first], "AP") == {4}
    assert declared_totals([first], "HC") == declared_totals([first], "PP") == set()
    assert declared_totals([first, said("b", "lowered", size=6)], None) == {6}
    apart = [first, said("b", "declared", size=20, over=(), caps={"AP": {"cap": 2}})]
    assert declared_totals(apart, None) == {15, 20}
    assert declared_totals(apart, "AP") == {2, 4}
    assert declared_totals([*apart, said("c", "declared", size=8, over=("a",))], None) == {8, 20}
    assert declared_totals([first, said("b", "declared", size=None)], None) == set()
