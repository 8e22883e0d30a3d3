"""One plate's whole life: what it gave, day by day, what grew, and how its readings went."""

from __future__ import annotations

import os
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from benchapp.book import BookError
from benchapp.files import file_slug
from benchapp.reports.blocks import Items
from benchapp.reports.plate_life import LifeDay, PlateLife
from benchapp.reports.plate_life_blocks import life_page
from benchapp.reports.plate_life_text import (
    grown_words,
    kept_words,
    life_sentence,
    tags_words,
    verdict_bar,
    verdict_bar_words,
)
from benchapp.reports.reading import lives_of, row_or_last
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.block_rows import render_rows, section_rows
from benchapp.screens.page_base import WIDE, PageHead
from benchapp.screens.page_writing import PAGE_FOOT, Page, WritesPage
from benchapp.screens.review_parts import drift_rows, standard_rows
from benchapp.screens.signs import plain_signs
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.rows import Row, Rows, Span, fit_cells, wrap_rows


class PlateLifeScreen(WritesPage):
    """The plates of a print, one after the other."""

    CSS = "PlateLifeScreen Rows { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "plate(-1)", "the plate before", show=False),
        Binding("right", "plate(1)", "the next plate", show=False),
        Binding("c", "signs", "charts in dots or ASCII", show=False),
        Binding("v", "review", "review", show=False),
    ]

    def __init__(self, session: str | None = None) -> None:
        """Show the plates of the print of that session; None: of the Bench's, or the last."""
        super().__init__()
        self._session = session
        self._lives: list[PlateLife] = []
        self._at = 0
        self._plain = plain_signs(os.environ)

    def compose(self) -> ComposeResult:
        """The text."""
        yield PageHead()
        yield KeyLine()
        yield Rows()

    def on_mount(self) -> None:
        """Read it once: it is what happened."""
        self.query_one(Rows).focus()
        book = self.workshop.book
        row = row_or_last(book, self._session or self.workshop.room.bench)
        if row is not None:
            self._session = row.id
            try:
                self._lives = lives_of(book, row)
            except BookError as error:
                self.desk.fault = str(error)
        self._show()

    def on_resize(self) -> None:
        """Break the lines for the room there is."""
        if self.is_mounted:
            self._show()

    def _show(self) -> None:
        plates = (("← →", "the other plates"),) if len(self._lives) > 1 else ()
        self.query_one(KeyLine).set((
            *plates, ("↑ ↓ page home end", "move"),
            ("c", "charts in dots" if self._plain else "charts in ASCII"),
            ("v", "the session's review"), PAGE_FOOT,
            ("escape", "back"), ("question_mark", "help")))
        if not self._lives:
            self.query_one(PageHead).set(SafeText("A plate's life"))
            self.query_one(Rows).set_rows(
                [Row(((SafeText("No session has been opened yet."), "quiet"),))])
            return
        x = self._lives[self._at]
        place = f"plate {self._at + 1} of {len(self._lives)}" if len(self._lives) > 1 else ""
        self.query_one(PageHead).set(sanitize(f"Life of {x.plate} · {x.print}"),
                                     sanitize(place))
        self.query_one(Rows).set_rows(life_rows(x, self.size.width - 4, plain=self._plain))

    def page(self) -> Page | None:
        """All plates of the print, whichever is shown."""
        return None if not self._lives else Page(
            f"life-{file_slug(self._lives[0].print)}", life_page(self._lives))

    def action_plate(self, by: int) -> None:
        """Another plate of the print."""
        if self._lives:
            self._at = (self._at + by) % len(self._lives)
            self._show()
            self.query_one(Rows).action_edge(-1)

    def action_signs(self) -> None:
        """Charts in dots, or in ASCII."""
        self._plain = not self._plain
        self._show()

    def action_review(self) -> None:
        """The session read back from which this was opened."""
        if self._session is not None:
            self.desk.over("review", session=self._session)


def life_rows(x: PlateLife, across: int = 76, *, plain: bool = False) -> list[Row]:
    """A life as lines: first sentences, then its days, then what grew, then readings drawn.

    Args:
        x: From `benchapp.reports.plate_life.plate_life`.
        across: Cells a line has.
        plain: Draw in ASCII.
    """
    out = wrap_rows(life_sentence(x), across, "strong")
    if not x.days:
        return out
    out += wrap_rows(f"Of all: {kept_words(x.verdicts)}", across)
    out += drift_rows(x.drift, across)
    parts = {
        "Its days": [row for d in x.days for row in _day(d, across, plain=plain)]
        + wrap_rows(verdict_bar_words(plain=plain), across, "quiet"),
        "Tags that grew (counted, no proof)": render_rows(
            (Items(tuple(grown_words(x))),), across),
        "Impression by impression": [
            row for d in x.drift for row in standard_rows(d, across, plain=plain)],
    }
    return out + [row for name, rows in parts.items() for row in section_rows(name, rows)]


def _day(d: LifeDay, across: int, *, plain: bool) -> list[Row]:
    """One day: its numbers, the verdicts as a bar and in figures, its tags, what was reworked."""
    v, cells = d.verdicts, 20 if across >= WIDE - 4 else 12
    span = f"{d.from_}–{d.to}" if not plain else f"{d.from_}-{d.to}"
    kept = f"kept {v.keep} of {v.judged}" if v.judged else "not judged"
    first: list[Span] = [
        (fit_cells(sanitize(d.session), 12), "text"), (fit_cells(sanitize(span), 9), "mark"),
        (fit_cells(sanitize(verdict_bar(v, cells, plain=plain)), cells + 1), "text"),
        (fit_cells(sanitize(kept), 14), "text")]
    state = f"state {d.state}" if d.state else ""
    told = " · ".join(filter(None, (state, tags_words(d.tags))))
    out = wrap_rows(told, across, "quiet", first=first)
    for r in d.reworked:
        words = " · ".join(filter(None, (r.state and f"state {r.state}", r.what)))
        out += wrap_rows(f"reworked: {words}" if words else "reworked", across, "wash",
                         first=((SafeText(" " * 12), "text"),))
    return out
