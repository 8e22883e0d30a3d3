"""Tables read by programs that are not ours: a parser of its own, and a spreadsheet's cells.

Sources: RFC 4180 as pandas' C parser reads it (https://pandas.pydata.org, `read_csv`); what a
cell is taken for as openpyxl decides it (https://openpyxl.readthedocs.io, `Cell.data_type`: `f`
is a formula). Their answers are kept as data (pandas 3.1.1, openpyxl 3.1.5; `make_csv` beside
it); the full tier asks them anew where they are installed.
"""

from __future__ import annotations

from typing import Any

import pytest

from benchapp.safe_text import sanitize
from tests.outside.data.kept import load
from tests.outside.data.make_csv import HEAD, TEXTS, ask, table

KEPT: dict[str, Any] = load("csv_cells")  # type: ignore[assignment]
EACH = pytest.mark.parametrize("n", range(len(TEXTS)), ids=[ascii(x) for x in TEXTS])


def test_the_table_is_the_one_they_were_asked_about():
    """Byte for byte; where the form changes they are to be asked anew."""
    assert table() == KEPT["table"]
    assert (tuple(KEPT["head"]), len(KEPT["cells"])) == (HEAD, len(TEXTS))
    assert KEPT["dimensions"] == f"A1:C{len(TEXTS) + 1}"


@EACH
def test_another_parser_reads_every_cell(n):
    """The text comes back when its one apostrophe is taken off, and so does the number beside."""
    number, text, more = KEPT["cells"][n]
    assert text.removeprefix("'") == sanitize(TEXTS[n], newlines=True)
    assert number.removeprefix("'") == str(n - 3)
    assert more == ("" if n % 3 else "yes" if n % 2 == 0 else "no")


@EACH
def test_no_cell_is_a_formula_in_a_spreadsheet(n):
    """Neither the text nor what is beside it, where the bare text would be one too."""
    assert "f" not in KEPT["types"][n]
    assert (KEPT["bare_types"][n] == "f") is TEXTS[n].startswith("=")


@pytest.mark.full
def test_they_say_the_same_when_asked_anew():
    """Where pandas and openpyxl are installed."""
    pytest.importorskip("pandas", reason="of the extra reference")
    pytest.importorskip("openpyxl", reason="of the extra reference")
    assert ask(table()) == KEPT
