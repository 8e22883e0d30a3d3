"""The caller: a thread that keeps the deadlines itself, whatever the screen is doing.

A terminal that stops reading freezes everything that draws. So the screen only hands
over plans; the thread waits, sounds and reports. It rests on the boot clock: a wall
clock set to another time moves nothing, and after a closed lid it looks again within
a second, because no wait is longer.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Final

from benchapp.calls.phrases import why_not_spoken
from benchapp.calls.pieces import Player, Trouble
from benchapp.calls.process import BootMs
from benchapp.calls.ringer import Report, Ringer
from benchapp.calls.schedule import Plan, Sound
from benchapp.calls.tones import Kind

#: Waits until the event is set or so many seconds have passed.
Wait = Callable[[threading.Event, float | None], object]

LONGEST_WAIT_S: Final = 1.0
"""A system's waits stand still while it sleeps: so the clock is read again this often."""
_STOP_S: Final = 2.0


def _wait(wake: threading.Event, seconds: float | None) -> object:
    return wake.wait(seconds)


class Caller:
    """Sounds what a plan says, from a thread of its own.

    Every method may be called from any thread and returns at once; `stop` waits at
    most two seconds. Nothing raises because of sound.
    """

    def __init__(
        self, player: Player, boot_ms: BootMs, *, wait: Wait = _wait, pace: float = 1.0
    ) -> None:
        """Make it; nothing sounds before `start`.

        Args:
            player: Makes it heard.
            boot_ms: Reads a clock that goes on while the machine sleeps, milliseconds.
            wait: How the thread waits; tests put in one that moves their clock.
            pace: How many times as fast as the world `boot_ms` runs, in a rehearsal.
        """
        self._boot_ms, self._wait, self._pace = boot_ms, wait, pace
        self._ringer = Ringer(player)
        self._plan = Plan()
        self._wake = threading.Event()
        self._stopping = False
        self._lock = threading.Lock()
        self._wishes: list[tuple[Sound, bool]] = []
        self._refused: list[Trouble] = []
        self._thread = threading.Thread(target=self._run, name="caller", daemon=True)

    def start(self) -> None:
        """Begin; once."""
        self._thread.start()

    def plan(self, plan: Plan) -> None:
        """Hand over what may sound from now on, in place of the plan before.

        What has sounded is remembered, so the same plan may come again at any time.
        """
        self._plan = plan
        self._wake.set()

    def say(self, phrase: str, *, kind: Kind | None = None, instead: bool = False) -> None:
        """Say something now, after a tone or without one; a call that is due goes before.

        Args:
            phrase: The words; empty for the tone alone. A text with control characters
                is not said, and reported.
            kind: The tone before it.
            instead: In place of what was to be said before it, calls apart.
        """
        why = why_not_spoken(phrase) if phrase else None
        with self._lock:
            if why is None:
                self._wishes.append((Sound(kind, phrase), instead))
            else:
                self._refused.append(
                    Trouble("a phrase", "refused", f"benchapp did not speak a phrase: {why}.")
                )
        self._wake.set()

    def tone(self, kind: Kind) -> None:
        """Sound a tone now, such as the one that confirms a tread."""
        self.say("", kind=kind)

    def reports(self) -> tuple[Report, ...]:
        """What began to sound and what went wrong since this was last asked."""
        with self._lock:
            refused, self._refused = self._refused, []
        told: list[Report] = list(refused)
        while self._ringer.reports:
            told.append(self._ringer.reports.popleft())
        return tuple(told)

    def stop(self) -> None:
        """Fall silent and end the thread."""
        self._stopping = True
        self._wake.set()
        if self._thread.is_alive() and self._thread is not threading.current_thread():
            self._thread.join(_STOP_S)

    def _run(self) -> None:
        self._wake.clear()
        while not self._stopping:
            self._wait(self._wake, self._turn())
            # Cleared before the plan is read again, so that no wake is lost in between.
            self._wake.clear()
        self._ringer.quiet()

    def _turn(self) -> float | None:
        """One turn; seconds until the next. A fault of ours may cost one sound, not the day."""
        with self._lock:
            wishes, self._wishes = self._wishes, []
        for wish, instead in wishes:
            self._ringer.wish(wish, instead=instead)
        try:
            rest_ms = self._ringer.turn(self._boot_ms(), self._plan)
        except Exception as error:  # noqa: BLE001 - the outermost edge of this thread
            text = f"A call could not be made ({type(error).__name__}); watch the screen."
            self._ringer.reports.append(Trouble("the calls", "failed", text))
            return LONGEST_WAIT_S
        if rest_ms is None:
            return None
        return min(LONGEST_WAIT_S, rest_ms / 1000 / self._pace)
