"""A session read back, from its entries alone; a text to scroll through."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import replace
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from benchapp.book.errors import SessionUnreadable
from benchapp.edition.packs import damped_words
from benchapp.files import file_slug
from benchapp.quantities import items_text
from benchapp.reports.blocks import DayDrawing, Items
from benchapp.reports.reading import find_session_row, read_back
from benchapp.reports.review import (
    FactReview,
    PackReview,
    Review,
    SheetReview,
    StepReview,
    TryReview,
    purpose_words,
)
from benchapp.reports.review_blocks import review_page
from benchapp.reports.review_times import earlier_blocks, time_blocks
from benchapp.reports.review_words import (
    jump_words,
    length_words,
    paper_words,
    reading_words,
    setting_words,
    try_line,
)
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.block_rows import render_rows, section_rows
from benchapp.screens.bound_keys import MOVE_KEYS
from benchapp.screens.page_base import WIDE, PageHead
from benchapp.screens.page_writing import Page, WritesPage
from benchapp.screens.review_parts import (
    change_rows,
    drift_rows,
    sheet_time_rows,
    standard_rows,
)
from benchapp.screens.sheet_talk import VERDICTS
from benchapp.screens.signs import plain_signs
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.rows import Role, Row, Rows, Span, fit_cells, wrap_rows

_ROLES: dict[str | None, Role] = {"keep": "good", "spoiled": "fault", "doubtful": "wash",
                                  None: "quiet"}

#: Stands before the sheet that was looked for.
_FOUND: Final[Span] = (SafeText("▸"), "mark")
#: Where a session's own texts stand, by what a search calls them.
_PARTS: Final = {"note": "Notes of the session", "setting": "Settings", "plate": "Plates reworked"}


class ReviewScreen(WritesPage):
    """One session, whole."""

    CSS = "ReviewScreen Rows { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("i", "sheets", "sheets"),
        Binding("ampersand", "beside", "side by side with another session",
                tooltip="side by side"),
        Binding("h", "plate_life", "plate's life"),
        Binding("c", "signs", "charts in dots or ASCII"),
    ]

    def __init__(self, session: str | None = None, sheet: int | None = None,
                 where: str = "") -> None:
        """Read a session back.

        Args:
            session: Its id; None: the one on the Bench, else the last opened.
            sheet: The number of a sheet to begin at, with a sign before it.
            where: The part to begin at, as a search calls it: `note`, `setting`, `plate`.
        """
        super().__init__()
        self._session = session
        self._sheet, self._where = sheet, where
        self._plain = plain_signs(os.environ)
        self._found: Review | None = None
        self._without = "No session has been opened yet."

    def compose(self) -> ComposeResult:
        """The text."""
        yield PageHead()
        yield KeyLine((MOVE_KEYS, *self.foot))
        yield Rows()

    def on_mount(self) -> None:
        """Read it once: it is what happened."""
        self.query_one(Rows).focus()
        id_ = self._session = self._session or self._own()
        if id_ is None:
            self.query_one(PageHead).set(SafeText("Review"))
            return
        book = self.workshop.book
        row = find_session_row(book, id_)
        if row is not None:
            try:
                found = self._found = read_back(book, row)
            except SessionUnreadable as error:
                self._without = str(error)
                self.query_one(PageHead).set(sanitize(f"Review of {row.name}"))
                self.on_resize()
                return
            self.query_one(PageHead).set(sanitize(
                f"Review of {found.session} · {found.print}"),
                                         sanitize(
                                             "discarded" if found.discarded else found.state))
        self.on_resize()

    def on_resize(self) -> None:
        """Break the lines for the room there is."""
        rows = wrap_rows(self._without, max(20, self.size.width - 4), "quiet")
        if self._found is not None:
            rows = review_rows(self._found, self.size.width - 4, sheet=self._sheet,
                               plain=self._plain)
        self.query_one(Rows).set_rows(rows)
        at = _place(rows, self._where)
        if at is not None:
            self.query_one(Rows).bring(at)

    def _own(self) -> str | None:
        if self.workshop.room.bench is not None:
            return self.workshop.room.bench
        rows = self.workshop.book.sessions()
        return rows[-1].id if rows else None

    def page(self) -> Page | None:
        """The session read back."""
        found = self._found
        return None if found is None else Page(
            f"review-{file_slug(f'{found.session} {found.print}')}", review_page([found]))

    def action_sheets(self) -> None:
        """The sheets, where they can be judged and noted."""
        if self._session is not None:
            self.desk.over("impressions", session=self._session)

    def action_beside(self) -> None:
        """This session and another of the same print."""
        if self._session is not None:
            self.desk.over("beside days", session=self._session)

    def action_plate_life(self) -> None:
        """Everything its plates gave."""
        if self._session is not None:
            self.desk.over("plate life", session=self._session)

    def action_signs(self) -> None:
        """Charts in dots, or in ASCII."""
        self._plain = not self._plain
        self.on_resize()


def _place(rows: list[Row], where: str) -> int | None:
    """Where the sheet looked for stands, else the part; None: the head is as good as any."""
    part = _PARTS.get(where)
    return next((n for n, row in enumerate(rows) if row.spans and (
        row.spans[0] == _FOUND or (row.heading and row.spans[0][0] == part))), None)


def review_rows(r: Review, across: int = 76, *, sheet: int | None = None,
                plain: bool = False) -> list[Row]:
    """A review as lines, in the order a printer would ask.

    Args:
        r: From `benchapp.reports.review.review_session`.
        across: Cells a line has.
        sheet: The number of one that has a sign before it.
        plain: Draw charts in ASCII.
    """
    def lines(texts: Iterable[str]) -> list[Row]:
        return render_rows((Items(tuple(texts)),), across)

    wanted = "" if r.wanted is None else f" · wanted {r.wanted}"
    closed = "still open" if r.closed_at is None else f"closed {_when(r.closed_at)}"
    parts = {
        "The day, place by place": render_rows((DayDrawing(r.day_chart),), across),
        "Where the time went": render_rows(time_blocks(r), across),
        "Hands, sheet by sheet": sheet_time_rows(r, across),
        "Compared with earlier sessions": render_rows(earlier_blocks(r), across),
        "Changes between pulls, and what you saw (no proof)": list(
            change_rows(r.changes, across)),
        "Against the standard, sheet by sheet": [
            row for x in r.drift for row in standard_rows(x, across, plain=plain)],
        "Sheets": [y for x in r.impressions
                   for y in _sheet(x, across, found=x.number == sheet)],
        "Tries without a sheet": lines(
            f"{try_line(x)}{_said(replace(x, look_again=False))}" for x in r.tries),
        "Notes of the session": lines(f"“{n}”" for n in r.notes),
        "Settings": lines(map(setting_words, r.settings)),
        "Plates reworked": lines(" · ".join(
            y for y in (x.plate, x.state and f"state {x.state}", x.what,
                        _clock(x.at)) if y) for x in r.reworked),
        "Damp paper": lines(map(_pack, r.packs)),
        "Paper, sheet by sheet": [row for x in r.impressions if (said := paper_words(x))
                                  for row in wrap_rows(said, across, first=(
                                      (fit_cells(sanitize(str(x.mark)), 6), "mark"),))],
        "Facts of the day": [_fact(x) for x in r.musts],
        "Undone": lines(f"{_clock(x.at)}  {x.what}" for x in r.corrections),
        "When the clock jumped": lines(map(jump_words, r.jumps)),
        "Helpers": lines(name or "not named" for name in r.helpers),
        "Step by step": [_step(x, wide=across >= WIDE - 4) for x in r.steps],
    }
    head = [
        *wrap_rows(f"{r.print}, {r.artist}", across, "strong"),
        *wrap_rows(f"opened {_when(r.opened_at)} · {closed} · recipe {r.recipe}", across,
                   "quiet"),
        *wrap_rows(f"pulled {r.pulled} · counting {r.counting}{wanted}", across),
        *(wrap_rows(f"left off: {r.left_off}", across, "wash") if r.left_off else ()),
        *drift_rows(r.drift, across),
    ]
    return head + [row for name, rows in parts.items() for row in section_rows(name, rows)]


def _sheet(x: SheetReview, across: int, *, found: bool) -> list[Row]:
    purpose = purpose_words(x)
    by = " (rule)" if x.for_by == "rule" else ""
    when = "  —  " if x.pulled_at is None else _clock(x.pulled_at)
    first: list[Span] = [
        *([_FOUND] if found else []),
        (fit_cells(sanitize(str(x.mark)), 5 if found else 6), "mark"),
        (fit_cells(sanitize(f"{x.number:>3}"), 5), "text"),
        (fit_cells(sanitize(purpose + by), 16), "text"),
        (fit_cells(sanitize(VERDICTS.get(x.verdict, VERDICTS[None])), 14),
         _ROLES.get(x.verdict, "quiet")),
        (fit_cells(sanitize(when), 7), "quiet")]
    said = _said(replace(x, notes=())) + ("  time not taken" if x.pulled_at is None else "")
    notes = [row for n in x.notes for row in wrap_rows(
        f"“{n}”", across, "quiet", first=((SafeText(" " * 11), "text"),))]
    return [*wrap_rows(said.strip(), across, first=first), *notes]


def _said(x: SheetReview | TryReview) -> str:
    readings = map(reading_words, x.readings)
    more = ["look again"] if x.look_again else []
    ended = [x.ended] if isinstance(x, SheetReview) and x.ended else []
    said = [*more, *ended, *x.tags, *readings, *(f"“{n}”" for n in x.notes)]
    return "  " + " · ".join(map(str, said)) if said else ""


def _pack(x: PackReview) -> str:
    sheets = "sheets not counted" if x.sheets is None else items_text(x.sheets, "sheet")
    dry = x.out is not None and x.soaked_seconds is None
    out = "still in" if x.out is None else f"out {_clock(x.out)}"
    times = (f"{damped_words(x.method)} {_when(x.in_)}" if dry
             else f"in {_when(x.in_)} · {out}")
    away = f" · {x.away}" if x.away else ""
    return f"{x.paper}: {sheets} · {times} · {x.taken} taken{away}"


def _fact(x: FactReview) -> Row:
    fact = x.fact or ("not said" if x.asked else "not asked yet")
    return Row(((fit_cells(sanitize(x.step), 36), "text"),
                (sanitize(fact), "text" if x.fact else "fault")))


def _step(x: StepReview, *, wide: bool) -> Row:
    seconds = x.seconds
    took = "not taken" if seconds is None else length_words(seconds)
    about = "≈ " if seconds is not None and not x.exact else ""
    no = "" if x.impression is None else f"no. {x.impression}"
    again = f" · attempt {x.attempt}" if x.attempt > 1 else ""
    how = "" if x.how in (None, "done") else f" · {x.how}"
    why = f" ({x.why})" if x.why else ""
    return Row((
        (fit_cells(sanitize(_clock(x.started_at)), 7), "quiet"),
        (fit_cells(sanitize(no), 8), "mark"),
        (fit_cells(sanitize(x.step), 52 if wide else 34), "text"),
        (fit_cells(sanitize(about + took), 12), "quiet" if seconds is None else "text"),
        (sanitize((how + again + why).removeprefix(" · ")), "quiet")))


def _when(iso: str) -> str:
    """Day and time of day, as it stood on the wall there and then."""
    return f"{iso[:10]} {iso[11:16]}"


def _clock(iso: str | None) -> str:
    return "—" if iso is None else iso[11:16]
