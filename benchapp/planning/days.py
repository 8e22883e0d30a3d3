"""An edition over several days: which days, how many prints on each, and what to damp before. Pure.

Every day is planned like a day by itself: its set-up, warm-ups, breaks and cleaning up. Sheets that
are usually spoiled are printed too.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Final

from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.question import DayQuestion, Known, Zero, plan_asked_day
from benchapp.planning.remaining import pulls_for
from benchapp.planning.spoilage import spread_counts
from benchapp.reckon.sheets import Record
from benchapp.session.compiled_recipe import CompiledRecipe

#: No plan looks further ahead.
MOST_DAYS: Final = 60
EVERY_DAY: Final = frozenset(range(7))
_REPLAYS: Final = 200


@dataclass(frozen=True, slots=True)
class PlannedDays:
    """An edition over several days.

    Attributes:
        wanted: Good prints.
        spoiled: Sheets that are usually spoiled on the way, printed too.
        days: The days, each planned.
        prints: The sheets each gives without its warm-ups.
        left: Prints that found no day.
        between: How many days it takes, on eight of ten tries.
    """

    wanted: int
    spoiled: int
    days: tuple[PlannedDay, ...]
    prints: tuple[int, ...]
    left: int
    between: tuple[int, int]


def plan_days(asked: DayQuestion, known: Known, *, seconds: int,
              weekdays: Collection[int] = EVERY_DAY) -> PlannedDays:
    """Plan a number of prints over as many days as they take.

    Args:
        asked: The first day, with a number wanted. Its `until` ends every day.
        known: What the book knows of it.
        seconds: How long a day is where none is said.
        weekdays: The days that are printed on, Monday is 0.

    Raises:
        ValueError: No number is wanted.
    """
    if asked.wanted is None:
        raise ValueError("how many prints?")
    recipe, record = asked.recipe, known.record or Record(0, 0)
    warm = pulls_for(recipe, 0)
    sheets = pulls_for(recipe, asked.wanted, record) - warm
    until = asked.until or min(24 * 60, asked.zero.minutes + seconds // 60)
    soaked = CompiledRecipe(recipe).damped is not None
    left, on = sheets, asked.zero.on
    days: list[PlannedDay] = []
    prints: list[int] = []
    full: PlannedDay | None = None
    while left > 0 and len(days) < MOST_DAYS:
        while on.weekday() not in weekdays:
            on += timedelta(days=1)
        zero = Zero(on, asked.zero.minutes, asked.zero.zone)
        first = not days
        question = replace(asked, zero=zero, until=until, wanted=None,
                           evening=asked.evening or (soaked and not first))
        mine = replace(known, most=None, record=None, packs=known.packs if first else ())
        day = plan_asked_day(question, mine, thorough=False) if first or full is None \
            else _on(full, zero)
        if not first:
            full = day
        held = 0 if day.fit is None else max(0, day.fit.fits - day.aside)
        if not held:
            break
        if held >= left:
            held = left
            day = plan_asked_day(replace(question, wanted=left), mine, thorough=False)
        days.append(day)
        prints.append(held)
        left, on = left - held, on + timedelta(days=1)
    chances = (full or days[0]).chances if days else {}
    return PlannedDays(asked.wanted, sheets - asked.wanted, tuple(days), tuple(prints), left,
                       _between([chances.get(n + warm, 0.0) for n in range(1, 400)],
                                spread_counts(record, asked.wanted, _REPLAYS), len(days)))


def _on(day: PlannedDay, zero: Zero) -> PlannedDay:
    """The same day on another date."""
    return replace(day, on=zero.on.isoformat(), clock=zero.clock, when=zero.when, iso=zero.iso,
                   ends_on=zero.wall(day.plan.end).date().isoformat())


def _between(at_least: Sequence[float], needs: Sequence[int], planned: int) -> tuple[int, int]:
    """Between how many days, four times of five: days that go each their own way.

    Args:
        at_least: For each number of prints from 1 the chance that a day gives as many.
        needs: Sheets needed, once for each replay.
        planned: Days of the plan, where nothing is known.
    """
    most = max((n for n, p in enumerate(at_least, 1) if p > 0), default=0)
    if not most:
        return planned, planned
    reach = [1.0, *at_least[:most], 0.0]
    one = [reach[n] - reach[n + 1] for n in range(most + 1)]
    total, low = [1.0], 0
    for day in range(1, 4 * MOST_DAYS):
        total = [sum(one[k] * total[n - k] for k in range(max(0, n - len(total) + 1),
                                                          min(most, n) + 1))
                 for n in range(len(total) + most)]
        tail = [0.0] * (len(total) + 1)
        for n in range(len(total) - 1, -1, -1):
            tail[n] = tail[n + 1] + total[n]
        done = sum(tail[n] if n < len(tail) else 0.0 for n in needs) / len(needs)
        low = low or (day if done >= 0.1 else 0)
        if done >= 0.9:
            return low, day
    return low or planned, 4 * MOST_DAYS
