"""The silence after a line was put away by the pedal: letters and digits do nothing in it.

The foot may rest on the pedal, or the hand go on typing: what was meant for the line would
judge a sheet, or end a step. Pure: moments are those of the keys.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

SILENCE_MS: Final = 1_500
"""So long no printable key comes before one counts again, milliseconds."""


@dataclass(frozen=True, slots=True)
class Hush:
    """What is remembered of the keys since a line was put away.

    Attributes:
        last_ms: When the last printable key came that did nothing; None: all keys count.
    """

    last_ms: float | None = None

    def begun(self, t_ms: float) -> Hush:
        """A line was put away by a key at that moment, on the keys' own clock."""
        return Hush(t_ms)

    def key(self, t_ms: float) -> tuple[Hush, bool]:
        """A printable key came: how things stand after it, and whether it does nothing."""
        if self.last_ms is None or t_ms - self.last_ms >= SILENCE_MS:
            return Hush(), False
        return Hush(max(t_ms, self.last_ms)), True
