"""How many sheets a day takes until enough are good: as spread as the record leaves it. Pure."""

from __future__ import annotations

from math import exp, lgamma
from typing import Final

from benchapp.reckon.dice import Dice
from benchapp.reckon.sheets import PRIOR_GOOD, PRIOR_SPOILED, Record

SEED: Final = 20_260_503


def spread_counts(record: Record, wanted: int, replays: int, seed: int = SEED) -> list[int]:
    """Sheets until `wanted` are good, one count for each replay; the same at every call.

    Evenly spread over the beta-negative binomial, the law of `reckon_sheets` (Johnson, Kemp & Kotz,
    *Univariate Discrete Distributions*, from memory), and shuffled.

    Args:
        record: Sheets spoiled, of sheets judged, on top of the prior.
        wanted: Good sheets, 1 or more.
        replays: How many days.
        seed: What chance goes by.
    """
    spoiled = PRIOR_SPOILED + record.spoiled
    good = PRIOR_GOOD + record.pulled - record.spoiled
    out: list[int] = []
    bad, reached = 0, _chance(0, wanted, spoiled, good)
    for k in range(replays):
        while reached < (k + 0.5) / replays and bad < 10 * wanted + 50:
            bad += 1
            reached += _chance(bad, wanted, spoiled, good)
        out.append(wanted + bad)
    Dice(seed).shuffle(out)
    return out


def _chance(bad: int, wanted: int, spoiled: int, good: int) -> float:
    """The chance of just so many spoiled before the last one wanted."""
    return exp(lgamma(wanted + bad) - lgamma(wanted) - lgamma(bad + 1)
               + _log_beta(good + wanted, spoiled + bad) - _log_beta(good, spoiled))


def _log_beta(a: int, b: int) -> float:
    return lgamma(a) + lgamma(b) - lgamma(a + b)
