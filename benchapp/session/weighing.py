"""What weighings of a day are called: ink used, and the sheets on the scale. Pure."""

from __future__ import annotations

from typing import Final

CONTROL: Final = "control sheet"
DRY: Final = "dry sheet"
INK_USED: Final = "ink used"


def is_weighing(name: str) -> bool:
    """Whether a reading of that name is a weighing of the day, not of one sheet printed."""
    word = name.strip().casefold()
    return word in (CONTROL, DRY, INK_USED) or word.endswith(" used")
