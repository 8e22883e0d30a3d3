"""A good schedule within a budget of tries: lists by rule, compaction, then changed lists.

The budget is a count, never a clock, and chance has a seed: the same question has the same
answer everywhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from typing import Final

from benchapp.planning.schedule import Project, Schedule, schedule_of
from benchapp.planning.schedule_bound import earliest_heads, lower_bound
from benchapp.planning.schedule_cycles import Contradiction, find_contradictions
from benchapp.planning.schedule_paths import compact_schedule, is_legal
from benchapp.planning.schedule_serial import Network, serial_starts
from benchapp.reckon.dice import Dice

SEED: Final = 20_260_503

#: How far in a list an activity is moved at most, or an eighth of the list.
_REACH: Final = 12


@dataclass(frozen=True, slots=True)
class SearchResult:
    """A schedule, and how much better one could be at most.

    Attributes:
        schedule: The best found.
        bound: No schedule that breaks as little ends earlier.
        contradictions: Limits that nothing could keep.
        tries: Schedules made.
        order: The list it was made from: where to begin when little has changed.
    """

    schedule: Schedule
    bound: int
    contradictions: tuple[Contradiction, ...]
    tries: int
    order: tuple[int, ...]

    @property
    def proved(self) -> bool:
        """Whether there is no better one."""
        return self.schedule.late == 0 and self.schedule.cost <= self.bound


@dataclass(frozen=True, slots=True)
class Ready:
    """A project looked through once, to be scheduled more than once.

    Attributes:
        net: The project with the limits that can be kept.
        strict: The same with its wishes kept like limits; `net` itself where it has none.
        contradictions: The others, and why.
        bound: No schedule that keeps those limits ends earlier.
    """

    net: Network
    strict: Network
    contradictions: tuple[Contradiction, ...]
    bound: int


def make_ready(project: Project) -> Ready:
    """Look a project through.

    Raises:
        ValueError: The least lags contradict each other.
    """
    kept, found = find_contradictions(project)
    net = Network(project, kept)
    strict = Network(project, kept, wishes=True) if project.wishes else net
    return Ready(net, strict, found, lower_bound(net))


def solve_schedule(project: Project | Ready, *, tries: int = 12, seed: int = SEED,
                   order: Sequence[int] = (), known: Sequence[int] | None = None) -> SearchResult:
    """Schedule a project.

    Args:
        project: The work.
        tries: How many schedules may be made.
        seed: What chance goes by.
        order: A list that served before; activities it does not name come by rule.
        known: The starts of a schedule that served before: where it is still possible, what is
            found is no worse. A list need not give the very schedule that was put in order by it.

    Raises:
        ValueError: The least lags contradict each other.
    """
    ready = make_ready(project) if isinstance(project, Project) else project
    search = _Search(ready)
    if known is not None and is_legal(ready.net.project, known):
        search.take(known)
    for line in _lists(ready.net, order):
        served = search.done or (bool(order) and not search.best.late)
        if search.tries and (search.tries >= tries or served):
            break
        search.attempt(line)
        if search.best.over:  # the same list once more, for the sake of its wishes
            search.attempt(line, strict=True)
            search.tries -= 1
    search.better(tries, Dice(seed))
    least = ready.bound if search.best.late == 0 else lower_bound(ready.net, limits=False)
    return SearchResult(search.best, least, ready.contradictions, search.tries, tuple(search.order))


def _lists(net: Network, order: Sequence[int]) -> Iterator[list[int]]:
    """The list that served before; else by what must come after, as given, by the earliest."""
    if order:
        place = {i: k for k, i in enumerate(order)}
        after = net.tails
        last = len(order)
        yield by_rank(net, [(place.get(i, last), -after[i]) for i in range(len(net.seconds))])
    after = net.tails
    yield by_rank(net, [(-t, 0) for t in after])
    yield by_rank(net, [(i, 0) for i in range(len(after))])
    first = earliest_heads(net) or earliest_heads(net, limits=False) or [0] * len(after)
    yield by_rank(net, [(t, -after[i]) for i, t in enumerate(first)])


def by_rank(net: Network, rank: Sequence[tuple[int, int]]) -> list[int]:
    """The free activities by rank, but none before what it follows."""
    waits = [sum(1 for j, _ in net.preds[i] if net.settled[j] is None)
             for i in range(len(net.seconds))]
    ready = [(rank[i], i) for i in net.free if not waits[i]]
    heapify(ready)
    out: list[int] = []
    while ready:
        _, i = heappop(ready)
        out.append(i)
        for j, _ in net.succs[i]:
            waits[j] -= 1
            if not waits[j] and net.settled[j] is None:
                heappush(ready, (rank[j], j))
    return out


class _Search:
    """The best schedule so far, and the list behind it."""

    def __init__(self, ready: Ready) -> None:
        self.net, self.strict, self.bound = ready.net, ready.strict, ready.bound
        self.tries = 0
        self.order: list[int] = []
        self.best = Schedule((), 0)

    @property
    def done(self) -> bool:
        """Nothing better is possible."""
        return self.best.late == 0 and self.best.cost <= self.bound

    def attempt(self, order: list[int], *, strict: bool = False) -> bool:
        """Make a schedule from a list; whether it is at least as good as the best."""
        return self.take(serial_starts(self.strict if strict else self.net, order))

    def take(self, starts: Sequence[int]) -> bool:
        """Put a schedule together closely; whether it is at least as good as the best."""
        found = schedule_of(self.net.project, compact_schedule(self.strict, starts))
        self.tries += 1
        if self.order and found.worth > self.best.worth:
            return False
        rank = [(t, 0) for t in found.starts]
        self.order, self.best = by_rank(self.net, rank), found
        return True

    def better(self, tries: int, dice: Dice) -> None:
        """Change the list here and there for as long as the budget lasts."""
        while self.tries < tries and not self.done and len(self.order) > 1:
            line = list(self.order)
            for _ in range(1 + dice.below(3)):
                self._move(line, dice)
            self.attempt(line, strict=self.strict is not self.net and bool(dice.below(2)))

    def _move(self, line: list[int], dice: Dice) -> None:
        """Put one activity elsewhere in the list; what it follows, or what follows it, goes along.
        """
        reach = max(_REACH, len(line) // 8)
        at = dice.below(len(line))
        to = max(0, min(len(line) - 1, at + dice.below(2 * reach + 1) - reach))
        low, high = min(at, to), max(at, to) + 1
        links = self.net.preds if to < at else self.net.succs
        going, staying, with_it = [], [], {j for j, _ in links[line[at]]}
        part = line[low:high]
        for i in reversed(part) if to < at else part:
            if i == line[at] or i in with_it:
                going.append(i)
                with_it.update(j for j, _ in links[i])
            else:
                staying.append(i)
        line[low:high] = (going[::-1] + staying[::-1]) if to < at else (staying + going)
