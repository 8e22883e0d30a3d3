"""Where everything is, as lines and as values; and one gallery's list as a page and as a table.

A gallery's list is made to be sent along: number, title, terms and the day they are due back.
Nothing of the printer's own words is in it, nor the gallery's name, which is one of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from html import escape
from typing import Any, Final

from benchapp.edition.holding import Holding
from benchapp.edition.numbers import session_day_words
from benchapp.edition.state import Register
from benchapp.edition.view import SheetRow, sheet_rows
from benchapp.edition.whereabouts import PlaceGroup, head_words
from benchapp.quantities import items_text
from benchapp.reports import export_csv
from benchapp.reports.documentation import SHEET_STYLE
from benchapp.reports.editions import row_values
from benchapp.reports.html import html_page, html_text

Values = dict[str, Any]
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


def where_values(print_: str, title: str, groups: tuple[PlaceGroup, ...]) -> Values:
    """The same as JSON values: counts are integers, places are codes."""
    return {"print": title, "id": print_, "text": head_words(groups),
            "counts": {g.place.replace(" ", "_"): g.count for g in groups},
            "places": [{"place": g.place.replace(" ", "_"), "words": g.heading, "count": g.count,
                        "due": g.due, "overdue": g.late, "overdue_since": g.since,
                        "sheets": [row_values(r) for r in g.sheets]} for g in groups]}


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


def lent_values(sheets: Iterable[Lent]) -> list[Values]:
    """The list as JSON values."""
    return [{"kind": x.row.kind, "number": x.row.number, "of": x.of, "label": name_words(x.row),
             "title": x.title, "artist": x.artist, "terms": x.row.terms, "since": x.row.since,
             "due": x.row.due} for x in sheets]


def lent_table(sheets: Iterable[Lent]) -> Iterator[str]:
    """The list as a table (CSV). Number and total stand apart: 7/12 would be read as a day."""
    return export_csv.csv_table(COLUMNS, ([x[c] for c in COLUMNS] for x in lent_values(sheets)))


def lent_page(sheets: list[Lent], on: str) -> str:
    """The list as a page of its own, with the day it was written (ISO 8601)."""
    body = "".join(
        f"<tr><td>{html_text(name_words(x.row))}</td><td>{html_text(x.title)}</td><td>{html_text(x.artist)}</td>"
        f"<td>{html_text(x.row.terms or 'not said')}</td>"
        "<td>"
        f"{html_text('not said' if x.row.due is None else session_day_words(x.row.due))}</td></tr>"
        for x in sheets)
    count = items_text(len(sheets), "sheet")
    head = "".join(f'<th scope="col">{escape(c)}</th>' for c in (
        "Number", "Title", "Artist", "Terms", "Due back"))
    return html_page("Prints with the gallery", [
        f'<header><h1>Prints with the gallery</h1><p class="sub">{escape(count)} · '
        f"{escape(session_day_words(on))}</p></header>\n",
        f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>\n"],
        SHEET_STYLE + "thead th,thead tr{width:auto;border-bottom:1px solid var(--ink)}\n")
