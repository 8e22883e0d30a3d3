"""The quiet gate: one press of the switch is one tread.

A terminal tells presses but no releases, so a key held down, a bouncing pedal
and a second press look alike. The first event acts; after it the switch has to
be silent for `quiet_ms` since the *last* event before another one counts. A
lock-out of fixed length after the first event is not enough: a pedal under a
resting foot repeats for minutes and would pass it again and again. Pure.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

QUIET_MS: Final = 750
"""Silence asked for when the printer's own repeat delay was not measured."""

_MARGIN: Final = 1.3


@dataclass(frozen=True, slots=True)
class Gate:
    """What the gate remembers between two events.

    Attributes:
        quiet_ms: Silence needed before an event counts; 0 takes every event.
        last_ms: When the last event came, counted or not; None before any.
    """

    quiet_ms: int = QUIET_MS
    last_ms: float | None = None

    def event(self, t_ms: float) -> tuple[Gate, bool]:
        """Take one event of the switch.

        Args:
            t_ms: When it came, milliseconds on any clock that runs steadily.

        Returns:
            The gate after it, and whether it counts as a tread. An event that
            seems to come before the last one never shortens the silence.
        """
        if self.last_ms is None:
            return replace(self, last_ms=t_ms), True
        accepted = t_ms - self.last_ms >= self.quiet_ms if self.quiet_ms > 0 else True
        return replace(self, last_ms=max(self.last_ms, t_ms)), accepted

def quiet_for(repeat_delay_ms: float) -> int:
    """Give the silence to ask for, from a measured key repeat delay.

    The first repeat of a held key comes `repeat_delay_ms` after the press and
    must still find the gate shut, with a margin for a busy machine.

    Args:
        repeat_delay_ms: Time from a press to its first repeat, milliseconds.
    """
    return max(QUIET_MS, round(_MARGIN * repeat_delay_ms))
