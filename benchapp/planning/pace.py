"""How long steps really take: the printer's habit, the step's, the pace of the day, and the rest.

ln(actual / nominal) = offset of the printer + offset of the step + pace of the day + rest, all
Gaussian. A printer is slow or quick for a whole day: steps drawn as if independent give far too
narrow an interval. One who is slower than the recipe in everything is so on every day: without
an offset common to all steps, half of that would be taken for the pace of the day.
The spreads of pace and rest are learnt too, from a prior worth some days and readings, by
expectation and maximisation (Dempster, Laird & Rubin 1977); given the spreads everything is in
closed form. The priors are this project's own, from simulated printers.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import exp, log, sqrt
from statistics import NormalDist
from typing import Final

#: Standard deviations before anything is known. A step is off by .25 in all, .10 of which it
#: has in common with the printer's other steps.
PRINTER_SD: Final = 0.10
STEP_SD: Final = sqrt(0.25**2 - PRINTER_SD**2)
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


def _wider(days: int) -> float:
    """By how much the pace of a day may lie wider than it is known to, from so many days."""
    return 1 + _T_80 / (PACE_DAYS + days)


#: How far today may be off from the recipe, in all steps alike, before anything is known.
_UNKNOWN: Final = sqrt(PRINTER_SD**2 + (PACE_SD * _wider(0)) ** 2)

Matrix = list[list[float]]


@dataclass(frozen=True, slots=True)
class TimedStep:
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
        mean: Expected offset of each beyond what all have today, then what all have: the
            printer's own offset and today's pace.
        root: Lower triangular root of their covariance.
        rest_sd: Spread of single readings.
        offset_sd: Spread of the offset of a step there is no reading of.
        days: Days behind it, today not among them.
        readings: Readings behind it.
        day_sd: Spread of the pace of a day alone, about what all its days have.
    """

    steps: tuple[str, ...] = ()
    mean: tuple[float, ...] = (0.0,)
    root: tuple[tuple[float, ...], ...] = ((_UNKNOWN,),)
    rest_sd: float = REST_SD
    offset_sd: float = STEP_SD
    days: int = 0
    readings: int = 0
    day_sd: float = PACE_SD * _wider(0)

    def expected(self, step: str) -> float:
        """What the usual time of a step is multiplied by, in the middle of all that may be."""
        at = self.steps.index(step) if step in self.steps else None
        return exp(self.mean[-1] + (0.0 if at is None else self.mean[at]))

    @property
    def centred(self) -> Pace:
        """The same spread about the middle: for a plan whose times have learnt already."""
        return replace(self, mean=(0.0,) * len(self.mean))

    def habits(self, shares: Mapping[str, float], count: int) -> tuple[float, ...]:
        """What all days of this printer may be off by, each as likely, as logarithms.

        Args:
            shares: The share of each step in the work of the hands.
            count: How many.
        """
        by = [shares.get(s, 0.0) for s in self.steps] + [1.0]
        known = sum(sum(a * row[j] for a, row in zip(by, self.root, strict=True) if j < len(row))**2
                    for j in range(len(by)))
        new = sum(x * x for s, x in shares.items() if s not in self.steps) * self.offset_sd**2
        sd = sqrt(max(0.0, known + new - self.day_sd**2))
        gauss = NormalDist()
        return tuple(sd * gauss.inv_cdf((k + 0.5) / count) for k in range(count))

    def of_habit(self, habit: float) -> Pace:
        """The same where what all days are off by is known: each day's pace is left."""
        none = (0.0,) * len(self.steps)
        return replace(self, mean=(*none, habit), offset_sd=0.0, root=(
            *((*none, 0.0) for _ in self.steps), (*none, self.day_sd)))



def is_plausible_time(actual: float, low: float, high: float) -> bool:
    """Whether a time is plausible without being asked about: neither tiny nor far over."""
    return actual > 0 and actual >= low / 5 and actual <= high + 300


def learn_pace(readings: Sequence[TimedStep]) -> Pace:
    """What readings of this print's days, and of today, say about the rest of today."""
    if not readings:
        return Pace()
    facts = _Facts(readings)
    pace, rest = PACE_SD**2, REST_SD**2
    for _ in range(_ROUNDS):
        pace, rest = facts.better(pace, rest)
    # A spread known from few days is less than known: Student's t, at the ends of 80 %.
    return _pace(facts, pace, rest, _wider(len(facts.days)))


def pace_given_spreads(readings: Sequence[TimedStep], pace_sd: float, rest_sd: float) -> Pace:
    """What readings say where the spreads of pace and rest are known."""
    return _pace(_Facts(readings), pace_sd**2, rest_sd**2)


def _pace(facts: _Facts, pace: float, rest: float, wider: float = 1.0) -> Pace:
    mean, cov = facts.today(pace, rest, wider)
    return Pace(tuple(facts.steps), tuple(mean), tuple(map(tuple, lower_root(cov))), sqrt(rest),
                STEP_SD, len(facts.days), len(facts.readings), sqrt(pace) * wider)


class _Facts:
    """Sums of the readings by day and step; after the steps, those of all steps together."""

    def __init__(self, readings: Sequence[TimedStep]) -> None:
        self.readings = readings
        self.steps = sorted({r.step for r in readings})
        self.days = sorted({r.day for r in readings} - {TODAY})
        place = {s: i for i, s in enumerate(self.steps)}
        self.at = [(place[r.step], r.day, r.log) for r in readings]
        size = len(self.steps)
        self.count = {d: [0.0] * (size + 1) for d in (*self.days, TODAY)}
        self.total = {d: [0.0] * (size + 1) for d in (*self.days, TODAY)}
        for i, d, y in self.at:
            for k in (i, size):
                self.count[d][k] += 1
                self.total[d][k] += y

    def today(self, pace: float, rest: float,
              wider: float = 1.0) -> tuple[list[float], Matrix]:
        """Mean and covariance of the steps' offsets, and of what all steps have today."""
        mean, cov = self._known(pace, rest, wider)
        both = [[*row[:-2], row[-2] + row[-1]] for row in cov]
        last = [a + b for a, b in zip(both[-2], both[-1], strict=True)]
        return [*mean[:-2], mean[-2] + mean[-1]], [*both[:-2], last]

    def _known(self, pace: float, rest: float,
               wider: float = 1.0) -> tuple[list[float], Matrix]:
        """The same, with the printer's offset and today's pace apart, in this order.

        The paces of other days are summed out.
        """
        size = len(self.steps)
        own = [1 / STEP_SD**2] * size + [1 / PRINTER_SD**2, 1 / (pace * wider * wider)]
        precise = [[x if i == j else 0.0 for j in range(size + 2)] for i, x in enumerate(own)]
        right = [0.0] * (size + 2)
        for d, n in self.count.items():
            told = self.total[d]
            whole = None if d == TODAY else rest * rest * (1 / pace + n[size] / rest)
            for i, a in enumerate(n):
                right[i] += told[i] / rest
                precise[i][i] += a / rest
                if i < size:
                    precise[i][size] += a / rest
                    precise[size][i] += a / rest
                if whole is None:
                    precise[i][-1] += a / rest
                    precise[-1][i] += a / rest
                    continue
                right[i] -= a * told[size] / whole
                for j, b in enumerate(n):
                    precise[i][j] -= a * b / whole
        precise[-1][-1] += self.count[TODAY][size] / rest
        right[-1] += self.total[TODAY][size] / rest
        cov = invert_matrix(precise)
        return [sum(a * b for a, b in zip(row, right, strict=True)) for row in cov], cov

    def better(self, pace: float, rest: float) -> tuple[float, float]:
        """One round: spreads that fit better, given what the present ones say of everything."""
        size = len(self.steps)
        mean, cov = self._known(pace, rest)
        weights = {TODAY: ([0.0] * (size + 1) + [1.0], 0.0, 0.0)}
        for d in self.days:
            whole = 1 / pace + self.count[d][size] / rest
            row = [-n / (rest * whole) for n in self.count[d]]
            weights[d] = ([*row, 0.0], self.total[d][size] / rest / whole, 1 / whole)
        paces = 0.0
        known = {}
        for d, (row, shift, own) in weights.items():
            known[d] = shift + sum(a * b for a, b in zip(row, mean, strict=True))
            paces += known[d]**2 + own + _spread(row, cov)
        off = sum((y - mean[i] - mean[size] - known[d])**2 for i, d, y in self.at)
        for d, (row, _, own) in weights.items():
            for i, n in enumerate(self.count[d][:size]):
                if n:
                    both = list(row)
                    both[i] += 1
                    both[size] += 1
                    off += n * (own + _spread(both, cov))
        pace_new = (PACE_DAYS * PACE_SD**2 + paces) / (PACE_DAYS + len(weights))
        rest_new = (REST_READINGS * REST_SD**2 + off) / (REST_READINGS + len(self.at))
        return pace_new, rest_new


def _spread(row: Sequence[float], cov: Matrix) -> float:
    used = [(i, a) for i, a in enumerate(row) if a]
    return sum(a * b * cov[i][j] for i, a in used for j, b in used)


def invert_matrix(matrix: Matrix) -> Matrix:
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


def lower_root(cov: Matrix) -> Matrix:
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

