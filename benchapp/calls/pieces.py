"""What a player is given, and what it gives back: tones and phrases in, troubles out. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

from benchapp.calls.tones import Kind


@dataclass(frozen=True, slots=True)
class Tone:
    """One of the three sounds."""

    kind: Kind


@dataclass(frozen=True, slots=True)
class Phrase:
    """Words to be spoken."""

    text: str


Piece = Tone | Phrase


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something of the machine did not do its part; said on screen once, never raised.

    Attributes:
        what: The program or the part of the machine, such as `aplay`.
        why: `missing`, `failed`, `hung` (ended at its deadline) or `refused` (a text).
        text: A sentence for the printer.
    """

    what: str
    why: Literal["missing", "failed", "hung", "refused"]
    text: str


class Playing(Protocol):
    """A piece that sounds."""

    def over(self) -> bool:
        """Whether it has ended, well or not; looks, never waits."""
        ...

    def stop(self) -> None:
        """End it now; nothing if it has ended."""
        ...


class Player(Protocol):
    """Whatever makes pieces heard. It raises nothing and never waits for a sound."""

    def start(self, piece: Piece) -> Playing:
        """Begin a piece; what is in the way is told by `troubles`."""
        ...

    def troubles(self) -> tuple[Trouble, ...]:
        """What went wrong since this was last asked; the same thing only once."""
        ...
