"""Limits that contradict the work itself: the circle of activities behind it, to be named.

A limit is an arc back in time. Where the longest path from what it counts from to what it is
for is longer than it lets it be, the two close a positive cycle: no schedule keeps it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from benchapp.planning.schedule import NONE, Project, StartLimit

_Edges = list[list[tuple[int, int]]]


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A limit that can't be kept with those before it.

    Attributes:
        limit: The limit.
        circle: The activities of the circle, from what the limit counts from to what it is for.
        by: Seconds by which it is too tight.
    """

    limit: StartLimit
    circle: tuple[int, ...]
    by: int


def find_contradictions(project: Project) -> tuple[list[bool], tuple[Contradiction, ...]]:
    """Which limits can be kept together, resources apart, and what keeps the others from it.

    Limits are taken one by one in their order; one that closes a positive cycle with the arcs
    and those taken before it is left out.

    Raises:
        ValueError: The least lags alone run in a circle.
    """
    n = len(project.activities)
    edges: _Edges = [[] for _ in range(n)]
    for arc in project.arcs:
        edges[arc.before].append((arc.after, arc.least))
    far, came = _all_paths(edges)
    kept: list[bool] = []
    found: list[Contradiction] = []
    for x in project.limits:
        if far[x.after] - x.most <= far[x.before]:
            edges[x.after].append((x.before, -x.most))
            kept.append(True)
            continue
        saved = list(far), list(came)
        far[x.before], came[x.before] = far[x.after] - x.most, x.after
        over = _raise(edges, far, came, x)
        kept.append(over == 0)
        if over == 0:
            edges[x.after].append((x.before, -x.most))
            continue
        found.append(Contradiction(x, _circle(came, x), over))
        far, came = saved
    return kept, tuple(found)


def _all_paths(edges: _Edges) -> tuple[list[int], list[int]]:
    """Longest paths from a common beginning."""
    n = len(edges)
    far, came, rounds = [0] * n, [NONE] * n, [0] * n
    queue = list(range(n))
    for i in queue:
        for j, w in edges[i]:
            if far[i] + w > far[j]:
                far[j], came[j] = far[i] + w, i
                rounds[j] += 1
                if rounds[j] > n:
                    raise ValueError("the least lags run in a circle")
                queue.append(j)
    return far, came


def _raise(edges: _Edges, far: list[int], came: list[int], new: StartLimit) -> int:
    """Follow a raised label; by how much it would raise the one it came from, or 0."""
    queue = [new.before]
    for i in queue:
        for j, w in edges[i]:
            if far[i] + w > far[j]:
                over = far[i] + w - far[j]
                far[j], came[j] = far[i] + w, i
                if j == new.after:
                    return over
                queue.append(j)
    return 0


def _circle(came: Sequence[int], limit: StartLimit) -> tuple[int, ...]:
    """The way back from what a limit is for to what it counts from."""
    way = [limit.after]
    while way[-1] != limit.before:
        way.append(came[way[-1]])
    return tuple(reversed(way))
