"""One row of the registry of actions: its word, its key, what it makes. Pure."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ActionSpec:
    """One row of the registry.

    Attributes:
        word: What the action is called everywhere, and typed in `--plain`.
        means: The classes of action it makes.
        help: One line for a printer.
        takes: What follows the word in `--plain`.
        key: The key on the Bench by default; None: by the switch, or by words only.
        inky: Whether it works while hands are inky.
    """

    word: str
    means: tuple[type, ...]
    help: str
    takes: str = ""
    key: str | None = None
    inky: bool = False
