"""Strips of chance, through SciPy's PCHIP: values between, and the time of a tone by its root.

`python -m tests.outside.data.make_strips` writes `strips.json` anew (SciPy 1.17.1).
"""

from __future__ import annotations

import random
from typing import Any

from tests.outside.data.kept import save


def rows(seed: int, count: int) -> list[list[Any]]:
    """Times in ms, readings that rise, times and values between, a reading and its time."""
    from scipy.interpolate import PchipInterpolator
    from scipy.optimize import brentq

    chance = random.Random(seed)
    found = []
    while len(found) < count:
        patches = chance.randint(3, 9)
        times = sorted(chance.sample(range(1_000, 3_600_000, 500), patches))
        # Some do not darken from one patch to the next.
        steps = [chance.choice((0, *range(1, 60))) for _ in times]
        dark = [sum(steps[:k + 1]) / 100 for k in range(patches)]
        if dark[0] == dark[-1]:
            continue
        line = PchipInterpolator(times, dark)
        between = [chance.uniform(times[0], times[-1]) for _ in range(3)]
        rising = [k for k in range(patches - 1) if dark[k] < dark[k + 1]]
        k = chance.choice(rising)
        tone = dark[k] + (dark[k + 1] - dark[k]) * chance.uniform(0.05, 0.95)
        time = brentq(lambda t, line=line, tone=tone: line(t) - tone, times[k], times[k + 1],
                      xtol=1e-9, rtol=1e-14)
        found.append([times, dark, between, [float(line(t)) for t in between], tone, time])
    return found


if __name__ == "__main__":
    save("strips", rows)
