"""What the terminal sent and the app has not taken yet: bounded, whatever is sent. Pure.

A screen takes a few hundred keys a second; a stuck key, a book left on the keyboard or a file
sent to the terminal gives more. The framework would queue all of it, and act on it for minutes
after it ended. Here the app gets a few at a time and some more wait. If even more come, it is a
flood: nobody meant these keys, so they are dropped, with all that come until the line was quiet.
The gate of the switch sees that silence too, so that no dropped key makes a tread of the next.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from typing import Final, Generic, TypeVar

T = TypeVar("T")

AHEAD: Final = 32
"""So many may be with the app: what an end by a signal has to wait for."""
MOST: Final = 1_000
"""So many may wait; more are a flood. No hand types that far ahead, and a paste is one message."""
QUIET_MS: Final = 2_000
"""A flood is over after so long without anything: longer than any gate of the switch."""
UNREAD: Final = 256 * 1024
"""So many bytes may come without a message: a paste that never ends is a flood too."""


class Backlog(Generic[T]):
    """The messages that wait, and whether there is a flood.

    Attributes:
        flooded: Whether what comes is dropped now.
    """

    def __init__(self) -> None:
        """Nothing waits."""
        self._waiting: deque[T] = deque()
        self._last_ms = 0.0
        self._unread = 0
        self.flooded = False

    def __len__(self) -> int:
        """How many wait."""
        return len(self._waiting)

    def heard(self, count: int, t_ms: float) -> None:
        """So many bytes came at this moment, milliseconds on a clock that runs steadily."""
        self._last_ms = t_ms
        self._unread += count
        if self._unread > UNREAD:
            self._flood()

    def add(self, message: T) -> None:
        """A message waits to be taken."""
        self._unread = 0
        if self.flooded:
            return
        self._waiting.append(message)
        if len(self._waiting) > MOST:
            self._flood()

    def take(self, behind: int) -> Iterator[T]:
        """Those that the app can have now; `behind` are with it already."""
        for _ in range(min(AHEAD - behind, len(self._waiting))):
            yield self._waiting.popleft()

    def has_ended(self, t_ms: float) -> bool:
        """Whether a flood ends now, as nothing came for `QUIET_MS`; said once."""
        if not self.flooded or t_ms - self._last_ms < QUIET_MS:
            return False
        self.flooded = False
        return True

    def _flood(self) -> None:
        self._waiting.clear()
        self._unread = 0
        self.flooded = True
