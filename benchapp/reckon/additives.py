"""What is stirred into ink, and how much of it printers use: common practice, no source.

Shares are by mass of the whole mixture. A caution never changes a figure.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchapp.reckon.figures import percent_text


@dataclass(frozen=True, slots=True)
class Additive:
    """One kind of additive.

    Attributes:
        words: What its name has to match, case aside.
        least: The usual share from, in percent.
        most: The usual share up to, in percent.
        cap: Above this, in percent, the ink is spoilt; None: no cap is agreed on.
    """

    words: re.Pattern[str]
    least: Fraction
    most: Fraction
    cap: Fraction | None


def _additive(words: str, least: str, most: str, cap: str | None = None) -> Additive:
    return Additive(
        re.compile(rf"\b(?:{words})\b", re.IGNORECASE),
        Fraction(least),
        Fraction(most),
        None if cap is None else Fraction(cap),
    )


#: The first that matches counts: drying oils by other names come before plain "oil".
ADDITIVES: Final = (
    _additive("driers?|dryers?|siccatives?", "0.5", "2"),
    _additive("magnesium|magnesia", "1", "5", "10"),
    _additive("extender|transparent", "10", "60"),
    _additive("(?<!clove )oil(?! of cloves?)", "2", "8", "12"),
)
_RETARDER: Final = re.compile(r"\bretarder\b|\bcloves?\b", re.IGNORECASE)


def additive_caution(name: str, share: Fraction) -> str | None:
    """A sentence where an additive is above what is usual, else None.

    Args:
        name: The part, as the printer calls it.
        share: Its part of the whole mass, 0 to 1.
    """
    if _RETARDER.search(name):
        return f"{name}: 1 to 3 drops in 50 g is usual (common practice); count drops"
    kind = next((a for a in ADDITIVES if a.words.search(name)), None)
    if kind is None or share * 100 <= kind.most:
        return None
    held = f"{name} is {percent_text(share)} of the mass"
    if kind.cap is not None and share * 100 > kind.cap:
        return f"{held}, above the cap of about {kind.cap} % (common practice)"
    return f"{held}; {_plain(kind.least)} to {_plain(kind.most)} % is usual (common practice)"


def _plain(value: Fraction) -> str:
    return percent_text(value / 100).removesuffix(" %")
