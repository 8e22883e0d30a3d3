"""A day set against the days before it on the same print: how long each step took then and now.

Pure, and from entries alone: the same days give the same figures in every book that has them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from benchapp.events.entry import Entry
from benchapp.events.moments import iso_text
from benchapp.quantities import minutes_text
from benchapp.reckon.shares import sample_quantile
from benchapp.reports.json_form import Seconds, Time
from benchapp.reports.review_day import StepTimes, exact_seconds
from benchapp.session.context import worked_ms
from benchapp.session.fold import replay_entries
from benchapp.session.names import step_of
from benchapp.session.state import Attempt, Session, StudioState

#: Fewer times than this are told, and nothing is made of them.
FEW: Final = 3
#: A middle time differs plainly by a tenth of it, and by five minutes over the day.
_SHARE: Final = 0.1
_DAY_S: Final = 300


@dataclass(frozen=True, slots=True)
class SheetTimes:
    """What one sheet took of the hands."""

    number: Annotated[int, "its number in pulling order"]
    mark: Annotated[str | None, "its sheet mark"]
    hands_seconds: Annotated[Seconds, "its steps of which the time was taken"]
    not_taken: Annotated[int, "how many of its steps were not timed"]
    usual_seconds: Annotated[Seconds | None, "the recipe's usual times of the same steps"]


@dataclass(frozen=True, slots=True)
class EarlierDay:
    """A session before this one on the same print."""

    session: Annotated[str, "its name"]
    opened_at: Annotated[Time, "when it was opened"]


@dataclass(frozen=True, slots=True)
class EarlierStep:
    """One step beside the days before."""

    step: Annotated[str, "the step's words in the recipe"]
    id: Annotated[str, "the step's place in the recipe"]
    times: Annotated[int, "how often it was timed before"]
    middle_seconds: Annotated[Seconds | None, "the median of those times"]
    over_seconds: Annotated[Seconds | None, "how much longer it took now; below 0: shorter"]
    plainly: Annotated[bool, "whether the difference is more than usual scatter"]


@dataclass(frozen=True, slots=True)
class WholeSheets:
    """What a whole sheet took of the hands, now and before."""

    times: Annotated[int, "sheets of this session of which every step was timed"]
    middle_seconds: Annotated[Seconds | None, "the median of these"]
    times_before: Annotated[int, "such sheets of the sessions before"]
    before_seconds: Annotated[Seconds | None, "the median of those"]


@dataclass(frozen=True, slots=True)
class Earlier:
    """A day set against the days before it."""

    sessions: Annotated[tuple[EarlierDay, ...], "the sessions it is compared with, oldest first"]
    by_step: Annotated[tuple[EarlierStep, ...], "each step of the hands"]
    a_sheet: Annotated[WholeSheets, "whole sheets"]
    sentence: Annotated[str, "the comparison in words"]


def works_of(s: Session) -> list[Attempt]:
    """Every piece of work of a session, done or running, in the order begun."""
    running = [w for w in s.work.values() if w.running]
    return sorted([*s.history, *running], key=lambda w: w.started_t)


def set_against(steps: Sequence[StepTimes], sheets: Sequence[SheetTimes],
                before: Iterable[tuple[StudioState, Session]]) -> Earlier:
    """The steps of a day beside those of the days before.

    Args:
        steps: Those of the day, from `review_day.by_step`.
        sheets: Those of the day, from `by_impression`.
        before: Days of the same print, the oldest first, each folded by itself.
    """
    days = list(before)
    times: dict[str, list[float]] = {}
    for room, s in days:
        for name, taken in taken_times(room, s).items():
            times.setdefault(name, []).extend(taken)
    found = [_beside(x, sorted(times.get(x.step, ()))) for x in steps]
    return Earlier(tuple(EarlierDay(s.name, iso_text(s.opened)) for _, s in days), tuple(found),
                   _whole_sheets(sheets, days), _sentence(len(days), found))


def _whole_sheets(sheets: Sequence[SheetTimes],
                  days: Iterable[tuple[StudioState, Session]]) -> WholeSheets:
    """What a whole sheet took of the hands, in the middle, now and before."""
    now = _whole(sheets)
    then = sorted(x for room, s in days for x in _whole(by_impression(room, s)))
    return WholeSheets(len(now), sample_quantile(now, 0.5) if now else None,
                       len(then), sample_quantile(then, 0.5) if then else None)


def _whole(sheets: Iterable[SheetTimes]) -> list[float]:
    return sorted(x.hands_seconds for x in sheets if x.hands_seconds and not x.not_taken)


def fold_days(streams: Iterable[Iterable[Entry]]) -> list[tuple[StudioState, Session]]:
    """Days, each from the entries of its own stream."""
    out = []
    for stream in streams:
        room = replay_entries(stream)
        out += [(room, s) for s in room.sessions.values()]
    return out


def taken_times(room: StudioState, s: Session) -> Mapping[str, Sequence[float]]:
    """The times taken of each hands step of a day, in milliseconds, by the step's words."""
    out: dict[str, list[float]] = {}
    for w in works_of(s):
        step = step_of(s, w.key)
        if step is None or step.hands == "free" or not w.taken or None in (w.started, w.finished):
            continue
        out.setdefault(step.do, []).append(float(worked_ms(s, w, room.t)))
    return out


def _beside(now: StepTimes, before: list[float]) -> EarlierStep:
    middle = None if not before else exact_seconds(sample_quantile(before, 0.5))
    here = now.middle_seconds
    over = None if middle is None or here is None else exact_seconds((here - middle) * 1000)
    return EarlierStep(now.step, now.id, len(before), middle, over,
                       over is not None and len(before) >= FEW
                       and abs(over) >= _SHARE * (middle or 0) and abs(over) * now.times >= _DAY_S)


def _sentence(days: int, steps: Sequence[EarlierStep]) -> str:
    if not days:
        return "No earlier session of this print to compare it with"
    many = "the session before" if days == 1 else f"the {days} sessions before"
    told = [(x, x.over_seconds) for x in steps if x.over_seconds is not None and x.times >= FEW]
    if not told:
        return f"Compared with {many}: too few times taken to tell"
    moved = sorted(((x, over) for x, over in told if x.plainly), key=lambda pair: -abs(pair[1]))
    if not moved:
        return f"Compared with {many}: every step took about as long"
    return f"Compared with {many}, each time: " + ", ".join(
        f"{x.step} {minutes_text(round(abs(over) * 1000))} {'longer' if over > 0 else 'shorter'}"
        for x, over in moved)


# -- by impression ------------------------------------------------------------------------------


def by_impression(room: StudioState, s: Session) -> list[SheetTimes]:
    """What each sheet pulled took of the hands, beside what its steps usually take."""
    out = []
    works = works_of(s)
    for i in sorted((i for i in s.impressions if i.pulled), key=lambda i: i.number or 0):
        timed, untimed, usual = 0.0, 0, 0
        known = True
        for w in works:
            step = step_of(s, w.key)
            if w.key.impression != i.ordinal or step is None or step.hands == "free" or w.running:
                continue
            if not w.taken or w.started is None:
                untimed += 1
                continue
            timed += worked_ms(s, w, room.t)
            known = known and step.time is not None
            usual += 0 if step.time is None else step.time.usual.ms
        out.append(SheetTimes(i.number or 0, i.mark, exact_seconds(timed), untimed,
                              exact_seconds(usual) if known and timed else None))
    return out
