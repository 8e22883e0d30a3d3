"""The head of a side, and the wash between the sides: told by shape as well as by colour."""

from __future__ import annotations

from typing import Final

from rich.segment import Segment
from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from benchapp.safe_text import SafeText, cell_width, clip_text

_FILL: Final = {"inky": "█", "clean": "─", "wash": "≈", "wait": "·", "none": " "}
_WASH: Final = "WASH"


class Band(Widget):
    """Words in the middle of a row of one sign: solid for ink, a thin rule for clean hands."""

    DEFAULT_CSS = """
    Band { width: 1fr; height: 1; text-style: bold; }
    """

    def __init__(self, kind: str, words: SafeText, *, id: str | None = None) -> None:
        """Make the band.

        Args:
            kind: `inky`, `clean`, `wash`, `wait` or `none`: the sign it is filled with.
            words: Whose hands.
            id: Name in the widget tree.
        """
        super().__init__(id=id)
        self._kind = kind
        self._words = words

    def set(self, kind: str, words: SafeText) -> None:
        """Show another; nothing is repainted when it is the same."""
        if (kind, words) != (self._kind, self._words):
            self._kind, self._words = kind, words
            self.refresh()

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """One row, or three where the style sheet gives them."""
        return 1

    def render_line(self, y: int) -> Strip:
        """Paint a row: the words in the middle one."""
        across, high = self.size
        style = self.rich_style
        fill = _FILL.get(self._kind, " ")
        if y != high // 2:
            return Strip([Segment(self._edge(y, across), style)])
        words = clip_text(SafeText(f" {self._words} " if self._words else ""), across)
        left = (across - cell_width(words)) // 2
        right = across - left - cell_width(words)
        if self._kind == "clean" and high > 1:
            return Strip([Segment("│" + " " * (left - 1) + words + " " * (right - 1) + "│", style)])
        return Strip([Segment(fill * left, style), Segment(words, style),
                      Segment(fill * right, style)])

    def _edge(self, y: int, across: int) -> str:
        """A row above or below the words: solid for ink, a frame for clean hands."""
        if self._kind == "clean" and across > 1:
            ends = "┌┐" if y == 0 else "└┘"
            return f"{ends[0]}{'─' * (across - 2)}{ends[1]}"
        return (_FILL["inky"] if self._kind == "inky" else " ") * across


class WashLine(Widget):
    """The line between the sides, with the word down its middle."""

    DEFAULT_CSS = """
    WashLine { width: 3; height: 1fr; color: $wash; background: $background; text-style: bold; }
    """

    def render_line(self, y: int) -> Strip:
        """Paint one row of the line."""
        top = (self.size.height - len(_WASH)) // 2
        sign = _WASH[y - top] if 0 <= y - top < len(_WASH) else "┃"
        return Strip([Segment(f" {sign} ", self.rich_style)])
