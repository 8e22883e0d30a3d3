"""Where everything is, as lines and as values; and one gallery's list as a page and as a table.

A gallery's list is made to be sent along: number, title, terms and the day they are due back.
Nothing of the printer's own words is in it, nor the gallery's name, which is one of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, ClassVar, Final

from benchapp.edition.holding import Holding
from benchapp.edition.numbers import session_day_words
from benchapp.edition.state import Register
from benchapp.edition.view import SheetRow, sheet_rows
from benchapp.edition.whereabouts import PlaceGroup, head_words
from benchapp.quantities import items_text
from benchapp.reports import export_csv
from benchapp.reports.blocks import Said, Table, Title
from benchapp.reports.documentation import SHEET_STYLE
from benchapp.reports.editions import RegisterRow, register_row
from benchapp.reports.html import render_page
from benchapp.reports.json_form import FLAT, Day

COLUMNS: Final = ("kind", "number", "of", "title", "artist", "terms", "since", "due")


# -- everything --------------------------------------------------------------------------------


def where_lines(title: str, groups: tuple[PlaceGroup, ...]) -> list[str]:
    """One edition: how many are where, then each place with its sheets."""
    out = [title, f"  {head_words(groups)}"]
    for g in groups:
        if g.sheets:
            out.append(f"  {g.heading}:")
            out += [f"    {line}" for line in _sheet_lines(g)]
    return out


def _sheet_lines(g: PlaceGroup) -> Iterator[str]:
    """Sheets of which more is known have a line each; the others share one."""
    bare = []
    for r in g.sheets:
        detail = detail_words(r)
        if detail:
            yield f"{name_words(r)}: {detail}"
        else:
            bare.append(name_words(r))
    if bare:
        yield ", ".join(bare)


def name_words(r: SheetRow) -> str:
    """A sheet of the list: its number, or where it has none its mark."""
    return r.who if r.kind == "undecided" else r.label


def detail_words(r: SheetRow) -> str:
    """What is known of where a sheet is besides the place itself: since, terms, due back."""
    if r.state == "destroyed":
        return r.standing.removeprefix("destroyed: ")
    if r.place in ("boards", "drawer", "framed"):
        return r.where
    return r.where.partition(", ")[2]


@dataclass(frozen=True, slots=True)
class PlaceReport:
    """The sheets of one place."""

    place: Annotated[str, "the place as a code"]
    words: Annotated[str, "the place in words"]
    count: Annotated[int, "how many sheets are there"]
    due: Annotated[Day | None, "the next day that one of them is due back"]
    overdue: Annotated[int, "how many are overdue"]
    overdue_since: Annotated[Day | None, "the first day that is past"]
    sheets: Annotated[tuple[RegisterRow, ...], "those of which the register says something"]


@dataclass(frozen=True, slots=True)
class WhereReport:
    """Where every sheet of one print is."""

    FORMAT: ClassVar = "where-is/1"

    print: Annotated[str, "the title of the print"]
    id: Annotated[str, "the print's id"]
    text: Annotated[str, "the counts in words"]
    counts: Annotated[Mapping[str, int], "how many sheets are in each place"]
    places: Annotated[tuple[PlaceReport, ...], "place by place"]


def where_report(print_: str, title: str, groups: tuple[PlaceGroup, ...]) -> WhereReport:
    """The same as a report: places are codes."""
    places = tuple(PlaceReport(g.place.replace(" ", "_"), g.heading, g.count, g.due, g.late,
                               g.since, tuple(map(register_row, g.sheets))) for g in groups)
    return WhereReport(title, print_, head_words(groups), {x.place: x.count for x in places},
                       places)


@dataclass(frozen=True, slots=True)
class SheetAnswer:
    """Where one sheet is, with what the register has of it, where it has something."""

    FORMAT: ClassVar = "where-is-sheet/1"

    print: Annotated[str, "the print's id"]
    sheet: Annotated[str | None, "the sheet's id; null: a void number no sheet has"]
    text: Annotated[str, "the answer in words"]
    corrections: Annotated[tuple[str, ...], "what was corrected about it"]
    row: Annotated[RegisterRow | None, FLAT, "what the register has of it"]


# -- one gallery's list ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Lent:
    """One sheet with a gallery: its print, and what the register says of it."""

    title: str
    artist: str
    row: SheetRow
    of: int | None


def with_galleries(register: Register, named: Iterable[tuple[str, str, str]],
                   ) -> list[tuple[str, Lent]]:
    """The sheets with galleries, each with the words for whom, in the order of the prints.

    Args:
        register: All editions.
        named: Of each print its id, title and artist.
    """
    found = []
    for id_, title, artist in named:
        e = register.edition(id_)
        for row in sheet_rows(register, id_):
            h = None if row.sheet is None else e.holdings[row.sheet]
            if h is not None and h.destroyed is None and row.place == "gallery":
                cap = e.caps.get(row.kind)
                of = e.size if row.kind == "edition" else None if cap is None else cap.cap
                found.append((gallery_words(h), Lent(title, artist, row, of)))
    return found


def gallery_words(h: Holding) -> str:
    """With which gallery a sheet is, in the printer's own words, which stay at home; or empty."""
    stay = h.place
    return "" if stay is None else " ".join(h.words_at(stay).get("to", "").split())


def lent_lines(sheets: Iterable[Lent]) -> list[str]:
    """The list as text."""
    return [f"{x.title}, {x.artist} · {name_words(x.row)}" + "".join(
        f" · {words}" for words in _terms(x)) for x in sheets]


def _terms(x: Lent) -> list[str]:
    due = "" if x.row.due is None else f"due back {session_day_words(x.row.due)}"
    return [words for words in (x.row.terms or "", due) if words]


@dataclass(frozen=True, slots=True)
class LentSheet:
    """One sheet of a gallery's list."""

    FORMAT: ClassVar = "where-is-gallery/1"

    kind: Annotated[str, "edition, AP and so on"]
    number: Annotated[int | None, "its number"]
    of: Annotated[int | None, "of how many"]
    label: Annotated[str, "what is pencilled on it"]
    title: Annotated[str, "the title of the print"]
    artist: Annotated[str, "whose print it is"]
    terms: Annotated[str | None, "consignment, or sale or return"]
    since: Annotated[Day | None, "the day it went there"]
    due: Annotated[Day | None, "the day it is due back"]


def lent_report(sheets: Iterable[Lent]) -> list[LentSheet]:
    """The list as a report."""
    return [LentSheet(x.row.kind, x.row.number, x.of, name_words(x.row), x.title, x.artist,
                      x.row.terms, x.row.since, x.row.due) for x in sheets]


def lent_table(sheets: Iterable[Lent]) -> Iterator[str]:
    """The list as a table (CSV). Number and total stand apart: 7/12 would be read as a day."""
    return export_csv.csv_table(COLUMNS, ([getattr(x, c) for c in COLUMNS]
                                          for x in lent_report(sheets)))


def lent_page(sheets: list[Lent], on: str) -> str:
    """The list as a page of its own, with the day it was written (ISO 8601)."""
    rows = tuple((Said(name_words(x.row)), Said(x.title), Said(x.artist),
                  Said(x.row.terms or "not said"),
                  Said("not said" if x.row.due is None else session_day_words(x.row.due)))
                 for x in sheets)
    title = "Prints with the gallery"
    under = f"{items_text(len(sheets), 'sheet')} · {session_day_words(on)}"
    return render_page(title, (
        Title(title, under), Table(("Number", "Title", "Artist", "Terms", "Due back"), rows)),
        SHEET_STYLE + "thead th,thead tr{width:auto;border-bottom:1px solid var(--ink)}\n")
