"""What the screen of the switch says: how it is set, what a pedal sent, how practice went. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.angle import carry_words
from benchapp.screens.glyphs import HEIGHTS
from benchapp.screens.learning import Sent, why_not_learned
from benchapp.screens.switch import Heard, Pedal
from benchapp.screens.widgets.keys import key_words
from benchapp.screens.widgets.rows import Row, fit_cells, wrap_rows
from benchapp.settings import Preferences

PEDALS: tuple[Pedal, ...] = ("tread", "take back", "look again")
PEDAL_WORDS: Mapping[str, str] = {"tread": "go on", "take back": "undo"}
"""What the screen calls a pedal, where that is another word than the program's."""


def keys_text(keys: Sequence[str]) -> str:
    """Keys as they are written for people; F13 to F24 in one."""
    far = [k for k in keys if k[:1] == "f" and k[1:].isdigit() and int(k[1:]) > 12]
    said = [key_words(k) for k in keys if k not in far]
    few = [f"{key_words(far[0])} … {key_words(far[-1])}"] if len(far) > 2 else map(key_words, far)
    return ", ".join([*said, *few]) or "none"


def no_pedal(key: str) -> SafeText:
    """What is said of an arrow that no pedal sends: of the wheel, or of a pedal not learned."""
    return sanitize(f"{key_words(key)} is not a key of your pedal. If your pedal sends it, "
                   "run benchapp switch")


def set_rows(settings: Preferences, across: int) -> list[Row]:
    """How the switch is set, and how far the figures carry."""
    lists = {"go on": settings.treads, "undo": settings.back_keys,
             "look again": settings.again_keys}
    gate = (f"the next press counts after {settings.gate} of silence" if settings.gate.ms
            else "0 ms: every press counts, and none undoes a slip")
    row = settings.row_height
    far = f"with rows {row} high: {carry_words(float(row.mm), HEIGHTS)} (16 arcminutes)"
    lines = [(name, keys_text(keys)) for name, keys in lists.items()]
    return [_head("Settings"), *(
        row for name, text in [*lines, ("gate", gate), ("read from", far)]
        for row in wrap_rows(text, across, first=((fit_cells(sanitize(name), 12), "mark"),)))]


def found_rows(pedal: Pedal, found: Sent, across: int) -> list[Row]:
    """What a pedal sent, and what follows."""
    wrong = why_not_learned(found)
    if wrong is not None:
        return [_head(f"Not learned: {_called(pedal)}"), *wrap_rows(wrong, across, "fault")]
    if found.delay_ms is None or found.every_ms is None:
        repeats = "It did not repeat while you held it."
    else:
        repeats = (f"Held down it repeats after {found.delay_ms:.0f} ms, then every "
                   f"{found.every_ms:.0f} ms.")
    return [_head(f"Learned: {_called(pedal)}. Press k to keep it"), *wrap_rows(
        f"It sends {keys_text(found.keys)}. {repeats} The gate then waits for {found.gate_ms} ms "
        "of silence.", across, "good")]


def listening_rows(pedal: Pedal, found: Sent, across: int) -> list[Row]:
    """What to do now, and what has come so far."""
    times = "once" if found.events == 1 else f"{found.events} times"
    so_far = (f"Heard so far: {keys_text(found.keys)}, {times}" if found.events
              else "Nothing has come yet.")
    return [_head(f"{_called(pedal)}: press the pedal, hold it for three seconds, let go"),
            *wrap_rows(so_far, across, "good")]


def practice_rows(counts: Mapping[Heard, int], last: Heard | None, across: int) -> list[Row]:
    """What the gate made of the presses; nothing is in the book."""
    words = " · ".join(f"{_called(name)} {counts.get(name, 0)}" for name in PEDALS)
    ignored = (f"too soon {counts.get('too soon', 0)} · other keys "
               f"{counts.get('another key', 0)}")
    heard = "" if last is None else f"Last: {_called(last)}"
    return [_head("Practise: press as you would at the bench; nothing is recorded"),
            *wrap_rows(words, across, "good"), *wrap_rows(ignored, across, "quiet"),
            *wrap_rows(heard, across, "text")]


def _called(heard: Heard) -> str:
    return PEDAL_WORDS.get(heard, heard)


def _head(text: str) -> Row:
    return Row(((sanitize(text), "strong"),), heading=True)
