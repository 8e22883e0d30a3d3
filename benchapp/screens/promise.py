"""When the wanted number will be met, planned beside the screen so that no key waits for it.

One plan is made at a time, anew after every action and now and then as time goes by. What it
found is picked up when the screen is next shown; until then what was said before stands.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from textual.worker import Worker

from benchapp.session.ahead import Ahead, ahead
from benchapp.session.view import BenchView

if TYPE_CHECKING:
    from benchapp.screens.bench_talk import BenchTalk

#: Without an action it is planned again after so long, in milliseconds: a step may drag on.
_EVERY: Final = 5 * 60_000


class Promise:
    """`10 by 16:47`, as the last plan has it."""

    def __init__(self) -> None:
        """Nothing is promised yet."""
        self._found: Ahead | None = None
        self._worker: Worker[Ahead | None] | None = None
        self._for: tuple[object, ...] = ()

    def words(self, screen: BenchTalk, shown: BenchView) -> str:
        """What is promised now; empty where nothing is. Never waits."""
        if self._worker is not None and self._worker.is_finished:
            self._found, self._worker = self._worker.result, None
        room, now = screen.desk.workshop.room, screen.desk.now()
        state = (room.bench, len(room.journal), room.t_at(now) // _EVERY)
        if self._worker is None and state != self._for:
            self._for, before = state, self._found
            self._worker = screen.run_worker(
                lambda: ahead(room, now, before), thread=True, exit_on_error=False,
                group="promise")
        found = self._found
        if (found is None or found.session != room.bench or found.wanted != shown.wanted
                or shown.enough or shown.closed):
            return ""
        return found.words
