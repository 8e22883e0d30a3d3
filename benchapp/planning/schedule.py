"""A day's work as plain numbers: activities, what each waits for, and what must not wait.

A resource-constrained project with least and greatest lags (Neumann, Schwindt & Zimmermann,
*Project Scheduling with Time Windows and Scarce Resources*): least lags and resources are
always kept; greatest lags are limits, which a schedule may break and then says by how much.
Hands that change from inky to clean are washed in between. Whole seconds throughout.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

#: Amount of a resource used: which one, and how much of it.
Use = tuple[int, int]
#: Index of nothing.
NONE: Final = -1
#: Seconds later that a day may end to save one second by which a wish is passed (our own choice:
#: a day that must be over by a moment is never made longer than that).
WISH_PRICE: Final = 2


@dataclass(frozen=True, slots=True)
class Activity:
    """One piece of work.

    Attributes:
        seconds: How long it takes, 0 or more.
        uses: What it uses all the while.
        inky: What it needs the hands to be: inky, clean, or None where it uses none.
        at: When it begins, where that is settled: an appointment, or work that runs.
        ends_day: Whether the day ends no earlier than it does. A break does not.
    """

    seconds: int
    uses: tuple[Use, ...] = ()
    inky: bool | None = None
    at: int | None = None
    ends_day: bool = True


@dataclass(frozen=True, slots=True)
class Arc:
    """`after` begins at least `least` seconds after `before` began."""

    before: int
    after: int
    least: int


@dataclass(frozen=True, slots=True)
class StartLimit:
    """`after` should begin at most `most` seconds after `before` began."""

    before: int
    after: int
    most: int


@dataclass(frozen=True, slots=True)
class Project:
    """All the work of a day.

    Attributes:
        activities: Known by their place in this list.
        capacities: How much there is of each resource.
        hands: The resource whose inky and clean uses have a wash between them, or -1.
        wash: Seconds of that wash.
        inky: Whether those hands are inky at 0, when the day begins.
        wishes: Limits that may be passed at a price: `WISH_PRICE`.
        due: The moment by which the day should end before wishes count; None: there is none.
    """

    activities: tuple[Activity, ...]
    capacities: tuple[int, ...] = ()
    arcs: tuple[Arc, ...] = ()
    limits: tuple[StartLimit, ...] = ()
    hands: int = NONE
    wash: int = 0
    inky: bool = False
    wishes: tuple[StartLimit, ...] = ()
    due: int | None = None

    def change(self, before: int, after: int) -> int:
        """Seconds of washing between two activities that follow one another on the hands."""
        dirty = self.inky if before == NONE else self.activities[before].inky
        return self.wash if dirty and self.activities[after].inky is False else 0


@dataclass(frozen=True, slots=True)
class Broken:
    """A limit that a schedule breaks, by so many seconds."""

    limit: StartLimit
    by: int


@dataclass(frozen=True, slots=True)
class Schedule:
    """When every activity begins, in seconds from 0.

    Attributes:
        starts: By activity.
        end: When the last activity that ends the day is over.
        broken: The limits it breaks.
        over: Seconds by which wishes are passed, all together.
        overtime: Seconds by which it ends after the moment it is due.
    """

    starts: tuple[int, ...]
    end: int
    broken: tuple[Broken, ...] = field(default=())
    over: int = 0
    overtime: int = 0

    @property
    def late(self) -> int:
        """Seconds by which limits are broken, all together."""
        return sum(b.by for b in self.broken)

    @property
    def cost(self) -> int:
        """The end, and what passed wishes cost beside it, in seconds."""
        return self.end + WISH_PRICE * self.over

    @property
    def worth(self) -> tuple[int, int, int]:
        """What is to be as small as possible: broken limits, then overtime, then the cost."""
        return self.late, self.overtime, self.cost


def schedule_of(project: Project, starts: Sequence[int]) -> Schedule:
    """A schedule from its starts, with its end and what it breaks."""
    ends = [s + a.seconds for s, a in zip(starts, project.activities, strict=True) if a.ends_day]
    broken = tuple(
        Broken(x, over) for x in project.limits
        if (over := starts[x.after] - starts[x.before] - x.most) > 0
    )
    over = sum(max(0, starts[x.after] - starts[x.before] - x.most) for x in project.wishes)
    end = max(ends, default=0)
    overtime = 0 if project.due is None else max(0, end - project.due)
    return Schedule(tuple(starts), end, broken, over, overtime)
