"""When the wanted number will be met, planned beside the screen so that no key waits for it.

One plan is made at a time, anew after every action and now and then as time goes by. What it
found is picked up when the screen is next shown; until then what was said before stands. What
plans is loaded after the Bench has been seen once: its first frame does without.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from textual.worker import Worker

from benchapp.safe_text import SafeText, cell_width, clip_text, sanitize
from benchapp.screens.background import in_background
from benchapp.screens.desk import Desk

if TYPE_CHECKING:
    from benchapp.events.entry import Moment
    from benchapp.screens.bench_talk import BenchTalk
    from benchapp.screens.plan_ahead import Ahead, Kept
    from benchapp.session.state import StudioState
    from benchapp.views.bench import BenchView

#: Without an action it is planned again after so long, in milliseconds: a step may drag on.
_EVERY: Final = 5 * 60_000
_BETWEEN: Final = " · "


class Promise:
    """`10 by 16:47`, as the last plan has it, and what should be known in time."""

    def __init__(self) -> None:
        """Nothing is promised yet."""
        self._found: Ahead | None = None
        self._kept: Kept | None = None
        self._worker: Worker[None] | None = None
        self._for: tuple[object, ...] = ()
        self._looks = 0

    def words(self, screen: BenchTalk, shown: BenchView) -> str:
        """What is promised now; empty where nothing is. Never waits."""
        self._looks += 1
        room, now = screen.desk.workshop.room, screen.desk.now()
        state = (room.bench, len(room.journal), room.t_at(now) // _EVERY, screen.desk.taken_over)
        idle = self._worker is None or self._worker.is_finished
        if self._looks > 1 and idle and state != self._for:
            self._for = state
            self._worker = screen.run_worker(
                self._plan(screen.desk, room, now), exit_on_error=False, group="promise")
        found = self._stands(room, shown)
        return "" if found is None else found.words

    def line(self, room: StudioState, shown: BenchView, across: int, *, full: bool = True,
             ) -> SafeText:
        """What should be known in time, as much of it as fits on one line; `full`: also the end."""
        found = self._stands(room, shown)
        line = ""
        for note in () if found is None else found.notes if full else found.urgent:
            longer = f"{line}{_BETWEEN}{note}" if line else note
            if line and cell_width(sanitize(longer)) > across:
                break
            line = longer
        return clip_text(sanitize(line), across)

    def _stands(self, room: StudioState, shown: BenchView) -> Ahead | None:
        found = self._found
        if (found is None or found.session != room.bench or found.wanted != shown.wanted
                or shown.enough or shown.closed):
            return None
        return found

    async def _plan(self, desk: Desk, room: StudioState, now: Moment) -> None:
        from benchapp.screens.plan_ahead import kept_of, plan_promise

        if self._kept is None or self._kept.session != room.bench:
            self._kept = await kept_of(desk, room)
        self._found = await in_background(plan_promise, room, now, self._found, self._kept)
