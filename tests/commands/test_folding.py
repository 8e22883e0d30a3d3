"""Long lines of the commands on a terminal: folded between words, elsewhere as they are."""

from __future__ import annotations

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.cli import main
from benchapp.commands.folding import fold_rows
from benchapp.safe_text import cell_width, sanitize


def test_a_line_is_folded_between_words_below_its_beginning() -> None:
    """Nothing is lost; a path stays whole; a short line and a narrow terminal change nothing."""
    line = sanitize("    Damp until one sheet weighs 27.8 g; 5 sheets take up 46.6 g of water")
    assert fold_rows(line, 40).split("\n") == [
        "    Damp until one sheet weighs 27.8 g;", "    5 sheets take up 46.6 g of water"]
    assert fold_rows(line, 100) == line
    assert fold_rows(line, 10) == line
    path = sanitize("Written: " + "/long" * 20 + "-name")
    assert fold_rows(path, 40).split("\n") == ["Written:", "/long" * 20 + "-name"]


@given(st.text("ab -/", max_size=120), st.integers(20, 90))
def test_what_is_folded_reads_the_same(text: str, columns: int) -> None:
    """Every word is there in its order, and no row is wider than its widest word needs."""
    rows = fold_rows(sanitize(text), columns).split("\n")
    assert " ".join(rows).split() == text.split()
    indent = len(text) - len(text.lstrip(" "))
    most = max((len(word) for word in text.split()), default=0)
    assert all(cell_width(sanitize(row)) <= max(columns, indent + most) for row in rows
               if row.strip())


def test_questions_on_a_terminal_are_not_cut_within_a_word(
        home: object, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """`new` at 60 columns: the example of a size stands whole; in a pipe the line is one."""
    asked = ("5 How large is the plate? (width x height on the bed, such as "
             "198 x 148 mm)")
    monkeypatch.setenv("COLUMNS", "60")
    answers = "Slate Roof\nWren Halloran\n\nzinc\n198 x 148 mm\n" + "\n" * 6
    monkeypatch.setattr("sys.stdin", io.StringIO(answers))
    main(["new", "slate-roof"])
    assert asked in capsys.readouterr().out.splitlines()
    monkeypatch.setattr("sys.stdin", io.StringIO(answers))
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    main(["new", "other-roof"])
    rows = capsys.readouterr().out.splitlines()
    assert asked not in rows
    assert " ".join(rows).count(asked) == 1
    assert all(len(row) <= 60 for row in rows if " " in row)
