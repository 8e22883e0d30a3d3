"""What stands on top of the Studio: what calls now, and what today left."""

from __future__ import annotations

import textwrap
from typing import ClassVar

from rich.segment import Segment
from textual import events
from textual.strip import Strip
from textual.widget import Widget

from benchapp.quantities import mmss
from benchapp.safe_text import SafeText, clip_text, sanitize
from benchapp.screens.widgets.call_bar import call_bar_words
from benchapp.screens.widgets.keys import key_words
from benchapp.views.bench import CallView


class LeftStrip(Widget):
    """What calls now, and what today left: a line each, with the key that settles it."""

    DEFAULT_CSS = """
    LeftStrip { height: auto; padding: 0 1; color: $foreground; }
    LeftStrip > .left--call { background: $call; color: $call-text; text-style: bold; }
    LeftStrip > .left--key { color: $mark; text-style: bold; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {"left--call", "left--key"}

    def __init__(self, *, id: str | None = None) -> None:
        """Nothing at first."""
        super().__init__(id=id)
        self._calls: tuple[SafeText, ...] = ()
        self._left: tuple[tuple[SafeText, SafeText], ...] = ()

    def set(self, calling: tuple[CallView, ...], left: list[tuple[str, str]]) -> None:
        """Show these."""
        live = [c for c in calling if c.calling]
        self._calls = (SafeText(f" {call_bar_words(live)} "),
                       *map(_other, live[1:])) if live else ()
        self._left = tuple((sanitize(key_words(key) or "·"), sanitize(words))
                           for key, words in left)
        shown = bool(self._calls or self._left)
        if shown and self.display:
            # The framework loses a layout that is asked for while one is under way, and a line
            # that comes right after the first frame had no row; what is newly shown is laid out.
            self.display = False
        self.display = shown
        self.refresh(layout=True)

    def get_content_height(self, container: object, viewport: object, width: int) -> int:
        """The rows they need."""
        return len(self._calls) + len(self._lines(width))

    def _lines(self, across: int) -> list[tuple[SafeText, SafeText]]:
        """What is left, each with its key; a long one goes on below."""
        return [(key if n == 0 else SafeText(""), SafeText(line)) for key, words in self._left
                for n, line in enumerate(textwrap.wrap(words, max(20, across - 3)) or [""])]

    def render_line(self, y: int) -> Strip:
        """Paint one row."""
        across = self.content_size.width
        if y < len(self._calls):
            style = self.get_component_rich_style("left--call")
            return Strip([Segment(clip_text(self._calls[y], across), style)]).adjust_cell_length(
                across, self.rich_style)
        place = y - len(self._calls)
        lines = self._lines(across)
        if place >= len(lines):
            return Strip.blank(across, self.rich_style)
        key, words = lines[place]
        key_style = self.get_component_rich_style("left--key")
        return Strip([Segment(f"{key:<3}", key_style),
                      Segment(clip_text(words, across - 3), self.rich_style)]).adjust_cell_length(
                          across, self.rich_style)

    def on_resize(self, event: events.Resize) -> None:
        """Cut anew."""
        self.refresh()


def _other(call: CallView) -> SafeText:
    """A call behind the one that is answered first."""
    whose = f" ({call.session})" if call.session else ""
    return sanitize(f" Calling: {call.text}{whose}: {mmss(call.late_ms)} over ")
