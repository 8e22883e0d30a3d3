"""Saturation pressure and vapour-pressure deficit by psychrolib, over water and ice."""

from __future__ import annotations

import random

from tests.outside.data.kept import save


def rows(seed: int, count: int) -> list[list[float]]:
    """[warmth in 1/100 °C, humidity in 1/10 %, saturation Pa, deficit Pa]."""
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    dice = random.Random(seed)
    found = []
    for i in range(count):
        # Half in a workroom, half as far as the formula holds.
        c100 = dice.randint(0, 4500) if i % 2 else dice.randint(-4000, 10_000)
        rh = dice.randint(50, 1000)
        full = psychrolib.GetSatVapPres(c100 / 100)
        held = psychrolib.GetVapPresFromRelHum(c100 / 100, rh / 1000)
        found.append([c100, rh, full, full - held])
    return found


if __name__ == "__main__":
    save("air", rows)
