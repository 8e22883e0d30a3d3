"""The switch: which keys are its pedals, and whether this event of one counts. Pure.

One pedal is a tread; sets have others that take back, or mark a sheet to be looked
at again. All of them stand behind one quiet gate: a foot that hits two at once
does one thing, that of the first.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final, Literal, Self

from benchapp.screens.gate import Gate

Pedal = Literal["tread", "take back", "look again"]
Heard = Pedal | Literal["too soon", "another key"]

#: Terminals of the xterm family send F13 to F24 as Shift with F1 to F12.
_FAR: Final = {f"f{n + 12}": f"shift+f{n}" for n in range(1, 13)}


@dataclass(frozen=True, slots=True)
class PedalSwitch:
    """The learnt lists of keys, with the quiet gate behind them.

    Attributes:
        keys: Keys of all its pedals, as the framework names them.
        gate: What it remembers of the events before.
        back / again: Those of them that take back, and that mark a sheet.
    """

    keys: frozenset[str]
    gate: Gate
    back: frozenset[str] = frozenset()
    again: frozenset[str] = frozenset()

    @classmethod
    def of(cls, treads: Iterable[str], quiet_ms: int, *, back: Iterable[str] = (),
           again: Iterable[str] = ()) -> Self:
        """The switch of these keys; F13 to F24 in either of their spellings.

        Args:
            treads: Keys as the framework names them.
            quiet_ms: Silence asked for after each event; 0 takes every one.
            back: Keys of the pedal that takes back.
            again: Keys of the pedal that marks a sheet to be looked at again.
        """
        tread, other, third = _spelt(treads), _spelt(back), _spelt(again)
        return cls(tread | other | third, Gate(quiet_ms), other - tread, third - other - tread)

    def press(self, key: str, t_ms: float) -> tuple[PedalSwitch, Heard]:
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
        return replace(self, gate=gate), self._pedal(key) if counts else "too soon"

    def _pedal(self, key: str) -> Pedal:
        return "take back" if key in self.back else "look again" if key in self.again else "tread"


def _spelt(keys: Iterable[str]) -> frozenset[str]:
    named = frozenset(keys)
    return named | {_FAR[key] for key in named if key in _FAR}
