"""The editions: every print in a list, and the one chosen whole."""

from __future__ import annotations

from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll

from benchapp.edition.view import edition_view
from benchapp.files import file_slug
from benchapp.reports.documentation import sheet_page
from benchapp.reports.edition_papers import edition_paper
from benchapp.reports.editions import edition_lines, next_number_words
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.correcting import correct_edition
from benchapp.screens.edition_base import EditionBase
from benchapp.screens.page_base import WIDE, PageHead
from benchapp.screens.page_writing import Page, WritesPage
from benchapp.screens.sign_list import ask_to_sign
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Row, Rows, wrap_rows

#: Columns of the list where it stands beside the whole.
_LIST: Final = 46


class EditionScreen(WritesPage, EditionBase):
    """How every edition stands, and what is wrong with one until it is resolved."""

    CSS = """
    EditionScreen #both { layout: vertical; }
    EditionScreen.wide #both { layout: horizontal; }
    EditionScreen #prints { height: 35%; padding: 0 1; }
    EditionScreen.wide #prints { width: 46; height: 1fr; }
    EditionScreen #detail { height: 1fr; background: $surface; padding: 0 2; }
    EditionScreen #whole { color: $foreground; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("t", "sort", "sort its sheets"),
        Binding("w", "where", "where they are"),
        Binding("h", "life", "plate's life"),
        Binding("S", "sign", "sign"),
        Binding("c", "correct", "correct"),
        Binding("pageup", "read(-1)", "scroll up", tooltip="a page up",
                priority=True),
        Binding("pagedown", "read(1)", "scroll down", tooltip="a page down",
                priority=True)]

    def __init__(self, print_: str | None = None) -> None:
        """Show that print first; None: the last session's."""
        super().__init__()
        self._print = print_

    def compose(self) -> ComposeResult:
        """The prints, and one whole."""
        yield PageHead()
        yield KeyLine(self.foot)
        with Horizontal(id="both"):
            yield Rows(id="prints")
            with VerticalScroll(id="detail", can_focus=False):
                yield Para(id="whole")

    def on_mount(self) -> None:
        """List them, the one meant chosen."""
        self.follow()
        rows = self.query_one("#prints", Rows)
        rows.focus()
        days = self.editions.days
        meant = self._print or (days[-1].print if days else None)
        if meant is not None:
            rows.choose(meant)
        self._whole()

    def on_resize(self) -> None:
        """Side by side where there is room."""
        self.set_class(self.size.width >= WIDE, "wide")
        self.follow()

    def on_screen_resume(self) -> None:
        """Back from sorting: numbers may have been given."""
        if self.is_mounted:
            self.follow()

    def on_rows_moved(self) -> None:
        """Another print is shown whole."""
        self._whole()

    def follow(self) -> None:
        """Show how they stand, when something was written."""
        state = self.workshop.book.last_sequence(), self.size.width
        if state == self._shown:
            return
        self._shown = state
        editions = self.editions
        rows = [row for p in editions.prints() for row in self._rows(p)]
        self.query_one(PageHead).set(SafeText("Editions"))
        self.query_one("#prints", Rows).set_rows(rows or [
            Row(((SafeText("No edition yet. Print from a recipe to begin one."), "quiet"),))])
        self._whole()

    def _rows(self, print_: str) -> list[Row]:
        editions = self.editions
        title, artist = editions.title(print_)
        across = (_LIST if self.size.width >= WIDE else self.size.width) - 6
        v = edition_view(editions.register, print_)
        size = "open" if v.form == "open" else (
            "size not known" if v.figures.declared is None else f"of {v.figures.declared}")
        out = [Row(((sanitize(title), "strong"),), id=print_, right=sanitize(size)),
               *wrap_rows(f"{artist} · numbered {v.figures.pulled.numbered} · "
                          f"{next_number_words(v.numbers)}", across, "quiet",
                          first=((SafeText("  "), "quiet"),))]
        out += [Row(((SafeText("  ! "), "fault"), (sanitize(c.text), "fault"))) for c in v.clashes]
        return out

    def _whole(self) -> None:
        print_ = self.query_one("#prints", Rows).chosen
        if print_ is None:
            self.query_one("#whole", Para).set(SafeText(""))
            return
        editions = self.editions
        title, artist = editions.title(print_)
        lines = [*edition_lines(editions.register, print_, title=title, artist=artist),
                 *editions.otherwise(print_)]
        self.query_one("#whole", Para).set(SafeText("\n".join(map(sanitize, lines))))

    def page(self) -> Page | None:
        """The documentation sheet of the edition chosen."""
        print_ = self.query_one("#prints", Rows).chosen
        if print_ is None:
            return None
        title = self.editions.title(print_)[0]
        return Page(f"edition-{file_slug(title)}", sheet_page(edition_paper(
            self.editions, print_, self.desk.settings.studio)))

    def action_read(self, by: int) -> None:
        """The whole of it, a page up or down."""
        detail = self.query_one("#detail", VerticalScroll)
        detail.scroll_to(y=detail.scroll_offset.y + by * max(1, detail.size.height - 1),
                         animate=False)

    def action_life(self) -> None:
        """Everything its plates gave."""
        print_ = self.query_one("#prints", Rows).chosen
        days = () if print_ is None else self.editions.days_of(print_)
        if days:
            self.desk.over("plate life", session=days[-1].row.id)

    def action_sort(self) -> None:
        """Go through its sheets."""
        print_ = self.query_one("#prints", Rows).chosen
        if print_ is not None:
            self.desk.over("sort", print_=print_)

    def action_sign(self) -> None:
        """Record what is numbered and not signed yet as signed: it is listed, and asked."""
        print_ = self.query_one("#prints", Rows).chosen
        if print_ is not None:
            ask_to_sign(self, print_, None, self.again)

    def action_correct(self) -> None:
        """Its plate is not cancelled, or a clash not settled, as was recorded by mistake."""
        print_ = self.query_one("#prints", Rows).chosen
        if print_ is not None:
            correct_edition(self, print_, self.again)

    def action_where(self) -> None:
        """Where its sheets are."""
        print_ = self.query_one("#prints", Rows).chosen
        if print_ is not None:
            self.desk.over("where", print_=print_)
