"""The silence after keys that were meant for something else: printable keys do nothing in it.

A line was put away by the pedal and the hand goes on typing, or a text was begun where a menu
or the Bench waits for one key: what follows would judge a sheet, or end a step. Pure: moments
are those of the keys.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

SILENCE_MS: Final = 1_500
"""The silence after a line was put away, milliseconds."""


@dataclass(frozen=True, slots=True)
class Hush:
    """What is remembered of the keys since the silence was asked for.

    Attributes:
        last_ms: When the last printable key came that did nothing; None: all keys count.
        silence_ms: So long no printable key comes before one counts again, milliseconds.
    """

    last_ms: float | None = None
    silence_ms: float = SILENCE_MS

    def begun(self, t_ms: float) -> Hush:
        """A key at that moment, on the keys' own clock, began the silence."""
        return replace(self, last_ms=t_ms)

    def key(self, t_ms: float) -> tuple[Hush, bool]:
        """A printable key came: how things stand after it, and whether it does nothing."""
        if self.last_ms is None or t_ms - self.last_ms >= self.silence_ms:
            return replace(self, last_ms=None), False
        return replace(self, last_ms=max(t_ms, self.last_ms)), True
