"""Projects of thirty activities, made from a seed by the scheme of the published j30 instances.

R. Kolisch, A. Sprecher, A. Drexl, *Characterization and generation of a general class of
resource-constrained project scheduling problems*, Management Science 41 (1995) 1693: a network of
so many arcs a node, none of them redundant; so much of the resources asked for; so much of them
there between the least that is possible and the most that is ever of use. Not the published
instances themselves: their generator's numbers are its own.
"""

from __future__ import annotations

from itertools import product
from typing import Final

from benchapp.planning.schedule import Activity, Arc, Project
from benchapp.reckon.dice import Dice

#: Arcs a node, share of the resources an activity asks for, and scarceness: every combination.
CELLS: Final = tuple(product((1.5, 1.8, 2.1), (0.25, 0.5, 0.75, 1.0), (0.2, 0.5, 0.7, 1.0)))
JOBS: Final = 30
RESOURCES: Final = 4
#: At the beginning and the end of the network, and at most before and after an activity.
ENDS, NEIGHBOURS, LONGEST, MOST_ASKED = 3, 3, 10, 10


def made(complexity: float, factor: float, strength: float, seed: int) -> Project:
    """A project of one of the cells; its activities take 1 to 10."""
    while True:
        dice = Dice(seed)
        arcs = _network(complexity, dice)
        if arcs is not None:
            break
        seed += 1_000_003
    seconds = [1 + dice.below(LONGEST) for _ in range(JOBS)]
    asked = _asked(factor, dice)
    first = [0] * JOBS
    for i, j in sorted(arcs):  # arcs go from lower numbers to higher ones
        first[j] = max(first[j], first[i] + seconds[i])
    capacities = []
    for r in range(RESOURCES):
        uses = [(first[i], first[i] + seconds[i], n) for i, x in enumerate(asked)
                for q, n in x.items() if q == r]
        least = max((n for *_, n in uses), default=0)
        most = max((sum(n for s, e, n in uses if s <= t < e) for t, *_ in uses), default=0)
        capacities.append(round(least + strength * (most - least)))
    acts = tuple(Activity(t, tuple(sorted(x.items())))
                 for t, x in zip(seconds, asked, strict=True))
    return Project(acts, tuple(capacities), tuple(Arc(i, j, seconds[i]) for i, j in sorted(arcs)))


def _network(complexity: float, dice: Dice) -> set[tuple[int, int]] | None:
    """Arcs between the activities; None where chance has run into a corner."""
    # Two nodes that stand for beginning and end are in the count, and the arcs to them.
    wanted = round(complexity * (JOBS + 2)) - 2 * ENDS
    arcs: set[tuple[int, int]] = set()
    for j in range(ENDS, JOBS):
        if not _added(arcs, dice, [(i, j) for i in range(min(j, JOBS - ENDS))]):
            return None
    for i in range(JOBS - ENDS - 1, -1, -1):
        known = any(a == i for a, _ in arcs)
        if not known and not _added(arcs, dice, [(i, j) for j in range(max(i + 1, ENDS), JOBS)]):
            return None
    every = [(i, j) for i in range(JOBS - ENDS) for j in range(max(i + 1, ENDS), JOBS)]
    while len(arcs) < wanted:
        if not _added(arcs, dice, every):
            return None
    return arcs


def _added(arcs: set[tuple[int, int]], dice: Dice, pairs: list[tuple[int, int]]) -> bool:
    """One of the pairs is added; whether there was one that keeps to the rules."""
    reach = [[_reached(arcs, i, end) for i in range(JOBS)] for end in (0, 1)]
    fits = [x for x in pairs if _fits(arcs, *x, reach)]
    if fits:
        arcs.add(fits[dice.below(len(fits))])
    return bool(fits)


def _fits(arcs: set[tuple[int, int]], i: int, j: int, reach: list[list[set[int]]]) -> bool:
    """Whether an arc may be added: few neighbours, and it makes none redundant, nor is it."""
    if sum(a == i for a, _ in arcs) >= NEIGHBOURS or sum(b == j for _, b in arcs) >= NEIGHBOURS:
        return False
    after, before = reach[0][j], reach[1][i]
    return j not in reach[0][i] and not any(a in before and b in after for a, b in arcs)


def _reached(arcs: set[tuple[int, int]], start: int, end: int) -> set[int]:
    """All that lies behind an activity (0) or before it (1), itself too."""
    out, stack = {start}, [start]
    while stack:
        here = stack.pop()
        new = {arc[1 - end] for arc in arcs if arc[end] == here} - out
        out |= new
        stack.extend(new)
    return out


def _asked(factor: float, dice: Dice) -> list[dict[int, int]]:
    """What each activity asks of which resources: of one at least, of that share in all."""
    asked = [{dice.below(RESOURCES): 1 + dice.below(MOST_ASKED)} for _ in range(JOBS)]
    while sum(map(len, asked)) < factor * JOBS * RESOURCES:
        mine = asked[dice.below(JOBS)]
        mine.setdefault(dice.below(RESOURCES), 1 + dice.below(MOST_ASKED))
    return asked
