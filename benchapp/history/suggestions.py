"""What the days printed teach a recipe: how long each step takes, and what soak worked.

Pure: folded sessions and a recipe in, lessons and proposals out. A time teaches when it was
taken from start to end, was not cut short, is not under a fifth of the recipe's low (nobody
wipes a plate in a minute), and was not asked about unless the answer was that it took that long.

The usual time is drawn from the recipe's towards the middle of the times, the more the more
there are: for ln(time ÷ usual) a step differs from the recipe by .25, a day from another by .10
and one time from the next by .20 (standard deviations; measured for the day plan). Low and high
go towards the tenth and the ninetieth of a hundred, with the recipe's own worth eight times.
A value that was changed since is taught by the days after the change alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import exp, log
from typing import Final

from benchapp.quantities import Duration, Span
from benchapp.recipe.model import Recipe, Step
from benchapp.reckon.shares import sample_quantile
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, WASH, CompiledRecipe, paper_of
from benchapp.session.page import worked_ms
from benchapp.session.state import Attempt, Session, StudioState

#: Times there must be before a change is offered, and packs before a soak is.
FROM: Final = 3
PACKS_FROM: Final = 3
#: Under this share of the recipe's low a tread was missed, not a step done.
QUICK: Final = 5
_OFFSET: Final = 0.25
_DAY: Final = 0.10
_REST: Final = 0.20
#: Times that the recipe's own low and high are worth.
_WORTH: Final = 8
_LOW: Final = 0.1
_HIGH: Final = 0.9
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
    return tuple(_lesson(step, list(_days(rooms, step)), recipe)
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


def _days(rooms: Sequence[StudioState], step: Step) -> Iterator[tuple[StudioState, Session, Step]]:
    """The days on which the recipe said of this step what it says now."""
    for room in rooms:
        for s in room.sessions.values():
            then = _then(s, step)
            if then is not None and then.time == step.time:
                yield room, s, then


def _then(s: Session, step: Step) -> Step | None:
    """The step as the session's own recipe had it: by its words, wherever it stood."""
    if step.id in (WASH, DAMP_IN, DAMP_OUT):
        return s.shape.by_id[step.id]
    return next((x for x in s.recipe.steps if (x.section, x.do, x.plate, x.pulls)
                 == (step.section, step.do, step.plate, step.pulls)), None)


def _lesson(step: Step, days: Sequence[tuple[StudioState, Session, Step]],
            recipe: Recipe) -> Lesson:
    taken: list[int] = []
    teach, left_out = 0, 0
    for room, s, then in days:
        works = [w for w in s.history if w.key.step == then.id and _whole(room, w)]
        good = [ms for w in works if _teaches(w, ms := worked_ms(s, w, room.t), then)]
        taken += good
        teach, left_out = teach + bool(good), left_out + len(works) - len(good)
    new = None if len(taken) < FROM else _learnt(step.time, sorted(taken), teach)
    return Lesson(step.id, step.do, _path(step, recipe), step.time, new, tuple(sorted(taken)),
                  teach, left_out)


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


def _learnt(old: Span | None, taken: Sequence[int], days: int) -> Span:
    """The recipe's time, drawn towards the times taken."""
    logs = [log(ms) for ms in taken]
    low, middle, high = (sample_quantile(logs, share) for share in (_LOW, 0.5, _HIGH))
    if old is None or not old.low.ms:
        return _span(exp(low), exp(middle), exp(high), "min")
    n = len(taken)
    weight = _OFFSET**2 / (_OFFSET**2 + _DAY**2 / days + _REST**2 / n)
    usual = exp(_between(log(old.usual.ms), middle, weight))
    if old.low == old.usual == old.high:
        return _span(usual, usual, usual, old.usual.unit)
    width = n / (n + _WORTH)
    return _span(exp(_between(log(old.low.ms), low, width)), usual,
                 exp(_between(log(old.high.ms), high, width)), old.high.unit)


def _between(a: float, b: float, share: float) -> float:
    return a + share * (b - a)


def _span(low: float, usual: float, high: float, unit: str) -> Span:
    """Rounded as a person would write it; low and high never cross the usual."""
    middle = _rounded(usual, unit)
    return Span(Duration(min(_rounded(low, unit), middle), unit), Duration(middle, unit),
                Duration(max(_rounded(high, unit), middle), unit))


def _rounded(ms: float, unit: str) -> int:
    """To 5 s, a quarter or half a minute, a minute, five, a quarter of an hour: as it is long."""
    if ms < 90_000:
        step = 5_000 if unit == "s" else 15_000
    elif ms < 5 * 60_000:
        step = 30_000
    elif ms < 60 * 60_000:
        step = 60_000
    else:
        step = 5 * 60_000
    if unit in ("h", "day", "week"):
        step = max(step, 15 * 60_000)
    return max(step, step * round(ms / step))


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
                 and _worked(room, p.id)}
        days, good = days + bool(found.keys() - good.keys()), {**found, **good}
    if len(good) < PACKS_FROM:
        return None
    new = Duration(_rounded(sample_quantile(sorted(map(float, good.values())), 0.5), old.unit),
                   old.unit)
    if new == Duration(_rounded(old.ms, old.unit)):
        return None
    return Proposal(f"{_damped(recipe)}.damp.soak", "Soak", str(old), str(new), len(good), "packs",
                    days)


def _worked(room: StudioState, pack: str) -> bool:
    """Whether most of its sheets that were judged were kept, and none was too wet or too dry."""
    sheets = [i for s in room.sessions.values() for i in s.impressions
              if pack in i.sheets and i.verdict is not None]
    kept = sum(i.verdict == "keep" for i in sheets)
    return 2 * kept > len(sheets) and not any(_FAULTS.intersection(i.tags) for i in sheets)
