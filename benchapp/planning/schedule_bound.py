"""How early a day can end at best: no schedule is better, however long one looks.

Longest paths that jump over what is settled on a resource of which there is one, and the
work a resource has to do between its earliest beginning and what must come after it
(Carlier 1982, the one-machine bound).
"""

from __future__ import annotations

from collections.abc import Sequence

from benchapp.planning.schedule import Project
from benchapp.planning.schedule_serial import Network

#: Stretches of time in which a resource is taken.
Taken = list[tuple[int, int, bool]]


def taken_resources(project: Project) -> dict[int, Taken]:
    """When settled activities take up a resource of which there is one, in order of time.

    Each with its beginning, its end, and whether the hands must be clean for it.
    """
    out: dict[int, Taken] = {r: [] for r, c in enumerate(project.capacities) if c == 1}
    for act in project.activities:
        if act.at is not None and act.seconds > 0:
            for r, _ in act.uses:
                if r in out:
                    clean = r == project.hands and act.inky is False
                    out[r].append((act.at, act.at + act.seconds, clean))
    return {r: sorted(x) for r, x in out.items() if x}


def earliest_heads(net: Network, *, limits: bool = True) -> list[int] | None:
    """The earliest beginning of everything, by arcs, limits and breaks.

    Args:
        net: The project.
        limits: Whether all limits are to be kept.

    Returns:
        The beginnings; None where nothing keeps all of that.
    """
    project = net.project
    busy = taken_resources(project)
    preds, line = net.preds, net.line
    out = [0 if a.at is None else a.at for a in project.activities]
    back = [(i, base, most) for i in reversed(line) for base, most in net.limits[i]]
    for _ in range(len(line) + 1):
        for i in line:
            out[i] = _jump(net, busy, i, max((out[j] + w for j, w in preds[i]), default=0), out[i])
        moved = any(out[i] + w > out[j] for j in line for i, w in preds[j])
        for i, base, most in back if limits else ():
            if out[i] - most > out[base]:
                if net.settled[base] is not None:
                    continue
                out[base], moved = out[i] - most, True
        if not moved:
            return out
    return None


def _jump(net: Network, busy: dict[int, Taken], i: int, t: int, at_least: int) -> int:
    """The first moment from `t` on at which nothing settled is in its way."""
    t = max(t, at_least)
    act = net.project.activities[i]
    if not act.seconds:
        return t
    moved = True
    while moved:
        moved = False
        for r, _ in act.uses:
            for start, end, clean in busy.get(r, ()):
                wash = net.project.wash if clean and act.inky else 0
                if t < end and t + act.seconds + wash > start:
                    t, moved = end, True
    return t


def lower_bound(net: Network, *, limits: bool = True) -> int:
    """No schedule (with `limits`: that keeps them all) ends earlier than this."""
    first = earliest_heads(net, limits=limits) or earliest_heads(net, limits=False)
    if first is None:
        return 0
    after = net.tails
    acts = net.project.activities
    best = max((first[i] + net.seconds[i] for i, a in enumerate(acts) if a.ends_day), default=0)
    best = max([best, *(first[i] + after[i] for i in net.free)])
    busy = taken_resources(net.project)
    for r, capacity in enumerate(net.project.capacities):
        best = max(best, _one_machine(net, r, capacity, first, after, busy.get(r, [])))
    return max(best, _hands(net, first, after, busy.get(net.project.hands, [])))


def _hands(net: Network, first: Sequence[int], after: Sequence[int], busy: Taken) -> int:
    """All the work of the hands, and the washes that no order of it can do without."""
    project = net.project
    mine = [i for i in net.free if project.activities[i].inky is not None and net.seconds[i]]
    if not mine or not project.wash:
        return 0
    begins = min(first[i] for i in mine)
    ends = begins + sum(net.seconds[i] for i in mine) + project.wash * _washes(net)
    for start, end, _ in busy:
        if begins <= start < ends:
            ends += end - start
    return ends + min(after[i] - net.seconds[i] for i in mine)


def _washes(net: Network) -> int:
    """The most washes along one way through the day: what follows one another stays in order."""
    acts = net.project.activities
    never = -1
    inky, clean = [never] * len(acts), [0] * len(acts)
    for i in net.line:
        before = [j for j, _ in net.preds[i]]
        dirty = max((inky[j] for j in before), default=never)
        washed = max((clean[j] for j in before), default=0)
        if acts[i].inky is True and net.seconds[i]:
            inky[i], clean[i] = max(dirty, washed), never
        elif acts[i].inky is False and net.seconds[i]:
            inky[i], clean[i] = never, max(washed, dirty + 1 if dirty >= 0 else 0)
        else:
            inky[i], clean[i] = dirty, washed
    return max([0, *inky, *clean])


def _one_machine(net: Network, resource: int, capacity: int, first: Sequence[int],
                 after: Sequence[int], busy: Taken) -> int:
    """Work on one resource between the earliest beginning and the least that comes after it."""
    mine = sorted(((first[i], net.seconds[i], amount, after[i] - net.seconds[i])
                   for i in net.free for r, amount in net.project.activities[i].uses
                   if r == resource and net.seconds[i]), reverse=True)
    best, work, last = 0, 0, None
    for begins, seconds, amount, rest in mine:
        work += seconds * amount
        last = rest if last is None else min(last, rest)
        ends = begins - (-work // capacity)
        for start, end, _ in busy:
            if begins <= start < ends:
                ends += end - start
        best = max(best, ends + last)
    return best
