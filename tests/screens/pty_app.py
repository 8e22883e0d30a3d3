"""A small app for a real pseudo-terminal: it shows which keys it got, and in what order."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult

from benchapp.safe_text import sanitize
from benchapp.screens.app_base import Base
from benchapp.screens.widgets.plain_text import Line


class Keys(Base[None]):
    """Shows the number of keys so far and the last one."""

    count = 0

    def compose(self) -> ComposeResult:
        """One line."""
        yield Line(sanitize("ready"))

    def keys_dropped(self) -> None:
        """Say so, and start a timer, as a message that passes does."""
        super().keys_dropped()
        self.set_timer(0.01, lambda: self.query_one(Line).set(sanitize("its timer went")))

    def on_key(self, event: events.Key) -> None:
        """Count and show."""
        self.count += 1
        self.query_one(Line).set(sanitize(f"<{self.count}:{event.key}>"))


if __name__ == "__main__":
    app = Keys()
    app.start()
    raise SystemExit(app.return_code)
