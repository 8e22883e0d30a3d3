"""A day on a cancelled plate: it says so before its first sheet, and is no day of the edition."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchapp import plain
from benchapp.book import Book
from benchapp.cli import main
from benchapp.edition import actions as acts
from benchapp.files import book_file
from tests.plain.test_plain import Typed
from tests.service.edition_days import PEAR, Studio, pear

GONE = "The plate of Pear on a Sill is cancelled (scored): it gives only its cancellation proof"


def proof_day(studio: Studio, *lines: str) -> list[list[str]]:
    """A day by lines; the answers, those of the opening first."""
    typed = Typed(studio.clock, lines, 60_000)
    assert plain.run_plain(studio.workshop, typed, "three-steps", pear(), 1) == 0
    studio.clock.advance(86_400_000)
    return typed.answers


def test_the_lines_say_it_first_and_propose_the_cancellation_proof() -> None:
    """Once before the first sheet and again at resume; the pull is for nothing else by rule."""
    studio = Studio()
    studio.day()
    assert not any("cancelled" in x for x in proof_day(studio, "quit")[0])
    assert studio.editions.do(acts.CancelPlate(PEAR, "scored")).ok
    told = proof_day(studio, *([""] * 3), "quit")
    assert told[0][1] == f"Mind: {GONE}"
    assert sum(GONE in line for answer in told for line in answer) == 1
    row = studio.book.sessions()[-1]
    again = Typed(studio.clock, [""] * 300, 60_000)
    assert plain.resume_plain(studio.workshop, again, row.id) == 0
    assert again.answers[0][1] == f"Mind: {GONE}"
    assert not any(GONE in line for answer in again.answers[1:] for line in answer)
    s = studio.editions.session(row.id)
    assert s is not None
    assert s.cancelled == "scored"
    assert [(i.purpose, i.purpose_by) for i in s.impressions] == [("cancellation proof", "rule")]


def test_its_days_are_not_days_of_the_edition() -> None:
    """The sheet takes no number and is proposed as the one proof, of which there is one."""
    studio = Studio()
    first = studio.day()
    assert studio.editions.do(acts.CancelPlate(PEAR, "scored")).ok
    proof_day(studio, *[""] * 300)
    editions = studio.editions
    assert [d.row.id for d in editions.edition_days(PEAR)] == [first]
    sheet = editions.days[-1].sheets[-1].id
    no = editions.do(acts.GiveNumbers(PEAR, ((sheet, None),))).refusal
    assert no is not None
    assert '--as "cancellation proof"' in no.mend
    assert editions.do(acts.GiveProof(PEAR, sheet, "cancellation proof")).ok


def test_a_plan_says_it_before_all_else(
    home: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With a number wanted and without; also as JSON."""
    recipe = tmp_path / "pear.yaml"
    recipe.write_text(pear(), encoding="utf-8")
    home.mkdir(parents=True)
    with Book.open(book_file(), write=True, create=True) as book:
        studio = Studio(book)
        studio.day()
        assert studio.editions.do(acts.CancelPlate(PEAR, "scored")).ok
    day = ("plan", str(recipe), "--on", "2026-06-03", "--from", "09:00", "--until", "17:00")
    for more in ((), ("--wanted", "3")):
        assert main([*day, *more]) == 0
        said = capsys.readouterr().out
        assert said.startswith(f"{GONE}. ")
        assert "warm-ups" not in said.partition("\n")[0]
    assert main([*day, "--json"]) == 0
    assert f'"sentence": "{GONE}. Count on 1.' in capsys.readouterr().out
