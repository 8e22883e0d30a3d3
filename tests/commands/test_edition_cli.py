"""The commands of editions: what each says, writes, asks and refuses, and its exit code."""

from __future__ import annotations

import io
import json
import shutil
import sys
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.cli import main
from benchapp.reports.json_form import json_values
from tests.commands.test_cli import Call, Result
from tests.service.edition_days import Studio, pear


class Terminal(io.StringIO):
    """An input or error output that says it is a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Call:
    """Calls the command line in this process, its input a text and no terminal."""

    def one(*argv: str, stdin: str = "") -> Result:
        monkeypatch.setattr(sys, "stdin", io.StringIO(stdin))
        code = main(argv)
        return Result(code, *capsys.readouterr())

    return one


@pytest.fixture(scope="module")
def one_day(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with one day in it, printed once for all these tests."""
    path = tmp_path_factory.mktemp("one day") / "book.db"
    with Book.open(path, write=True, create=True) as book:
        Studio(book).day(pear("edition: 5, proofs: {AP: 1}"), 4)
    return path


@pytest.fixture
def printed(home: Path, one_day: Path) -> Path:
    """A studio with that day in its book: D1 and D2 warm-ups, D3 to D6 counting, edition of 5."""
    home.mkdir(parents=True)
    return Path(shutil.copy(one_day, home / "book.db"))


@pytest.fixture
def numbered(printed: Path, call: Call) -> Path:
    """The same with D3 as 2/5."""
    assert call("--book", str(printed), "number", "last:3", "2").code == 0
    return printed


def listed(call: Call, book: Path) -> dict:
    """The one edition of the book, from `edition --json`."""
    result = call("--book", str(book), "edition", "--json")
    assert result.code == 0
    (one,) = json.loads(result.out)
    return one


def test_the_list_is_one_a_print_with_what_is_taken_void_and_next(
    printed: Path, call: Call
) -> None:
    """The fields other programs rely on, before anything was numbered."""
    one = listed(call, printed)
    assert {k: one[k] for k in ("print", "size", "taken", "void", "next", "pulled")} == {
        "print": "Pear on a Sill", "size": 5, "taken": [], "void": [], "next": 1, "pulled": 6}
    assert one["proofs"]["AP"]["given"] == 0
    assert one["proofs"]["AP"]["cap"] == 1


def test_a_home_without_a_book_has_no_editions_and_gets_no_book(home: Path, call: Call) -> None:
    """A list of nothing to read; an answer to what would write; and no file is made."""
    assert call("edition", "--json").json == []
    for argv in (["number", "last:3", "1"], ["sign", "K7", "--yes"],
                 ["void", "1", "--why", "torn", "--yes"], ["cancel-plate", "--yes"]):
        assert call(*argv).code == 1
    assert not home.exists()


@pytest.mark.parametrize(("how", "caution"), [
    ("scored through",
     "Blades and edges cut; hand behind the edge, the maker's label comes first."),
    ("ferric on the open plate",
     "Etchant burns, fumes harm; goggles, gloves, fan, eye wash; data sheet first."),
])
def test_cancelling_a_plate_says_in_one_line_what_hurts(
    numbered: Path, call: Call, how: str, caution: str
) -> None:
    """By the words of how it was done: a blade, or an etchant."""
    told = call("--book", str(numbered), "cancel-plate", "--how", how, "--yes")
    assert told.out.splitlines()[-1] == f"! {caution}"


def test_a_number_is_given_to_a_sheet_by_session_and_pull_or_by_mark(
    numbered: Path, call: Call
) -> None:
    """last:3 is the third sheet of the last session; the mark in any spelling is the same."""
    assert call("--book", str(numbered), "number", "d 4", "5/5").out.strip() == (
        "D4 → 5/5")
    one = listed(call, numbered)
    assert (one["taken"], one["next"]) == ([2, 5], None)
    by_number = call("--book", str(numbered), "number", "2026-05-03:5").err
    assert "There is no number after the highest of 5; free: 1, 3, 4" in by_number


def test_who_has_a_number_is_said_and_the_exit_code_is_1(numbered: Path, call: Call) -> None:
    """The same number a second time: who has it, what is free, and nothing written."""
    result = call("--book", str(numbered), "number", "D4", "2")
    assert result.code == 1
    assert result.err.startswith("2/5 is D3; a number is used once")
    assert "next is 3/5" in result.err
    assert listed(call, numbered)["taken"] == [2]


@pytest.mark.parametrize(("argv", "said"), [
    (("number", "D1", "1"), "was pulled as warm-up and takes no edition number"),
    (("number", "D99", "1"), "No sheet D99 is in the book"),
    (("number", "last:7", "1"), "2026-05-03 has no pull 7: it has 6 sheets"),
    (("number", "D4", "6"), "6 is not between 1 and 5"),
    (("number", "D4", "1/40"), "The edition is 5, not 40"),
    (("void", "9", "--why", "torn", "--yes"), "9 is not between 1 and 5"),
    (("sign", "D4", "--yes"), "has no number and no kind yet"),
    (("where-is", "4"), "No sheet is 4/5; the number is free"),
    (("where-is", "AP"), "No sheet is AP; name it by its mark (K7), its number"),
    (("sign", "2/40", "--yes"), "The edition is 5, not 40; leave the total out"),
    (("void", "D3", "--why", "torn", "--yes"), "D3 has no number of the edition"),
])
def test_an_answer_of_no_is_exit_1(
    argv: tuple[str, ...], said: str, printed: Path, call: Call
) -> None:
    """Each says which rule stands in the way, on the error output, and stdout stays empty."""
    result = call("--book", str(printed), *argv)
    assert (result.code, result.out) == (1, "")
    assert said in result.err


@pytest.mark.parametrize("argv", [
    ("edition", "no such print"), ("number", "last:x", "1"), ("number", "2020-01-01:1", "1"),
    ("number", "D3", "D4", "1"), ("number", "D3", "AP", "2"), ("where-is", "3", "--to", "someone"),
    ("cancel-plate", "zinc", "--yes"), ("edition", "--why", "x"),
    ("edition", "--size", "0"), ("edition", "--size", "4", "--proof", "AP"),
])
def test_wrong_use_is_exit_2(argv: tuple[str, ...], printed: Path, call: Call) -> None:
    """Names that are none, and options that lack the other they belong to."""
    result = call("--book", str(printed), *argv)
    assert (result.code, result.out) == (2, "")
    assert result.err


@pytest.mark.parametrize("argv", [
    ("sign", "last:3"), ("void", "3", "--why", "torn"), ("cancel-plate",),
    ("void", "D5", "--destroyed", "--why", "creased"),
])
def test_what_cannot_be_taken_back_is_asked(
    argv: tuple[str, ...], numbered: Path, call: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a terminal it is exit 2 and nothing is done; with one the answer counts."""
    before = listed(call, numbered)
    result = call("--book", str(numbered), *argv)
    assert result.code == 2
    assert "cannot be undone: add --yes" in result.err
    for answer, code in (("no\n", 1), ("\n", 1), ("yes\n", 0)):
        monkeypatch.setattr(sys, "stdin", Terminal(answer))
        monkeypatch.setattr(sys, "stderr", Terminal())
        assert listed_unasked(numbered) == before
        assert main(["--book", str(numbered), *argv]) == code
        monkeypatch.undo()
    assert listed_unasked(numbered) != before


def test_sign_asks_with_the_list_and_sheets_are_left_out(
    printed: Path, call: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Which sheets with their numbers, and what speaks against each, before anything is written."""
    book = ("--book", str(printed))
    for argv in (("number", "D3", "1"), ("number", "D4", "2"), ("number", "D5", "--as", "BAT")):
        assert call(*book, *argv).code == 0
    asked = call(*book, "sign", "D3", "D4", "D5")
    lines = ("Record as signed:", "  1  1/5 · D3", "       ! not judged",
             "  3  BAT · D5", "       ! it is the BAT")
    assert asked.code == 2
    assert set(lines) <= set(asked.err.splitlines())

    def answered(*said: str) -> tuple[int, str]:
        err = Terminal()
        monkeypatch.setattr(sys, "stdin", Terminal("".join(f"{x}\n" for x in said)))
        monkeypatch.setattr(sys, "stderr", err)
        code = main([*book, "sign", "D3", "D4", "D5"])
        monkeypatch.undo()
        return code, err.getvalue()

    for said in (("no",), ("",), ("7",), ("1 2 3",), ("2 x",)):
        code, err = answered(*said)
        assert (code, "Nothing was signed" in err) == (1, True), said
        assert listed_unasked(printed)["signed"] == 0
    code, err = answered("2, 3", "yes")
    assert code == 0
    assert err.count("Record as signed:") == 2
    assert "BAT" not in err.rpartition("Record as signed:")[2]
    rows = {r["label"]: r["standing"] for r in listed_unasked(printed)["sheets"]}
    assert [rows[x] for x in ("1/5", "2/5", "BAT")] == ["signed", "not signed", "not signed"]


def listed_unasked(book: Path) -> dict:
    """The one edition, read from the book itself."""
    from benchapp.clock import FakeClock
    from benchapp.reports.editions import edition_sheet
    from benchapp.service.editions import EditionService

    with Book.reading(book) as open_:
        editions = EditionService(open_, FakeClock())
        (print_,) = editions.prints()
        title, artist = editions.title(print_)
        found = edition_sheet(editions.register, print_, title=title, artist=artist)
        return {"format": "edition/1", **json_values(found)}


def test_yes_is_taken_where_nothing_is_asked(printed: Path, call: Call) -> None:
    """Every one of these commands takes --yes and --json."""
    for argv in (["number", "D3", "1"], ["number", "D4", "--as", "ap"], ["edition"],
                 ["edition", "pear"], ["where-is", "1"], ["sign", "D3"],
                 ["void", "3", "--why", "torn"], ["cancel-plate", "pear"]):
        result = call("--book", str(printed), *argv, "--yes", "--json")
        assert result.code == 0, argv
        assert result.json


def test_a_proof_is_kept_as_what_it_is(printed: Path, call: Call) -> None:
    """--as takes the trade's kinds in any spelling; a cap warns and does not refuse."""
    assert "D3 → AP I/I" in call("--book", str(printed), "number", "D3",
                                               "--as", "ap").out
    over = call("--book", str(printed), "number", "D4", "--as", "AP")
    assert over.code == 0
    assert "AP: 1 given of 1; this is one more" in over.err
    assert call("--book", str(printed), "number", "D5", "--as", "BAT", "--by", "I. T.").code == 0
    one = listed(call, printed)
    assert (one["proofs"]["AP"]["given"], one["proofs"]["BAT"]["given"]) == (2, 1)
    assert one["bat"] == "D5, passed by I. T."
    assert call("--book", str(printed), "number", "D5", "1").code == 1


def test_a_void_number_stands_in_void_and_not_in_taken(numbered: Path, call: Call) -> None:
    """Never used, or on a sheet that bears it: both ways."""
    for n in ("2", "4"):
        assert call("--book", str(numbered), "void", n, "--why", "a slip", "--yes").code == 0
    one = listed(call, numbered)
    assert (one["taken"], one["void"], one["next"]) == ([], [2, 4], 3)
    again = call("--book", str(numbered), "number", "D4", "4")
    assert (again.code, "4/5 is void: a slip" in again.err) == (1, True)


def test_what_is_signed_stays(numbered: Path, call: Call) -> None:
    """After the signature the number is not taken back, nor the size changed; pencil wins."""
    assert call("--book", str(numbered), "sign", "last:3", "--yes").out.strip() == (
        "D3 → 2/5, signed")
    for argv in (["number", "D3", "--back"], ["number", "D3", "1"], ["edition", "--size", "9"],
                 ["edition", "--short", "4", "--why", "worn"]):
        assert call("--book", str(numbered), *argv).code == 1, argv
    before = call("--book", str(numbered), "number", "D3", "3", "--correct", "the pencil says 3/5")
    assert (before.code, before.out) == (2, "")
    assert 'benchapp correct D3 number 3 --why "the pencil says 3/5"' in before.err
    said = call("--book", str(numbered), "correct", "D3", "number", "3", "--why",
                "the pencil says 3/5", "--yes")
    assert (said.code, said.out.splitlines()) == (0, [
        "3/5 is D3: signed, place not recorded",
        "  corrected to 3/5, not 2/5: the pencil says 3/5"])
    row = next(r for r in listed(call, numbered)["sheets"] if r["number"] == 3)
    assert (row["corrected"], row["standing"]) == (1, "signed")


def test_a_later_recipe_is_warned_about_and_changes_nothing(printed: Path, call: Call) -> None:
    """N is the first recipe's; the other is named on the error output, exit 0."""
    with Book.open(printed, write=True) as book:
        Studio(book).day(pear("edition: 9, proofs: {AP: 1}"), 1)
    result = call("--book", str(printed), "number", "D3", "1")
    assert result.code == 0
    assert "This recipe says an edition of 9; it stays 5" in result.err
    assert listed(call, printed)["size"] == 5
    assert call("--book", str(printed), "number", "D4", "7").code == 1


def test_another_print_is_named_with_print(printed: Path, call: Call) -> None:
    """`last` is then the last session of that print, and so is the number's edition."""
    with Book.open(printed, write=True) as book:
        Studio(book).day(pear("edition: 9").replace("Pear on a Sill", "Quince"), 1)
    assert "→ 4/9" in call("--book", str(printed), "number", "last:3", "4").out
    other = call("--book", str(printed), "number", "last:3", "4", "--print", "pear")
    assert other.out.strip() == "D3 → 4/5"
    assert call("--book", str(printed), "void", "5", "--why", "x", "--print", "Pear on a Sill",
                "--yes", "--json").json["what"] == "5/5"
    both = call("--book", str(printed), "edition", "--json").json
    assert [(x["print"], x["taken"], x["void"]) for x in both] == [
        ("Pear on a Sill", [4], [5]), ("Quince", [4], [])]


def test_where_a_number_is_and_to_whom_stays_at_home(numbered: Path, call: Call) -> None:
    """Answered from the book; the printer's own words only where they are asked for."""
    assert call("--book", str(numbered), "where-is", "2/5").out.strip() == (
        "2/5 is D3: not signed, place not recorded")
    moved = call("--book", str(numbered), "where-is", "2", "--now", "gallery", "--to", "Ms Auk",
                 "--terms", "consignment", "--due", "2026-09-01")
    assert moved.out.strip() == ("2/5 is D3: not signed, with a gallery, "
                                 "consignment, due back 1 Sept 2026")
    assert "Auk" not in call("--book", str(numbered), "edition", "pear").out
    assert "to: Ms Auk" in call("--book", str(numbered), "where-is", "D3", "--private").out
    back = call("--book", str(numbered), "where-is", "2", "--now", "drawer", "--json").json
    assert back[0]["text"].endswith("not signed, in the drawer")


def test_a_whole_sitting_takes_the_next_numbers_in_turn(numbered: Path, call: Call) -> None:
    """Several sheets, all or none."""
    assert call("--book", str(numbered), "number", "D4", "D5", "D6").out.splitlines() == [
        "D4 → 3/5", "D5 → 4/5", "D6 → 5/5"]
    assert call("--book", str(numbered), "number", "D4", "D5", "D6", "--back").code == 0
    assert call("--book", str(numbered), "number", "D4", "D1", "D6").code == 1
    assert listed(call, numbered)["taken"] == [2]


def test_an_edition_is_declared_where_no_recipe_says_how_large(home: Path, call: Call) -> None:
    """Then numbers are given; a second edition names the first, with the total of both."""
    home.mkdir(parents=True)
    with Book.open(home / "book.db", write=True, create=True) as book:
        Studio(book).day(pear(""), 1)
        Studio(book).day(pear("edition: 4").replace("Pear on a Sill", "Quince"), 1)
    book_ = str(home / "book.db")
    assert call("--book", book_, "number", "D3", "1").code == 1
    said = call("--book", book_, "edition", "pear", "--size", "6", "--proof", "AP=2:inside",
                "--beside", "quince", "--relation", "colourway", "--json").json[0]
    assert (said["size"], said["proofs"]["AP"]["inside"], said["next"]) == (6, True, 1)
    assert call("--book", book_, "number", "E3", "1").code == 0
    assert call("--book", book_, "number", "D3", "1").code == 0


def test_a_review_says_what_each_sheet_became(numbered: Path, call: Call) -> None:
    """The kind, and what stands on it; a sheet not sorted has none."""
    assert call("--book", str(numbered), "number", "D4", "--as", "AP").code == 0
    found = call("--book", str(numbered), "review", "--json").json
    assert [(i["mark"], i["kind"], i["label"]) for i in found["impressions"][2:5]] == [
        ("D3", "edition", "2/5"), ("D4", "AP", "AP I/I"), ("D5", None, None)]
    assert "D3   edition (by rule) · 2/5 · not judged" in call("--book", str(numbered),
                                                               "review").out


# -- said of an edition ------------------------------------------------------------------------


def test_what_is_not_said_again_stays_as_it_stood(printed: Path, call: Call) -> None:
    """Roman numbers, proofs and their numerals, and the form, each said alone."""
    book = ("--book", str(printed), "edition", "pear")
    assert call(*book, "--numbers", "roman").code == 0
    assert call(*book, "--proof", "HC=2").code == 0
    assert call(*book, "--size", "7").code == 0
    one = listed(call, printed)
    assert (one["size"], one["form"]) == (7, "limited")
    assert {k: p["cap"] for k, p in one["proofs"].items() if p["cap"]} == {"AP": 1, "HC": 2}
    assert call("--book", str(printed), "number", "D3", "4").out.split()[-1] == "IV/VII"
    assert call(*book, "--proof-numbers", "figures").code == 0
    assert "AP 1/1" in call("--book", str(printed), "number", "D4", "--as", "AP").out
    assert call(*book, "--numbers", "figures", "--varied").code == 0
    assert "E.V. 4/7" in call("--book", str(printed), "where-is", "D3").out


def test_a_plate_is_told_of(printed: Path, call: Call) -> None:
    """What it gave before there was this book, and its state: each said alone keeps the other."""
    book = ("--book", str(printed), "edition", "pear")
    assert call(*book, "--plate", "pear", "--before", "30").code == 0
    assert call(*book, "--plate", "PEAR", "--state", "steel-faced").code == 0
    (plate,) = listed(call, printed)["plates"]
    assert (plate["pulls"], plate["before"], plate["total"], plate["state"]) == (
        6, 30, 36, "steel-faced")
    assert call(*book, "--plate", "zinc", "--before", "1").code == 2
    assert call(*book, "--plate", "pear").code == 1
    assert call(*book, "--plate", "pear", "--before", "some").code == 2
    assert call(*book, "--plate", "pear", "--short", "4").code == 2


def test_every_command_takes_every_name_of_a_sheet(numbered: Path, call: Call) -> None:
    """Its mark, its number, a proof's number in one word or two, session and pull."""
    book = ("--book", str(numbered))
    assert call(*book, "number", "D4", "--as", "AP").code == 0
    for names in (("D3",), ("2/5",), ("2",), ("last:3",), ("2026-05-03:3",)):
        assert call(*book, "where-is", *names).out.startswith("2/5 is D3: not signed"), names
        assert "D3" in call(*book, "papers", "sheet", *names).out, names
        assert call(*book, "beside", *names).code == 0, names
    assert call(*book, "where-is", "2/5", "AP", "I", "D5").out.splitlines() == [
        "2/5 is D3: not signed, place not recorded",
        "AP I/I is D4: not signed, place not recorded",
        "D5 has no number, place not recorded"]
    assert call(*book, "number", "AP", "I", "3").out.strip() == "D4 → 3/5"
    assert call(*book, "edition", "pear", "--standard", "3/5").code == 0
    moved = call(*book, "where-is", "2/5", "3", "--now", "drawer")
    assert moved.out.splitlines() == ["2/5 is D3: not signed, in the drawer",
                                      "3/5 is D4: not signed, in the drawer"]
    assert call(*book, "sign", "2/5", "3/5", "--yes").out.splitlines() == [
        "D3 → 2/5, signed", "D4 → 3/5, signed"]
    assert call(*book, "where-is", "3/5", "2/5", "9", "--now", "sold").code == 1
    assert "sold" not in call(*book, "where-is", "3/5", "2/5").out
    assert call(*book, "void", "last:3", "--why", "smudged", "--yes").out == (
        "2/5 is void: smudged\n")
    assert call(*book, "void", "3/5", "--destroyed", "--why", "torn", "--yes").out == (
        "D4 is destroyed, and 3/5 is void: torn\n")


def test_a_sheet_from_old_papers_is_named_like_any_other(
    numbered: Path, call: Call, tmp_path: Path
) -> None:
    """Its number is its name, in answers and in refusals."""
    book = ("--book", str(numbered))
    table = tmp_path / "ledger.csv"
    table.write_text("number,signed\n1,no\n", encoding="utf-8")
    assert call(*book, "edition", "--from-paper", str(table)).code == 0
    assert call(*book, "sign", "1/5", "--yes").out == "1/5 → 1/5, signed\n"
    again = call(*book, "sign", "1/5", "--yes")
    assert again.err.startswith("1/5 is signed already")
    assert call(*book, "where-is", "1", "--now", "framed").out.strip() == (
        "1/5 is a sheet from old papers: signed, framed")
    assert call(*book, "beside", "1/5").err.startswith("1/5 is known from old papers only")


def test_a_mistake_is_put_right_by_one_command_that_says_what_is_so(
    numbered: Path, call: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It asks, needs a reason, names what can be wrong, and is itself corrected."""
    book = ("--book", str(numbered))
    listing = call(*book, "correct", "D3")
    assert (listing.code, "number N: another number is pencilled on it" in listing.err) == (2, True)
    without = call(*book, "correct", "D3", "number", "3")
    assert (without.code, "Say why: benchapp correct D3 number 3 --why WORDS" in without.err) == (
        2, True)
    right = ("correct", "D3", "number", "3", "--why", "looked")
    asked = call(*book, *right)
    assert (asked.code, asked.err.startswith("Record that D3, 2/5, is 3/5.")) == (2, True)
    assert listed(call, numbered)["sheets"][0]["label"] == "2/5"
    monkeypatch.setattr(sys, "stderr", Terminal())
    monkeypatch.setattr(sys, "stdin", Terminal("no\n"))
    assert main([*book, *right]) == 1
    assert "Write yes to go on" in sys.stderr.getvalue()
    monkeypatch.undo()
    done = call(*book, *right, "--yes", "--json").json
    assert (done["sheet"], done["what"], done["corrections"]) == (
        listed(call, numbered)["sheets"][0]["sheet"], "D3, 2/5, is 3/5",
        ["corrected to 3/5, not 2/5: looked"])
    assert call(*book, "void", "3", "--why", "smudged", "--yes").code == 0
    assert call(*book, "void", "1", "--why", "slip", "--yes").code == 0
    for argv in (("correct", "3/5", "not", "void"), ("correct", "1", "not void")):
        assert call(*book, *argv, "--why", "other print", "--yes").code == 0, argv
    assert listed(call, numbered)["void"] == []
    assert "1/5 is not void, as it was recorded: other print" in call(*book, "edition", "pear").out
    tp = call(*book, "correct", "D4", "purpose", "TP", "--why", "a first look", "--yes")
    assert (tp.code, "D4 was pulled for TP" in tp.out) == (0, True)
    assert "pulled as TP" in call(*book, "number", "D4", "4").err
    sp = call(*book, "correct", "D4", "purpose", "sp", "II", "--why", "state II", "--yes")
    assert (sp.code, "D4 was pulled for SP II" in sp.out) == (0, True)
    assert call(*book, "correct", "D3", "purpose", "TP", "--why", "x", "--yes").code == 1
    assert call(*book, "where-is", "D3", "--now", "given", "--to", "Ms Auk").code == 0
    to = call(*book, "correct", "D3", "to", "Mr", "Teal", "--why", "not Ms Auk")
    assert (to.code, "Auk" in to.out, "they stay at home" in to.out) == (0, False, True)
    assert "to: Mr Teal" in call(*book, "where-is", "D3", "--private").out
    assert call(*book, "correct", "D3", "since", "2999-01-01", "--why", "x").code == 1
    wrong = call(*book, "correct", "D3", "placed", "--why", "x")
    assert wrong.code == 2
    assert wrong.err.startswith("placed is not something you can correct")


def test_a_plate_is_not_cancelled_as_it_was_recorded(numbered: Path, call: Call) -> None:
    """Asked, with its reason; a clash that is not settled is named."""
    book = ("--book", str(numbered))
    wrong = ("correct", "plate", "not", "cancelled", "--why", "another print")
    assert call(*book, *wrong, "--yes").code == 1
    assert call(*book, "cancel-plate", "--yes").code == 0
    assert call(*book, *wrong).code == 2
    assert call(*book, *wrong, "--yes").out.strip() == (
        "the plate of Pear on a Sill is not cancelled: another print")
    assert listed(call, numbered)["cancelled"] is None
    assert call(*book, "correct", "K7", "not cancelled", "--why", "x").code == 2
    none = call(*book, "correct", "clash", "D3", "not settled", "--why", "x", "--yes")
    assert (none.code, none.err.strip()) == (1, "No clash is settled")


def test_where_is_guesses_no_sheet(numbered: Path, call: Call) -> None:
    """A total that is not the edition's names none; of a number that two have both are told."""
    book = ("--book", str(numbered))
    told = call(*book, "where-is", "2/40")
    assert (told.code, told.out) == (1, "")
    assert "The edition is 5, not 40" in told.err
    assert call(*book, "correct", "D4", "number", "2", "--why", "so it is pencilled",
                "--yes").code == 0
    both = call(*book, "where-is", "2/5").out.splitlines()
    assert both[:2] == ["2/5 is D3: not signed, place not recorded",
                        "2/5 is D4: not signed, place not recorded"]
    sold = call(*book, "where-is", "2/5", "--now", "sold")
    assert sold.code == 1
    assert "2 sheets are called 2/5: D3 and D4; name one of these" in sold.err
    assert call(*book, "where-is", "2/40").code == 1
