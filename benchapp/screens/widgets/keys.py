"""The line at the foot of a screen: which key does what here."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Final

from rich.segment import Segment
from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from benchapp.shown import Shown, visible, width

#: How keys are written for people, where the framework's own name is no word.
KEY_WORDS: Final = {
    "space": "space", "enter": "enter", "escape": "esc", "backspace": "backspace", "plus": "+",
    "minus": "-", "full_stop": ".", "question_mark": "?", "comma": ",",
    "greater_than_sign": ">", "up": "↑", "down": "↓",
    "left": "←", "right": "→", "delete": "delete", "ampersand": "&",
    "equals_sign": "=",
    "pageup": "page up", "pagedown": "page down",
}


def key_words(key: str) -> str:
    """A key as it is written for people."""
    known = KEY_WORDS.get(key)
    if known is None and key.startswith("f") and key[1:].isdigit():
        return key.upper()
    return known or key


class KeyLine(Widget):
    """Keys and what they do, on as many rows as they need."""

    DEFAULT_CSS = """
    KeyLine { width: 1fr; height: auto; dock: bottom; background: $panel; color: $foreground;
        padding: 0 1; }
    KeyLine > .keyline--key { color: $mark; text-style: bold; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {"keyline--key"}

    def __init__(self, keys: Sequence[tuple[str, str]] = (), *, id: str | None = None) -> None:
        """Show keys, each with what it does."""
        super().__init__(id=id)
        self._keys = tuple(keys)

    def set(self, keys: Sequence[tuple[str, str]]) -> None:
        """Show other keys; nothing is repainted when they are the same."""
        if tuple(keys) != self._keys:
            self._keys = tuple(keys)
            self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """The rows the keys need."""
        return max(1, len(self._lines(width)))

    def render_line(self, y: int) -> Strip:
        """Paint one row."""
        lines = self._lines(self.content_size.width)
        segments: list[Segment] = []
        if y < len(lines):
            key_style = self.get_component_rich_style("keyline--key")
            for key, words in lines[y]:
                # A run that began with a blank would be drawn out of place in pictures.
                segments += [Segment(f"{key} ", key_style), Segment(f"{words}   ", self.rich_style)]
        return Strip(segments).adjust_cell_length(self.content_size.width, self.rich_style)

    def _lines(self, across: int) -> list[list[tuple[Shown, Shown]]]:
        lines: list[list[tuple[Shown, Shown]]] = [[]]
        used = 0
        for key, words in self._keys:
            pair = visible(key_words(key)), visible(words)
            cells = width(pair[0]) + 1 + width(pair[1])
            if lines[-1] and used + cells > across:
                lines.append([])
                used = 0
            lines[-1].append(pair)
            used += cells + 3
        return lines
