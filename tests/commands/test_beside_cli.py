"""Two sessions, two sheets and a plate's life, from the command line."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.cli import main
from benchapp.commands.show import charts_here
from benchapp.edition import actions as acts
from benchapp.session import actions as a
from benchapp.session.edition_links import sheet_id
from tests.service.edition_days import PEAR, Studio, pear


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two days of one print: of the first a sheet is the BAT, one is spoiled and salty."""
    path = tmp_path_factory.mktemp("beside") / "studio.book"
    with Book.open(path, write=True, create=True) as opened:
        studio = Studio(opened)
        first = studio.day()
        shop = studio.workshop
        shop.look_at(first)
        for action in (a.Judge("keep", 3), a.Judge("spoiled", 4), a.Tag("salty", 4)):
            assert shop.do(action, session=first).ok
        assert studio.editions.do(acts.GiveProof(PEAR, sheet_id(first, 3), "BAT")).ok
        studio.day()
    return path


def say(book: Path, capsys: pytest.CaptureFixture[str], *words: str, code: int = 0) -> str:
    """What a command says, on whichever of the two outputs."""
    assert main(["--book", str(book), *words]) == code
    out, err = capsys.readouterr()
    return out if code == 0 else err


def test_the_last_session_stands_beside_the_one_before(
        book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without a word; two may be named, and the JSON has a cell a column."""
    text = say(book, capsys, "beside")
    assert text.splitlines()[0] == "2026-05-04  |  2026-05-03"
    assert "  pulled: 5 (the same)" in text
    found = json.loads(say(book, capsys, "beside", "2026-05-03", "2026-05-04", "--json"))
    assert found["columns"] == ["2026-05-03", "2026-05-04"]
    salty = next(x for x in found["lines"] if x["what"] == "salty")
    assert salty == {"group": "tags, on how many", "what": "salty", "said": ["1", ""],
                     "same": False}


def test_sheets_stand_beside_each_other_and_the_standard(
        book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By their marks; one alone beside the one before it; the BAT comes by itself."""
    text = say(book, capsys, "beside", "D4", "E4")
    assert text.splitlines()[0] == (
        "D4  |  E4  |  D3, the BAT")
    assert "  verdict: spoiled  |  not judged  |  keep" in text
    assert "  tags: salty  |  —  |  —" in text
    assert say(book, capsys, "beside", "E1").startswith("E1  |  D5")


@pytest.mark.parametrize(("words", "code", "said"), [
    (("beside", "last", "D4"), 2, "One is a session, the other a sheet"),
    (("beside", "D1", "D2", "D3"), 2, "D3 is one too many"),
    (("beside", "Q7"), 1, "No sheet Q7"),
    (("life", "Nothing Here"), 2, "No print is called Nothing Here"),
    (("life", "--plate", "tone"), 2, "There is no plate tone"),
])
def test_what_cannot_be_held_against_each_other_is_said(
        book: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], code: int,
        said: str) -> None:
    """With the code of a wrong use, or of an answer that is no."""
    assert said in say(book, capsys, *words, code=code)


def test_a_book_with_nothing_in_it_says_no(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """No session, so nothing to hold and no plate."""
    path = tmp_path / "empty.book"
    Book.open(path, write=True, create=True).close()
    assert "no session yet" in say(path, capsys, "life", code=1)
    assert "no session" in say(path, capsys, "beside", code=1).lower()


def test_a_plates_life_is_told_by_title_or_recipe(
        book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Ten impressions over two days, kept one of the two judged; the same as JSON."""
    text = say(book, capsys, "life", "pear")
    assert text == say(book, capsys, "life", "three-steps") == say(book, capsys, "life")
    assert text.splitlines()[0].endswith(
        ": 10 impressions, 2 sessions from 2026-05-03 to 2026-05-04")
    assert "kept 1 of 2 judged, 50 % (95 %: 9 to 91)" in text
    (life,) = json.loads(say(book, capsys, "life", "--json"))
    assert (life["impressions"], [d["pulled"] for d in life["days"]]) == (10, [5, 5])


def test_a_plates_life_is_a_page_that_stands_by_itself(
        book: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Its sentence, its days in figures, nothing loaded; never over a file that is there."""
    path = tmp_path / "life.html"
    assert say(book, capsys, "life", "--html", str(path)) == f"Written: {path}\n"
    page = path.read_text(encoding="utf-8")
    for part in ("10 impressions, 2 sessions", "<td class=\"s\">1 to 5</td>", "salty 1",
                 "default-src &#x27;none&#x27;"):
        assert part in page, part
    assert "http" not in page.replace("http-equiv", "").replace("http://www.w3.org/2000/svg", "")
    assert "--force" in say(book, capsys, "life", "--html", str(path), code=1)


def test_a_review_draws_its_readings_where_that_is_asked_for(
        tmp_path: Path, capsys: pytest.CaptureFixture[str],
        monkeypatch: pytest.MonkeyPatch) -> None:
    """Numbers always; a chart by --charts, in ASCII by plain."""
    path = tmp_path / "graded.book"
    with Book.open(path, write=True, create=True) as opened:
        studio = Studio(opened)
        day = studio.day(pear(), 4)
        studio.workshop.look_at(day)
        for n, grade in enumerate("5443", 3):
            assert studio.workshop.do(
                a.TakeReading("tone", grade, "grade 1-5", n), session=day).ok
    none = say(path, capsys, "review")
    assert "3: 5  4: 4  5: 4  6: 3" in none
    assert "no longer good" not in none
    plain = say(path, capsys, "review", "--charts", "plain")
    chart = plain[plain.index("grade 1-5"):].splitlines()
    assert chart[1].startswith("5 +o")
    assert "  - - no longer good 3" in chart
    assert "5 ┤" in say(path, capsys, "life", "--charts", "dots")
    monkeypatch.setattr("sys.stdout", io.TextIOWrapper(io.BytesIO(), encoding="ascii"))
    assert charts_here("dots") == "plain"
    assert charts_here(None) is None
