"""An edition over several days as text. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from benchapp.planning.days import PlannedDays
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.sentences import pack_alarms
from benchapp.quantities import items_text
from benchapp.reports.plan_evening import damp_words
from benchapp.reports.plan_text import overnight_words


def days_sentence(told: PlannedDays, first: PlannedDay | None = None) -> str:
    """`60 prints take 9 days, the last on 2026-12-09; 8 to 11 in four of five tries.`

    `first` is the first day as it was asked for: where no day holds a print, it tells whether only
    the paper is in the way.
    """
    if not told.days:
        overnight = "" if first is None else overnight_words(first)
        return f"{overnight}{'no' if overnight else 'No'} day is long enough for one print."
    lost = f" with {told.spoiled} spoiled" if told.spoiled else ""
    low, high = told.between
    sure = f"{low}" if low == high else f"{low} to {high}"
    rest = f" {items_text(told.left, 'print')} had no room on any day." if told.left else ""
    return (f"{items_text(told.wanted, 'print')}{lost} take {items_text(len(told.days), 'day')}, "
            f"the last on {told.days[-1].on}; {sure} days in four of five tries.{rest}")


def days_text(told: PlannedDays, first: PlannedDay | None = None) -> list[str]:
    """A heading a day, and under it what is damped the evening before and when packs go in."""
    lines = [days_sentence(told, first)]
    for n, (day, prints) in enumerate(zip(told.days, told.prints, strict=True), 1):
        warm = f", after {items_text(day.aside, 'warm-up')}" if day.aside else ""
        lines += ["", f"Day {n} · {date.fromisoformat(day.on):%A} {day.on}: "
                      f"{items_text(prints, 'print')}{warm}, {day.clock(0)} to "
                      f"{day.when(day.plan.end)}",
                  *(f"  {line}" for line in _of_day(day))]
    return lines


def _of_day(day: PlannedDay) -> Iterable[str]:
    yield from (f"Mind: {words}" for words in day.foretold)
    if day.evening is not None and (words := damp_words(day, day.evening)):
        yield f"The evening before: {words[0].lower()}{words[1:]}"
    breaks = [(x.at, f"{x.name.capitalize()}, to {day.when(x.at + x.seconds)}")
              for x in day.day.breaks if x.at < day.plan.end]
    yield from (f"{day.when(at)}  {words}"
                for at, words in sorted([*breaks, *pack_alarms(day.plan)]))
