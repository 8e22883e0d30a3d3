"""The line at the foot of a screen: which key does what here."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Final

from rich.segment import Segment
from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from benchapp.safe_text import SafeText, cell_width, sanitize
from benchapp.session.actions.spec import KEY_SIGNS

#: How keys are written for people, where the framework's own name is no word.
KEY_WORDS: Final = {
    **KEY_SIGNS, "space": "space", "enter": "enter", "escape": "esc", "backspace": "backspace",
    "minus": "-", "question_mark": "?", "comma": ",", "up": "↑", "down": "↓",
    "left": "←", "right": "→", "delete": "delete", "ampersand": "&",
    "equals_sign": "=",
    "pageup": "page up", "pagedown": "page down",
}


MORE_KEY: Final = "f7"
"""Turns the keys at the foot, on every screen where they do not fit. F5 is a pedal's."""

#: On every page of keys: the way to all of them with their meaning, and the way back, which from
#: the first screen is the way out.
_HELP: Final = "question_mark"
_LEAVE: Final = "q"
#: The keys take at most one row of so many.
SHARE: Final = 8


def key_words(key: str) -> str:
    """A key as it is written for people."""
    known = KEY_WORDS.get(key)
    if known is None and key.startswith("f") and key[1:].isdigit():
        return key.upper()
    return known or key


def key_pages(keys: Sequence[tuple[str, str]], across: int,
              rows: int | None = None) -> list[list[list[tuple[SafeText, SafeText]]]]:
    """Keys on as many pages as they need, each at most so many rows; nothing is cut or left out.

    Args:
        keys: Each with what it does. The way back and help stand on every page.
        across: Cells of a row.
        rows: Rows of a page; None: one page, however many rows it takes.

    Returns:
        Pages of rows of keys with their words; with more than one, each ends with the key that
        turns them.
    """
    whole = _rows(keys, across)
    if rows is None or len(whole) <= rows:
        return [whole]
    back = "escape" if any(key == "escape" for key, _ in keys) else _LEAVE
    kept = [pair for pair in keys if pair[0] in (back, _HELP)]
    pages: list[list[tuple[str, str]]] = []
    for pair in (pair for pair in keys if pair not in kept):
        if pages and len(_rows([*pages[-1], pair, *kept, _turn(99, 99)], across)) <= rows:
            pages[-1].append(pair)
        else:
            pages.append([pair])
    return [_rows([*page, *kept, _turn(n, len(pages))], across) for n, page in enumerate(pages, 1)]


def _turn(page: int, pages: int) -> tuple[str, str]:
    return MORE_KEY, f"more ({page} of {pages})"


def _rows(keys: Sequence[tuple[str, str]], across: int) -> list[list[tuple[SafeText, SafeText]]]:
    lines: list[list[tuple[SafeText, SafeText]]] = [[]]
    used = 0
    for key, words in keys:
        pair = sanitize(key_words(key)), sanitize(words)
        cells = cell_width(pair[0]) + 1 + cell_width(pair[1])
        if lines[-1] and used + cells > across:
            lines.append([])
            used = 0
        lines[-1].append(pair)
        used += cells + 3
    return lines


class KeyLine(Widget):
    """Keys and what they do; where the screen is low, in pages that a key turns."""

    DEFAULT_CSS = """
    KeyLine { width: 1fr; height: auto; dock: bottom; background: $panel; color: $foreground;
        padding: 0 1; }
    KeyLine > .keyline--key { color: $mark; text-style: bold; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {"keyline--key"}

    def __init__(self, keys: Sequence[tuple[str, str]] = (), *, id: str | None = None,
                 share: int = SHARE) -> None:
        """Show keys, each with what it does, on at most one row of the screen's so many."""
        super().__init__(id=id)
        self._share = share
        self._keys = tuple(keys)
        self._page = 0

    def set(self, keys: Sequence[tuple[str, str]]) -> None:
        """Show other keys; nothing is repainted when they are the same."""
        if tuple(keys) != self._keys:
            self._keys = tuple(keys)
            self._page = 0
            self.refresh(layout=True)

    def turn(self) -> bool:
        """Show the next page of keys; False where there is only one."""
        pages = len(self._pages(self.content_size.width))
        self._page = (self._page + 1) % pages
        self.refresh()
        return pages > 1

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """The rows of the fullest page, so that turning moves nothing."""
        return max(1, *map(len, self._pages(width)))

    def render_line(self, y: int) -> Strip:
        """Paint one row."""
        pages = self._pages(self.content_size.width)
        lines = pages[self._page % len(pages)]
        segments: list[Segment] = []
        if y < len(lines):
            key_style = self.get_component_rich_style("keyline--key")
            for key, words in lines[y]:
                # A run that began with a blank would be drawn out of place in pictures.
                segments += [Segment(f"{key} ", key_style), Segment(f"{words}   ", self.rich_style)]
        return Strip(segments).adjust_cell_length(self.content_size.width, self.rich_style)

    def _pages(self, across: int) -> list[list[list[tuple[SafeText, SafeText]]]]:
        # On a card the keys are part of the text, and few.
        most = None if self.screen.is_modal else max(2, self.app.size.height // self._share)
        return key_pages(self._keys, across, most)
