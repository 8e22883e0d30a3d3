"""Water into a plane sheet, by a long numpy sum of Crank's series and scipy's root finder."""

from __future__ import annotations

import random

from tests.outside.data.kept import save

#: At the shortest time asked, 1e-5, terms are below 1e-16 from the 310th on.
_TERMS = 2000


def rows(seed: int, count: int) -> list[list[float]]:
    """[tau, share taken up, another share, the tau scipy.optimize.brentq finds for it]."""
    import numpy as np
    from scipy.optimize import brentq

    odd = 2.0 * np.arange(_TERMS) + 1

    def share(tau: float) -> float:
        return float(1 - 8 / np.pi**2 * np.sum(np.exp(-((odd * np.pi) ** 2) * tau) / odd**2))

    dice = random.Random(seed)
    found = []
    for _ in range(count):
        tau = float(f"{10 ** dice.uniform(-5, 0.3):.6g}")
        wanted = round(dice.uniform(0.02, 0.98), 4)
        root = float(brentq(lambda t, w=wanted: share(t) - w, 1e-7, 3, xtol=1e-14, rtol=1e-13))
        found.append([tau, share(tau), wanted, root])
    return found


if __name__ == "__main__":
    save("soak", rows)
