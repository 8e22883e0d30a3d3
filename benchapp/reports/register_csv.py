"""The register of an edition as a table: the same columns as an edition on paper comes in by. Pure.

A number that no sheet has, one that is void, and a sheet that nothing is pencilled on are not in
it: taken in again, each would say what is not so.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from benchapp.edition.holding import OUT, Holding
from benchapp.edition.state import Register
from benchapp.edition.view import SheetRow, sheet_rows
from benchapp.reports.export_csv import csv_table

_OWN_WORDS: Final = ("to", "when", "note")
REGISTER: Final = ("number", "sheet", "kind", "signed", "destroyed", "place", "since", "due")


def register_table(register: Register, print_: str, *, private: bool = False) -> Iterator[str]:
    """The whole table in parts; `private`: with the printer's own words."""
    e = register.edition(print_)
    head = (*REGISTER, *(_OWN_WORDS if private else ()))
    return csv_table(head, (_cells(r, e.holdings[sheet], private=private)
                            for r, sheet in _listed(register, print_)))


def left_out(register: Register, print_: str) -> int:
    """How many lines of the register are not in the table."""
    return len(sheet_rows(register, print_)) - len(_listed(register, print_))


def _listed(register: Register, print_: str) -> list[tuple[SheetRow, str]]:
    """The lines that are written, with the id of each sheet."""
    holdings = register.edition(print_).holdings
    return [(r, r.sheet) for r in sheet_rows(register, print_)
            if r.sheet is not None and (h := holdings.get(r.sheet)) is not None
            and r.state != "void" and not h.absent and h.bears is not None]


def _cells(r: SheetRow, h: Holding, *, private: bool) -> tuple[object, ...]:
    gone = None if h.destroyed is None else h.destroyed.why
    stay = h.place if gone is None else None
    out = stay is not None and stay.place in OUT
    place = None if stay is None else stay.place
    signed = True if h.signed is not None else None if h.perhaps_signed else False
    words = {} if stay is None else h.words_at(stay)
    return (r.number, h.mark, r.kind, signed, gone, place,
            stay.day if out and stay is not None else None,
            stay.due if place == "gallery" and stay is not None else None,
            *((words.get(w) for w in _OWN_WORDS) if private else ()))
