"""An edition begun on paper: the table it comes in by, its template, and what is wrong in it. Pure.

Columns, of which `number` or `kind` has to say something and the others may stand empty:

- `number`: the number on the sheet, in figures or Roman, with or without the total (12/40); empty
  for a kind that bears none.
- `kind`: `edition` (if empty), or BAT, AP, PP, HC and the other kinds.
- `signed`: `yes` or `no` (`ja`, `nein`); empty: not known.
- `destroyed`: why, where the sheet is no more.
- `place`: boards, drawer, framed, gallery, given, sold or lost.
- `due`: the day it is due back from a gallery, as 2026-05-03.
- `since`: the day it left for a gallery, or was given or sold, as 2026-05-03.
- `sheet`: its mark, as the register writes it; it is read past.
- `to`, `when`, `note`: your own words; they stay at home.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final

from benchapp.edition.actions import Recalled
from benchapp.edition.parse import read_claim, read_pencilled_number, read_total
from benchapp.edition.state import KINDS_OF_PROOF, NUMBERED
from benchapp.reports.export_csv import MARK

COLUMNS: Final = ("number", "kind", "signed", "destroyed", "place", "due", "to", "when", "note",
                  "sheet", "since")
#: What the register has of a sheet that was pulled here: an old paper's sheet has no mark.
NOT_TAKEN_IN: Final = "sheet"
_WORDS: Final = ("to", "when", "note")
_ANSWERS: Final = {"": None, "yes": True, "ja": True, "no": False, "nein": False}
#: Between the cells, as spreadsheets of different countries write them; the first wins a tie.
_BETWEEN: Final = (",", ";", "\t")
#: More lines than this no edition has.
MOST: Final = 10_000
TEMPLATE: Final = MARK + "".join(",".join(row) + "\r\n" for row in (
    COLUMNS[:9],
    ("1", "edition", "yes", "", "sold", "", "", "spring 2019", ""),
    ("2", "edition", "no", "", "drawer", "", "", "", "small crease at the foot"),
    ("3", "edition", "", "water", "", "", "", "", ""),
    ("4", "edition", "yes", "", "gallery", "2026-05-03", "", "", ""),
    ("1", "AP", "yes", "", "framed", "", "", "", "")))


@dataclass(frozen=True, slots=True)
class TableProblem:
    """What is wrong in a line of the table, and what to write instead."""

    line: int
    why: str

    def at(self, file: str) -> str:
        """`file:line: …`."""
        return f"{file}:{self.line}: {self.why}"


@dataclass(frozen=True, slots=True)
class OldNumbersTable:
    """The lines of the table with what each says, and every problem found in reading it."""

    lines: tuple[tuple[int, Recalled], ...]
    problems: tuple[TableProblem, ...]


def read_table(text: str, paper: str) -> OldNumbersTable:
    """Read the table.

    Args:
        text: Its text, with or without the mark that spreadsheets put at the front; commas,
            semicolons or tabs between the cells.
        paper: What the old paper is called.
    """
    found: list[tuple[int, Recalled]] = []
    problems: list[TableProblem] = []
    head: list[str] | None = None
    body, between, start = _dialect(text.removeprefix(MARK))
    reader = csv.reader(io.StringIO(body, newline=""), delimiter=between)
    skipped = start - 1
    try:
        for cells in reader:
            line, start = start, reader.line_num + 1 + skipped
            _without_empty_end(cells)
            if not cells:
                continue
            if head is None:
                head = [c.strip().casefold() for c in cells]
                problems += _head(head, line)
                if problems:
                    break
            elif len(cells) > len(head):
                problems.append(TableProblem(line,
                                             "has more cells than the first line names; put a "
                                              "text with commas in quotes"))
            else:
                said = dict.fromkeys(COLUMNS, "") | dict(zip(head, map(_cell, cells), strict=False))
                one = _line(said, line, paper)
                if isinstance(one, TableProblem):
                    problems.append(one)
                else:
                    found.append((line, one))
    except csv.Error as error:
        problems.append(TableProblem(max(1, reader.line_num + skipped),
                                     f"is not a table ({error})"))
    if not found and not problems:
        problems.append(TableProblem(1, "has no sheet; write each on a line of its own, under "
                                   "the names of the columns"))
    return OldNumbersTable(tuple(found), tuple(problems))


def _dialect(text: str) -> tuple[str, str, int]:
    """The table, what stands between its cells, and the line it begins in.

    A spreadsheet may name the sign in a line of its own before the table: `sep=;`.
    """
    first = text.split("\n", 1)[0].strip("\r")
    if first.casefold().startswith("sep=") and first[4:] in _BETWEEN:
        return text.partition("\n")[2], first[4:], 2
    return text, max(_BETWEEN, key=first.count), 1


def _without_empty_end(cells: list[str]) -> None:
    """Leave out the empty cells at the end that a spreadsheet adds."""
    while cells and not cells[-1].strip():
        cells.pop()


def _head(head: list[str], line: int) -> list[TableProblem]:
    """What is wrong with the names of the columns."""
    strange = [c for c in head if c not in COLUMNS]
    out = [TableProblem(line, f"no column is called {c or 'by an empty name'}; there are "
                         f"{', '.join(COLUMNS)}") for c in strange]
    twice = {c for c in head if head.count(c) > 1 and c in COLUMNS}
    out += [TableProblem(line, f"the column {c} appears twice") for c in sorted(twice)]
    if not out and "number" not in head:
        out.append(TableProblem(line, "the column number is missing"))
    return out


def _cell(text: str) -> str:
    """A cell as it was meant: an apostrophe that keeps a spreadsheet from reckoning taken off."""
    return text.strip().removeprefix("'")


def _line(said: dict[str, str], line: int, paper: str) -> Recalled | TableProblem:
    """What a line says; `said` has every column."""
    written, gone = said["number"], said["destroyed"]
    # Where no kind is named the number may have it, as it is pencilled: AP II/IV.
    claim = None if said["kind"] else read_claim(written)
    kind, n = claim or (_kind(said["kind"]), read_pencilled_number(written))
    of = read_total(written.split()[-1]) if written else None
    wrong = (_number_problem("" if claim else written, n, kind) or _signed_problem(said["signed"])
             or _destroyed_problem(gone) or _day_problem("due", said["due"])
             or _day_problem("since", said["since"]))
    if wrong is not None:
        return TableProblem(line, wrong)
    return Recalled(paper, n, kind, _ANSWERS[said["signed"].casefold()],
                    None if gone.casefold() in _ANSWERS else gone,
                    said["place"].casefold() or None, said["due"] or None,
                    {k: said[k] for k in _WORDS if said[k]}, of, said["since"] or None)


def _number_problem(said: str, number: int | None, kind: str) -> str | None:
    if said and number is None:
        return (f"{said} is not a number; write such as 12, 12/40 or XII. Where a spreadsheet "
                "made a day of 7/12, write 7 alone")
    if number is None and kind == NUMBERED:
        return "neither number nor kind; fill in one of them"
    return None


def _signed_problem(said: str) -> str | None:
    if said.casefold() in _ANSWERS:
        return None
    return (f"signed is {said}; write yes or no (ja or nein), or leave it empty if you do not know")


def _destroyed_problem(said: str) -> str | None:
    if not _ANSWERS.get(said.casefold()):
        return None
    return f"destroyed is {said}; write why, such as: water"


def _day_problem(column: str, said: str) -> str | None:
    try:
        known = not said or date.fromisoformat(said).isoformat() == said
    except ValueError:
        known = False
    return None if known else f"{column} is {said}; write the date such as 2026-05-03"


def _kind(said: str) -> str:
    known = {k.casefold(): k for k in (NUMBERED, *KINDS_OF_PROOF)}
    return known.get(said.casefold(), said) or NUMBERED


def problems_in_order(problems: Iterable[TableProblem]) -> tuple[TableProblem, ...]:
    """All of them, as the lines come."""
    return tuple(sorted(problems, key=lambda p: p.line))
