"""Thin paper: tissue, gampi and other light papers, as they are laid down for chine collé.

It is cut with a blade along a rule, since a fold stays in it and a tear runs; and what printing
paper holds when damp enough is no guide to it. Both are common practice with no source, and so
is the weight below which a paper counts as thin.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from benchapp.quantities import Grammage

#: Printing papers begin well above, tissues and chine papers end well below (common practice).
THIN_BELOW: Final = Grammage(Fraction(90))


def is_thin(weight: Grammage | None) -> bool:
    """Whether a paper is known to be thin; one whose weight nobody gave is not."""
    return weight is not None and weight.gsm < THIN_BELOW.gsm
