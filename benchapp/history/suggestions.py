"""What the days printed teach a recipe: how long each step takes, and what soak worked.

Pure: folded sessions and a recipe in, lessons and proposals out. A time teaches when it was
taken from start to end, was not cut short, is not under a fifth of the recipe's low (nobody
wipes a plate in a minute), and was not asked about unless the answer was that it took that long.

A change is offered where the value in the recipe is further from this than chance allows. A value
that was taken over from here is no fresh start: the recipe's first value keeps its weight and all
days go on teaching, else the value would follow each day's chance for ever. A value changed by
hand is a fresh start: the days before it describe work that is done differently now.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from benchapp.history.usual_time import learn_time, round_time
from benchapp.quantities import Duration, Span
from benchapp.recipe.model import Recipe, Step
from benchapp.reckon.shares import sample_quantile
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, WASH, CompiledRecipe, paper_of
from benchapp.session.context import worked_ms
from benchapp.session.state import Attempt, Session, StudioState

#: Times there must be before a change is offered, and packs before a soak is.
FROM: Final = 3
PACKS_FROM: Final = 3
#: Under this share of the recipe's low a tread was missed, not a step done.
QUICK: Final = 5
_FAULTS: Final = frozenset({"too wet", "too dry"})


@dataclass(frozen=True, slots=True)
class Lesson:
    """The times of one step.

    Attributes:
        step: Its id in the recipe, or `wash`.
        what: Its words.
        path: Where the value stands in the recipe.
        old: The recipe's time; None where it gives none.
        new: What it would be; None while there are too few times.
        taken_ms: The times that teach, rising.
        sessions: Of how many days.
        left_out: Times that were taken and do not teach.
    """

    step: str
    what: str
    path: str
    old: Span | None
    new: Span | None
    taken_ms: tuple[int, ...]
    sessions: int
    left_out: int


@dataclass(frozen=True, slots=True)
class Proposal:
    """One value of a recipe that could be changed.

    Attributes:
        path: Where it stands, as `recipe.edits.change` takes it.
        what: What it is, in words.
        old: Its text now, spelt by the program; None: the recipe says nothing.
        new: The text it would get.
        count / of: From how many, and of what: `22`, `times`.
        sessions: Of how many days.
    """

    path: str
    what: str
    old: str | None
    new: str
    count: int
    of: str
    sessions: int


def recipe_lessons(rooms: Sequence[StudioState], recipe: Recipe) -> tuple[Lesson, ...]:
    """The times of every hands step of a recipe, in its order; the wash and packs last.

    Args:
        rooms: One a day, each folded from the entries of one session of the print and of the
            packs it used.
        recipe: The recipe as it is now.
    """
    steps = CompiledRecipe(recipe).by_id.values()
    return tuple(_lesson(step, _days(rooms, step), recipe)
                 for step in steps if step.hands != "free")


def propose_changes(rooms: Sequence[StudioState], recipe: Recipe) -> tuple[Proposal, ...]:
    """The values that these days would change, one by one, in the order of the recipe."""
    out = [Proposal(x.path, x.what, None if x.old is None else _text(x, x.old),
                    _text(x, x.new), len(x.taken_ms), "times", x.sessions)
           for x in recipe_lessons(rooms, recipe) if x.new is not None and x.new != x.old]
    merged = {p.path: p for p in reversed(out)}  # in and out of the water share one value
    soak = _soak(rooms, recipe)
    kept = [p for p in out if merged[p.path] is p]
    return (*kept, *([soak] if soak else ()))


def _text(lesson: Lesson, span: Span) -> str:
    return str(span if lesson.path.endswith(".time") else span.usual)


# -- times ----------------------------------------------------------------------------------


#: A day: its state, its session, the step as it stood in the session's recipe.
_Day = tuple[StudioState, Session, Step]


def _days(rooms: Sequence[StudioState], step: Step) -> list[_Day]:
    """The days whose recipe had the step, in the order they were opened."""
    out = [(room, s, then) for room in rooms for s in room.sessions.values()
           if (then := _then(s, step)) is not None]
    return sorted(out, key=lambda day: (day[1].opened.wall_ms, day[1].id))


def _then(s: Session, step: Step) -> Step | None:
    """The step as the session's own recipe had it: by its words, wherever it stood."""
    if step.id in (WASH, DAMP_IN, DAMP_OUT):
        return s.shape.by_id[step.id]
    return next((x for x in s.recipe.steps if (x.section, x.do, x.plate, x.pulls)
                 == (step.section, step.do, step.plate, step.pulls)), None)


def _lesson(step: Step, days: Sequence[_Day], recipe: Recipe) -> Lesson:
    taught = _Taught(step.time, days)
    taken = taught.times()
    return Lesson(step.id, step.do, _path(step, recipe), step.time, taught.span(),
                  tuple(sorted(ms for day in taken for ms in day)), len(taken), taught.left_out)


class _Taught:
    """What the days teach of one time, through every change of its value.

    Attributes:
        left_out: Times that were taken and do not teach.
    """

    def __init__(self, now: Span | None, days: Sequence[_Day]) -> None:
        """Go through the days, then to the value of now."""
        self._days: list[_Day] = []
        self._first = self._text = days[0][2].time if days else now
        for day in days:
            self._turn_to(day[2].time)
            self._days.append(day)
        self._turn_to(now)
        self.left_out = sum(len(_works(day)) for day in self._days) - sum(map(len, self.times()))

    def _turn_to(self, value: Span | None) -> None:
        """Go on by another value: one offered here and taken over, or one changed by hand."""
        if value != self._text and value != self.span():
            self._first = value
            self._days = [day for day in self._days if day[2].time == value]
        self._text = value

    def times(self) -> list[list[int]]:
        """The times that teach, milliseconds, rising; a list for each day that has some."""
        found = (sorted(ms for w in _works(day) if _teaches(w, ms := _worked(day, w), day[2]))
                 for day in self._days)
        return [taken for taken in found if taken]

    def span(self) -> Span | None:
        """What the value would be: the one there is where chance explains it; None: too few."""
        taken = self.times()
        if sum(map(len, taken)) < FROM:
            return None
        return learn_time(self._first, self._text, taken)


def _works(day: _Day) -> list[Attempt]:
    """The works of the step that were seen from start to end."""
    room, s, then = day
    return [w for w in s.history if w.key.step == then.id and _whole(room, w)]


def _worked(day: _Day, w: Attempt) -> int:
    room, s, _ = day
    return worked_ms(s, w, room.t)


def _whole(room: StudioState, w: Attempt) -> bool:
    """Seen from its start to its end, on one clock; whatever was said of it since."""
    seen = w.taken or w.question in ("away", "forgot")
    return (seen and w.started is not None and w.finished_t is not None
            and room.exact(w.started_t, w.finished_t))


def _teaches(w: Attempt, ms: int, step: Step) -> bool:
    low = 0 if step.time is None else step.time.low.ms
    return w.how == "done" and w.question in (None, "took") and ms > 0 and QUICK * ms >= low


def _path(step: Step, recipe: Recipe) -> str:
    if step.id == WASH:
        return "wash"
    if step.id in (DAMP_IN, DAMP_OUT):
        return f"{_damped(recipe)}.damp.handling"
    return f"{step.id}.time"


# -- soak -----------------------------------------------------------------------------------


def _damped(recipe: Recipe) -> str:
    """Where the damped paper stands: `paper`, or its name or number under `papers`."""
    paper = CompiledRecipe(recipe).damped
    if paper is None or ("paper",) in recipe.marks:
        return "paper"
    named = ("papers", paper.key) in recipe.marks
    return f"papers.{paper.key if named else recipe.papers.index(paper) + 1}"


def _soak(rooms: Sequence[StudioState], recipe: Recipe) -> Proposal | None:
    """The middle soak of the packs whose sheets were good and neither too wet nor too dry."""
    paper = CompiledRecipe(recipe).damped
    if paper is None or paper.damp is None or paper.damp.soak is None:
        return None
    old = paper.damp.soak
    good: dict[str, int] = {}
    days = 0
    for room in rooms:
        found = {p.id: p.out_t - p.put_in_t for p in room.packs.values()
                 if p.paper == paper_of(recipe, paper) and p.out_t is not None
                 and p.soak_ms == old.ms and room.exact(p.put_in_t, p.out_t)
                 and _sheets_were_good(room, p.id)}
        days, good = days + bool(found.keys() - good.keys()), {**found, **good}
    if len(good) < PACKS_FROM:
        return None
    soaks = sorted(map(float, good.values()))
    if sample_quantile(soaks, 0.25) <= old.ms <= sample_quantile(soaks, 0.75):
        return None  # within what chance does
    new = Duration(round_time(sample_quantile(soaks, 0.5), old.unit), old.unit)
    if new == Duration(round_time(old.ms, old.unit)):
        return None
    return Proposal(f"{_damped(recipe)}.damp.soak", "Soak", str(old), str(new), len(good), "packs",
                    days)


def _sheets_were_good(room: StudioState, pack: str) -> bool:
    """Whether most of its sheets that were judged were kept, and none was too wet or too dry."""
    sheets = [i for s in room.sessions.values() for i in s.impressions
              if pack in i.sheets and i.verdict is not None]
    kept = sum(i.verdict == "keep" for i in sheets)
    return 2 * kept > len(sheets) and not any(_FAULTS.intersection(i.tags) for i in sheets)
