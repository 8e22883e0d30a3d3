"""Where a day went: what ran at each place, the hands' time, steps against the recipe, paper.

All of it from the folded session alone, in seconds. What nobody saw begin or
end is left out, never guessed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Annotated

from benchapp.edition.packs import Pack
from benchapp.events.moments import iso_text
from benchapp.recipe.model import Step
from benchapp.reckon.shares import sample_quantile
from benchapp.reports.json_form import Seconds, Time
from benchapp.session.context import worked_ms
from benchapp.session.names import step_of
from benchapp.session.state import Attempt, Impression, Session, StudioState

Stretch = tuple[int, int]
_MS = 1000


@dataclass(frozen=True, slots=True)
class Pause:
    """An interruption that was said."""

    after_seconds: Annotated[Seconds, "how far into the day it began"]
    seconds: Annotated[Seconds, "how long it was"]
    away: Annotated[bool, "whether the printer was away in the middle of a step"]


@dataclass(frozen=True, slots=True)
class DayHours:
    """Where a day's hours went.

    `waiting` is time in which the hands did nothing while a wait ran; `idle` while none did.
    `paused` has the time of steps the printer was away from, which `away` has alone.
    """

    day_seconds: Annotated[Seconds, "from opening to the end of the last step"]
    hands_seconds: Annotated[Seconds, "hands at work"]
    paused_seconds: Annotated[Seconds, "paused or away"]
    away_seconds: Annotated[Seconds, "away in the middle of a step; part of paused_seconds"]
    waiting_seconds: Annotated[Seconds, "hands at rest while a wait ran"]
    idle_seconds: Annotated[Seconds, "hands at rest while nothing ran"]
    exact: Annotated[bool, "false if a restart of the machine makes the times approximate"]
    pauses: Annotated[tuple[Pause, ...], "each interruption"]


@dataclass(frozen=True, slots=True)
class RecipeTime:
    """The three times a recipe gives a step."""

    low: Annotated[Seconds, "the shortest expected"]
    usual: Annotated[Seconds, "the usual time"]
    high: Annotated[Seconds, "the longest expected"]


@dataclass(frozen=True, slots=True)
class StepTimes:
    """One step of the hands over the day, beside what the recipe says."""

    step: Annotated[str, "the step's words in the recipe"]
    id: Annotated[str, "the step's place in the recipe"]
    times: Annotated[int, "how often its time was taken"]
    not_taken: Annotated[int, "how often it was done without its time taken"]
    total_seconds: Annotated[Seconds, "all times taken together"]
    shortest_seconds: Annotated[Seconds | None, "the shortest time taken"]
    middle_seconds: Annotated[Seconds | None, "the median of the times taken"]
    longest_seconds: Annotated[Seconds | None, "the longest time taken"]
    recipe: Annotated[RecipeTime | None, "what the recipe expects; null where it gives no time"]
    over_usual_seconds: Annotated[Seconds | None, "the median less the recipe's usual time"]


@dataclass(frozen=True, slots=True)
class DayBar:
    """One piece of work in a row of the day."""

    from_: Annotated[Time, "when it began"]
    to: Annotated[Time | None, "when it ended; null while it runs"]
    what: Annotated[str, "the step, or the paper in the water"]
    impression: Annotated[int | None, "the number of the impression it was for"]


@dataclass(frozen=True, slots=True)
class DayRow:
    """What ran in one place over the day."""

    row: Annotated[str, "hands, a place, waits, or in the water"]
    bars: Annotated[tuple[DayBar, ...], "each piece of work, in the order begun"]


@dataclass(frozen=True, slots=True)
class DayChart:
    """The rows of a day to be drawn, on a page or on a screen.

    Attributes:
        opened_at: Where it begins, as local time with its offset.
        seconds: How long the day was.
        rows: What ran when.
    """

    opened_at: str
    seconds: float
    rows: tuple[DayRow, ...]

    @property
    def is_drawn(self) -> bool:
        """Whether anything was seen to begin and end after it was opened."""
        opened = datetime.fromisoformat(self.opened_at)
        return any(bar.to is not None and datetime.fromisoformat(bar.to) > opened
                   for row in self.rows for bar in row.bars)


@dataclass(frozen=True, slots=True)
class PaperTimes:
    """How long a sheet's paper had soaked, rested and waited when it was pulled."""

    pack: Annotated[str | None, "the pack's id; null for a sheet of no pack"]
    method: Annotated[str | None, "how the pack was damped"]
    soaked_seconds: Annotated[Seconds | None, "in the water"] = None
    rested_seconds: Annotated[Seconds | None, "at rest until ready"] = None
    waited_seconds: Annotated[Seconds | None, "ready until the pull"] = None
    exact: Annotated[bool, "false if a restart of the machine makes it approximate"] = True


def exact_seconds(ms: float) -> int | float:
    """Seconds, whole where they are."""
    whole = round(ms)
    return whole // _MS if whole % _MS == 0 else whole / _MS


# -- hands --------------------------------------------------------------------------------------


def day_hours(room: StudioState, s: Session, works: Sequence[Attempt]) -> DayHours:
    """How long the day was, and of that: hands at work, paused, waiting, and neither."""
    ends = [w.finished_t for w in works if w.finished_t is not None]
    end = max(ends, default=s.opened_t) if s.closed is not None else room.t
    day = (s.opened_t, max(end, s.opened_t))
    hands = join_stretches(_at(s, works, day, free=False))
    waits = join_stretches(_at(s, works, day, free=True))
    off = join_stretches(_within(s.breaks, day))
    away = join_stretches(_within(((w.started_t, w.finished_t) for w in works
                                   if w.question == "away" and w.finished_t is not None), day))
    rest = cut_stretches(cut_stretches([day], hands), off)
    idle = total_length(cut_stretches(rest, waits))
    return DayHours(
        exact_seconds(day[1] - day[0]), exact_seconds(total_length(cut_stretches(hands, off))),
        exact_seconds(total_length(off)), exact_seconds(total_length(away)),
        exact_seconds(total_length(rest) - idle), exact_seconds(idle), room.exact(*day),
        tuple(Pause(exact_seconds(a - s.opened_t), exact_seconds(b - a), (a, b) in away)
              for a, b in off))


def _at(s: Session, works: Iterable[Attempt], day: Stretch, *, free: bool) -> list[Stretch]:
    """When hands, or waits, were on."""
    found = []
    for w in works:
        step = step_of(s, w.key)
        if step is not None and (step.hands == "free") is free and w.started is not None:
            found.append((w.started_t, day[1] if w.finished_t is None else w.finished_t))
    return _within(found, day)


def _within(stretches: Iterable[Stretch], day: Stretch) -> list[Stretch]:
    cut = [(max(a, day[0]), min(b, day[1])) for a, b in stretches]
    return [(a, b) for a, b in cut if a < b]


def join_stretches(stretches: Iterable[Stretch]) -> list[Stretch]:
    """The same time without anything counted twice."""
    out: list[Stretch] = []
    for a, b in sorted(stretches):
        if out and a <= out[-1][1]:
            out[-1] = (out[-1][0], max(b, out[-1][1]))
        else:
            out.append((a, b))
    return out


def cut_stretches(stretches: Iterable[Stretch], gone: Sequence[Stretch]) -> list[Stretch]:
    """What is left of some stretches when others are cut out of them; both are joined."""
    left = list(stretches)
    for a, b in gone:
        left = [piece for x, y in left for piece in ((x, min(y, a)), (max(x, b), y))
                if piece[0] < piece[1]]
    return left


def total_length(stretches: Iterable[Stretch]) -> int:
    """Milliseconds of all of them."""
    return sum(b - a for a, b in stretches)


# -- steps --------------------------------------------------------------------------------------


def by_step(room: StudioState, s: Session, works: Sequence[Attempt]) -> list[StepTimes]:
    """Each step of the hands: how long it took beside what the recipe says, in its order."""
    groups: dict[str, tuple[Step, list[Attempt]]] = {}
    for w in works:
        step = step_of(s, w.key)
        if step is not None and step.hands != "free":
            groups.setdefault(step.id, (step, []))[1].append(w)
    order = {id_: n for n, id_ in enumerate(s.shape.by_id)}
    return [_against(room, s, step, done) for _, (step, done) in sorted(
        groups.items(), key=lambda pair: order.get(pair[0], len(order)))]


def _against(room: StudioState, s: Session, step: Step, works: Sequence[Attempt]) -> StepTimes:
    taken = sorted(float(worked_ms(s, w, room.t)) for w in works
                   if w.taken and w.started is not None and w.finished is not None)
    time = step.time
    middle = None if not taken else sample_quantile(taken, 0.5)
    return StepTimes(
        step.do, step.id, len(taken), sum(not w.running for w in works) - len(taken),
        exact_seconds(sum(taken)), exact_seconds(taken[0]) if taken else None,
        None if middle is None else exact_seconds(middle),
        exact_seconds(taken[-1]) if taken else None,
        None if time is None else RecipeTime(*(exact_seconds(t.ms) for t in (
            time.low, time.usual, time.high))),
        None if middle is None or time is None else exact_seconds(middle - time.usual.ms))


# -- rows of the day ----------------------------------------------------------------------------


def day_timeline(s: Session, works: Sequence[Attempt], packs: Iterable[Pack]) -> list[DayRow]:
    """One row for the hands, one a place, one for waits without a place, one for the water."""
    rows: dict[str, list[DayBar]] = {"hands": []}
    names = {i.ordinal: i for i in s.impressions}
    for w in works:
        step = step_of(s, w.key)
        if step is None or w.started is None:
            continue
        imp = names.get(w.key.impression or 0)
        bar = DayBar(iso_text(w.started), None if w.finished is None else iso_text(w.finished),
                     step.short or step.do, None if imp is None else imp.number)
        on = [] if step.hands == "free" else ["away" if w.question == "away" else "hands"]
        on += [step.at] if step.at is not None else [] if on else ["waits"]
        for row in on:
            rows.setdefault(row, []).append(bar)
    water = [DayBar(iso_text(p.put_in), None if p.out is None else iso_text(p.out), p.paper, None)
             for p in packs if p.soaked]
    if water:
        rows["in the water"] = water
    return [DayRow(name, tuple(bars)) for name, bars in rows.items()]


# -- paper --------------------------------------------------------------------------------------


def sheet_paper_times(room: StudioState, i: Impression) -> list[PaperTimes]:
    """Of each sheet of an impression: how long its pack had soaked, rested and waited."""
    at = i.pulls[0].t if i.pulls else None
    return [_sheet(room, name, at) for name in i.sheets]


def _sheet(room: StudioState, name: str | None, at: int | None) -> PaperTimes:
    p = None if name is None else room.packs.get(name)
    if p is None or p.out_t is None:
        return PaperTimes(name, None if p is None else p.method)
    soaked = exact_seconds(p.out_t - p.put_in_t) if p.soaked else None
    if at is None or at < p.out_t:
        return PaperTimes(name, p.method, soaked)
    ready = min(p.out_t if p.ready_t is None else p.ready_t, at)
    return PaperTimes(name, p.method, soaked, exact_seconds(ready - p.out_t),
                      exact_seconds(at - ready), room.exact(p.put_in_t, at))
