"""When the boards want changing: counted from the last sheet, gathered at the printer's hours.

Everything here is in the time on the wall: naive local times, so that nine o'clock
stays nine o'clock when the clocks are put forward. Pure: no clock is read.

The intervals are common practice and come from the recipe; changes are forgotten most
on the second and third day, so they are gathered at one hour of the day.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Final

#: More changes than this no stack wants, whatever a list of changes says.
MOST: Final = 400
_DAY: Final = timedelta(days=1)
_HOUR_MS: Final = 3_600_000


@dataclass(frozen=True, slots=True)
class DryStep:
    """One thing to do to a stack: once `after_ms`, or `every_ms` as long as `for_ms`."""

    do: str
    after_ms: int | None = None
    every_ms: int | None = None
    for_ms: int | None = None


@dataclass(frozen=True, slots=True)
class Hours:
    """The printer's hours, by the clock on the wall.

    Attributes:
        evening: Changes of the first day are gathered here.
        morning: Changes of the days after are.
        silent_from / silent_until: Nothing calls between them.
        grace: How long after its time a change is not yet late; and how much sooner than
            its list says it may be gathered, at most half of its time.
    """

    evening: time = time(18)
    morning: time = time(9)
    silent_from: time = time(21)
    silent_until: time = time(8)
    grace: timedelta = timedelta(hours=1)

    def silent(self, now: datetime) -> bool:
        """Whether nothing calls at that time."""
        at = now.time()
        if self.silent_from <= self.silent_until:
            return self.silent_from <= at < self.silent_until
        return at >= self.silent_from or at < self.silent_until


USUAL: Final = Hours()


@dataclass(frozen=True, slots=True)
class StackChange:
    """One change of a stack: which line of its list, the how manieth time, and when."""

    index: int
    nth: int
    do: str
    at: datetime


def stack_changes(drying: Sequence[DryStep], last: datetime,
                  hours: Hours = USUAL) -> tuple[StackChange, ...]:
    """Every change of a stack whose last sheet was laid at `last`, in order of time.

    Two times of one line that are gathered at the same hour are one change.
    """
    found = [c for i, step in enumerate(drying) for c in _of(i, step, last, hours)]
    return tuple(sorted(found, key=lambda c: (c.at, c.index, c.nth)))


def _of(index: int, step: DryStep, last: datetime, hours: Hours) -> Iterator[StackChange]:
    before: datetime | None = None
    nth = 0
    for offset in _offsets(step):
        at = change_hour(last, offset, hours)
        # A whole day is counted by the calendar and may come before what is a little less.
        if at is None or (before is not None and at <= before):
            continue
        before = at
        nth += 1
        yield StackChange(index, nth, step.do, at)
        if nth == MOST:
            return


def _offsets(step: DryStep) -> Iterator[timedelta]:
    """How long after the last sheet each time is, before it is gathered."""
    if step.after_ms is not None:
        yield timedelta(milliseconds=step.after_ms)
    elif step.every_ms is not None and step.every_ms > 0:
        # Gathered, times of one hour are one change: so many of them need no look.
        stride = max(1, _HOUR_MS // step.every_ms)
        most = min((step.for_ms or 0) // step.every_ms, stride * 24 * MOST)
        for n in range(stride, most + 1, stride):
            yield timedelta(milliseconds=n * step.every_ms)


def change_hour(last: datetime, offset: timedelta, hours: Hours = USUAL) -> datetime | None:
    """The hour at which a change is made that is due `offset` after the last sheet.

    Whole days are counted by the calendar: the first day after is tomorrow morning,
    however late the last sheet was laid. Less than that is the evening of the same day,
    if that is not too soon, else a morning. None: no calendar reaches so far.
    """
    try:
        if offset >= _DAY and offset % _DAY == timedelta():
            return datetime.combine(last.date() + offset, hours.morning)
        wanted = last + offset - min(hours.grace, offset / 2)
        evening = datetime.combine(last.date(), hours.evening)
        if evening >= max(wanted, last):
            return evening
        morning = datetime.combine(max(wanted.date(), last.date() + _DAY), hours.morning)
        return morning if morning >= wanted else morning + _DAY
    except OverflowError:
        return None


@dataclass(frozen=True, slots=True)
class DryDay:
    """An earliest day and where it comes from: the recipe, or common practice."""

    day: date
    source: str


@dataclass(frozen=True, slots=True)
class Earliest:
    """The first days on which a stack is sorted, signed and sent away."""

    sort: DryDay
    sign: DryDay
    ship: DryDay


#: Words of a list of changes that say what a line is for.
_WORDS: Final = {
    "sort": ("standard", "sort", "curate", "look them", "look through", "each against"),
    "sign": ("sign",),
    "ship": ("ship", "frame", "send", "hand out"),
}
#: Days after the last sheet where the list is silent: handled and sorted from the 7th,
#: signed from the 10th, framed or sent after four weeks (common practice, no source).
_USUAL_DAYS: Final = {"sort": 7, "sign": 10, "ship": 28}


def earliest_days(drying: Sequence[DryStep], last: datetime, hours: Hours = USUAL) -> Earliest:
    """The first days to sort, sign and ship, as the list says it or common practice does.

    None is sooner than the one before it: what may be signed has been sorted.
    """
    sort = _first("sort", drying, last, hours)
    sign = _no_sooner(_first("sign", drying, last, hours), sort)
    return Earliest(sort, sign, _no_sooner(_first("ship", drying, last, hours), sign))


def _no_sooner(day: DryDay, than: DryDay) -> DryDay:
    return day if day.day >= than.day else than


def _first(what: str, drying: Sequence[DryStep], last: datetime, hours: Hours) -> DryDay:
    found = [c.at.date() for c in stack_changes(drying, last, hours)
             if any(w in c.do.casefold() for w in _WORDS[what])]
    if found:
        return DryDay(min(found), "recipe")
    return DryDay(last.date() + timedelta(days=_USUAL_DAYS[what]), "common practice")
