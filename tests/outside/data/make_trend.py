"""Trends of random series by scipy, pymannkendall and numpy: grades with ties, readings without."""

from __future__ import annotations

import random
from typing import Any

from tests.outside.data.kept import save


def _series(dice: random.Random, i: int) -> list[float]:
    n = dice.randint(4, 60) if i % 3 else dice.randint(4, 12)
    slope = dice.choice([0, 0, 0.02, -0.05, 0.3])
    if i % 2:
        return [float(max(1, min(5, round(4 + slope * k + dice.gauss(0, 0.8))))) for k in range(n)]
    return [round(10 + slope * k + dice.gauss(0, 1), 6) for k in range(n)]


def ranks(seed: int, count: int) -> list[list[Any]]:
    """[values, S, p, slope, intercept, slope low, slope high], 95 %."""
    import pymannkendall
    from scipy import stats

    dice, found = random.Random(seed), []
    while len(found) < count:
        values = _series(dice, len(found))
        if len(set(values)) < 2:
            continue
        n, test = len(values), pymannkendall.original_test(values)
        p = test.p
        if n <= 12 and len(set(values)) == n:
            p = stats.kendalltau(range(n), values, method="exact").pvalue
        slope = stats.theilslopes(values, range(1, n + 1))
        found.append([values, int(test.s), float(p), *map(float, slope)])
    return found


def lines(seed: int, count: int) -> list[list[Any]]:
    """[xs, ys, tolerance, slope, intercept, s, Student's t at .9]; Fieller's ends follow."""
    import numpy as np
    from scipy import stats

    dice, found = random.Random(seed), []
    for _ in range(count):
        n = dice.randint(6, 40)
        xs = sorted(dice.sample(range(1, 80), n))
        ys = [round(5 - dice.uniform(0.02, 0.2) * x + dice.gauss(0, 0.3), 6) for x in xs]
        (slope, intercept), square, *_ = np.polyfit(xs, ys, 1, full=True)
        s = float(np.sqrt(square[0] / (n - 2)))
        found.append([xs, ys, dice.uniform(0, 3), float(slope), float(intercept), s,
                      float(stats.t.ppf(0.9, n - 2))])
    return found


def shares(seed: int, count: int) -> list[list[Any]]:
    """[part, whole, low, high] of Wilson at 95 %; [values, share, quantile]; [chance, z]."""
    import numpy as np
    from scipy import stats

    dice, found = random.Random(seed), []
    for _ in range(count):
        whole = dice.randint(1, 400)
        part = dice.randint(0, whole)
        ci = stats.binomtest(part, whole).proportion_ci(method="wilson")
        values = sorted(round(dice.gauss(10, 3), 6) for _ in range(dice.randint(1, 30)))
        share, chance = dice.random(), dice.uniform(1e-6, 1 - 1e-6)
        found.append([part, whole, float(ci.low), float(ci.high), values, share,
                      float(np.quantile(values, share)), chance, float(stats.norm.ppf(chance))])
    return found


if __name__ == "__main__":
    save("trend_ranks", ranks)
    save("trend_lines", lines)
    save("trend_shares", shares)
