"""How many sheets are needed, by scipy's own laws: nbinom and betabinom."""

from __future__ import annotations

import random
from typing import Any

from tests.outside.data.kept import save


def known_rate(good, percent, sure_percent):
    """(sheets, chance) for a known rate of spoilage: scipy.stats.nbinom."""
    from scipy.stats import nbinom

    law = nbinom(good, 1 - percent / 100)
    spoiled = int(law.ppf(sure_percent / 100))
    return good + spoiled, float(law.cdf(spoiled))


def from_record(good, spoiled, pulled, sure_percent):
    """(sheets, chance) for a record over the prior of 1 spoiled and 9 good: scipy's betabinom."""
    from scipy.stats import betabinom

    def chance(sheets):
        return float(betabinom.sf(good - 1, sheets, 9 + pulled - spoiled, 1 + spoiled))

    sheets = good
    while chance(sheets) < sure_percent / 100:
        sheets += 1
    return sheets, chance(sheets)


def question(chance):
    """A random question: a known rate, or a record."""
    asked = {"good": chance.randint(1, 80), "sure": chance.choice([50, 75, 80, 90, 95, 98, 99])}
    if chance.random() < 0.5:
        return {**asked, "percent": chance.randint(0, 60)}
    pulled = chance.choice([0, chance.randint(1, 20), chance.randint(1, 300)])
    return {**asked, "pulled": pulled, "spoiled": chance.randint(0, pulled // 2)}


def solved(asked):
    """The question with scipy's answer."""
    good, sure = asked["good"], asked["sure"]
    if "percent" in asked:
        sheets, chance = known_rate(good, asked["percent"], sure)
    else:
        sheets, chance = from_record(good, asked["spoiled"], asked["pulled"], sure)
    return {**asked, "sheets": sheets, "chance": chance}


def rows(seed: int, count: int) -> list[dict[str, Any]]:
    """Questions with the sheets and the chance scipy gives."""
    chance = random.Random(seed)
    return [solved(question(chance)) for _ in range(count)]


if __name__ == "__main__":
    save("sheets", rows)
