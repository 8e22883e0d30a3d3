"""Words found again while they are typed, over everything that was written down."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input

from benchapp.book import BookError
from benchapp.book.search import Finder, Hit
from benchapp.screens.page_base import WIDE, Head, PageBase
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Row, Rows, fit, wrapped
from benchapp.shown import Shown, refuse, visible, width

#: So many answers are read and listed; a word more makes them fewer.
LISTED: Final = 50
_LONGEST: Final = 200
#: Letters before a word that is found far into a text.
_BEFORE: Final = 12
_EMPTY: Final = (
    "Type words, or parts of them: every note, tag, mark, setting, print and date is looked "
    "through, the newest session first.",
    "All words have to stand with one sheet or its session, so the print's name or a date makes "
    "it fewer: salty pear, blue 2026-05.",
)


class _Words(Input):
    """The line to type on; no control character gets in, not even pasted."""

    def _on_paste(self, event: events.Paste) -> None:
        if refuse(event.text, newlines=True) is None:
            super()._on_paste(event)
        event.prevent_default()
        event.stop()


class SearchScreen(PageBase):
    """A line to type on, and under it where its words stand."""

    CSS = """
    SearchScreen Rows { padding: 0 1; }
    SearchScreen #whole { max-height: 6; padding: 0 3; background: $panel; color: $foreground; }
    SearchScreen Input, SearchScreen Input:focus {
        border: none; height: 1; padding: 0 1; margin: 1 1; background: $surface;
        color: $foreground;
    }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(-1)", show=False),
        Binding("down", "step(1)", show=False),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown", "page(1)", show=False),
    ]

    def __init__(self, words: str = "") -> None:
        """Search for these words at first."""
        super().__init__()
        self._words = words
        self._finder: Finder | None = None
        self._found: list[Hit] = []

    def compose(self) -> ComposeResult:
        """Words over answers."""
        yield Head()
        yield KeyLine((("enter", "read it back there"), ("↑ ↓ page", "choose"),
                       ("escape", "back")))
        text = _Words(visible(self._words), max_length=_LONGEST, select_on_focus=False)
        text.cursor_blink = False
        yield text
        yield Rows().unfocusable()
        yield Para(id="whole")

    def on_mount(self) -> None:
        """The book is made ready once; after that each key reads the words alone."""
        self.query_one(Head).set(Shown("Search"))
        self.query_one(Input).focus()
        try:
            self._finder = self.workshop.book.finder()
        except BookError as error:
            self.desk.fault = str(error)
        self._look()

    def on_resize(self) -> None:
        """Other columns where there is room."""
        self._show()

    def on_input_changed(self, event: Input.Changed) -> None:
        """At each key."""
        self._words = event.value
        self._look()

    def on_input_submitted(self) -> None:
        """Enter is for the answer chosen."""
        chosen = self.query_one(Rows).chosen
        if chosen is not None:
            hit = self._found[int(chosen)]
            self.desk.over("review", session=hit.id, sheet=hit.impression,
                           where="" if hit.impression is not None else hit.where)

    def on_rows_taken(self, event: Rows.Taken) -> None:
        """So is a double click."""
        event.stop()
        self.on_input_submitted()

    def on_rows_moved(self) -> None:
        """Another answer is chosen: it stands whole at the foot."""
        self._whole()

    def action_step(self, by: int) -> None:
        """Another answer, without leaving the words."""
        self.query_one(Rows).action_step(by)

    def action_page(self, by: int) -> None:
        """A page of answers up or down."""
        self.query_one(Rows).action_page(by)

    def _look(self) -> None:
        self._found = []
        if self._finder is not None and self._words.strip():
            try:
                self._found = self._finder.find(self._words, most=LISTED + 1)
            except BookError as error:
                self.desk.fault = str(error)
        self._show()
        if self._found:
            self.query_one(Rows).choose("0")

    def _show(self) -> None:
        across = self.size.width - 4
        self.query_one(Head).set(Shown("Search"), visible(_many(self._words, len(self._found))))
        self.query_one(Rows).set_rows(search_rows(self._words, self._found, across))
        self._whole()

    def _whole(self) -> None:
        chosen = self.query_one(Rows).chosen
        self.query_one("#whole", Para).set(
            visible(self._found[int(chosen)].text) if chosen is not None else Shown(""))


def _many(words: str, found: int) -> str:
    if not words.strip():
        return ""
    return f"{LISTED} of more: add a word" if found > LISTED else f"{found} found"


def search_rows(words: str, found: list[Hit], across: int) -> list[Row]:
    """The answers as lines: session, print, sheet, where, and the text."""
    if not words.strip():
        return [row for text in _EMPTY for row in (*wrapped(text, across, "quiet"), Row())]
    if not found:
        return wrapped(f"Nothing written down holds {words.strip()}", across)
    title = 30 if across >= WIDE - 4 else 18
    return [_line(hit, str(n), words.lower().split(), title, across - title - 34)
            for n, hit in enumerate(found[:LISTED])]


def _line(hit: Hit, id_: str, wanted: Sequence[str], title: int, cells: int) -> Row:
    sheet = "" if hit.impression is None else f"no. {hit.impression}"
    return Row((
        (fit(visible(hit.session), 11), "quiet"), (Shown(" "), "text"),
        (fit(visible(hit.print), title), "text"), (Shown(" "), "text"),
        (fit(visible(sheet), 8), "mark"), (fit(visible(hit.where), 9), "quiet"),
        (around(visible(hit.text), wanted, cells), "text")), id=id_)


def around(text: Shown, wanted: Sequence[str], cells: int) -> Shown:
    """The text from its first letter, or, where a word wanted would be cut off, from near it."""
    places = [at for word in wanted if (at := text.lower().find(word)) >= 0]
    if not places or width(text) <= cells:
        return text
    at, most = min(places), max(map(len, wanted))
    return text if at + most < cells else Shown(f"… {text[max(0, at - _BEFORE):]}")
