"""What the two screens with columns share: the columns, which of them the arrows move, the text."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from benchapp.book import BookError
from benchapp.book.read import SessionRow
from benchapp.reports.comparison import ComparedLine
from benchapp.reports.reading import print_sessions, read_back, row_or_last
from benchapp.reports.review import Review
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.beside_rows import beside_rows, head_rows
from benchapp.screens.page_base import PageBase, PageHead
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.rows import Row, Rows, wrap_rows

KEYS: Final = (("1 2", "choose the column"), ("o", "only what differs"), ("↑ ↓ page", "move"),
               ("escape", "back"), ("question_mark", "help"))
_SIGNS: Final = "—  nothing recorded"


class BesideBase(PageBase):
    """Columns over one text; the arrows put something else into the column in hand."""

    #: What the arrows bring, and further keys, at the foot.
    OWN: ClassVar[tuple[tuple[str, str], ...]] = ()
    DEFAULT_CSS = """
    BesideBase Rows { padding: 0 1; }
    BesideBase #heads { height: auto; background: $surface; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "other(-1)", "the one before in this column", show=False),
        Binding("right", "other(1)", "the next in this column", show=False),
        Binding("1", "column(0)", "choose the left column", show=False),
        Binding("2", "column(1)", "choose the right column", show=False),
        Binding("o", "differing", "only what differs", show=False),
    ]

    def __init__(self, session: str | None = None) -> None:
        """Begin with that session; None: the one on the Bench, else the last opened."""
        super().__init__()
        self._session = session
        self._days: list[SessionRow] = []
        self._read: dict[str, Review] = {}
        self._differing = False
        self._in_hand = 0

    def compose(self) -> ComposeResult:
        """Heads over the text."""
        yield PageHead()
        yield KeyLine((*self.OWN, *KEYS))
        yield Rows(id="heads").unfocusable()
        yield Rows(id="beside")

    def on_mount(self) -> None:
        """Find the days of the print, and what stands in the columns at first."""
        self.query_one("#beside", Rows).focus()
        book = self.workshop.book
        row = row_or_last(book, self._session or self.workshop.room.bench)
        if row is not None:
            self._session = row.id
            self._days = print_sessions(book, row)
        self.begin()
        self.redraw()

    def on_resize(self) -> None:
        """Other widths."""
        if self.is_mounted:
            self.redraw()

    # -- what a screen of them says -------------------------------------------------------

    def begin(self) -> None:
        """Choose what stands in the columns at first."""

    def named(self) -> str:
        """The line at the head."""
        raise NotImplementedError

    def heads(self) -> Sequence[tuple[str, str]]:
        """Two lines over each column."""
        raise NotImplementedError

    def lines(self) -> Sequence[ComparedLine]:
        """What stands beside each other."""
        raise NotImplementedError

    def aside(self) -> str:
        """At the right of the head; or empty."""
        return ""

    def hint(self) -> str:
        """A line under all, where something should be said; or empty."""
        return ""

    def move(self, by: int) -> None:
        """Put the next or the one before into the column in hand."""
        raise NotImplementedError

    def columns(self) -> int:
        """How many columns the arrows can move."""
        return 2

    # -- showing ----------------------------------------------------------------------------

    def redraw(self) -> None:
        """Show the columns as they are chosen now."""
        across = self.size.width - 4
        heads = self.heads()
        self.query_one(PageHead).set(sanitize(self.named()), sanitize(
            "only what differs" if self._differing else self.aside()))
        self.query_one("#heads", Rows).set_rows(
            head_rows(heads, across, self._in_hand) if heads else [])
        rows = beside_rows(self.lines(), across, differing=self._differing) if heads else []
        if heads and not rows:
            rows = [Row(((SafeText("No recorded differences."), "quiet"),))]
        told = [x for x in (_SIGNS if len(heads) > 1 else "", self.hint()) if x]
        under = [row for text in told for row in wrap_rows(text, across, "quiet")]
        self.query_one("#beside", Rows).set_rows(
            [*rows, *([Row()] if rows and under else []), *under])

    def read(self, id_: str) -> Review | None:
        """A session read back, once; None where it cannot be."""
        row = next((r for r in self._days if r.id == id_), None)
        if row is None:
            return None
        if id_ not in self._read:
            try:
                self._read[id_] = read_back(self.workshop.book, row, earlier=False)
            except BookError as error:
                self.desk.fault = str(error)
                return None
        return self._read[id_]

    # -- keys -------------------------------------------------------------------------------

    def action_other(self, by: int) -> None:
        """Something else in the column in hand."""
        self.move(by)
        self.redraw()

    def action_column(self, at: int) -> None:
        """The arrows move that column."""
        self._in_hand = min(at, self.columns() - 1)
        self.redraw()

    def action_differing(self) -> None:
        """All lines, or those that differ alone."""
        self._differing = not self._differing
        self.redraw()
