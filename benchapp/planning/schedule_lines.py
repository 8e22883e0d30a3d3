"""What uses a resource when, while a schedule is being made.

Two kinds: of a resource there is one of, in one line, with the washing between; and of one
there are several of, by what is in use at each moment.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from benchapp.planning.schedule import Project


class OneLine:
    """A resource that does one thing after another."""

    def __init__(self, project: Project, *, washed: bool) -> None:
        self._project = project
        self._wash = project.wash if washed else 0
        self._acts = project.activities
        self._dirty_first = washed and project.inky
        self.starts: list[int] = []
        self.ids: list[int] = []

    def earliest(self, i: int, t: int) -> int:
        """The earliest moment from `t` on at which activity `i` fits in."""
        acts, starts, ids, wash = self._acts, self.starts, self.ids, self._wash
        mine = acts[i]
        k = bisect_right(starts, t)
        if k:
            before = acts[ids[k - 1]]
            free = starts[k - 1] + before.seconds
            if wash and before.inky and mine.inky is False:
                free += wash
            t = max(t, free)
        elif wash and self._dirty_first and mine.inky is False:
            t = max(t, wash)
        while k < len(starts):
            after = acts[ids[k]]
            end = t + mine.seconds
            if wash and mine.inky and after.inky is False:
                end += wash
            if end <= starts[k]:
                break
            free = starts[k] + after.seconds
            if wash and after.inky and mine.inky is False:
                free += wash
            t = max(t, free)
            k += 1
        return t

    def put(self, i: int, t: int) -> None:
        """Activity `i` uses it from `t` on."""
        k = bisect_right(self.starts, t)
        self.starts.insert(k, t)
        self.ids.insert(k, i)

    def take(self, i: int, t: int) -> None:
        """Activity `i`, which began at `t`, uses it no more."""
        k = bisect_left(self.starts, t)
        while self.ids[k] != i:
            k += 1
        del self.starts[k], self.ids[k]


class Several:
    """A resource of which there are several."""

    def __init__(self, project: Project, resource: int) -> None:
        self._acts = project.activities
        self._capacity = project.capacities[resource]
        self._amount = {i: amount for i, a in enumerate(self._acts)
                        for r, amount in a.uses if r == resource}
        self.used: list[tuple[int, int, int]] = []

    def earliest(self, i: int, t: int) -> int:
        """The earliest moment from `t` on at which activity `i` fits in."""
        seconds, room = self._acts[i].seconds, self._capacity - self._amount[i]
        while True:
            over = [(s, e, a) for s, e, a in self.used if e > t and s < t + seconds]
            if sum(a for _, _, a in over) <= room:
                return t
            moments = [t, *(s for s, _, _ in over if s > t)]
            crowded = [m for m in moments if sum(a for s, e, a in over if s <= m < e) > room]
            if not crowded:
                return t
            last = max(crowded)
            later = min(e for s, e, _ in over if s <= last < e)
            t = later

    def put(self, i: int, t: int) -> None:
        """Activity `i` uses it from `t` on."""
        self.used.append((t, t + self._acts[i].seconds, self._amount[i]))

    def take(self, i: int, t: int) -> None:
        """Activity `i`, which began at `t`, uses it no more."""
        self.used.remove((t, t + self._acts[i].seconds, self._amount[i]))


Line = OneLine | Several


def lines_of(project: Project) -> list[Line]:
    """An empty line for every resource, with the settled activities in it."""
    lines: list[Line] = [
        OneLine(project, washed=r == project.hands) if capacity == 1 else Several(project, r)
        for r, capacity in enumerate(project.capacities)
    ]
    for i, act in enumerate(project.activities):
        if act.at is not None and act.seconds > 0:
            for r, _ in act.uses:
                lines[r].put(i, act.at)
    return lines


