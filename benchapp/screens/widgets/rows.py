"""A list of lines with one chosen: sheets, sessions, recipes, or text to scroll through.

The line chosen is told by a sign at its left as well as by its colours; while
the list has no focus a smaller sign keeps its place. Every text has gone through
`visible`, and none is read as markup.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Final

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from benchapp.safe_text import SafeText, cell_width, clip_text
from benchapp.screens.widgets.row import Role, Row, Span, fit_cells, titled_rows, wrap_rows

__all__ = ["Role", "Row", "Rows", "Span", "fit_cells", "titled_rows", "wrap_rows"]

_CHOSEN: Final = "▸ "
_KEPT: Final = "· "
_OTHER: Final = "  "
_NOTCH: Final = 3
"""Lines that one notch of the wheel moves."""


def _heard(app: object, event: events.Key) -> str:
    """What the switch of the app makes of a key; an app without one has no pedal."""
    hear = getattr(app, "hear", None)
    return "another key" if hear is None else str(hear(event))


class Rows(Widget, can_focus=True):
    """Lines of text, one of which is chosen with the arrows."""

    DEFAULT_CSS = """
    Rows { width: 1fr; height: 1fr; color: $foreground; }
    Rows > .rows--quiet { color: $quiet; }
    Rows > .rows--mark { color: $mark; text-style: bold; }
    Rows > .rows--good { color: $good; }
    Rows > .rows--fault { color: $fault; }
    Rows > .rows--wash { color: $wash; }
    Rows > .rows--strong { color: $foreground; text-style: bold; }
    Rows > .rows--heading { color: $wash; text-style: bold; }
    Rows > .rows--rule { color: $quiet; }
    Rows > .rows--cursor { background: $cursor; color: $cursor-text; text-style: bold; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "rows--quiet", "rows--mark", "rows--good", "rows--fault", "rows--wash", "rows--strong",
        "rows--heading", "rows--rule", "rows--cursor",
    }
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(-1)", "the line above", show=False),
        Binding("down", "step(1)", "the line below", show=False),
        Binding("pageup", "page(-1)", "a page up", show=False),
        Binding("pagedown", "page(1)", "a page down", show=False),
        Binding("home", "edge(-1)", "the first line", show=False),
        Binding("end", "edge(1)", "the last line", show=False),
        Binding("enter", "take", "take the line", show=False),
    ]

    class Moved(Message):
        """Another line was chosen."""

        def __init__(self, rows: Rows) -> None:
            super().__init__()
            self.rows = rows

        @property
        def control(self) -> Rows:
            """The list."""
            return self.rows

    class Taken(Message):
        """Enter was pressed on the line chosen."""

        def __init__(self, rows: Rows, row_id: str) -> None:
            super().__init__()
            self.rows = rows
            self.row_id = row_id

        @property
        def control(self) -> Rows:
            """The list."""
            return self.rows

    def __init__(self, rows: Sequence[Row] = (), *, unchosen: bool = False,
                 id: str | None = None, classes: str | None = None) -> None:
        """Make the list.

        Args:
            rows: The lines at first.
            unchosen: No line is chosen before an arrow is pressed, so that Enter alone,
                from a pedal under a foot, takes nothing.
            id: Name in the widget tree.
            classes: Style classes.
        """
        super().__init__(id=id, classes=classes)
        self._rows: tuple[Row, ...] = ()
        self._at: int | None = None
        self._top = 0
        self._unchosen = unchosen
        self.set_rows(rows)

    def unfocusable(self) -> Rows:
        """The same list, shown only: no key ever goes to it."""
        self.can_focus = False
        return self

    # -- what is shown and chosen ---------------------------------------------------

    @property
    def rows(self) -> tuple[Row, ...]:
        """The lines as they stand."""
        return self._rows

    @property
    def chosen(self) -> str | None:
        """The id of the line chosen; None where none can be."""
        return None if self._at is None else self._rows[self._at].id

    @property
    def place_words(self) -> str:
        """Which lines are seen of how many, and the keys for the rest; empty where all are."""
        high, many = self.size.height, len(self._rows)
        if many <= high or not high:
            return ""
        rest = "page down" if self._top + high < many else "page up"
        return f"{self._top + 1}-{min(many, self._top + high)} of {many} lines, {rest}"

    def set_rows(self, rows: Sequence[Row]) -> None:
        """Show other lines; the one chosen stays so where it is still there."""
        before, place = self.chosen, self._at or 0
        self._rows = tuple(rows)
        ids = self._ids()
        same = [i for i in ids if self._rows[i].id == before]
        near = [i for i in ids if i >= place]
        kept = same or ([] if self._unchosen else near or ids[-1:])
        self._at = kept[0] if kept else None
        self._keep_in_sight()
        self.refresh()

    def choose(self, row_id: str) -> None:
        """Choose the line of that id, if there is one."""
        at = next((i for i in self._ids() if self._rows[i].id == row_id), None)
        if at is not None:
            self._go(at)

    def bring(self, at: int) -> None:
        """Scroll so that a line stands near the top."""
        self._top = max(0, at - 1)
        self._keep_in_sight()
        self.refresh()

    def _ids(self) -> list[int]:
        return [i for i, row in enumerate(self._rows) if row.id is not None]

    # -- keys ------------------------------------------------------------------------

    def uses(self, key: str) -> bool:
        """Whether a key would do something here: choose, move the text, or take the line."""
        if key == "enter":
            return self.chosen is not None
        if key in ("up", "down"):
            return bool(self._ids()) or len(self._rows) > self.size.height
        if key in ("pageup", "pagedown"):
            return self._at is not None or len(self._rows) > self.size.height
        return False

    def on_key(self, event: events.Key) -> None:
        """A pedal that sends Enter, held down over the change of a screen, takes nothing here."""
        if event.key == "enter" and _heard(self.app, event) == "too soon":
            event.stop()
            event.prevent_default()

    # -- the mouse -------------------------------------------------------------------

    def on_click(self, event: events.Click) -> None:
        """A click chooses a line; a double click takes it, as Enter does."""
        place = event.get_content_offset(self)
        if event.button != 1 or place is None:
            return
        event.stop()
        at = self._top + place.y
        if at not in self._ids():
            return
        again = at == self._at
        self._go(at)
        if event.chain == 2 and again:
            self.action_take()

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """The wheel moves the lines."""
        event.stop()
        self._wheel(_NOTCH)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """The wheel moves the lines."""
        event.stop()
        self._wheel(-_NOTCH)

    def _wheel(self, by: int) -> None:
        """Move the lines, and the one chosen only as far as it would go out of sight."""
        high = max(1, self.size.height)
        top = max(0, min(self._top + by, len(self._rows) - high))
        if self._at is None or top == self._top:
            self._scroll(by)
            return
        ids = self._ids()
        if by > 0:
            near = next((i for i in ids if self._first_of(i) >= top), ids[-1])
            self._top, at = top, max(self._at, near)
        else:
            near = next((i for i in reversed(ids) if self._last_of(i) < top + high), ids[0])
            self._top, at = top, min(self._at, near)
        self._go(at)
        self._keep_in_sight()
        self.refresh()

    # -- moving ----------------------------------------------------------------------

    def action_step(self, by: int) -> None:
        """The next line that can be chosen; where none can, the text moves."""
        ids = self._ids()
        if self._at is None and ids:
            self._go(ids[0 if by > 0 else -1])
            return
        if self._at is None or not ids:
            self._scroll(by)
            return
        place = ids.index(self._at) + by
        if not 0 <= place < len(ids):  # what stands above the first and below the last is seen too
            self._top = 0 if place < 0 else len(self._rows)
            self._keep_in_sight()
            self.refresh()
            return
        self._go(ids[place])

    def action_page(self, by: int) -> None:
        """A page up or down."""
        page = max(1, self.size.height - 1)
        if self._at is None:
            self._scroll(by * page)
            return
        ids = self._ids()
        aim = self._at + by * page
        on = [i for i in ids if (i >= aim if by > 0 else i <= aim)]
        if on:
            self._go(on[0] if by > 0 else on[-1])
        else:
            self.action_edge(by)

    def action_edge(self, end: int) -> None:
        """The first line or the last."""
        ids = self._ids()
        if self._at is None:
            self._scroll(end * len(self._rows))
        elif ids:
            self._go(ids[0] if end < 0 else ids[-1])
            self._top = 0 if end < 0 else len(self._rows)
            self._keep_in_sight()
            self.refresh()

    def action_take(self) -> None:
        """Say that the line chosen was taken."""
        if self.chosen is not None:
            self.post_message(self.Taken(self, self.chosen))

    def _go(self, at: int) -> None:
        if at == self._at:
            return
        self._at = at
        self._keep_in_sight()
        self.refresh()
        self.post_message(self.Moved(self))

    def _scroll(self, by: int) -> None:
        self._top += by
        self._keep_in_sight()
        self.refresh()

    def _keep_in_sight(self) -> None:
        high = self.size.height
        if not high:  # not laid out yet: nothing is out of sight
            return
        if self._at is not None:
            self._top = max(self._top, self._last_of(self._at) - high + 1)
            self._top = max(min(self._top, self._first_of(self._at)), self._at - high + 1)
        self._top = max(0, min(self._top, len(self._rows) - high))

    def _first_of(self, at: int) -> int:
        """The first of the headings right above the line at `at`, or that line."""
        while at and self._rows[at - 1].heading:
            at -= 1
        return at

    def _last_of(self, at: int) -> int:
        """The last of the lines that go on with the one at `at`."""
        rows = self._rows
        while at + 1 < len(rows) and rows[at + 1].id is None and rows[at + 1].spans and (
                not rows[at + 1].heading):
            at += 1
        return at

    # -- painting ----------------------------------------------------------------------

    def on_resize(self) -> None:
        """The line chosen stays in sight."""
        self._keep_in_sight()

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many rows as there are lines, where the height is left to it."""
        return max(1, len(self._rows))

    def render_line(self, y: int) -> Strip:
        """Paint one terminal row."""
        self._keep_in_sight()  # the height may have become known since
        across, at = self.size.width, self._top + y
        if at >= len(self._rows):
            return Strip.blank(across, self.rich_style)
        row = self._rows[at]
        if row.heading:
            strip = self._heading(row, across - 1)
        else:
            strip = self._line(row, across - 1, chosen=at == self._at and row.id is not None)
        edge = Segment(self._edge_sign(y), self._style("quiet"))
        return Strip([*strip, edge]).adjust_cell_length(across, self.rich_style)

    def _edge_sign(self, y: int) -> str:
        """At the right edge: there is more above, or below."""
        if y == 0 and self._top > 0:
            return "▲"
        more = self._top + self.size.height < len(self._rows)
        return "▼" if y == self.size.height - 1 and more else " "

    def _style(self, role: str) -> Style:
        if role == "text":
            return self.rich_style
        return self.get_component_rich_style(f"rows--{role}")

    def _heading(self, row: Row, across: int) -> list[Segment]:
        words = clip_text(SafeText("".join(text for text, _ in row.spans)), across)
        right = clip_text(row.right, max(0, across - cell_width(words) - 4))
        rule = across - cell_width(words) - 1 - (cell_width(right) + 1 if right else 0)
        out = [Segment(f"{words} ", self._style("heading"))]
        if rule > 0:
            out.append(Segment("─" * rule + (" " if right else ""), self._style("rule")))
        if right:
            out.append(Segment(right, self._style("quiet")))
        return out

    def _line(self, row: Row, across: int, *, chosen: bool) -> list[Segment]:
        cursor = self._style("cursor") if chosen and self.has_focus else None
        sign = _CHOSEN if self.has_focus else _KEPT
        gutter = sign if chosen else _OTHER if row.id is not None else ""
        out = [Segment(gutter, cursor or self._style("mark"))] if gutter else []
        left = across - cell_width(gutter)
        right = clip_text(row.right, left)
        room = left - (cell_width(right) + 1 if right else 0)
        for text, role in row.spans:
            cut = clip_text(text, room)
            room -= cell_width(cut)
            inset = len(cut) - len(cut.lstrip(" "))
            # Blanks apart: pictures of the screen lose those a piece begins with.
            out += [Segment(piece, cursor or self._style(role))
                    for piece in (cut[:inset], cut[inset:]) if piece]
        if room > 0:
            out.append(Segment(" " * room, cursor or self.rich_style))
        if right:
            out += [Segment(" ", cursor or self.rich_style),
                    Segment(right, cursor or self._style("quiet"))]
        return out
