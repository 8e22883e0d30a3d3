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
from benchapp.recipe.reader import read_recipe
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
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
        shop = SessionService(book, clock)
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
    assert "99 is not one of the changes" in capsys.readouterr().err
    assert own.read_text(encoding="utf-8") == TEXT


def test_a_shipped_recipe_is_left_alone(home, capsys):
    """Without sessions there is nothing to learn; the shipped file is never written."""
    before = shipped_recipes()["three-steps"].read_bytes()
    assert main(["learn", "three-steps", "--apply"]) == 0
    assert "no session of this print" in capsys.readouterr().out
    assert shipped_recipes()["three-steps"].read_bytes() == before
    assert not home.exists()


INKED = recipe(each=(WIPE, PULL, LIFT), extra="ink: {charge: 5 g}   # the small tin\n"
                                              "wash: 1.5 min\n")


def inked(days: int, grams: str) -> Path:
    """A recipe that charges 5 g, and so many days of three pulls, weighed and judged."""
    path = recipes_folder() / "inked.yaml"
    write_new(path, INKED)
    clock = FakeClock()
    with Book.open(book_file(), write=True, create=True) as book:
        shop = SessionService(book, clock)
        for _ in range(days):
            shop.leave_bench()
            clock.advance(24 * 60 * MIN)
            shop.open_session("inked", INKED, 1, typed=True)
            while len([i for i in shop.room.session.impressions if i.laid]) < 3:
                clock.advance(4 * MIN)
                shop.tick()
                shop.do(a.GoOn())
            assert shop.do(a.TakeReading("ink used", grams, "g")).ok
            shop.do(a.Judge("spoiled", 3))
            shop.do(a.Tag("salty", 2))
            shop.do(a.Tag("salty", 3))
    return path


def test_ink_spoilage_and_tags_are_told_by_session(home, capsys):
    """What was weighed, what was spoiled of those judged, how many sheets bear a tag."""
    inked(2, "12")
    found = told(capsys, "learn", "inked")
    (ink,) = found["ink"]
    assert (ink["reading"], ink["charge"], ink["each_grams"]) == ("ink used", "5 g", 4.0)
    assert [(d["grams"], d["pulls"]) for d in ink["days"]] == [(12.0, 3)] * 2
    assert [(d["pulled"], d["judged"], d["spoiled"], d["tags"]) for d in found["days"]] == [
        (3, 1, 1, [{"tag": "salty", "sheets": 2}])] * 2
    assert main(["learn", "inked"]) == 0
    out = capsys.readouterr().out
    assert "4 g a pull; the recipe charges 5 g before wiping." in out
    assert "pulled 3 · spoiled 1 of 1 judged · salty 2" in out


@pytest.mark.parametrize(("days", "grams", "new"), [
    (3, "19", "6.5 g"), (3, "15", None), (2, "19", None)])
def test_a_charge_below_what_was_used_is_offered(home, capsys, days, grams, new):
    """19 g for three pulls cannot come from 5 g each: 6.5 is offered, after three days."""
    path = inked(days, grams)
    found = [c for c in told(capsys, "learn", "inked")["changes"] if c["path"] == "ink.charge"]
    assert [(c["old"], c["new"], c["from"], c["of"]) for c in found] == (
        [] if new is None else [("5 g", new, 9, "pulls")])
    if new is not None:
        assert main(["learn", "inked", "--apply", "--only", str(found[0]["number"])]) == 0
        assert path.read_text(encoding="utf-8") == INKED.replace("charge: 5 g", f"charge: {new}")


def test_learnt_times_replace_the_guess(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Steps without a time get theirs; the guess goes with the last of them, and not before."""
    text = recipe(each=("{do: Wipe, hands: inky}", "{do: Pull, hands: clean, pulls: key}",
                        "{do: Lift, hands: clean, time: 3 min, asks: [verdict]}"),
                  extra="one print takes: 40 min  # a guess\n")
    path = recipes_folder() / "slack-water.yaml"
    write_new(path, text)
    clock = FakeClock()
    with Book.open(book_file(), write=True, create=True) as book:
        shop = SessionService(book, clock)
        shop.open_session("slack-water", text, None)
        for _ in range(5):
            for minutes in (15, 1.5, 4, 3):
                clock.advance(round(minutes * MIN))
                shop.tick()
                shop.do(a.GoOn())
    offered = {c["what"]: c["number"] for c in told(capsys, "learn", "slack-water")["changes"]
               if c["old"] is None and c["can_be_made"]}
    assert {"Wipe", "Pull"} <= set(offered)
    some = told(capsys, "learn", "slack-water", "--apply", "--only", str(offered["Wipe"]))
    made = read_recipe(path.read_text(encoding="utf-8"))
    assert (some["guess_dropped"], made.takes is None) == (False, False)
    assert made.each[0].time is not None
    rest = told(capsys, "learn", "slack-water", "--apply")
    made = read_recipe(path.read_text(encoding="utf-8"))
    assert (rest["guess_dropped"], made.takes) == (True, None)
    assert all(step.time is not None for step in made.each)
