"""What pandas and openpyxl make of a table of ours: a parser and a spreadsheet that are not ours.

Made by `python -m tests.outside.data.make_csv` with pandas 3.1.1 (`read_csv`, its C parser) and
openpyxl 3.1.5 (`Cell.data_type`: `f` is a formula).
"""

from __future__ import annotations

import csv
import io
import json
from typing import Any

from benchapp.reports.export_csv import csv_table
from tests.outside.data.kept import HERE

TEXTS = ("=1+1", "+49 30", "-2 °C", "@home", "'quoted'", "a, \"b\"; c", "＝1", "  =SUM(A1)",
         "two\nlines", "two\r\nlines", "\ttab", "", "שלום", "007", "1e5", "=cmd|' /C calc'!A0",
         "NA", "3/4", "🖨 ÷ ×", "plain")
HEAD = ("number", "text", "more")


def table() -> str:
    """Every text beside a number, a yes and a nothing, as the program writes it."""
    rows = ((n - 3, text, None if n % 3 else n % 2 == 0) for n, text in enumerate(TEXTS))
    return "".join(csv_table(HEAD, rows))


def ask(text: str) -> dict[str, Any]:
    """The cells pandas reads, and what openpyxl takes each for; and the bare texts."""
    import openpyxl
    import pandas

    found = pandas.read_csv(io.BytesIO(text.encode("utf-8")), encoding="utf-8-sig", dtype=str,
                            keep_default_na=False, engine="c")
    sheet = openpyxl.Workbook().active
    for row in csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True):
        sheet.append(row)
    bare = openpyxl.Workbook().active
    bare.append(list(TEXTS))
    return {"table": text, "head": list(found.columns),
            "cells": found.values.tolist(), "dimensions": sheet.dimensions,
            "types": [[c.data_type for c in row] for row in sheet.iter_rows(min_row=2)],
            "bare_types": [c.data_type for c in bare[1]]}


if __name__ == "__main__":
    kept = json.dumps(ask(table()), indent=1)
    (HERE / "csv_cells.json").write_text(kept + "\n", encoding="utf-8")
