"""Serial generation: activities in the order of a list, each as early as it fits.

Where an activity comes later than a limit lets it, what the limit counts from is taken out
again, with all that came after it in the list, and put later by as much (Franck, Neumann &
Schwindt 2001, *Truncated branch-and-bound, schedule-construction, and schedule-improvement
procedures for resource-constrained project scheduling*). Where that can't help, the limit is
broken and the schedule goes on: there is always an answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Final

from benchapp.planning.schedule import Project
from benchapp.planning.schedule_lines import Line, lines_of

#: Times things may be taken out again, for every activity there is, and for one limit:
#: where what is late is put off by as much as what it is counted from, more does not help.
_SECOND_TRIES: Final = 3
_FOR_ONE: Final = 8


class Network:
    """A project made ready to be scheduled many times."""

    def __init__(self, project: Project, kept: Sequence[bool] | None = None, *,
                 wishes: bool = False) -> None:
        """Make it ready.

        Args:
            project: The project.
            kept: For each limit whether there is any point in keeping it; None: for all.
            wishes: Whether wishes are kept as limits are.
        """
        n = len(project.activities)
        self.project = project
        self.preds: list[list[tuple[int, int]]] = [[] for _ in range(n)]
        self.succs: list[list[tuple[int, int]]] = [[] for _ in range(n)]
        for arc in project.arcs:
            self.preds[arc.after].append((arc.before, arc.least))
            self.succs[arc.before].append((arc.after, arc.least))
        self.limits: list[list[tuple[int, int]]] = [[] for _ in range(n)]
        for x, keep in zip(project.limits, kept or [True] * len(project.limits), strict=True):
            if keep:
                self.limits[x.after].append((x.before, x.most))
        for x in project.wishes if wishes else ():
            self.limits[x.after].append((x.before, x.most))
        self.seconds = [a.seconds for a in project.activities]
        self.settled = [a.at for a in project.activities]
        self.free = [i for i in range(n) if self.settled[i] is None]
        self.resources = [[r for r, _ in a.uses] if a.seconds else [] for a in project.activities]

    @cached_property
    def line(self) -> list[int]:
        """The free activities, what comes before first."""
        return in_time(self.free, self.settled, self.preds)

    @cached_property
    def tails(self) -> list[int]:
        """How long the day goes on at least from the beginning of each activity."""
        out = [a.seconds if a.ends_day else 0 for a in self.project.activities]
        for i in reversed(self.line):
            for j, w in self.succs[i]:
                if w + out[j] > out[i]:
                    out[i] = w + out[j]
        return out


def in_time(free: Sequence[int], settled: Sequence[int | None],
            preds: Sequence[Sequence[tuple[int, int]]]) -> list[int]:
    """The free activities, what comes before first (as far as the arcs go one way)."""
    out: list[int] = []
    seen = [s is not None for s in settled]
    for root in free:
        if seen[root]:
            continue
        seen[root] = True
        stack = [(root, iter(preds[root]))]
        while stack:
            i, rest = stack[-1]
            for j, _ in rest:
                if not seen[j]:
                    seen[j] = True
                    stack.append((j, iter(preds[j])))
                    break
            else:
                out.append(i)
                stack.pop()
    return out


def serial_starts(net: Network, order: Sequence[int]) -> list[int]:
    """The starts of a schedule made from a list of the activities that are not settled.

    Args:
        net: The project.
        order: The list; what comes before another by an arc stands before it.
    """
    work = _Work(net, order)
    position = 0
    while position < len(order):
        position = work.place(position)
    return work.starts


class _Work:
    """A schedule half made."""

    def __init__(self, net: Network, order: Sequence[int]) -> None:
        self.net, self.order = net, order
        self.lines: list[Line] = lines_of(net.project)
        n = len(net.seconds)
        self.starts = [0] * n
        self.floor = [0] * n
        self.placed = [False] * n
        for i, at in enumerate(net.settled):
            if at is not None:
                self.starts[i], self.placed[i] = at, True
        self.position = [-1] * n
        for k, i in enumerate(order):
            self.position[i] = k
        self.tries = 20 + _SECOND_TRIES * len(order)
        self.tried: dict[tuple[int, int], int] = {}

    def place(self, k: int) -> int:
        """Place the k-th of the list; the place in the list to go on from."""
        i = self.order[k]
        t = self._fit(i)
        for base, most in self.net.limits[i]:
            over = t - self.starts[base] - most
            if over > 0 and self._may_put_off(base, i):
                self.floor[base] = self.starts[base] + over
                back = self.position[base]
                self._take_out(back, k)
                return back
        self.starts[i], self.placed[i] = t, True
        for r in self.net.resources[i]:
            self.lines[r].put(i, t)
        return k + 1

    def _may_put_off(self, base: int, i: int) -> bool:
        """Whether it is still worth a try to put off what a limit counts from."""
        if not self.placed[base] or self.net.settled[base] is not None or not self.tries:
            return False
        tried = self.tried.get((base, i), 0)
        if tried >= _FOR_ONE:
            return False
        self.tried[base, i] = tried + 1
        self.tries -= 1
        return True

    def _fit(self, i: int) -> int:
        """The earliest moment at which it fits, by arcs and resources."""
        t = self.floor[i]
        for before, least in self.net.preds[i]:
            if self.placed[before] and self.starts[before] + least > t:
                t = self.starts[before] + least
        resources = self.net.resources[i]
        if len(resources) == 1:
            return self.lines[resources[0]].earliest(i, t)
        moved = bool(resources)
        while moved:
            moved = False
            for r in resources:
                later = self.lines[r].earliest(i, t)
                if later != t:
                    t, moved = later, True
        return t

    def _take_out(self, first: int, until: int) -> None:
        for i in self.order[first:until]:
            if self.placed[i]:
                self.placed[i] = False
                for r in self.net.resources[i]:
                    self.lines[r].take(i, self.starts[i])
