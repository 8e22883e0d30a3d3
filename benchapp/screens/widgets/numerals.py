"""Large numerals: the count of the step in hand, the mark to pencil on the back."""

from __future__ import annotations

from itertools import groupby

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from benchapp.screens.glyphs import HEIGHTS, glyph_rows, glyph_width


class Numerals(Widget):
    """A short text of digits and capitals, some terminal rows high.

    It keeps room for the widest text it is to show, so that a running count
    never moves what stands beside it, and repaints only when its text changes.
    Full blocks are painted with one colour as foreground and background:
    without that, thin seams show between rows in many terminals.
    """

    DEFAULT_CSS = """
    Numerals {
        width: auto;
        height: auto;
    }
    """

    def __init__(
        self,
        text: str = "",
        *,
        height: int = HEIGHTS[0],
        room_for: str = "",
        id: str | None = None,
        classes: str | None = None,
    ) -> None:
        """Make the numerals.

        Args:
            text: What they show at first.
            height: Terminal rows, one of `glyphs.HEIGHTS`.
            room_for: The widest text expected, e.g. `00:00`; its width is
                kept, and a shorter text stands at the right of it.
            id: Name in the widget tree.
            classes: Style classes.
        """
        super().__init__(id=id, classes=classes)
        self._text = text
        self._height = height
        self._room_for = room_for
        self._painted: tuple[object, list[Strip]] | None = None

    @property
    def text(self) -> str:
        """What stands there now."""
        return self._text

    def set(self, text: str) -> None:
        """Show another text; nothing is repainted when it is the same."""
        if text == self._text:
            return
        before = self._cells()
        self._text = text
        self.refresh(layout=self._cells() != before)

    def scale(self, height: int) -> None:
        """Draw in another height, one of `glyphs.HEIGHTS`."""
        if height != self._height:
            self._height = height
            self.refresh(layout=True)

    def get_content_width(self, container: Size, viewport: Size) -> int:
        """Cells of the widest text expected, or of the text if that is wider."""
        return self._cells()

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """The height asked for, in rows."""
        return self._height

    def render_line(self, y: int) -> Strip:
        """Paint one terminal row."""
        style = self.rich_style
        key = (self._text, self._height, self.size.width, style)
        if self._painted is None or self._painted[0] != key:
            self._painted = (key, self._paint(self.size.width, style))
        strips = self._painted[1]
        return strips[y] if y < len(strips) else Strip.blank(self.size.width, style)

    def _cells(self) -> int:
        return max(glyph_width(self._text, self._height), glyph_width(self._room_for, self._height))

    def _paint(self, across: int, style: Style) -> list[Strip]:
        solid = style + Style(bgcolor=style.color)
        strips = []
        for row in glyph_rows(self._text, self._height):
            line = row.rjust(min(across, self._cells()))
            strips.append(Strip(_segments(line, style, solid)).adjust_cell_length(across, style))
        return strips


def _segments(row: str, style: Style, solid: Style) -> list[Segment]:
    """Split a row into runs of one character each.

    A picture of the screen places each run by itself; a run that began with
    blanks would be drawn out of place by some of the readers of such pictures.
    """
    runs = ("".join(run) for _, run in groupby(row))
    return [Segment(run, solid if run[0] == "█" else style) for run in runs]
