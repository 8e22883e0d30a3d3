"""What a plan is made of, and what it says. Seconds throughout, counted from the plan's zero.

Zero is the moment the plan is made for: the beginning of a day to come, or now.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Final

from benchapp.planning.schedule import Project
from benchapp.recipe.model import Hands, Step
from benchapp.reckon.loads import Loads
from benchapp.session.compiled_recipe import WASH, CompiledRecipe
from benchapp.session.state import TaskKey

#: Usual seconds of a step; a recipe's own until its print has sessions.
Times = Callable[[CompiledRecipe, Step], int]
#: One piece of work in a room with several sessions: session and key.
Name = tuple[str, TaskKey]

SOAK: Final = "soak"
REST: Final = "rest"
BREAK: Final = "break"
TAKEN: Final = "taken"


def usual_time(_: CompiledRecipe, step: Step) -> int:
    """The recipe's usual time, in whole seconds; unknown is planned as no time, and said."""
    return 0 if step.time is None else round(step.time.usual.ms / 1000)


@dataclass(frozen=True, slots=True)
class Break:
    """Lunch or an appointment: it takes all hands, and no hands step is cut by it."""

    at: int
    seconds: int
    name: str = "break"


@dataclass(frozen=True, slots=True)
class TakenPlace:
    """A place that someone else uses."""

    place: str
    at: int
    seconds: int


@dataclass(frozen=True, slots=True)
class DampedPack:
    """A pack there is already.

    Attributes:
        id: The pack's id.
        paper: What paper it is.
        sheets: Sheets left; None: nobody counted.
        soaked: When its soak is over, where it is in the water still.
        rest: Seconds it rests after that.
        ready: When it is right to print on, where it is out of the water.
        old: When it is older than it keeps, where that is known.
    """

    id: str
    paper: str
    sheets: int | None
    soaked: int | None = None
    rest: int = 0
    ready: int = 0
    old: int | None = None


@dataclass(frozen=True, slots=True)
class Job:
    """One session's work, as far as it is known.

    Attributes:
        session: Its id; empty for a day to come.
        shape: The recipe and what follows from it.
        begun: The impressions work is left on, by ordinal.
        next: The ordinal of the next to begin.
        more: How many more to begin.
        over: When what is over ended (0 or below).
        running: When what runs began, and how long it takes in all.
        sheets: The ordinals that have their sheet.
        inherited: After steps left to this session.
        packs: How many packs it put in.
        enough: The printer said so: nothing more is damped.
        done: Pulls of the day that are out of the printer's hands.
        left_out: Steps that come and are to be skipped, or left to another session.
        counted: Whether it is known how many there will be; else a pack is the recipe's.
    """

    session: str
    shape: CompiledRecipe
    more: int
    begun: tuple[int, ...] = ()
    next: int = 1
    over: Mapping[TaskKey, int] = field(default_factory=dict)
    running: Mapping[TaskKey, tuple[int, int]] = field(default_factory=dict)
    sheets: frozenset[int] = frozenset()
    inherited: tuple[Step, ...] = ()
    packs: int = 0
    enough: bool = False
    done: int = 0
    counted: bool = True
    left_out: frozenset[TaskKey] = frozenset()

    @property
    def ordinals(self) -> tuple[int, ...]:
        """All impressions still to work on, in order."""
        return (*self.begun, *range(self.next, self.next + self.more))


@dataclass(frozen=True, slots=True)
class DayInputs:
    """All that a plan is made from."""

    jobs: tuple[Job, ...]
    breaks: tuple[Break, ...] = ()
    taken: tuple[TakenPlace, ...] = ()
    packs: tuple[DampedPack, ...] = ()
    helper: bool = False
    inky: bool = False
    times: Times = usual_time


@dataclass(frozen=True, slots=True)
class Planned:
    """One line of the plan.

    Attributes:
        name: Session and key; `wash`, `soak`, `rest` and `break` have keys too.
        do: What it is, in the recipe's words.
        who: `printer`, `helper`, or empty for a wait.
        at: The place it uses.
        settled: It runs already, or is an appointment.
    """

    name: Name
    do: str
    hands: Hands
    who: str
    at: str | None
    start: int
    seconds: int
    settled: bool = False

    @property
    def end(self) -> int:
        """When it is over."""
        return self.start + self.seconds


@dataclass(frozen=True, slots=True)
class PackPlan:
    """When a pack goes in, comes out and is ready; None where that is past or does not apply.

    `out` is when they all lie out of the water, `taken` when that is begun, `due` when the soak
    is over. `why`: why it has so many sheets; empty for one that is there.
    """

    id: str
    sheets: int | None
    ordinals: tuple[int, ...]
    into: int | None
    out: int | None
    ready: int
    why: str = ""
    taken: int | None = None
    due: int | None = None

    @property
    def over(self) -> int:
        """Seconds it lies in the water longer than its soak."""
        return 0 if self.taken is None or self.due is None else max(0, self.taken - self.due)


@dataclass(frozen=True, slots=True)
class BrokenLimit:
    """A limit the plan breaks, in words, by so many seconds."""

    name: Name
    words: str
    by: int


@dataclass(frozen=True, slots=True)
class Made:
    """The numbers a plan was made from: to replay it forward."""

    project: Project
    starts: tuple[int, ...]
    lines: tuple[Planned, ...]


@dataclass(frozen=True, slots=True)
class DayPlan:
    """A planned day.

    Attributes:
        items: Every line in order of time, the wash included.
        packs: The packs, in order of use.
        end: When the last step is over.
        broken: Limits that break, with the reason.
        bound: No plan that breaks as little ends earlier.
        contradictions: Limits of the recipe that no day can keep, in words.
        unknown: Steps whose time nobody knows, planned as none.
        loads: What an impression takes of hands, plate, press and hot plate.
        done_at: For each impression when its last hands step is over.
        order: The list behind it, to begin a new plan with.
        tries: Schedules made.
        made: The numbers behind it.
        floors: When each new pack was meant to go in at the earliest.
        done: For each session the pulls that were done before.
    """

    items: tuple[Planned, ...]
    packs: tuple[PackPlan, ...]
    end: int
    broken: tuple[BrokenLimit, ...]
    bound: int
    contradictions: tuple[str, ...]
    unknown: tuple[str, ...]
    loads: Loads
    done_at: Mapping[tuple[str, int], int]
    order: tuple[Name, ...]
    tries: int
    made: Made = field(repr=False)
    floors: Mapping[str, int] = field(default_factory=dict)
    done: Mapping[str, int] = field(default_factory=dict)

    @property
    def late(self) -> int:
        """Seconds by which limits break, all together."""
        return sum(b.by for b in self.broken)

    @property
    def next(self) -> Planned | None:
        """The first hands step that is not begun; the wash before it belongs to it."""
        return next((x for x in self.items if x.hands != "free" and not x.settled
                     and x.name[1].step != WASH), None)
