"""The half second after a menu: a key that was meant for it does nothing to what lies below.

A digit typed once too often would else be a grade. Pure: moments are those of the
keys, on any clock that runs steadily.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

AFTER_MS: Final = 500
"""How long no key does anything, milliseconds (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class AfterMenu:
    """What is remembered between two keys.

    Attributes:
        key_ms: When the last key came; None before any.
        closed_ms: When a menu closed last: the moment of the key that closed it, or None.
    """

    key_ms: float | None = None
    closed_ms: float | None = None

    def key(self, t_ms: float) -> AfterMenu:
        """A key came, milliseconds on the keys' own clock."""
        return replace(self, key_ms=t_ms)

    def closed(self) -> AfterMenu:
        """A menu closed, by the last key that came."""
        return replace(self, closed_ms=self.key_ms)

    def too_soon(self, t_ms: float) -> bool:
        """Whether a key that comes now may have been meant for the menu."""
        return self.closed_ms is not None and t_ms - self.closed_ms < AFTER_MS
