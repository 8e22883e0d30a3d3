"""The register as a table, and files that are pipes: out and in again, and nothing is lost."""

from __future__ import annotations

import csv
import io
import os
import threading
from pathlib import Path

import pytest

from benchapp.reports.register_csv import REGISTER
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, numbered, one_day, printed  # noqa: F401 - fixtures

POSIX = pytest.mark.skipif(os.name != "posix", reason="pipes of POSIX")


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


def register(call: Call, book: tuple[str, ...]) -> str:  # noqa: F811
    """A few sheets of each kind, and the table of them, printed."""
    assert call(*book, "number", "last:4", "--as", "AP").code == 0
    assert call(*book, "sign", "last:3", "--yes").code == 0
    assert call(*book, "where-is", "last:3", "--now", "gallery", "--due", "2026-09-01").code == 0
    told = call(*book, "edition", "pear", "--csv", "-")
    assert told.code == 0, told.err
    return told.out


def test_the_register_has_a_line_for_each_sheet(numbered: Path, call: Call) -> None:  # noqa: F811
    found = rows(register(call, ("--book", str(numbered))))
    assert tuple(found[0]) == REGISTER
    assert [(x["number"], x["sheet"], x["kind"], x["signed"], x["place"], x["due"])
            for x in found] == [("2", "D3", "edition", "yes", "gallery", "2026-09-01"),
                                ("1", "D4", "AP", "no", "", "")]


def test_taken_in_again_the_table_is_the_same(
        numbered: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    text = register(call, ("--book", str(numbered)))
    other = ("--book", str(tmp_path / "other.book"))
    assert call(*other, "edition", "Pear on a Sill", "--artist", "Idony Threlwick", "--size", "5",
                "--proof", "AP=1").code == 0
    told = call(*other, "edition", "pear", "--from-paper", "-", stdin=text)
    assert told.code == 0, told.err
    again = rows(call(*other, "edition", "pear", "--csv", "-").out)
    assert [{**x, "sheet": ""} for x in rows(text)] == [{**x, "sheet": ""} for x in again]


def test_a_file_is_written_once_and_words_stay_at_home(
        numbered: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    book, file = ("--book", str(numbered)), tmp_path / "register.csv"
    assert call(*book, "where-is", "last:3", "--now", "sold", "--to", "Aunt Ivy").code == 0
    assert call(*book, "edition", "pear", "--csv", str(file)).code == 0
    assert "Aunt Ivy" not in file.read_text("utf-8")
    assert call(*book, "edition", "pear", "--csv", str(file)).code == 1
    assert "Aunt Ivy" in call(*book, "edition", "pear", "--csv", "-", "--private").out


@pytest.mark.parametrize("what", ["--jsonl", "--csv", "--html"])
def test_an_export_goes_to_the_standard_output_alone(
        printed: Path, tmp_path: Path, call: Call, what: str) -> None:  # noqa: F811
    book, file = ("--book", str(printed)), tmp_path / "file"
    assert call(*book, "export", what, str(file)).code == 0
    assert call(*book, "export", what, "-").out == file.read_bytes().decode("utf-8")


def test_an_import_comes_by_the_standard_input(
        printed: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    text = call("--book", str(printed), "export", "--jsonl", "-").out
    other = ("--book", str(tmp_path / "other.book"))
    told = call(*other, "import", "-", stdin=text)
    assert told.code == 0, told.err
    assert call(*other, "export", "--jsonl", "-").out == text
    wrong = call("--book", str(tmp_path / "third.book"), "import", "-", stdin="nonsense\n")
    assert wrong.code == 1
    assert not (tmp_path / "third.book").exists()


@POSIX
def test_pipes_by_a_name_are_written_and_read(
        printed: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    pipe, got = tmp_path / "pipe", []
    os.mkfifo(pipe)
    reader = threading.Thread(target=lambda: got.append(pipe.read_bytes()))
    reader.start()
    assert call("--book", str(printed), "export", "--jsonl", str(pipe)).code == 0
    reader.join()
    writer = threading.Thread(target=lambda: pipe.write_bytes(got[0]))
    writer.start()
    told = call("--book", str(tmp_path / "other.book"), "import", str(pipe))
    writer.join()
    assert told.code == 0, told.err
