"""How sure a share is: so many of so many, and what it may truly be.

Wilson's score interval (E. B. Wilson, *J. Am. Stat. Assoc.* 22 (1927) 209), which stays within
0 and 1 also for none of ten.
"""

from __future__ import annotations

from math import sqrt

from benchapp.reckon.errors import ReckonError
from benchapp.reckon.normal import normal_quantile


def wilson_interval(part: int, whole: int, sure: float = 0.95) -> tuple[float, float]:
    """Between which shares the true one lies, `sure` of the time.

    Args:
        part: How many of them.
        whole: Of how many; 1 or more.
        sure: The chance that the interval holds the true share.

    Raises:
        ReckonError: There is nothing to take a share of, or more than all were counted.
    """
    if whole < 1:
        raise ReckonError("share", "there is no share of nothing", "count 1 or more")
    if not 0 <= part <= whole:
        raise ReckonError("share", f"{part} of {whole} is not a share", f"give 0 to {whole}")
    z = normal_quantile((1 + sure) / 2)
    share, square = part / whole, z * z / whole
    middle = (share + square / 2) / (1 + square)
    half = z / (1 + square) * sqrt(share * (1 - share) / whole + square / (4 * whole))
    low = 0.0 if part == 0 else max(0.0, middle - half)
    high = 1.0 if part == whole else min(1.0, middle + half)
    return low, high


def sample_quantile(values: list[float], share: float) -> float:
    """The value below which lies `share` of a sorted sample, straight between its members.

    Type 7 of Hyndman and Fan, *Am. Stat.* 50 (1996) 361: at (n − 1)·share from the first.

    Args:
        values: In rising order, one or more.
        share: 0 to 1.
    """
    place = (len(values) - 1) * share
    at = min(int(place), len(values) - 1)
    after = min(at + 1, len(values) - 1)
    return values[at] + (values[after] - values[at]) * (place - at)
