"""Learning a pedal: what it sends when it is held for a while, and what follows for the gate. Pure.

A terminal tells presses and no releases, so the pedal is asked to be held: the longest
silence inside one hold is the delay before a key repeats, and the gate has to outlast it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median
from typing import Final

from benchapp.recipe.edits import Value
from benchapp.screens.gate import QUIET_MS, quiet_for
from benchapp.screens.switch import Pedal
from benchapp.settings import Preferences, wrong_key

#: What each pedal's keys are called in the preferences.
NAMES: Final[dict[Pedal, str]] = {
    "tread": "treads", "take back": "take back keys", "look again": "look again keys"}
#: Repeat delays go up to a second; a longer silence is between two presses.
_APART_MS: Final = 1_200
#: Fewer events than this are bounce or single presses, not a key that repeats.
_REPEATS: Final = 4
#: A key repeats at least this fast, in milliseconds; slower ones are presses.
_SLOWEST_MS: Final = 250
#: Sequences that the terminal does not know come as eight or more keys at once.
_KEYS_AT_MOST: Final = 4
_STEP_MS: Final = 10


@dataclass(frozen=True, slots=True)
class Sent:
    """What a pedal sent while it was listened to.

    Attributes:
        keys: Its keys, in the order they came, each once.
        events: How many events there were.
        delay_ms / every_ms: Before the first repeat, and from one to the next; None
            where it did not repeat.
    """

    keys: tuple[str, ...] = ()
    events: int = 0
    delay_ms: float | None = None
    every_ms: float | None = None

    @property
    def gate_ms(self) -> int:
        """The silence the gate should ask for, in whole hundredths of a second."""
        asked = QUIET_MS if self.delay_ms is None else quiet_for(self.delay_ms)
        return -(-asked // _STEP_MS) * _STEP_MS


def pedal_signal(events: Sequence[tuple[str, float]]) -> Sent:
    """What these events tell of the pedal.

    Args:
        events: Keys with their moments in milliseconds, in the order they came.
    """
    keys = tuple(dict.fromkeys(key for key, _ in events))
    repeats = [found for key in keys
               for hold in _holds([t for k, t in events if k == key])
               if (found := _repeat(hold)) is not None]
    if not repeats:
        return Sent(keys, len(events))
    delay, every = max(repeats)
    return Sent(keys, len(events), delay, every)


def _holds(times: Sequence[float]) -> list[list[float]]:
    """The moments of one key, split where it was plainly let go."""
    out: list[list[float]] = []
    for time in times:
        if not out or time - out[-1][-1] > _APART_MS:
            out.append([])
        out[-1].append(time)
    return out


def _repeat(hold: Sequence[float]) -> tuple[float, float] | None:
    """Delay and rate of one hold; None where it did not repeat."""
    gaps = [b - a for a, b in pairwise(hold)]
    if len(gaps) < _REPEATS:
        return None
    delay = max(gaps)
    after = gaps[gaps.index(delay) + 1:]
    if len(after) < _REPEATS - 1 or median(after) > _SLOWEST_MS:
        return None
    return delay, median(after)


def why_not_learned(found: Sent) -> str | None:
    """Why a pedal that sends this cannot be learned, or None."""
    if not found.keys:
        return ("Nothing arrived. Is it plugged in, and does it type into this window? "
                "Foot switches that send a mouse button are not heard.")
    if len(found.keys) > _KEYS_AT_MOST:
        return ("It sends a sequence this terminal does not know. Set the pedal to send one plain "
                "key, such as F13, Page Down or a.")
    odd = [key for key in found.keys if wrong_key(key)]
    if odd:
        return f"It sends {odd[0]}, which cannot be a switch. Set it to send one plain key."
    return None


def learn_pedal(settings: Preferences, pedal: Pedal, found: Sent) -> dict[str, Value] | str:
    """The preferences to change so that the pedal is known; or why that cannot be.

    Its keys come first in its list and leave the lists of the other pedals. The gate
    follows the pedal that treads; another one only ever makes it longer.
    """
    wrong = why_not_learned(found)
    if wrong is not None:
        return wrong
    lists: dict[Pedal, tuple[str, ...]] = {
        "tread": settings.treads, "take back": settings.back_keys,
        "look again": settings.again_keys}
    changes: dict[str, Value] = {}
    for name, before in lists.items():
        others = [key for key in before if key not in found.keys]
        after = [*found.keys, *others] if name == pedal else others
        if name == "tread" and not after:
            return "The pedal that goes on would have no key left. Learn another one for it first."
        if tuple(after) != before:
            changes[NAMES[name]] = after
    gate = found.gate_ms if pedal == "tread" else max(found.gate_ms, settings.gate.ms)
    if gate != settings.gate.ms and settings.gate.ms:
        changes["gate"] = f"{gate} ms"
    return changes
