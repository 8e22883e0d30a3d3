"""The switch: which keys are a tread, and whether this event of it counts. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final, Literal, Self

from benchapp.screens.gate import Gate

Heard = Literal["tread", "too soon", "another key"]

#: Terminals of the xterm family send F13 to F24 as Shift with F1 to F12.
_FAR: Final = {f"f{n + 12}": f"shift+f{n}" for n in range(1, 13)}


@dataclass(frozen=True, slots=True)
class Switch:
    """The learnt list of keys, with the quiet gate behind it.

    Attributes:
        keys: Keys that are a tread, as the framework names them.
        gate: What it remembers of the events before.
    """

    keys: frozenset[str]
    gate: Gate

    @classmethod
    def of(cls, treads: Iterable[str], quiet_ms: int) -> Self:
        """The switch of these keys; F13 to F24 in either of their spellings.

        Args:
            treads: Keys as the framework names them.
            quiet_ms: Silence asked for after each event; 0 takes every one.
        """
        named = frozenset(treads)
        return cls(named | {_FAR[key] for key in named if key in _FAR}, Gate(quiet_ms))

    def press(self, key: str, t_ms: float) -> tuple[Switch, Heard]:
        """Take one key event.

        Args:
            key: As the framework names it.
            t_ms: When it came, on any steady clock, milliseconds.

        Returns:
            The switch after it, and what the event is.
        """
        if key not in self.keys:
            return self, "another key"
        gate, counts = self.gate.event(t_ms)
        return replace(self, gate=gate), "tread" if counts else "too soon"
