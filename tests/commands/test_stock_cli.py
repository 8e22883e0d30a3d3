"""The stock from the command line: counted, corrected, mixed, and taken off by what was printed."""

from __future__ import annotations

import io
import json
import sys

import pytest

from benchapp.cli import main

PAPER = "soft cotton, lightly sized, 230 g/m2"


@pytest.fixture
def stock(home, capsys, monkeypatch):
    """One call: its exit code, and what it printed on either output."""
    def call(*words: str, typed: str = "") -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        code = main(list(words))
        told = capsys.readouterr()
        return code, told.out, told.err

    return call


def test_a_day_of_printing_is_taken_off_the_count(stock) -> None:
    """As many pieces as were pulled; what is left is told in sheets and pieces."""
    assert stock("stock", "count", "soft", "cotton", "10", "sheets")[0] == 0
    code, out, _ = stock("run", "thistle-heads", "--wanted", "2", "--plain",
                         typed="\n1\n" * 200)
    assert code == 0
    pulled = json.loads(stock("sessions", "--json")[1])[0]["pulled"]
    assert pulled >= 2
    (found,) = json.loads(stock("stock", "--json")[1])
    assert (found["format"], found["name"], found["unit"]) == ("stock/1", PAPER, "sheets")
    assert (found["used_pieces"], found["used"], found["left"]) == (
        pulled, pulled / 4, 10 - pulled / 4)
    assert (found["order"], found["next_day"]) == (0, pulled / 4)
    code, out, _ = stock("stock", "count", "soft", "cotton", "0", "sheets")
    assert (code, "none left" in out, "order " in out) == (0, True, True)


def test_a_name_nobody_knows_is_refused_with_the_nearest(stock, home) -> None:
    """No book is changed; a new thing is said to be one."""
    code, _, err = stock("stock", "count", "sofd cotton", "10", "sheets")
    assert (code, f"did you mean {PAPER}" in err, "--new" in err) == (2, True, True)
    code, _, err = stock("stock", "count", "mould-made", "10", "sheets")
    assert (code, "several things" in err) == (2, True)
    assert stock("stock", "count", "blotters", "24")[0] == 2
    code, out, _ = stock("stock", "count", "blotters", "24", "--new")
    assert (code, "counted 24" in out) == (0, True)
    assert stock("stock", "count", "Blot", "23")[0] == 0


def test_nothing_is_made_by_only_looking(stock, home) -> None:
    """An empty stock is no error; a name in it is."""
    code, out, _ = stock("stock")
    assert (code, "Nothing has been counted yet" in out) == (0, True)
    assert stock("stock", "history", "cotton")[0] == 1
    assert json.loads(stock("stock", "--json")[1]) == []
    assert not home.exists()


def test_a_mistake_is_corrected_and_stays_to_be_seen(stock) -> None:
    """With the reason; none takes a count away that was never meant."""
    stock("stock", "count", "newsprint", "200", "--new")
    assert stock("stock", "correct", "newsprint", "180")[0] == 2
    assert stock("stock", "correct", "newsprint", "180", "--why", "read wrong")[0] == 0
    assert stock("stock", "correct", "newsprint", "180", "--why", "read wrong")[0] == 1
    assert "180 on " in stock("stock", "history", "newsprint")[1]
    assert stock("stock", "correct", "newsprint", "none", "--why", "the school's")[0] == 0
    assert "Nothing has been counted yet" in stock("stock")[1]
    assert stock("stock", "correct", "newsprint", "5", "--why", "x")[0] == 1


def test_a_batch_is_mixed_of_inks_that_are_known(stock) -> None:
    """Each part by its name, weighed or not."""
    code, out, _ = stock("stock", "mix", "warm 1", "bone black 60 g", "raw umber")
    assert (code, "from bone black 60 g and raw umber (not weighed)" in out) == (0, True)
    assert stock("stock", "mix", "warm 1", "bone black 60 g")[0] == 1
    assert stock("stock", "mix", "warm 2", "bone blakc 60 g")[0] == 2
    assert stock("stock", "mix", "warm 2", "bone black 60 sheets")[0] == 2
    (found,) = json.loads(stock("stock", "count", "warm 1", "70,5 g", "--json")[1])
    assert (found["left"], found["batch"]["parts"][1]) == (
        70.5, {"name": "raw umber", "grams": None})


@pytest.mark.parametrize(("words", "code"), [
    (("soft cotton",), 2), (("soft cotton", "ten sheets"), 2), (("soft cotton", "10"), 1),
    (("soft cotton", "90 g"), 1), (("soft cotton", "9 sheets", "--on", "2200-01-01"), 1),
    (("soft cotton", "9 sheets", "--on", "someday"), 2), (("soft cotton", "9999999 sheets"), 2),
    (("soft cotton", "9 sheets", "--on", "yesterday", "--lot", "spring"), 0)])
def test_what_is_taken_and_what_is_not(stock, words, code) -> None:
    """A paper is counted in sheets or pieces, and on no day to come."""
    assert stock("stock", "count", *words)[0] == code


def test_prepare_says_at_once_what_was_counted(stock) -> None:
    """Before any day was printed, too; a warning where it is too little."""
    stock("stock", "count", "soft", "cotton", "9", "sheets")
    assert "You have 9 sheets, this needs" in stock("prepare", "thistle-heads", "--wanted", "10")[1]
    stock("stock", "count", "soft", "cotton", "1", "sheet")
    assert f"! {PAPER}: you have 1 sheet, this needs" in stock(
        "prepare", "thistle-heads", "--wanted", "10")[1]
