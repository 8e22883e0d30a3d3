"""What is legal in a schedule, from the rules alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchapp.planning.schedule import NONE, Project


def faults(project: Project, starts: Sequence[int]) -> Iterator[str]:
    """What is not possible in a schedule, in words; nothing where it is legal.

    Written from the rules alone and in the plainest way, so that every method can be held
    against it. Broken limits are no faults.
    """
    acts = project.activities
    for i, act in enumerate(acts):
        if act.at is None and starts[i] < 0:
            yield f"{i} begins before the day"
        if act.at is not None and starts[i] != act.at:
            yield f"{i} is settled at {act.at} and begins at {starts[i]}"
    for arc in project.arcs:
        if acts[arc.after].at is None and starts[arc.after] < starts[arc.before] + arc.least:
            yield f"{arc.after} begins too early after {arc.before}"
    for resource, capacity in enumerate(project.capacities):
        yield from _crowded(project, starts, resource, capacity)
    yield from _unwashed(project, starts)


def _crowded(project: Project, starts: Sequence[int], resource: int,
             capacity: int) -> Iterator[str]:
    """Moments at which more is used of a resource than there is."""
    using = [(starts[i], starts[i] + a.seconds, amount, a.at is not None)
             for i, a in enumerate(project.activities) if a.seconds > 0
             for r, amount in a.uses if r == resource]
    for moment, _, _, _ in using:
        now = [(amount, settled) for s, e, amount, settled in using if s <= moment < e]
        if sum(a for a, _ in now) > capacity and not all(settled for _, settled in now):
            yield f"resource {resource} is used too much at {moment}"


def _unwashed(project: Project, starts: Sequence[int]) -> Iterator[str]:
    """Clean work for which inky hands had no time to be washed."""
    acts = project.activities
    mine = sorted((starts[i], i) for i, a in enumerate(acts)
                  if a.seconds > 0 and any(r == project.hands for r, _ in a.uses))
    before, free = NONE, 0
    for start, i in mine:
        settled = acts[i].at is not None and (before == NONE or acts[before].at is not None)
        if start < free + project.change(before, i) and not settled:
            yield f"{i} begins at {start} with unwashed hands"
        before, free = i, start + acts[i].seconds
