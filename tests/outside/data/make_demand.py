"""The fewest sheets for a demand: all that one sheet can give by brute force, then CP-SAT.

What a sheet can give is found by every tear at every millimetre; how few sheets then do is
proved by ortools.
"""

from __future__ import annotations

import random
from functools import cache
from typing import Any

from tests.outside.data.kept import save


def counts_of_sheet(sheet, pieces, turn, demand):
    """All unbeaten counts (each cut to its demand) that one sheet can give, by every tear."""
    laid = {(w, h, k) for k, (w, h) in enumerate(pieces)}
    if turn:
        laid |= {(h, w, k) for w, h, k in laid}
    nothing = (0,) * len(pieces)

    @cache
    def front(wide, high):
        found = {nothing}
        for w, h, k in laid:
            if w <= wide and h <= high:
                found.add(tuple(int(i == k) for i in range(len(pieces))))
        splits = [(front(n, high), front(wide - n, high)) for n in range(1, wide // 2 + 1)]
        splits += [(front(wide, n), front(wide, high - n)) for n in range(1, high // 2 + 1)]
        for first, second in splits:
            for a in first:
                for b in second:
                    both = zip(a, b, demand, strict=True)
                    found.add(tuple(min(x + y, most) for x, y, most in both))
        return frozenset(
            c
            for c in found
            if not any(o != c and all(x >= y for x, y in zip(o, c, strict=True)) for o in found)
        )

    return sorted(front(*sheet))


def fewest_sheets(ways, demand):
    """The fewest sheets whose ways together give the demand, proved by CP-SAT."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    times = [model.new_int_var(0, sum(demand), f"w{i}") for i in range(len(ways))]
    for kind, most in enumerate(demand):
        model.add(sum(t * way[kind] for t, way in zip(times, ways, strict=True)) >= most)
    model.minimize(sum(times))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    if solver.solve(model) != cp_model.OPTIMAL:
        raise ValueError("not proved")
    return round(solver.objective_value)


def question(chance):
    """A random question about a demand."""
    sheet = (chance.randint(7, 14), chance.randint(6, 12))
    count = chance.randint(2, 4)
    sizes = [(chance.randint(2, 8), chance.randint(2, 6)) for _ in range(count)]
    sizes = [(min(w, sheet[0]), min(h, sheet[1])) for w, h in sizes]
    demand = [chance.randint(1, 6 if count < 4 else 4) for _ in range(count)]
    return {"sheet": sheet, "sizes": sizes, "turn": chance.random() < 0.7, "demand": demand}


def rows(seed: int, count: int) -> list[dict[str, Any]]:
    """Questions with the fewest sheets for each."""
    chance = random.Random(seed)
    return [solved(question(chance)) for _ in range(count)]


def solved(asked):
    """The question with its fewest sheets."""
    ways = counts_of_sheet(asked["sheet"], asked["sizes"], asked["turn"], asked["demand"])
    return {**asked, "sheets": fewest_sheets(ways, asked["demand"])}


if __name__ == "__main__":
    save("demand", rows)
