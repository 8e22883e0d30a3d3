"""The one set of figures of an edition, in words: list, screen and papers. Pure.

declared · printed · numbered · signed · in the studio · out · destroyed; those from old papers
beside. What is nought and seldom is not (lost, place not known) is left out of the words.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchapp.edition.figures import Figures, Tally
from benchapp.edition.view import EditionView


def figure_line(v: EditionView) -> str:
    """`declared 40 · printed 31 · numbered 20 · signed 18 · in the studio 10 · out 19 · …`."""
    return " · ".join(f"{name} {value}" for name, value in (
        ("declared", declared_words(v)), ("printed", str(v.figures.printed)),
        *_pairs(v.figures.pulled)))


def old_papers_line(f: Figures) -> str:
    """`from old papers 12 · numbered 11 · …`; empty: there are none."""
    if not f.old.sheets:
        return ""
    return " · ".join((f"from old papers {f.old.sheets}",
                       *(f"{name} {value}" for name, value in _pairs(f.old))))


def figure_rows(f: Figures) -> Iterator[tuple[str, str]]:
    """The same as names and values, a row each; old papers are one row."""
    yield "Impressions printed", str(f.printed)
    for name, value in _pairs(f.pulled):
        yield name[:1].upper() + name[1:], value
    if f.old.sheets:
        yield "From old papers", old_papers_line(f).removeprefix("from old papers ")


def declared_words(v: EditionView) -> str:
    """How large the edition was declared."""
    if v.form == "open":
        return "open"
    return "not known" if v.figures.declared is None else str(v.figures.declared)


def _pairs(t: Tally) -> Iterator[tuple[str, str]]:
    yield "numbered", str(t.numbered)
    yield "signed", str(t.signed)
    if t.perhaps_signed:
        yield "signature not known", str(t.perhaps_signed)
    yield "in the studio", str(t.in_studio)
    yield "out", str(t.out)
    if t.lost:
        yield "lost", str(t.lost)
    yield "destroyed", str(t.destroyed)
    if t.unknown:
        yield "place not known", str(t.unknown)
