"""Paper sizes that have a name: the A and the B series of ISO 216, whole millimetres.

A name means the sheet upright, the shorter side as its width; `A4 landscape` lies on its side.
"""

from __future__ import annotations

import re
from typing import Final

#: Width and height upright, in millimetres (ISO 216, the tables of the A and B series).
ISO_216: Final = {
    "A0": (841, 1189), "A1": (594, 841), "A2": (420, 594), "A3": (297, 420), "A4": (210, 297),
    "A5": (148, 210), "A6": (105, 148), "A7": (74, 105), "A8": (52, 74), "A9": (37, 52),
    "A10": (26, 37),
    "B0": (1000, 1414), "B1": (707, 1000), "B2": (500, 707), "B3": (353, 500), "B4": (250, 353),
    "B5": (176, 250), "B6": (125, 176), "B7": (88, 125), "B8": (62, 88), "B9": (44, 62),
    "B10": (31, 44),
}  # fmt: skip
_NAMED: Final = re.compile(r"([AB])\s?([0-9]{1,2})(?:\s+(portrait|landscape))?", re.IGNORECASE)


def named_size(text: str) -> tuple[int, int] | None:
    """Width and height in millimetres of a size such as `A4` or `b5 landscape`; None: no name.

    Args:
        text: What was written, without outer blanks; at most a quantity's length.
    """
    found = _NAMED.fullmatch(text)
    sides = ISO_216.get(f"{found[1].upper()}{found[2]}") if found else None
    if found is None or sides is None:
        return None
    return sides[::-1] if (found[3] or "").lower() == "landscape" else sides
