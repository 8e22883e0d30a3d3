"""How many sheets a demand needs at the very least, were parts of a sheet allowed.

Column generation (Gilmore & Gomory 1961): the cheapest mix of ways to tear is found for the ways
known, its shadow prices say what a piece of each size is worth, and the best sheet at those
prices is the next way, until none beats the price of a sheet. All in fractions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from benchapp.reckon.tearing.best import Best
from benchapp.reckon.tearing.problem import Problem
from benchapp.reckon.tearing.tree import Node, Split

_ROUNDS_AT_MOST = 60

Counts = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Relaxed:
    """What is known about a demand before whole sheets are looked for.

    Attributes:
        weights: What a piece of each size is worth, whole numbers.
        most: What the best sheet is worth by these weights: no sheet gives more.
        ways: Ways to tear a sheet that were met, by what they give.
    """

    weights: tuple[int, ...]
    most: int
    ways: dict[Counts, Node]

    def least(self, demand: Sequence[int]) -> int:
        """No fewer sheets than this give these pieces."""
        worth = sum(w * d for w, d in zip(self.weights, demand, strict=True))
        return max(0, -(-worth // self.most))


def counted(node: Node, problem: Problem, sizes: int) -> Counts:
    """How many pieces of each size a way to tear gives."""
    found = [0] * sizes

    def walk(part: Node) -> None:
        if isinstance(part, int):
            found[problem.shapes[part].kind] += 1
        elif isinstance(part, Split):
            for _, inner in part.parts:
                walk(inner)

    walk(node)
    return tuple(found)


def relaxed(problem: Problem, demand: Sequence[int]) -> Relaxed:
    """The bound and the ways for a demand, every size of which fits on the sheet.

    Args:
        problem: Sheet and shapes; limits, if any, no lower than the demand.
        demand: How many of each size, above 0.
    """
    sizes = len(demand)
    ways: dict[Counts, Node] = {}
    basis: list[Counts] = []
    for k in range(sizes):
        counts, node, _ = _priced(problem, [int(i == k) for i in range(sizes)], sizes)
        ways[counts] = node
        basis.append(tuple(n if i == k else 0 for i, n in enumerate(counts)))
    best = (Fraction(0), (1,) * sizes, 1)
    for _ in range(_ROUNDS_AT_MOST):
        prices = _solve([list(map(Fraction, column)) for column in basis], [Fraction(1)] * sizes)
        entering = next((k for k in range(sizes) if prices[k] < 0), None)
        if entering is not None:  # more of a size than wanted costs nothing
            column: Counts = tuple(-int(i == entering) for i in range(sizes))
        else:
            scale = lcm(*(p.denominator for p in prices))
            weights = tuple(int(p * scale) for p in prices)
            column, node, most = _priced(problem, weights, sizes)
            ways.setdefault(column, node)
            worth = sum(w * d for w, d in zip(weights, demand, strict=True))
            best = max(best, (Fraction(worth, most), weights, most))
            if most <= scale:
                break
        basis = _exchanged(basis, column, demand)
    return Relaxed(best[1], best[2], ways)


def _priced(problem: Problem, weights: Sequence[int], sizes: int) -> tuple[Counts, Node, int]:
    best = Best(problem, weights)
    node = best.tree()
    return counted(node, problem, sizes), node, best.value


def _exchanged(basis: list[Counts], column: Counts, demand: Sequence[int]) -> list[Counts]:
    """The basis with a better column for the one that it drives out first."""
    rows = [[Fraction(c[i]) for c in basis] for i in range(len(basis))]
    level = _solve(rows, [Fraction(d) for d in demand])
    change = _solve(rows, [Fraction(c) for c in column])
    ratios = [(level[k] / change[k], k) for k in range(len(basis)) if change[k] > 0]
    leaving = min(ratios)[1]
    return [column if k == leaving else c for k, c in enumerate(basis)]


def _solve(rows: list[list[Fraction]], right: list[Fraction]) -> list[Fraction]:
    """The solution of a small square system, by elimination in fractions."""
    table = [[*row, value] for row, value in zip(rows, right, strict=True)]
    size = len(table)
    for k in range(size):
        pivot = next(i for i in range(k, size) if table[i][k])
        table[k], table[pivot] = table[pivot], table[k]
        table[k] = [v / table[k][k] for v in table[k]]
        for i in range(size):
            if i != k and table[i][k]:
                factor = table[i][k]
                table[i] = [v - factor * p for v, p in zip(table[i], table[k], strict=True)]
    return [row[-1] for row in table]
