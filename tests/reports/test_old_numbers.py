"""An edition begun on paper comes in from a table: all of it, or every problem with its line."""

from __future__ import annotations

import csv
import io
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp import files
from benchapp.book import Book
from benchapp.edition.actions import Recalled
from benchapp.reports.export_csv import MARK, csv_cell
from benchapp.reports.old_numbers import COLUMNS, TEMPLATE, read_table
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, listed, one_day, printed  # noqa: F401 - fixtures
from tests.service.edition_days import PEAR, Studio, pear


def table(*lines: str, head: str = "number,kind,signed,destroyed,place,due,to,when,note") -> str:
    """A table of those lines."""
    return "".join(f"{x}\r\n" for x in (head, *lines))


def test_the_template_can_be_read_as_it_stands() -> None:
    """Its examples are what the columns mean."""
    read = read_table(TEMPLATE, "the ledger")
    assert read.problems == ()
    assert read.lines == (
        (2, Recalled("the ledger", 1, signed=True, place="sold", words={"when": "spring 2019"})),
        (3, Recalled("the ledger", 2, signed=False, place="drawer",
                     words={"note": "small crease at the foot"})),
        (4, Recalled("the ledger", 3, destroyed="water")),
        (5, Recalled("the ledger", 4, signed=True, place="gallery", due="2026-05-03")),
        (6, Recalled("the ledger", 1, "AP", signed=True, place="framed")))


@pytest.mark.parametrize(("text", "line", "said"), [
    ("", 1, "has no sheet"),
    (table(), 1, "has no sheet"),
    (table("1", head="number,nummer"), 1, "no column is called nummer; there are number, kind"),
    (table("AP", head="kind"), 1, "the column number is missing"),
    (table("1,2", head="number,number"), 1, "the column number appears twice"),
    (table("1", "x1"), 3, "x1 is not a number"),
    (table("1", "", ",,yes"), 4, "neither number nor kind"),
    (table("1,,perhaps"), 2, "signed is perhaps; write yes or no (ja or nein), or leave it "
                             "empty if you do not know"),
    (table("1,,,yes"), 2, "destroyed is yes; write why, such as: water"),
    (table("07. Dez"), 2, "07. Dez is not a number; write such as 12, 12/40 or XII. Where a "
                          "spreadsheet made a day of 7/12, write 7 alone"),
    (table("1,,,,gallery,16.12.2026"), 2, "due is 16.12.2026; write the date such as 2026-05-03"),
    (table("1,edition,yes,,,,,,note, and more"), 2, "has more cells"),
])
def test_what_is_wrong_is_said_with_its_line(text: str, line: int, said: str) -> None:
    """And what to write instead."""
    (problem,) = read_table(text, "x").problems
    assert (problem.line, said in problem.why) == (line, True), problem


def test_lines_are_counted_as_an_editor_counts_them() -> None:
    """A text of several lines in quotes moves those after it down."""
    read = read_table(table('1,,,,,,,,"one\r\ntwo"', "bad"), "x")
    assert [line for line, _ in read.lines] == [2]
    assert [p.line for p in read.problems] == [4]


def test_roman_numbers_semicolons_and_totals_are_understood() -> None:
    """As they are pencilled on the sheet; a proof may have its kind before its number."""
    read = read_table(MARK + "Number;Kind\nIV/X;ap\n12/40;\nAP II/IV;\nBAT;\n", "x")
    assert [(r.kind, r.number, r.of) for _, r in read.lines] == [
        ("AP", 4, 10), ("edition", 12, 40), ("AP", 2, 4), ("BAT", None, None)]


@pytest.mark.parametrize("text", [
    MARK + "number,signed,destroyed,place,note\r\n1/5,yes,,sold,\"creased, at the foot\"\r\n"
    "2,,no,drawer,\r\n3,no,,,\r\n,,,,\r\n",
    "sep=;\r\nNumber;Signed;Destroyed;Place;Note;;\r\n1/5;Ja;;Sold;creased, at the foot;;\r\n"
    "2;;nein;drawer;;;\r\n3;nein;;;;;\r\n",
    "number\tsigned\tdestroyed\tplace\tnote\n1/5\tyes\t\tsold\tcreased, at the foot\n"
    "2\t\t\tdrawer\t\n3\tNO\t\t\t\n",
])
def test_a_table_is_read_as_three_spreadsheets_write_it(text: str) -> None:
    """Commas, semicolons or tabs; cells and lines left empty; what is empty is not known."""
    read = read_table(text, "x")
    assert read.problems == ()
    assert [r for _, r in read.lines] == [
        Recalled("x", 1, signed=True, place="sold", words={"note": "creased, at the foot"}, of=5),
        Recalled("x", 2, place="drawer"), Recalled("x", 3, signed=False)]


@given(st.text(st.characters(exclude_categories=["Cs"])))
def test_a_hostile_text_comes_back_as_it_was_written(note: str) -> None:
    """Written by our own writer of tables and read here: the same, blanks at its ends aside."""
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows([COLUMNS, ["1", *[""] * 7, csv_cell(note)]])
    if "\0" in note or "\r" in note:
        return  # no line of a table holds these
    (line,) = read_table(out.getvalue(), "x").lines
    assert line[1].words.get("note", "") == csv_cell(note).strip().removeprefix("'")


@given(st.text())
def test_no_text_ends_the_reading(text: str) -> None:
    """Whatever a file holds, there are lines or problems."""
    read = read_table(text, "x")
    assert read.lines or read.problems


def test_old_numbers_join_the_register(printed: Path, call: Call,  # noqa: F811
                                       tmp_path: Path) -> None:
    """They are taken, void or given; what is pulled is counted apart from them."""
    path = tmp_path / "ledger.csv"
    path.write_text(table("1,,,,sold,,Ms Auk", "2,,,water", "I,AP"), encoding="utf-8")
    told = call("--book", str(printed), "edition", "pear", "--from-paper", str(path), "--json")
    assert told.json == {"format": "edition-from-paper/1", "print": "Pear on a Sill",
                         "sheets": 3}
    one = listed(call, printed)
    assert (one["taken"], one["void"], one["next"], one["pulled"], one["papers"]) == (
        [1], [2], 3, 6, 3)
    assert one["proofs"]["AP"]["given"] == 1
    told = call("--book", str(printed), "where-is", "1").out
    assert "1/5 is a sheet from old papers: signature not known, sold" in told
    taken = call("--book", str(printed), "number", "D3", "1")
    assert (taken.code, "1/5 is a sheet from old papers" in taken.err) == (1, True)


def test_one_wrong_line_and_nothing_is_taken_in(printed: Path, call: Call,  # noqa: F811
                                                tmp_path: Path) -> None:
    """Every problem with its line: a number twice, one beyond the edition, a place there is not."""
    path = tmp_path / "ledger.csv"
    path.write_text(table("1", "1", "9", "2,,,,attic", "3/40", "I,AP", "AP II", "4,,maybe", "BAT",
                          "2"), encoding="utf-16")
    told = call("--book", str(printed), "edition", "--from-paper", str(path))
    assert told.code == 1
    assert [x.removeprefix(f"{path}:") for x in told.err.splitlines()] == [
        "3: 1/5 is in the table twice, first in line 2; next is 3/5; free: 3, 4, 5",
        "4: 9 is not between 1 and 5; next is 3/5; free: 3, 4, 5",
        "5: attic is not a place; write boards, drawer, framed, gallery, given, sold, lost",
        "6: 3/40 has another total: the edition is 5; look at the paper again, or declare it as it "
        "is there",
        "8: AP II/I is more than the 1 you declared of its kind; declare them first, such as "
        "--proof AP=2, or leave it out",
        "9: signed is maybe; write yes or no (ja or nein), or leave it empty if you do not know",
        "Nothing was imported."]
    assert listed(call, printed)["taken"] == []


def test_a_sheet_is_from_old_papers_and_not_from_a_file(
    printed: Path, call: Call, tmp_path: Path  # noqa: F811
) -> None:
    """The name of the file says nothing; one that is given is kept. A lost mark is said."""
    path = tmp_path / "tabelle1.csv"
    path.write_text(table("1,,ja", "2"), encoding="utf-8")
    book = ("--book", str(printed))
    assert call(*book, "edition", "--from-paper", str(path)).code == 0
    assert "tabelle1" not in call(*book, "search", "old papers").out
    with Book.reading(printed) as open_:
        said = [e.body for e in open_.entries() if e.kind == "recalled"]
    assert [(b["paper"], b["signed"]) for b in said] == [("old papers", True), ("old papers", None)]
    rows = {r["label"]: (r["who"], r["state"]) for r in listed(call, printed)["sheets"]}
    assert rows == {"1/5": ("from old papers", "signed"), "2/5": ("from old papers", "unknown")}
    assert listed(call, printed)["figures"]["from_old_papers"]["signature_not_known"] == 1
    assert call(*book, "correct", "2/5", "not", "signed", "--why", "looked", "--yes").code == 0
    assert "2/5: from old papers · not signed" in call(*book, "edition", "pear").out
    bad = tmp_path / "halb.csv"
    bad.write_bytes(table("1").encode("utf-16")[:-1])
    assert "ends in the middle of a character" in call(
        *book, "edition", "--from-paper", str(bad)).err


def test_the_template_is_written_once(call: Call, tmp_path: Path) -> None:  # noqa: F811
    """Bytes that a spreadsheet opens; a file that is there is kept."""
    path = tmp_path / "old.csv"
    assert call("edition", "--template", str(path)).code == 0
    assert path.read_bytes() == TEMPLATE.encode("utf-8")
    assert call("edition", "--template", str(path)).code == 1
    assert call("edition", "--template", str(path), "--force").code == 0
    assert call("edition", "--from-paper", str(tmp_path / "none.csv")).code == 2


def test_an_edition_known_only_from_old_papers_is_begun_without_a_session(
    tmp_path: Path, call: Call, home: Path  # noqa: F811
) -> None:
    """As a printer would, from a fresh home, by processes of their own; the first session on its
    recipe, years later, goes on where the ledger ends."""
    ledger = tmp_path / "ledger.csv"

    def benchapp(*argv: str, lines: str = "") -> tuple[int, str]:
        done = subprocess.run([sys.executable, "-m", "benchapp", *argv], input=lines, text=True,
                              capture_output=True, env={**os.environ, "BENCHAPP_HOME": str(home)},
                              timeout=120, check=False)
        return done.returncode, done.stdout + done.stderr

    assert call("edition", "--template", str(ledger)).code == 0
    ledger.write_text(table("1,,,,sold,,Ms Auk", "2,,no,,drawer", "3,,,water", "I,AP"),
                      encoding="utf-8")
    code, said = benchapp("edition", "Pear on a Sill", "--from-paper", str(ledger))
    assert (code, "benchapp edition TITLE --artist WHO --size N" in said) == (1, True)
    assert not home.exists()
    code, said = benchapp("edition", "Pear on a Sill", "--artist", "Idony Threlwick",
                          "--size", "12", "--proof", "AP=2")
    assert (code, said.splitlines()[0]) == (0, "Pear on a Sill, Idony Threlwick · edition of 12")
    code, said = benchapp("edition", "pear", "--from-paper", str(ledger))
    assert (code, said) == (0, "4 sheets of Pear on a Sill imported from ledger.csv.\n")
    other = call("edition", "Quince", "--from-paper", str(ledger))
    assert (other.code, "--artist WHO" in other.err) == (2, True)
    assert call("edition", "pear", "--plate", "pear", "--before", "9").code == 0
    assert "2/12 is a sheet from old papers: not signed" in call("where-is", "2/12").out
    sheet = call("papers", "edition").out
    assert "pear: metal, size and techniques not known; " in sheet
    assert "9 impressions" in sheet
    code, _ = benchapp("run", "three-steps", "--plain", "--wanted", "1", lines="\n" * 200)
    assert code == 0
    numbered = call("number", "last:3")
    assert (numbered.code, numbered.out.split()[-1]) == (0, "4/12")
    (one,) = call("edition", "--json").json
    assert (one["taken"], one["void"], one["papers"], one["artist"]) == (
        [1, 2, 4], [3], 4, "Idony Threlwick")
    assert [p["before"] for p in one["plates"]] == [9]


@pytest.fixture
def keyed(home: Path) -> str:
    """A day in the book, on a recipe with a key of its own."""
    home.mkdir(parents=True)
    with Book.open(files.book_file(), write=True, create=True) as book:
        Studio(book).day(pear("edition: 5, key: pear"), 1)
    return str(files.book_file())


def test_a_print_begun_from_old_papers_without_its_recipe_s_key_is_named(
    keyed: str, call: Call  # noqa: F811
) -> None:
    """Else both would be numbered from 1: said on every list, and before a number."""
    begin = ("edition", "Pear on a Sill", "--artist", "Idony Threlwick", "--size", "12")
    assert call(*begin).code == 0
    text = (f"Pear on a Sill by Idony Threlwick is in the book twice: as {PEAR} and as pear; "
            "each has its own numbers")
    for one in call("edition", "--json").json:
        assert [c["text"] for c in one["clashes"]] == [text]
    assert text in call("number", "last:3", "1", "--print", "pear").err
    settled = call("edition", PEAR, "--settle", "the book twice", "--why", "two plates, one title")
    assert settled.code == 0
    assert call(*begin[:-1], "13", "--beside", "pear", "--relation", "colourway").code == 0
    assert [one["clashes"] for one in call("edition", "--json").json] == [[], []]


def test_a_print_begun_from_old_papers_with_its_recipe_s_key_is_one_print(
    keyed: str, call: Call  # noqa: F811
) -> None:
    """The numbers of the ledger and those of the day stand in one list."""
    begin = ("edition", "Pear on a Sill", "--artist", "Idony Threlwick", "--size", "12")
    assert call(*begin, "--key", "Pear").code == 0
    (one,) = call("edition", "--json").json
    assert (one["id"], one["size"], one["clashes"]) == ("pear", 12, [])
    assert call("edition", "pear", "--size", "13", "--key", "x").code == 2
