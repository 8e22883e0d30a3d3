"""Small days proved: branch and bound on what can't happen at once.

Each node is the earliest schedule by arcs, limits and breaks alone. Where two of its activities
get into each other's way on a resource, one goes first: two children (of a resource there are
several of, every pair of those that are too many). A node that can't end before the best known
is left. For the worker, never for the bench: what is not proved within the budget stays open.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from benchapp.planning.schedule import NONE, Project, Schedule, faults, schedule_of
from benchapp.planning.schedule_bound import heads
from benchapp.planning.schedule_cycles import contradictions
from benchapp.planning.schedule_serial import Network

Extra = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Proof:
    """What a search through everything found.

    Attributes:
        schedule: The best schedule known: the one that came in, or a better one.
        proved: Whether everything was looked through: there is none better that breaks nothing.
        nodes: How many nodes were looked at.
    """

    schedule: Schedule
    proved: bool
    nodes: int


def prove(project: Project, known: Schedule, *, nodes: int = 2_000) -> Proof:
    """Look for a schedule that breaks no limit and ends earlier than one that is known.

    Args:
        project: The work.
        known: A schedule of it. One that breaks limits is taken as ending never.
        nodes: How many nodes may be looked at.
    """
    kept, found = contradictions(project)
    net = Network(project, kept)
    if found or _settled_among_several(project):
        return Proof(known, proved=False, nodes=0)
    best, until = known, known.end - 1 if not known.late else sum(net.seconds) + 100_000
    after, seen = net.tails, 0
    stack: list[tuple[Extra, ...]] = [()]
    while stack:
        if seen >= nodes:
            return Proof(best, proved=False, nodes=seen)
        extra = stack.pop()
        seen += 1
        starts = heads(net, extra=extra, until=until)
        if starts is None or any(starts[i] + after[i] > until for i in net.free):
            continue
        children = _children(project, starts)
        if children is None:
            if not any(True for _ in faults(project, starts)):
                best = schedule_of(project, starts)
                until = best.end - 1
                continue
            return Proof(best, proved=False, nodes=seen)
        ranked = sorted(children, key=lambda x: starts[x[1]] - starts[x[0]] - x[2])
        stack.extend((*extra, x) for x in ranked)
    return Proof(best, proved=True, nodes=seen)


def _settled_among_several(project: Project) -> bool:
    """Whether something settled uses a resource there are several of: not looked through here."""
    return any(a.at is not None and a.seconds and any(project.capacities[r] > 1 for r, _ in a.uses)
               for a in project.activities)


def _children(project: Project, starts: Sequence[int]) -> list[Extra] | None:
    """Ways to put right the first conflict there is; None: there is none."""
    first = min(_conflicts(project, starts), default=None)
    if first is None:
        return None
    _, resource, crowd = first
    acts = project.activities
    return [(i, j, acts[i].seconds + _wash(project, resource, i, j))
            for i in crowd for j in crowd if i != j and acts[j].at is None]


def _wash(project: Project, resource: int, i: int, j: int) -> int:
    return project.change(i, j) if resource == project.hands else 0


def _conflicts(project: Project, starts: Sequence[int]) -> Iterator[tuple[int, int, list[int]]]:
    """The first conflict on each resource: when, which, and the activities that are too many."""
    acts = project.activities
    for r, capacity in enumerate(project.capacities):
        mine = sorted((starts[i], i, n) for i, a in enumerate(acts) if a.seconds
                      for q, n in a.uses if q == r)
        if capacity == 1:
            yield from _pair(project, r, [i for _, i, _ in mine], starts)
            continue
        for t, _, _ in mine:
            crowd = [(i, n) for s, i, n in mine if s <= t < s + acts[i].seconds]
            if sum(n for _, n in crowd) > capacity and any(acts[i].at is None for i, _ in crowd):
                yield t, r, [i for i, _ in crowd]
                break


def _pair(project: Project, resource: int, line: Sequence[int],
          starts: Sequence[int]) -> Iterator[tuple[int, int, list[int]]]:
    acts, before = project.activities, NONE
    for i in line:
        if before != NONE and not (acts[before].at is not None and acts[i].at is not None):
            free = starts[before] + acts[before].seconds + _wash(project, resource, before, i)
            if starts[i] < free:
                yield starts[i], resource, [before, i]
                return
        before = i
