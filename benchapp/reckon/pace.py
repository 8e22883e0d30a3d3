"""How long steps really take: each step's own habit, the pace of the day, and the rest.

ln(actual / nominal) = offset of the step + pace of the day + rest, all Gaussian. A printer is
slow or quick for a whole day: steps drawn as if independent give far too narrow an interval.
The spreads of pace and rest are learnt too, from a prior worth some days and readings, by
expectation and maximisation (Dempster, Laird & Rubin 1977); given the spreads everything is in
closed form. The priors are this project's own, from simulated printers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import exp, log, sqrt
from typing import Final

#: Standard deviations before anything is known.
OFFSET_SD: Final = 0.25
PACE_SD: Final = 0.10
REST_SD: Final = 0.20
#: What those priors are worth.
PACE_DAYS: Final = 4
REST_READINGS: Final = 8
#: Today, where readings are of days.
TODAY: Final = -1
_ROUNDS: Final = 8
#: t ÷ z at the ninetieth of a hundred is about 1 + (z² + 1) ÷ 4 ÷ degrees of freedom.
_T_80: Final = 0.66

Matrix = list[list[float]]


@dataclass(frozen=True, slots=True)
class Reading:
    """A step that took `actual` seconds where `nominal` were expected, on a day."""

    step: str
    actual: float
    nominal: float
    day: int = TODAY

    @property
    def log(self) -> float:
        """ln(actual / nominal)."""
        return log(self.actual / self.nominal)


@dataclass(frozen=True, slots=True)
class Pace:
    """What is known of today: offsets of steps and the pace of the day, jointly Gaussian.

    Attributes:
        steps: The steps there are readings of.
        mean: Expected offset of each, then today's pace.
        root: Lower triangular root of their covariance.
        rest_sd: Spread of single readings.
        offset_sd: Spread of the offset of a step there is no reading of.
        days: Days behind it, today not among them.
        readings: Readings behind it.
    """

    steps: tuple[str, ...] = ()
    mean: tuple[float, ...] = (0.0,)
    root: tuple[tuple[float, ...], ...] = ((PACE_SD,),)
    rest_sd: float = REST_SD
    offset_sd: float = OFFSET_SD
    days: int = 0
    readings: int = 0

    def expected(self, step: str) -> float:
        """What the usual time of a step is multiplied by, in the middle of all that may be."""
        at = self.steps.index(step) if step in self.steps else None
        return exp(self.mean[-1] + (0.0 if at is None else self.mean[at]))


    @property
    def centred(self) -> Pace:
        """The same spread about the middle: for a plan whose times have learnt already."""
        return replace(self, mean=(0.0,) * len(self.mean))


#: No variation at all: every step takes its nominal time.
CERTAIN: Final = Pace(root=((0.0,),), rest_sd=0.0, offset_sd=0.0)


def teaches(actual: float, low: float, high: float) -> bool:
    """Whether a time is plausible without being asked about: neither tiny nor far over."""
    return actual > 0 and actual >= low / 5 and actual <= high + 300


def learn(readings: Sequence[Reading]) -> Pace:
    """What readings of this print's days, and of today, say about the rest of today."""
    if not readings:
        return Pace()
    facts = _Facts(readings)
    pace, rest = PACE_SD**2, REST_SD**2
    for _ in range(_ROUNDS):
        pace, rest = facts.better(pace, rest)
    # A spread known from few days is less than known: Student's t, at the ends of 80 %.
    wider = 1 + _T_80 / (PACE_DAYS + len(facts.days))
    return _pace(facts, pace, rest, wider)


def given(readings: Sequence[Reading], pace_sd: float, rest_sd: float) -> Pace:
    """What readings say where the spreads of pace and rest are known."""
    return _pace(_Facts(readings), pace_sd**2, rest_sd**2)


def _pace(facts: _Facts, pace: float, rest: float, wider: float = 1.0) -> Pace:
    mean, cov = facts.today(pace, rest, wider)
    return Pace(tuple(facts.steps), tuple(mean), tuple(map(tuple, root(cov))), sqrt(rest),
                OFFSET_SD, len(facts.days), len(facts.readings))


class _Facts:
    """Sums of the readings by step and day."""

    def __init__(self, readings: Sequence[Reading]) -> None:
        self.readings = readings
        self.steps = sorted({r.step for r in readings})
        self.days = sorted({r.day for r in readings} - {TODAY})
        place = {s: i for i, s in enumerate(self.steps)}
        self.at = [(place[r.step], r.day, r.log) for r in readings]
        size = len(self.steps)
        self.count = {d: [0.0] * size for d in (*self.days, TODAY)}
        self.total = {d: [0.0] * size for d in (*self.days, TODAY)}
        for i, d, y in self.at:
            self.count[d][i] += 1
            self.total[d][i] += y

    def today(self, pace: float, rest: float,
              wider: float = 1.0) -> tuple[list[float], Matrix]:
        """Mean and covariance of the offsets and today's pace; the paces of other days summed out.
        """
        size = len(self.steps)
        precise = [[0.0] * (size + 1) for _ in range(size + 1)]
        right = [0.0] * (size + 1)
        for i in range(size):
            precise[i][i] = 1 / OFFSET_SD**2
        for d, n in self.count.items():
            for i in range(size):
                precise[i][i] += n[i] / rest
                right[i] += self.total[d][i] / rest
        now, told = self.count[TODAY], self.total[TODAY]
        precise[size][size] = 1 / (pace * wider * wider) + sum(now) / rest
        right[size] = sum(told) / rest
        for i in range(size):
            precise[i][size] = precise[size][i] = now[i] / rest
        for d in self.days:
            n, whole = self.count[d], 1 / pace + sum(self.count[d]) / rest
            given = sum(self.total[d]) / rest
            for i in range(size):
                right[i] -= n[i] / rest * given / whole
                for j in range(size):
                    precise[i][j] -= n[i] * n[j] / (rest * rest * whole)
        cov = inverse(precise)
        return [sum(a * b for a, b in zip(row, right, strict=True)) for row in cov], cov

    def better(self, pace: float, rest: float) -> tuple[float, float]:
        """One round: spreads that fit better, given what the present ones say of everything."""
        size = len(self.steps)
        mean, cov = self.today(pace, rest)
        weights = {TODAY: ([0.0] * size + [1.0], 0.0, 0.0)}
        for d in self.days:
            whole = 1 / pace + sum(self.count[d]) / rest
            row = [-n / (rest * whole) for n in self.count[d]]
            weights[d] = ([*row, 0.0], sum(self.total[d]) / rest / whole, 1 / whole)
        paces = 0.0
        known = {}
        for d, (row, shift, own) in weights.items():
            middle = shift + sum(a * b for a, b in zip(row, mean, strict=True))
            known[d] = middle
            paces += middle**2 + own + _spread(row, cov)
        off = sum((y - mean[i] - known[d])**2 for i, d, y in self.at)
        for d, (row, _, own) in weights.items():
            for i, n in enumerate(self.count[d]):
                if n:
                    both = list(row)
                    both[i] += 1
                    off += n * (own + _spread(both, cov))
        pace_new = (PACE_DAYS * PACE_SD**2 + paces) / (PACE_DAYS + len(weights))
        rest_new = (REST_READINGS * REST_SD**2 + off) / (REST_READINGS + len(self.at))
        return pace_new, rest_new


def _spread(row: Sequence[float], cov: Matrix) -> float:
    used = [(i, a) for i, a in enumerate(row) if a]
    return sum(a * b * cov[i][j] for i, a in used for j, b in used)


def inverse(matrix: Matrix) -> Matrix:
    """The inverse of a positive definite matrix."""
    n = len(matrix)
    work = [[*row, *(1.0 if i == j else 0.0 for j in range(n))] for i, row in enumerate(matrix)]
    for k in range(n):
        pivot = work[k][k]
        work[k] = [x / pivot for x in work[k]]
        for i in range(n):
            if i != k and work[i][k]:
                f = work[i][k]
                work[i] = [a - f * b for a, b in zip(work[i], work[k], strict=True)]
    return [row[n:] for row in work]


def root(cov: Matrix) -> Matrix:
    """The lower triangular root of a covariance (Cholesky)."""
    n = len(cov)
    out = [[0.0] * n for _ in range(n)]
    for i in range(n):
        for j in range(i + 1):
            rest = cov[i][j] - sum(out[i][k] * out[j][k] for k in range(j))
            if i == j:
                out[i][i] = sqrt(max(rest, 0.0))
            elif out[j][j] > 0:
                out[i][j] = rest / out[j][j]
    return out

