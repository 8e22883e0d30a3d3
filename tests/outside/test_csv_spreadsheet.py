"""Tables read by programs that are not ours: a parser of its own, and a spreadsheet's cells.

Sources: RFC 4180 as pandas' C parser reads it (https://pandas.pydata.org, `read_csv`); what a
cell is taken for as openpyxl decides it (https://openpyxl.readthedocs.io, `Cell.data_type`: `f`
is a formula).
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

import pytest

from benchapp.reports import export_csv
from benchapp.safe_text import sanitize

pandas = pytest.importorskip("pandas", reason="of the extra reference")
openpyxl = pytest.importorskip("openpyxl", reason="of the extra reference")

TEXTS = ("=1+1", "+49 30", "-2 °C", "@home", "'quoted'", "a, \"b\"; c", "＝1", "  =SUM(A1)",
         "two\nlines", "two\r\nlines", "\ttab", "", "שלום", "007", "1e5", "=cmd|' /C calc'!A0",
         "NA", "3/4", "🖨 ÷ ×", "plain")
HEAD = ("number", "text", "more")


def rows() -> Iterator[tuple[object, ...]]:
    """Every text beside a number, a yes and a nothing."""
    for n, text in enumerate(TEXTS):
        yield n - 3, text, None if n % 3 else n % 2 == 0


@pytest.fixture(scope="module")
def table() -> bytes:
    """The file as it is written."""
    return "".join(export_csv.csv_table(HEAD, rows())).encode("utf-8")


def test_another_parser_reads_every_cell(table):
    """All rows and columns; each text comes back when its one apostrophe is taken off."""
    found = pandas.read_csv(io.BytesIO(table), encoding="utf-8-sig", dtype=str,
                            keep_default_na=False, engine="c")
    assert tuple(found.columns) == HEAD
    assert len(found) == len(TEXTS)
    assert [x.removeprefix("'") for x in found["text"]] == [
        sanitize(x, newlines=True) for x in TEXTS]
    assert [x.removeprefix("'") for x in found["number"]] == [
        str(n - 3) for n in range(len(TEXTS))]


def test_no_cell_is_a_formula_in_a_spreadsheet(table):
    """Put into a workbook's cells as they stand; the bare texts, put there, would be formulas."""
    reader = csv.reader(io.StringIO(table.decode("utf-8-sig"), newline=""), strict=True)
    sheet = openpyxl.Workbook().active
    for row in reader:
        sheet.append(row)
    assert sheet.dimensions == f"A1:C{len(TEXTS) + 1}"
    assert [c.coordinate for line in sheet.iter_rows() for c in line if c.data_type == "f"] == []
    bare = openpyxl.Workbook().active
    bare.append(list(TEXTS[:1]))
    assert bare["A1"].data_type == "f"
