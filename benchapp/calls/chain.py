"""A piece that goes from program to program until one of them makes it heard."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from benchapp.calls.pieces import Playing
from benchapp.calls.process import Ending


class Attempt(Protocol):
    """One program at work on one piece."""

    @property
    def ended(self) -> Ending | None:
        """How it ended; None while it is at work."""
        ...

    @property
    def said(self) -> str:
        """What went wrong; empty if nothing did."""
        ...

    def over(self) -> bool:
        """Whether it has ended."""
        ...

    def stop(self) -> None:
        """End it now."""
        ...


@dataclass(frozen=True, slots=True)
class Way:
    """One way to make a piece heard: the program's name, and how to begin."""

    name: str
    begin: Callable[[], Attempt]


#: Takes note of a program that did not do its part: its name, how it ended, why.
Failed = Callable[[str, Ending, str], None]


class PlayerChain:
    """A piece on its way through the ways there are."""

    def __init__(self, ways: Sequence[Way], last: Callable[[], Playing], failed: Failed) -> None:
        """Begin by the first way.

        Args:
            ways: Tried one after the other, until one ends well.
            last: What is left when none did.
            failed: Told of each that did not.
        """
        self._left, self._last, self._failed = list(ways), last, failed
        self._name = ""
        self._now: Attempt | None = None
        self._end: Playing | None = None
        self._next()

    def _next(self) -> None:
        if self._left:
            way = self._left.pop(0)
            self._name, self._now = way.name, way.begin()
        else:
            self._now, self._end = None, self._last()

    def over(self) -> bool:
        """Whether it was heard, or nothing is left to try."""
        while self._now is not None and self._now.over():
            ended = self._now.ended or "well"
            if ended in ("well", "stopped"):
                return True
            self._failed(self._name, ended, self._now.said)
            self._next()
        return self._end is not None and self._end.over()

    def stop(self) -> None:
        """End what sounds, and try nothing further."""
        self._left.clear()
        if self._now is not None:
            self._now.stop()
        if self._end is not None:
            self._end.stop()


class Then:
    """A piece in two parts: a program prepares it, and what it made is played."""

    def __init__(self, first: Attempt, then: Callable[[], Playing]) -> None:
        """Wait for `first`, which has begun, then go on with `then`."""
        self._first, self._then = first, then
        self._playing: Playing | None = None
        self._stopped = False

    def over(self) -> bool:
        """Whether both parts are over."""
        if self._playing is None:
            if not self._first.over():
                return False
            if self._stopped:
                return True
            self._playing = self._then()
        return self._playing.over()

    def stop(self) -> None:
        """End the part that is going on."""
        self._stopped = True
        self._first.stop()
        if self._playing is not None:
            self._playing.stop()
