"""What must not be missed: a book that cannot keep, a window that does not hear."""

from __future__ import annotations

from typing import Final

from textual.app import ComposeResult
from textual.containers import Vertical

from benchapp.screens.glyphs import fitting
from benchapp.screens.widgets.numerals import Numerals
from benchapp.screens.widgets.plain_text import Line, Para
from benchapp.shown import Shown

_WORDS: Final = "NOT LISTENING"
_HOW: Final = Shown("NOT LISTENING: the keys and the pedal go to another window. Come back here.")


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
        """The two words as large as they fit, and what to do."""
        across = self.app.size.width - 2
        one = fitting(_WORDS, across, 7)
        if one is not None:
            yield Numerals(_WORDS, height=one)
        else:
            for word in _WORDS.split():
                yield Numerals(word, height=fitting(word, across, 5) or 5)
        yield Line(_HOW, classes="how")
