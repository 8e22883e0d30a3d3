"""An edition begun on paper: the table it comes in by, its template, and what is wrong in it. Pure.

Columns, of which `number` or `kind` has to say something and the others may stand empty:

- `number`: the number on the sheet, in figures or Roman; empty for a kind that bears none.
- `kind`: `edition` (if empty), or BAT, AP, PP, HC and the other kinds.
- `signed`: `yes` (if empty) or `no`.
- `destroyed`: why, where the sheet is no more.
- `place`: boards, drawer, framed, gallery, given, sold or lost.
- `due`: the day it is due back from a gallery, as 2026-05-03.
- `to`, `when`, `note`: your own words; they stay at home.
"""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from typing import Final

from benchapp.edition.acts import Recalled
from benchapp.edition.roman import read_roman
from benchapp.edition.state import KINDS_OF_PROOF, NUMBERED
from benchapp.papers.export_csv import MARK

COLUMNS: Final = ("number", "kind", "signed", "destroyed", "place", "due", "to", "when", "note")
_WORDS: Final = ("to", "when", "note")
#: More lines than this no edition has.
MOST: Final = 10_000
TEMPLATE: Final = MARK + "".join(",".join(row) + "\r\n" for row in (
    COLUMNS,
    ("1", "edition", "yes", "", "sold", "", "", "spring 2019", ""),
    ("2", "edition", "no", "", "drawer", "", "", "", "small crease at the foot"),
    ("3", "edition", "yes", "water", "", "", "", "", ""),
    ("1", "AP", "yes", "", "framed", "", "", "", "")))


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong in a line of the table, and what to write instead."""

    line: int
    why: str

    def at(self, file: str) -> str:
        """`file:line: …`."""
        return f"{file}:{self.line}: {self.why}"


@dataclass(frozen=True, slots=True)
class Table:
    """The lines of the table with what each says, and every problem found in reading it."""

    lines: tuple[tuple[int, Recalled], ...]
    problems: tuple[Problem, ...]


def read_table(text: str, paper: str) -> Table:
    """Read the table.

    Args:
        text: Its text, with or without the mark that spreadsheets put at the front; commas or
            semicolons between the cells.
        paper: What the old paper is called.
    """
    found: list[tuple[int, Recalled]] = []
    problems: list[Problem] = []
    head: list[str] | None = None
    body = text.removeprefix(MARK)
    first = body.split("\n", 1)[0]
    reader = csv.reader(io.StringIO(body, newline=""),
                        delimiter=";" if first.count(";") > first.count(",") else ",")
    start = 1
    try:
        for cells in reader:
            line, start = start, reader.line_num + 1
            if not any(c.strip() for c in cells):
                continue
            if head is None:
                head = [c.strip().casefold() for c in cells]
                problems += _head(head, line)
                if problems:
                    break
            elif len(cells) > len(head):
                problems.append(Problem(line, "has more cells than the first line names; put a "
                                              "text with commas in quotes"))
            else:
                said = dict(zip(head, (_cell(c) for c in cells), strict=False))
                one = _line(said, line, paper)
                if isinstance(one, Problem):
                    problems.append(one)
                else:
                    found.append((line, one))
    except csv.Error as error:
        problems.append(Problem(max(1, reader.line_num), f"is no table ({error})"))
    if not found and not problems:
        problems.append(Problem(1, "holds no sheet; write one a line under the names of the "
                                   "columns"))
    return Table(tuple(found), tuple(problems))


def _head(head: list[str], line: int) -> list[Problem]:
    """What is wrong with the names of the columns."""
    strange = [c for c in head if c not in COLUMNS]
    out = [Problem(line, f"no column is called {c or 'by an empty name'}; there are "
                         f"{', '.join(COLUMNS)}") for c in strange]
    twice = {c for c in head if head.count(c) > 1 and c in COLUMNS}
    out += [Problem(line, f"the column {c} stands twice") for c in sorted(twice)]
    if not out and "number" not in head:
        out.append(Problem(line, "the column number is missing"))
    return out


def _cell(text: str) -> str:
    """A cell as it was meant: an apostrophe that keeps a spreadsheet from reckoning taken off."""
    return text.strip().removeprefix("'")


def _line(said: dict[str, str], line: int, paper: str) -> Recalled | Problem:
    kind = _kind(said.get("kind", ""))
    number = said.get("number", "").partition("/")[0].strip()
    n = _number(number)
    if number and n is None:
        return Problem(line, f"{number} is no number; write it in figures, or in Roman numerals")
    if n is None and kind == NUMBERED:
        return Problem(line, "neither number nor kind says which sheet it is")
    signed = {"": True, "yes": True, "no": False}.get(said.get("signed", "").casefold())
    if signed is None:
        return Problem(line, f"signed is {said['signed']}; write yes or no")
    return Recalled(paper, n, kind, signed, said.get("destroyed") or None,
                    said.get("place", "").casefold() or None, said.get("due") or None,
                    {k: said[k] for k in _WORDS if said.get(k)})


def _kind(said: str) -> str:
    known = {k.casefold(): k for k in (NUMBERED, *KINDS_OF_PROOF)}
    return known.get(said.casefold(), said) or NUMBERED


def _number(said: str) -> int | None:
    if said.isascii() and said.isdigit() and len(said) <= 6:
        return int(said)
    return read_roman(said)
