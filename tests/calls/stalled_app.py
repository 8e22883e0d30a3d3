"""A real screen with a caller: it draws all the time, and notes what its terminal did to it."""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path

from textual.app import ComposeResult

from benchapp.calls.caller import Caller
from benchapp.calls.found import FoundPlayers, Program
from benchapp.calls.players import BellPlayer
from benchapp.calls.ringer import Rang
from benchapp.calls.schedule import Deadline, Plan
from benchapp.calls.system import SystemPlayer
from benchapp.clock import SystemClock
from benchapp.safe_text import sanitize
from benchapp.screens.app_base import Base
from benchapp.screens.widgets.plain_text import Line


class Stalled(Base[None]):
    """Fills its screen anew thirty times a second."""

    longest_s = 0.0
    _last = 0.0
    _drawn = 0

    def compose(self) -> ComposeResult:
        """As many lines as there is room for."""
        for _ in range(24):
            yield Line(sanitize("ready"))

    def on_mount(self) -> None:
        """Begin to draw."""
        self._last = time.monotonic()
        self.set_interval(1 / 30, self.draw)

    def draw(self) -> None:
        """Change every cell, and keep how long the loop stood still."""
        now = time.monotonic()
        self.longest_s, self._last = max(self.longest_s, now - self._last), now
        self._drawn += 1
        for line in self.query(Line):
            line.set(sanitize("abcdefgh"[self._drawn % 8] * 79))

    def on_key(self) -> None:
        """Any key ends it."""
        self.exit()


def main(program: str, folder: Path, dues_ms: list[int]) -> None:
    """Run until a key comes; then say what was called, and how long the screen was dead."""
    clock = SystemClock()

    def boot_ms() -> int:
        return clock.now().boot_ns // 1_000_000

    player = SystemPlayer(FoundPlayers((Program("player", (program,)),)), "loud", folder,
                          BellPlayer(lambda text: None), boot_ms)  # fmt: skip
    caller = Caller(player, boot_ms)
    caller.start()
    start = boot_ms()
    caller.plan(Plan(tuple(Deadline(f"call {ms}", start + ms) for ms in dues_ms)))
    (folder / "start").write_text(str(start))
    app = Stalled()
    app.start()
    rangs = [(r.at_ms - start, r.late_ms, len(r.sound.calls)) for r in caller.reports()
             if isinstance(r, Rang)]  # fmt: skip
    caller.stop()
    (folder / "told").write_text(json.dumps({"rangs": rangs, "dead_s": app.longest_s}))


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]), [int(a) for a in sys.argv[3:]])
