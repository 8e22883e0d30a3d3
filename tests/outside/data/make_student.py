"""Quantiles of Student's t by scipy.stats."""

from __future__ import annotations

import random

from tests.outside.data.kept import save


def rows(seed: int, count: int) -> list[list[float]]:
    """[chance, degrees of freedom, quantile, chance below a random t, that t]."""
    from scipy import stats

    dice = random.Random(seed)
    found = []
    for _ in range(count):
        chance = round(dice.uniform(0.001, 0.999), 4)
        freedom = dice.choice([1, 2, 3, 4, dice.randint(5, 60), dice.randint(61, 400)])
        t = round(dice.uniform(-8, 8), 3)
        found.append([chance, freedom, float(stats.t.ppf(chance, freedom)), t,
                      float(stats.t.cdf(t, freedom))])  # fmt: skip
    return found


if __name__ == "__main__":
    save("student", rows)
