"""The far view painted: pictures and a little text, in one widget without parts."""

from __future__ import annotations

from itertools import groupby
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from benchapp.screens.far import Far, Span, draw_far_view

_BLOCK = "█"


class FarView(Widget):
    """What is read from the press, as large as it fits."""

    DEFAULT_CSS = """
    FarView { width: 1fr; height: 1fr; padding: 0 1; background: $background;
        color: $foreground; }
    FarView > .far--name { color: $foreground; text-style: bold; }
    FarView > .far--care { color: $fault; text-style: bold; }
    FarView > .far--count { color: $count; }
    FarView > .far--hands { color: $wash; text-style: bold; }
    FarView > .far--clock { color: $mark; text-style: bold; }
    FarView > .far--text { color: $quiet; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "far--name", "far--care", "far--count", "far--hands", "far--clock", "far--text"}

    def __init__(self, *, id: str | None = None) -> None:
        """Nothing stands there yet."""
        super().__init__(id=id)
        self._what: Far | None = None
        self._drawn: tuple[object, list[list[Span]]] = (None, [])

    def set(self, what: Far) -> None:
        """Show something else; nothing is repainted when it is the same."""
        if what != self._what:
            self._what = what
            self.refresh()

    def render_line(self, y: int) -> Strip:
        """Paint one row."""
        across, high = self.content_size
        key = (self._what, across, high)
        if self._drawn[0] != key:
            lines = [] if self._what is None else draw_far_view(self._what, across, high)
            self._drawn = (key, lines)
        lines = self._drawn[1]
        spans = lines[y] if y < len(lines) else []
        segments = [s for text, role in spans
                    for s in _segments(text, self.get_component_rich_style(f"far--{role}"))]
        return Strip(segments).adjust_cell_length(across, self.rich_style)


def _segments(text: str, style: Style) -> list[Segment]:
    """A picture in runs of one sign, each block painted on itself, so that no seam shows."""
    if _BLOCK not in text and "▀" not in text and "▄" not in text:
        return [Segment(text, style)]
    solid = style + Style(bgcolor=style.color)
    return [Segment("".join(run), solid if sign == _BLOCK else style)
            for sign, run in groupby(text)]
