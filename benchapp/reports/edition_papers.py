"""The papers of an edition and of one of its sheets, from what the editions of a book know."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Protocol

from benchapp.book.read import SessionRow
from benchapp.edition.state import Register
from benchapp.recipe.model import Recipe
from benchapp.reports.documentation import About, PaperSheet, documentation_sheet
from benchapp.reports.sheet_history import sheet_history
from benchapp.session.edition_links import of_sheet
from benchapp.session.state import Session
from benchapp.views.sheets import sheet_whole


class PrintedDay(Protocol):
    """A session of a print."""

    @property
    def row(self) -> SessionRow:
        """How the book lists it."""

    @property
    def recipe(self) -> Recipe:
        """The recipe as it was."""


class Editions(Protocol):
    """The editions of a book."""

    @property
    def register(self) -> Register:
        """All of them."""

    def title(self, print_: str) -> tuple[str, str]:
        """Title and artist."""

    def edition_days(self, print_: str) -> Sequence[PrintedDay]:
        """The sessions of a print that are of its edition, the oldest first."""

    def session(self, id_: str) -> Session | None:
        """A session as it is now; None: it cannot be read."""


def edition_paper(editions: Editions, print_: str, studio: str | None,
                  named: Mapping[str, str] | None = None, *, private: bool = False) -> PaperSheet:
    """The documentation sheet of an edition.

    Args:
        editions: What the book knows.
        print_: Which print.
        studio: The name on papers.
        named: Printer and chop, where they are known.
        private: Names and places too, in the printer's own words.
    """
    return documentation_sheet(editions.register, print_,
                               _about(editions, print_, studio, named or {}), private=private)


def sheet_paper(editions: Editions, sheet: str, print_: str, studio: str | None,
                named: Mapping[str, str] | None = None, *, private: bool = False) -> PaperSheet:
    """One impression's own history.

    Args:
        editions: What the book knows.
        sheet: Its id.
        print_: The print it is told of.
        studio / named / private: As for `edition_paper`.
    """
    of = of_sheet(sheet)
    session = None if of is None else editions.session(of[0])
    whole = None if session is None or of is None else sheet_whole(session, of[1])
    # A sheet is told of by the recipe of its own day; of old papers nobody knows one.
    about = replace(_about(editions, print_, studio, named or {}),
                    recipes=() if session is None else (session.recipe,))
    return sheet_history(editions.register, print_, sheet, whole, about, private=private)


def _about(editions: Editions, print_: str, studio: str | None,
           named: Mapping[str, str]) -> About:
    title, artist = editions.title(print_)
    days = editions.edition_days(print_)
    sessions = [s for d in days if (s := editions.session(d.row.id)) is not None]
    helpers = dict.fromkeys(h for s in sessions for h in s.helpers if h and h != "helper")
    return About(title, artist, tuple({id(r): r for d in days for r in (d.recipe,)}.values()),
                 tuple(d.row.name for d in days), tuple(helpers), studio, named)
