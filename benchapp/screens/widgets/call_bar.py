"""The bar of what calls, on every screen that has no place of its own for it.

It stands until the call is answered, takes a row of the screen instead of lying over one, and
counts by the second.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from textual.screen import Screen

from benchapp.quantities import mmss
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.widgets.keys import key_words
from benchapp.screens.widgets.plain_text import Line
from benchapp.views.bench import CallView

ANSWER_KEY: Final = "f6"
"""Answers what calls on every screen: no letter, so a line of text does not take it."""


def answer_words(call: CallView) -> str:
    """The key, and what it does: `F6 out` for paper in the water."""
    return f"{key_words(ANSWER_KEY)} {'out' if call.id.startswith('soak ') else 'answer'}"


def call_bar_words(calling: Sequence[CallView]) -> SafeText:
    """The most harmful call with its count and its key, and how many more there are."""
    first = calling[0]
    whose = "" if first.session is None else f" ({first.session})"
    more = "" if len(calling) == 1 else f" · and {len(calling) - 1} more"
    return sanitize(f"▶ CALLS ▶ {first.text}{whose}: {mmss(first.late_ms)} over"
                   f" · {answer_words(first)}{more}")


class CallBar(Line):
    """One row at the top of a screen."""

    DEFAULT_CSS = """
    CallBar { background: $call; color: $call-text; text-style: bold; padding: 0 1; }
    """


def show_calls(screen: Screen[object], calling: Sequence[CallView]) -> None:
    """Have the bar on a screen as long as something calls.

    Among the screen's own only: a query goes through every widget, four times a second.
    """
    bar = next((w for w in screen.children if isinstance(w, CallBar)), None)
    if not calling:
        if bar is not None:
            bar.remove()
    elif bar is None:
        screen.mount(CallBar(call_bar_words(calling)), before=0)
    else:
        bar.set(call_bar_words(calling))
