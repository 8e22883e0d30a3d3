"""Longest paths: the earliest schedule with the order on every resource kept.

The order that resources are used in becomes arcs; the longest path through all arcs and all
limits is then the earliest schedule of that order (compaction).
"""

from __future__ import annotations

from collections.abc import Sequence

from benchapp.planning.schedule import NONE, Project
from benchapp.planning.schedule_serial import Network

#: For each activity what it follows, and how long after that begins.
Arcs = list[list[tuple[int, int]]]


def order_arcs(project: Project, starts: Sequence[int]) -> Arcs:
    """The arcs that keep the order in which a schedule uses its resources."""
    acts = project.activities
    arcs: Arcs = [[] for _ in acts]
    for resource, capacity in enumerate(project.capacities):
        using = sorted(
            ((starts[i], i, amount) for i, a in enumerate(acts) if a.seconds > 0
             for r, amount in a.uses if r == resource))
        if capacity == 1:
            _one_line(project, resource, [i for _, i, _ in using], arcs)
        else:
            _several(project, using, capacity, arcs)
    return arcs


def _one_line(project: Project, resource: int, line: Sequence[int], arcs: Arcs) -> None:
    washed, before = resource == project.hands, NONE
    for i in line:
        wash = project.change(before, i) if washed else 0
        if before == NONE:
            if wash:
                arcs[i].append((NONE, wash))
        else:
            arcs[i].append((before, project.activities[before].seconds + wash))
        before = i


def _several(project: Project, using: Sequence[tuple[int, int, int]], capacity: int,
             arcs: Arcs) -> None:
    """Each takes what was given free last before it begins."""
    free: list[tuple[int, int, int]] = [(0, NONE, capacity)]
    for start, i, amount in using:
        free.sort()
        wanted, rest = amount, []
        for end, owner, have in reversed(free):
            taken = min(have, wanted) if end <= start else 0
            wanted -= taken
            if taken and owner != NONE:
                arcs[i].append((owner, project.activities[owner].seconds))
            if have > taken:
                rest.append((end, owner, have - taken))
        free = [*rest, (start + project.activities[i].seconds, i, amount)]


def is_legal(project: Project, starts: Sequence[int]) -> bool:
    """Whether a schedule is legal; broken limits do not matter.

    In one pass, for plans that are made while someone waits; `faults` says in words what is wrong.
    """
    acts = project.activities
    for t, act in zip(starts, acts, strict=True):
        if t != act.at and (act.at is not None or t < 0):
            return False
    if any(starts[x.after] < starts[x.before] + x.least and acts[x.after].at is None
           for x in project.arcs):
        return False
    return all(_room_for_all(project, starts, r) for r in range(len(project.capacities)))


def _room_for_all(project: Project, starts: Sequence[int], resource: int) -> bool:
    """Whether no more is used of a resource than there is, and hands are washed."""
    acts, capacity = project.activities, project.capacities[resource]
    using = sorted((starts[i], i, n) for i, a in enumerate(acts) if a.seconds
                   for r, n in a.uses if r == resource)
    before, free, now = NONE, 0, list[tuple[int, int]]()
    for t, i, amount in using:
        now = [(end, n) for end, n in now if end > t]
        over = amount + sum(n for _, n in now) > capacity
        if over and not (acts[i].at is not None and capacity == 1
                         and (before == NONE or acts[before].at is not None)):
            return False
        if resource == project.hands:
            settled = acts[i].at is not None and (before == NONE or acts[before].at is not None)
            if t < free + project.change(before, i) and not settled:
                return False
        now.append((t + acts[i].seconds, amount))
        before, free = i, t + acts[i].seconds
    return True


def compact_schedule(net: Network, starts: Sequence[int]) -> list[int]:
    """The earliest schedule that keeps the order of a schedule, and breaks no limit more.

    Args:
        net: The project.
        starts: A legal schedule.
    """
    arcs = order_arcs(net.project, starts)
    line = sorted(net.free, key=lambda i: starts[i])
    preds = [net.preds[i] + [(j, w) for j, w in arcs[i] if j != NONE] for i in line]
    out = [0] * len(starts)
    for i, at in enumerate(net.settled):
        if at is not None:
            out[i] = at
    for i in line:
        out[i] = max((w for j, w in arcs[i] if j == NONE), default=0)
    back = [(i, base, max(most, starts[i] - starts[base]))
            for i in reversed(line) for base, most in net.limits[i]
            if net.settled[base] is None]
    moved = True
    while moved:
        for i, before in zip(line, preds, strict=True):
            t = out[i]
            for j, w in before:
                if out[j] + w > t:
                    t = out[j] + w
            out[i] = t
        moved = False
        for i, base, most in back:
            if out[i] - most > out[base]:
                out[base], moved = out[i] - most, True
    return out
