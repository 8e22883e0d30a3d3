"""An edition over several days: which days, how many prints on each, and what to damp before. Pure.

Every day is planned like a day by itself: its set-up, warm-ups, breaks and cleaning up. Sheets that
are usually spoiled are printed too.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import accumulate
from typing import Final

from benchapp.planning.build import plan_day
from benchapp.planning.certainty import sure_of
from benchapp.planning.chances import chance_until
from benchapp.planning.day import BREAK
from benchapp.planning.pace import Pace
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.plate_wear import Given, wear_by_day, wear_of
from benchapp.planning.question import DayQuestion, Known, Zero, plan_asked_day
from benchapp.planning.remaining import pulls_for
from benchapp.planning.spoilage import spread_counts
from benchapp.planning.what_if import with_more
from benchapp.recipe.model import Recipe
from benchapp.recipe.warnings import paper_too_small
from benchapp.reckon.sheets import Record
from benchapp.session.compiled_recipe import CompiledRecipe

#: No plan looks further ahead.
MOST_DAYS: Final = 60
EVERY_DAY: Final = frozenset(range(7))
_REPLAYS: Final = 200
#: Printers as they may be, and days replayed of each.
_PRINTERS: Final = 5
_DAYS: Final = 100
#: A day may give so many fewer, or more, than its plan.
_FEWER: Final = 4
_MORE: Final = 3
#: Chances of more days than these are not looked for.
_SURE: Final = 0.999


@dataclass(frozen=True, slots=True)
class PlannedDays:
    """An edition over several days.

    Attributes:
        wanted: Good prints.
        spoiled: Sheets that are usually spoiled on the way, printed too.
        days: The days, each planned.
        prints: The sheets each gives without its warm-ups.
        left: Prints that found no day.
        done_by: The chance that it is done within one day, two and so on.
    """

    wanted: int
    spoiled: int
    days: tuple[PlannedDay, ...]
    prints: tuple[int, ...]
    left: int
    done_by: tuple[float, ...]

    @property
    def between(self) -> tuple[int, int]:
        """Between how many days it takes, four times of five."""
        planned = len(self.days)
        low, high = (next((d for d, p in enumerate(self.done_by, 1) if p >= share), None)
                     for share in (0.1, 0.9))
        return low or planned, high or max(planned, len(self.done_by))


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
    worn, told_of = known.given, set[tuple[str, bool]]()
    while left > 0 and len(days) < MOST_DAYS:
        while on.weekday() not in weekdays:
            on += timedelta(days=1)
        zero = Zero(on, asked.zero.minutes, asked.zero.zone)
        first = not days
        question = replace(asked, zero=zero, until=until, wanted=None,
                           evening=asked.evening or (soaked and not first))
        mine = replace(known, most=None, record=None, given=None,
                       packs=known.packs if first else ())
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
        foretold, worn = _wear(recipe, worn, held + day.aside, told_of)
        days.append(replace(day, foretold=(*(paper_too_small(recipe) if first else ()),
                                           *foretold)))
        prints.append(held)
        left, on = left - held, on + timedelta(days=1)
    needs = spread_counts(record, asked.wanted, _REPLAYS)
    return PlannedDays(asked.wanted, sheets - asked.wanted, tuple(days), tuple(prints), left,
                       _done_by(_printers(full or days[0], known.pace), needs) if days else ())


def _wear(recipe: Recipe, given: Mapping[str, Given] | None, pulls: int,
          told_of: set[tuple[str, bool]],
          ) -> tuple[tuple[str, ...], Mapping[str, Given] | None]:
    """What is said of the plates on a day, and what they have given after it.

    A plate is spoken of on the day it nears its end and on the day it passes it.

    Args:
        recipe: What is printed.
        given: What its plates have given before; None: nobody looked.
        pulls: The pulls of the day.
        told_of: What was said before, each plate with whether it was past its end.
    """
    if given is None:
        return (), None
    wear = wear_of(recipe, given, pulls)
    new = [x for x in wear if x.near and (x.plate.name, x.past) not in told_of]
    told_of.update((x.plate.name, x.past) for x in new)
    after = {x.plate.name: replace(x.given, impressions=x.total) for x in wear}
    return tuple(said for x in new for said in wear_by_day(x)), {**given, **after}


def _printers(day: PlannedDay, pace: Pace) -> list[list[float]]:
    """What a day gives: the chance of each number of prints from 1, for printers as they may be.

    Who is slow in all is so on every day: days that differ each by themselves would be far too
    sure. So the printer is drawn first, and then each day's pace.
    """
    fits = 0 if day.fit is None else day.fit.fits
    until = day.until or 0
    plans = [plan_day(with_more(day.day, n), due=until)
             for n in range(max(1, fits - _FEWER), fits + _MORE + 1)]
    hands: dict[str, float] = {}
    for x in plans[0].made.lines:
        if x.hands != "free" and x.name[1].step != BREAK:
            hands[x.do] = hands.get(x.do, 0.0) + x.seconds
    all_of_it = sum(hands.values()) or 1.0
    shares = {step: seconds / all_of_it for step, seconds in hands.items()}
    out = []
    for habit in pace.habits(shares, _PRINTERS):
        chance = [chance_until(sure_of(x, pace, replays=_DAYS, counted=False, habit=habit).ends,
                               until) for x in plans]
        reach = list(accumulate(reversed(chance), max))[::-1]
        at_least = reach[:1] * (max(1, fits - _FEWER) - 1) + reach
        out.append(at_least[day.aside:])
    return out


def _on(day: PlannedDay, zero: Zero) -> PlannedDay:
    """The same day on another date."""
    return replace(day, on=zero.on.isoformat(), clock=zero.clock, when=zero.when, iso=zero.iso,
                   ends_on=zero.wall(day.plan.end).date().isoformat())


def _done_by(printers: Sequence[Sequence[float]], needs: Sequence[int]) -> tuple[float, ...]:
    """The chance to be done within each number of days.

    Args:
        printers: For printers as likely, for each number of prints from 1 the chance that a day
            gives as many.
        needs: Sheets needed, once for each replay.
    """
    each = [_done_by_one(x, needs) for x in printers]
    days = max(map(len, each))
    padded = [(*x, *(x[-1:] or (0.0,)) * (days - len(x))) for x in each]
    return tuple(sum(x) / len(each) for x in zip(*padded, strict=True))


def _done_by_one(at_least: Sequence[float], needs: Sequence[int]) -> tuple[float, ...]:
    """The same for one printer, whose days go each their own way."""
    most = max((n for n, p in enumerate(at_least, 1) if p > 0), default=0)
    if not most:
        return ()
    reach = [1.0, *at_least[:most], 0.0]
    one = [reach[n] - reach[n + 1] for n in range(most + 1)]
    total, out = [1.0], list[float]()
    while len(out) < 4 * MOST_DAYS and (not out or out[-1] < _SURE):
        total = [sum(one[k] * total[n - k] for k in range(max(0, n - len(total) + 1),
                                                          min(most, n) + 1))
                 for n in range(len(total) + most)]
        tail = [0.0] * (len(total) + 1)
        for n in range(len(total) - 1, -1, -1):
            tail[n] = tail[n + 1] + total[n]
        out.append(sum(tail[n] if n < len(tail) else 0.0 for n in needs) / len(needs))
    return tuple(out)
