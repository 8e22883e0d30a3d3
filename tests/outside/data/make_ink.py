"""Ink forecasts by weighted least squares of statsmodels, and shares of a batch by scipy's MILP."""

from __future__ import annotations

import random
from typing import Any

from tests.outside.data.kept import save


def forecasts(seed: int, count: int) -> list[list[Any]]:
    """[[[centigrams, impressions, width mm, height mm], ...], area cm2, k, nine-in-ten limit]."""
    import numpy as np
    import statsmodels.api as sm

    dice = random.Random(seed)
    found = []
    for _ in range(count):
        rate = dice.uniform(0.004, 0.02)
        seen = []
        for _ in range(dice.randint(3, 15)):
            pulls, w, h = dice.randint(3, 40), dice.randint(80, 600), dice.randint(80, 600)
            area = w * h / 100 * pulls
            grams = max(rate * area * dice.uniform(0.7, 1.3), area * 0.0005)
            seen.append([round(grams * 100) + 1, pulls, w, h])
        table = np.array(seen, dtype=float)
        areas = table[:, 1] * table[:, 2] * table[:, 3] / 100
        fit = sm.WLS(table[:, 0] / 100, areas, weights=1 / areas).fit()
        area = dice.randint(100, 200_000)
        ahead = fit.get_prediction(np.array([[float(area)]]), weights=np.array([1 / area]))
        limit = ahead.summary_frame(alpha=0.2)["obs_ci_upper"].iloc[0]
        found.append([seen, area, float(fit.params[0]), float(limit)])
    return found


def batches(seed: int, count: int) -> list[list[Any]]:
    """[parts, steps in the batch, the least sum of |steps − exact share| any dealing reaches]."""
    import numpy as np
    from scipy.optimize import LinearConstraint, milp

    dice = random.Random(seed)
    found = []
    for _ in range(count):
        parts = [dice.randint(1, 400) for _ in range(dice.randint(1, 8))]
        steps = dice.randint(len(parts), 3000)
        exact = np.array(parts) * steps / sum(parts)
        n = len(parts)
        eye = np.eye(n)
        # Variables: the steps dealt, then how far each is off, both ways.
        rules = [
            LinearConstraint(np.hstack([np.ones(n), np.zeros(n)]), steps, steps),
            LinearConstraint(np.hstack([eye, -eye]), -np.inf, exact),
            LinearConstraint(np.hstack([eye, eye]), exact, np.inf),
        ]
        cost = np.concatenate([np.zeros(n), np.ones(n)])
        kinds = np.concatenate([np.ones(n), np.zeros(n)])
        found.append([parts, steps, float(milp(cost, constraints=rules, integrality=kinds).fun)])
    return found


if __name__ == "__main__":
    save("ink_forecasts", forecasts)
    save("ink_batches", batches)
