"""`benchapp learn`: what it offers, what it changes, and what it leaves alone."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.cli import main
from benchapp.clock import FakeClock
from benchapp.files import book_file, recipes_folder, shipped_recipes, write_new
from benchapp.session import actions as a
from benchapp.workshop import Workshop
from tests.session.support import LIFT, PULL, WIPE, recipe

MIN = 60_000
TEXT = recipe(each=(WIPE, PULL, LIFT), extra="wash: 1.5 min   # soap, then the towel\n")


@pytest.fixture
def own(home: Path) -> Path:
    """A recipe of the printer's own, and a day on which it was wiped slower than it says."""
    path = recipes_folder() / "slack-water.yaml"
    write_new(path, TEXT)
    clock = FakeClock()
    with Book.open(book_file(), write=True, create=True) as book:
        shop = Workshop(book, clock)
        shop.open_session("slack-water", TEXT, None)
        for _ in range(5):
            for minutes in (15, 1.5, 4, 3):
                clock.advance(round(minutes * MIN))
                shop.tick()
                shop.do(a.GoOn())
    return path


def told(capsys, *words: str) -> dict:
    """The JSON document of one call."""
    assert main([*words, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_looking_changes_nothing(own, capsys):
    """Without --apply the recipe stays as it is, and no file is made."""
    found = told(capsys, "learn", "slack-water")
    assert [c["what"] for c in found["changes"]].count("Wipe") == 1
    assert not any(c["made"] for c in found["changes"])
    assert own.read_text(encoding="utf-8") == TEXT
    assert [p.name for p in own.parent.iterdir()] == ["slack-water.yaml"]


def test_what_is_accepted_changes_its_value_alone(own, capsys):
    """The wipe's time is new; comments stand; the old file is kept; the hash is another."""
    wipe = next(c for c in told(capsys, "learn", "slack-water")["changes"] if c["what"] == "Wipe")
    found = told(capsys, "learn", "slack-water", "--apply", "--only", str(wipe["number"]))
    new = own.read_text(encoding="utf-8")
    assert new == TEXT.replace(wipe["old"], wipe["new"])
    assert own.with_name("slack-water.yaml.before").read_text(encoding="utf-8") == TEXT
    assert found["sha256"] == hashlib.sha256(new.encode()).hexdigest() != found["sha256_before"]


def test_all_of_them_at_once_and_then_nothing_more(own, capsys):
    """Applied, the same days teach nothing twice."""
    assert main(["learn", "slack-water", "--apply"]) == 0
    assert "changed" in capsys.readouterr().out
    assert told(capsys, "learn", "slack-water")["changes"] == []


def test_the_wrong_number_is_said(own, capsys):
    """A number that is none of the list is wrong use, and nothing is written."""
    assert main(["learn", "slack-water", "--apply", "--only", "99"]) == 2
    assert "99 is none of the changes" in capsys.readouterr().err
    assert own.read_text(encoding="utf-8") == TEXT


def test_a_shipped_recipe_is_left_alone(home, capsys):
    """Without sessions there is nothing to learn; the shipped file is never written."""
    before = shipped_recipes()["three-steps"].read_bytes()
    assert main(["learn", "three-steps", "--apply"]) == 0
    assert "no session of this print" in capsys.readouterr().out
    assert shipped_recipes()["three-steps"].read_bytes() == before
    assert not home.exists()
