"""A line to type on that takes no control characters."""

from __future__ import annotations

from textual import events
from textual.widgets import Input

from benchapp.safe_text import why_refused


class CleanInput(Input):
    """An input into which no control character gets, not even pasted."""

    def _on_paste(self, event: events.Paste) -> None:
        if why_refused(event.text, newlines=True) is None:
            super()._on_paste(event)
        event.prevent_default()
        event.stop()
