"""`benchapp search`: its lines, its JSON, and what it says when there is nothing."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.cli import main
from benchapp.clock import FakeClock
from benchapp.files import book_file
from tests.commands.test_export import printed


@pytest.fixture
def studio(home: Path) -> Path:
    """A home with one day in its book."""
    with Book.open(book_file(), write=True, create=True) as book:
        printed(book, FakeClock())
    return home


def test_the_json_is_a_list_of_places(studio, capsys):
    """Format, session, print, impression, where, text: nothing else."""
    assert main(["search", "salty", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert [x["impression"] for x in found] == [1, 2, 3, 4, 5]
    assert {tuple(sorted(x)) for x in found} == {
        ("format", "impression", "print", "session", "text", "where")}
    assert {(x["where"], x["text"]) for x in found} == {("tag", "salty")}


def test_a_line_an_answer(studio, capsys):
    """The day, the print, the sheet, the place and the text."""
    assert main(["search", "+49"]) == 0
    out = capsys.readouterr().out
    assert out.endswith("· Slack Water · no. 2 · note: +49 30\n")


def test_nothing_is_an_answer_too(studio, home, capsys):
    """Nothing found: exit 0, said; as JSON an empty list."""
    assert main(["search", "no", "such", "words"]) == 0
    assert "Nothing found for no such words" in capsys.readouterr().out
    assert main(["search", "nosuchword", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == []


def test_looking_in_an_empty_home_makes_nothing(home, capsys):
    """No book, no answer, no folder."""
    assert main(["search", "salty", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == []
    assert not home.exists()


@pytest.mark.parametrize(("words", "why"), [
    (["--from", "3/5"], "write 3 May or 5 March"), (["--to", "2026-02-30"], "is not a day"),
    (["--from", "2026-05-03", "--to", "2026-05-02"], "--from is the earlier day")])
def test_a_wrong_day_is_said(studio, capsys, words, why):
    """Two, and how a day is written."""
    assert main(["search", "salty", *words]) == 2
    assert why in capsys.readouterr().err


def test_own_words_are_searched_only_when_asked(studio, capsys):
    """To whom a sheet went stays hidden without --private; accents make no difference."""
    assert main(["edition", "Slack Water", "--size", "40"]) == 0
    assert main(["number", "D4", "1"]) == 0
    assert main(["where-is", "1", "--now", "sold", "--to", "Zoë Brück"]) == 0
    capsys.readouterr()
    assert main(["search", "zoe"]) == 0
    assert capsys.readouterr().out == "Nothing found for zoe\n"
    assert main(["search", "zoe", "--private"]) == 0
    assert capsys.readouterr().out.endswith("· no. 4 · own words: to: Zoë Brück\n")
    assert main(["search", "D4"]) == 0
    assert capsys.readouterr().out.endswith("· no. 4 · mark: D4\n")
    assert main(["search", "1/40"]) == 0
    assert capsys.readouterr().out.endswith("· no. 4 · number: 1/40\n")
