"""What must not be missed: a book that cannot keep, a window that does not hear."""

from __future__ import annotations

from typing import Any, Final

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import Screen

from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.glyphs import fitting_height
from benchapp.screens.widgets.numerals import Numerals
from benchapp.screens.widgets.plain_text import Line, Para

_WORDS: Final = ("NOT LISTENING", "NOT HEARD", "NOT")
"""The first of these that fits is drawn."""
_HOW: Final = SafeText(
    "NOT LISTENING: the keys and the pedal go to another window. Come back here.")


class BookBanner(Para):
    """What is wrong with the book; stands at the top until it is mended."""

    DEFAULT_CSS = """
    BookBanner {
        dock: top;
        max-height: 4;
        padding: 0 1;
        background: $call;
        color: $call-text;
        text-style: bold;
    }
    """


class NotListening(Vertical):
    """The terminal said that its keys go elsewhere; covers the foot of the screen."""

    DEFAULT_CSS = """
    NotListening {
        dock: bottom;
        height: auto;
        padding: 1 1 0 1;
        background: $call;
        color: $call-text;
        align-horizontal: center;
    }
    NotListening Numerals { color: $call-text; }
    NotListening .how { text-style: bold; text-align: center; }
    """

    def compose(self) -> ComposeResult:
        """The words as large as they fit, and what to do."""
        across = self.app.size.width - 2
        drawn = ((words, fitting_height(words, across, 7)) for words in _WORDS)
        words, high = next(((w, h) for w, h in drawn if h is not None), ("", None))
        if high is not None:
            yield Numerals(words, height=high)
        yield Line(_HOW, classes="how")


def show_banners(screen: Screen[Any], fault: str, *, away: bool) -> None:
    """Have what must not be missed stand on a screen as long as it is so."""
    # Among the screen's own only: a query goes through every widget, four times a second.
    book = next((w for w in screen.children if isinstance(w, BookBanner)), None)
    if fault and book is None:
        screen.mount(BookBanner(sanitize(fault)))
    elif book is not None and fault:
        book.set(sanitize(fault))
    elif book is not None:
        book.remove()
    blurred = next((w for w in screen.children if isinstance(w, NotListening)), None)
    if away and blurred is None:
        screen.mount(NotListening())
    elif not away and blurred is not None:
        blurred.remove()
