"""Words found again while they are typed, over everything that was written down."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input

from benchapp.book import BookError
from benchapp.book.folding import fold_text, place_of
from benchapp.book.search import Finder, Hit
from benchapp.safe_text import SafeText, cell_width, sanitize
from benchapp.screens.page_base import SEARCH_KEY, WIDE, PageBase, PageHead
from benchapp.screens.widgets.clean_input import CleanInput
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Row, Rows, fit_cells, wrap_rows

#: So many answers are read and listed; a word more makes them fewer.
LISTED: Final = 50
_LONGEST: Final = 200
#: Letters before a word that is found far into a text.
_BEFORE: Final = 12
_EMPTY: Final = (
    "Type words, or parts of them: benchapp searches everything you wrote, the newest session "
    "first. Accents and capitals make no difference.",
    "All words must belong to one sheet or its session. Add the print's name or a date to find "
    "fewer: salty pear, blue 2026-05.",
    "A number finds its sheet, such as 1/15, AP II or 12/40; so does a mark, such as K7.",
    "Your own words about people stay hidden. Press tab, then o, to search them too.",
)
#: What enter opens, by where an answer stands; anything else of a sheet is in its session.
_ABOUT_EDITION: Final = frozenset({
    "where", "own words", "void", "destroyed", "edition", "beside", "short", "settled",
    "cancelled", "paper", "replaced"})


class _Words(CleanInput):
    """The line to type on."""


class SearchScreen(PageBase):
    """A line to type on, and under it where its words stand."""

    #: Back from an answer, letters are what they were before: keys, or the words.
    AUTO_FOCUS = ""
    CSS = """
    SearchScreen Rows { padding: 0 1; }
    SearchScreen #whole { max-height: 6; padding: 0 3; background: $panel; color: $foreground; }
    SearchScreen Input, SearchScreen Input:focus {
        border: none; height: 1; padding: 0 1; margin: 1 1; background: $surface;
        color: $foreground;
    }
    """
    #: It is open already.
    NO_KEYS: ClassVar = (SEARCH_KEY,)
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "turn", "words or answers", show=False, priority=True),
        Binding("o", "own_words", "own words", show=False),
        Binding("enter", "open", "open it there", show=False),
        Binding("up", "step(-1)", "the answer before", show=False),
        Binding("down", "step(1)", "the next answer", show=False),
        Binding("pageup", "page(-1)", "a page up", show=False),
        Binding("pagedown", "page(1)", "a page down", show=False),
    ]

    def __init__(self, words: str = "") -> None:
        """Search for these words at first."""
        super().__init__()
        self._words = words
        self._private = False
        self._typing = True
        self._finder: Finder | None = None
        self._found: list[Hit] = []

    def compose(self) -> ComposeResult:
        """Words over answers."""
        yield PageHead()
        yield KeyLine((("enter", "open it there"), ("↑ ↓ page", "choose"),
                       ("tab o", "own words too"), ("escape", "back")))
        text = _Words(sanitize(self._words), max_length=_LONGEST, select_on_focus=False)
        text.cursor_blink = False
        yield text
        yield Rows().unfocusable()
        yield Para(id="whole")

    def on_mount(self) -> None:
        """The book is made ready once; after that each key reads the words alone."""
        self.query_one(PageHead).set(SafeText("Search"))
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
        self.action_open()

    def action_open(self) -> None:
        """Open the place the answer chosen is about."""
        chosen = self.query_one(Rows).chosen
        if chosen is not None:
            hit = self._found[int(chosen)]
            if not (hit.id or hit.edition or hit.stack):
                self.desk.say(SafeText("This clock was started in the Studio, outside a session."))
                return
            name, about = place_of_hit(hit, frozenset(
                s.id for s in self.workshop.stacks().up) if hit.stack else frozenset())
            self.desk.over(name, **about)

    def action_turn(self) -> None:
        """From the words to the answers, where letters are keys, and back."""
        self._typing = not self._typing
        self.set_focus(self.query_one(Input) if self._typing else None)
        self._show()

    def on_descendant_focus(self) -> None:
        """A click on the words types again."""
        if not self._typing:
            self._typing = True
            self._show()

    def action_own_words(self) -> None:
        """Search the printer's own words about people too, or no more."""
        if not self._typing:
            self._private = not self._private
            self._look()

    def on_rows_taken(self, event: Rows.Taken) -> None:
        """So is a double click."""
        event.stop()
        self.on_input_submitted()

    def on_rows_moved(self) -> None:
        """Another answer is chosen: it stands whole at the foot."""
        self._whole()

    def action_search(self) -> None:
        """It is open already."""

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
                self._found = self._finder.find(self._words, most=LISTED + 1,
                                                private=self._private)
            except BookError as error:
                self.desk.fault = str(error)
        self._show()
        if self._found:
            self.query_one(Rows).choose("0")

    def _show(self) -> None:
        across = self.size.width - 4
        self.query_one(PageHead).set(
            SafeText("Search, with your own words" if self._private else "Search"),
            sanitize(_many(self._words, len(self._found)) if self._typing else
                    f"o: {'hide' if self._private else 'search'} your own words · tab: type again"))
        self.query_one(Rows).set_rows(search_rows(self._words, self._found, across))
        self._whole()

    def _whole(self) -> None:
        chosen = self.query_one(Rows).chosen
        self.query_one("#whole", Para).set(
            sanitize(self._found[int(chosen)].text) if chosen is not None else SafeText(""))


def _many(words: str, found: int) -> str:
    if not words.strip():
        return ""
    return f"{LISTED} of more: add a word" if found > LISTED else f"{found} found"


def place_of_hit(hit: Hit, up: frozenset[str]) -> tuple[str, dict[str, Any]]:
    """The screen an answer is opened on, with what it is given.

    Args:
        hit: The answer.
        up: The stacks that are under boards now.
    """
    if hit.edition and (hit.where in _ABOUT_EDITION or not hit.id):
        if hit.sheet:
            return "where", {"print_": hit.edition, "sheet": hit.sheet}
        return "edition", {"print_": hit.edition}
    if hit.stack in up:
        return "boards", {"stack": hit.stack}
    session = hit.id or hit.stack.rpartition(".")[0]
    return "review", {"session": session, "sheet": hit.impression,
                      "where": "" if hit.impression is not None else hit.where}


def search_rows(words: str, found: list[Hit], across: int) -> list[Row]:
    """The answers as lines: session, print, sheet, where, and the text."""
    if not words.strip():
        return [row for text in _EMPTY for row in (*wrap_rows(text, across, "quiet"), Row())]
    if not found:
        return wrap_rows(f"Nothing found for {words.strip()}", across)
    title = 30 if across >= WIDE - 4 else 18
    return [_line(hit, str(n), fold_text(words).split(), title, across - title - 35)
            for n, hit in enumerate(found[:LISTED])]


def _line(hit: Hit, id_: str, wanted: Sequence[str], title: int, cells: int) -> Row:
    sheet = "" if hit.impression is None else f"no. {hit.impression}"
    return Row((
        (fit_cells(sanitize(hit.session), 11), "quiet"), (SafeText(" "), "text"),
        (fit_cells(sanitize(hit.print), title), "text"), (SafeText(" "), "text"),
        (fit_cells(sanitize(sheet), 8), "mark"), (fit_cells(sanitize(hit.where), 10), "quiet"),
        (text_around(sanitize(hit.text), wanted, cells), "text")), id=id_)


def text_around(text: SafeText, wanted: Sequence[str], cells: int) -> SafeText:
    """The text from its first letter, or, where a word wanted would be cut off, from near it."""
    places = [at for word in wanted if (at := place_of(text, word)) >= 0]
    if not places or cell_width(text) <= cells:
        return text
    at, most = min(places), max(map(len, wanted))
    return text if at + most < cells else SafeText(f"… {text[max(0, at - _BEFORE):]}")
