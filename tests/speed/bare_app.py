"""What the screens are measured beside: the least a Textual app can be.

`python bare_app.py` shows one line and counts keys in it; with a number it also counts
down so many clocks, each in a line of its own that is touched once a second, and a key
touches all of them, as a step that changes touches most of the Bench.
"""

from __future__ import annotations

import sys
import time

from textual import events
from textual.app import App, ComposeResult
from textual.widgets import Static


class Bare(App[None]):
    """One line, and clocks if any are asked for."""

    def __init__(self, clocks: int) -> None:
        super().__init__()
        self._clocks = clocks
        self._keys = 0
        self._start = time.monotonic()

    def compose(self) -> ComposeResult:
        """The line, and a line for each clock."""
        yield Static("ready 0", id="line", markup=False)
        for n in range(self._clocks):
            yield Static("", id=f"clock{n}", markup=False)

    def on_mount(self) -> None:
        """Begin to count where there is something to count."""
        if self._clocks:
            self.set_interval(1, self._count)

    def _count(self) -> None:
        left = 7200 - int(time.monotonic() - self._start)
        for n in range(self._clocks):
            self.query_one(f"#clock{n}", Static).update(
                f"{left // 60}:{left % 60:02} {str(self._keys) * 60}"[:76])

    def on_key(self, event: events.Key) -> None:
        """Count it."""
        self._keys += 1
        self.query_one("#line", Static).update(f"ready {self._keys}")
        self._count()


if __name__ == "__main__":
    Bare(int(sys.argv[1]) if len(sys.argv) > 1 else 0).run(mouse=False)
