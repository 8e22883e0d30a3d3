"""The keys of a screen for its foot, read from where they are bound.

A binding is the one declaration of a key: `show` puts it at the foot, its description stands
there, and its tooltip says the same in full where the foot has to be short. Pure.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from textual.binding import Binding

from benchapp.screens.widgets.keys import key_words

PAGE_KEY: Final = "f8"
"""Writes what a screen shows as a page."""

MOVE_KEYS: Final = ("↑ ↓ page home end", "move")
"""What a list that is only read hears, as its foot says it."""

#: Keys that are the same on every screen, in the order in which they end its foot.
_LAST: Final = (PAGE_KEY, "escape", "question_mark")


def own_bindings(cls: type) -> Iterator[Binding]:
    """What a class itself binds, in the order declared."""
    for binding in vars(cls).get("BINDINGS", ()):
        yield binding if isinstance(binding, Binding) else Binding(*binding)


def foot_keys(screen: type, order: Sequence[str] = ()) -> tuple[tuple[str, str], ...]:
    """Each key at the foot of a screen with what it does.

    Those of the kind of screen come first, then its own, last those of every screen. Keys that
    follow one another with the same words stand together.

    Args:
        screen: Its class.
        order: Keys that come first, in this order.
    """
    found: dict[str, str] = {}
    for cls in reversed(screen.__mro__):
        if cls.__module__.startswith("benchapp."):
            found.update({x.key: x.description for x in own_bindings(cls) if x.show})
    first = [*order, *(key for key in found if key not in (*order, *_LAST))]
    keys = [key for key in (*first, *_LAST) if key in found]
    return tuple((_joined(tuple(same)), does) for does, same in groupby(keys, found.__getitem__))


def _joined(keys: tuple[str, ...]) -> str:
    return keys[0] if len(keys) == 1 else " ".join(map(key_words, keys))
