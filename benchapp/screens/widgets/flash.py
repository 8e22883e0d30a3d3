"""A bar across the whole screen with every sound: what is heard is seen.

It stands still for as long as it is there: nothing blinks, so reduced motion is the
same for all. It lies over the screen, so nothing below it moves.
"""

from __future__ import annotations

from typing import Final

from benchapp.calls.players import pattern_ms
from benchapp.calls.tones import Kind
from benchapp.safe_text import SafeText
from benchapp.screens.widgets.plain_text import Para

#: A glance up from the slab takes a second or two.
_LEAST_MS: Final = {"confirm": 700, "end": 2500, "caution": 4000}
_SIGNS: Final[dict[Kind | None, str]] = {
    None: "·", "confirm": "·", "end": "▶ ▶ ▶", "caution": "! ! ! ! !",
}  # fmt: skip


def stands_ms(kind: Kind | None) -> int:
    """How long the bar of a sound stands, milliseconds."""
    return _LEAST_MS["confirm"] if kind is None else max(_LEAST_MS[kind], pattern_ms(kind))


def flash_words(kind: Kind | None, words: SafeText) -> SafeText:
    """What stands on it, told apart without colour by its signs: `▶ ▶ ▶  Settle: time is up`."""
    return SafeText(f"{_SIGNS[kind]}  {words}" if words else _SIGNS[kind])


class Flash(Para):
    """The bar; one row for an answer to a key, three for a call."""

    DEFAULT_CSS = """
    Flash {
        layer: flash;
        dock: top;
        width: 100%;
        height: auto;
        max-height: 5;
        padding: 1 1;
        background: $call;
        color: $call-text;
        text-style: bold;
        text-align: center;
    }
    Flash.-quiet { padding: 0 1; max-height: 1; background: $panel; color: $foreground; }
    """

    def __init__(self) -> None:
        """Nothing yet."""
        super().__init__()
        self.display = False

    def show(self, kind: Kind | None, words: SafeText) -> None:
        """Stand there for the length of a sound, or a glance."""
        self.set_class(kind in (None, "confirm"), "-quiet")
        self.set(flash_words(kind, words))
        self.display = True
        self.until_ms = stands_ms(kind)
