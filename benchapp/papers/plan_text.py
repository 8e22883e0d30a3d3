"""A planned day as it is told and as plain values: the plain sentence first. Pure.

`clock` turns seconds from the plan's zero into a time of day; only the edge knows the zero.
"""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap
from typing import Any, Final

from benchapp.papers.plan_day import DayTold
from benchapp.papers.plan_evening import evening_json, evening_parts
from benchapp.papers.plan_rows import rows
from benchapp.reckon.chances import in_fives
from benchapp.reckon.loads import Bottleneck
from benchapp.session.planning_told import alarms, figures, warnings
from benchapp.session.what_if import headline, helper_words, likely

_LOADS: Final[tuple[Bottleneck, ...]] = ("hands", "plate", "press", "hot plate")


def plan_json(told: DayTold) -> dict[str, Any]:
    """The day as JSON values: times of day HH:MM, chances from 0 to 1 in steps of 0.05."""
    found = figures(told.plan, None if told.fit is None else told.fit.fits, told.chances,
                    told.clock)
    return {
        **found, "print": told.title, "artist": told.artist, "on": told.on,
        "ends_on": told.ends_on,
        "from": told.clock(0), "until": None if told.until is None else told.clock(told.until),
        "wanted": told.wanted, "pulls": told.pulls,
        "end_between": [told.clock(t) for t in told.interval], "rests_on": told.behind,
        "sentence": sentence(told), "warnings": list(warnings(told.plan, told.clock)),
        **({} if told.evening is None else {"evening": evening_json(told, told.evening)}),
    }


def plan_text(told: DayTold, columns: int, *, plain: bool = False) -> list[str]:
    """The day as lines; texts are the printer's own, not yet made visible.

    Args:
        told: The day.
        columns: Cells a line of the drawing may take.
        plain: Draw in ASCII alone.
    """
    until = "" if told.until is None else f" to {told.clock(told.until)}"
    lines = [sentence(told),
             f"{told.title}, {told.artist} · {told.on}, from {told.clock(0)}{until}"]
    for head, part in plan_parts(told):
        lines += ["", head, *(piece for line in part for piece in wrap(
            line, columns, initial_indent="  ", subsequent_indent="    "))]
    drawn = rows(told.plan, told.day.jobs[0].shape, told.clock, columns, until=told.until,
                 plain=plain)
    return [*lines, "", *drawn]


def plan_parts(told: DayTold) -> list[tuple[str, list[str]]]:
    """What is told of the day under its first line: heads, each with its lines; none is empty."""
    evening = [] if told.evening is None else evening_parts(told, told.evening, sentence)
    parts = [
        ("Limits and doubts", list(_doubts(told))),
        *evening,
        ("Paper", [f"{told.clock(t)}  {words}" for t, words in alarms(told.plan)]),
        ("What holds the day up", list(_held_up(told))),
        ("How sure", list(_sure(told)))]
    return [(head, part) for head, part in parts if part]


def sentence(told: DayTold) -> str:
    """The plain first line: `10: likely. An 11th would end 17:19.`"""
    if told.fit is not None and told.pulls is None:
        return headline(told.fit, told.chances, told.clock)
    pulls, wanted = told.pulls or 0, told.wanted or 0
    going = bool(told.day.jobs[0].session)  # what did not count then was no warm-up only
    more = "" if going or pulls == wanted else f" with {pulls - wanted} warm-ups more"
    by = f"{wanted}{more} by {told.clock(told.plan.end)}"
    if told.until is None or told.fit is None:
        return f"{by}."
    fits = told.fit.fits
    room = f"{fits} {_pulls(fits)} end by {told.clock(told.until)}" if fits else (
        f"None ends by {told.clock(told.until)}")
    return f"{by}: {likely(told.chances.get(pulls, 0.0))}. {room}."


def _pulls(n: int) -> str:
    return "pull" if n == 1 else "pulls"


def _doubts(told: DayTold) -> Iterable[str]:
    plan = told.plan
    if told.ends_on != told.on:
        yield f"It runs on past midnight: all over on {told.ends_on} at {told.clock(plan.end)}"
    yield from warnings(plan, told.clock)
    yield from plan.contradictions
    if plan.unknown:
        yield f"No time is known of {', '.join(plan.unknown)}: planned as none"


def _held_up(told: DayTold) -> Iterable[str]:
    loads = told.plan.loads
    of = ", ".join(f"{x} {float(loads.of(x)) / 60:.1f}" for x in _LOADS if loads.of(x))
    yield (f"The {loads.bottleneck}: {float(loads.seconds_each) / 60:.1f} min an impression "
           f"({of})")
    if not told.day.helper:
        yield helper_words(told.day)


def _sure(told: DayTold) -> Iterable[str]:
    if told.until is not None and told.chances:
        said = "; ".join(f"{n} {_percent(p)}" for n, p in list(told.chances.items())[-6:])
        yield f"Pulls done by {told.clock(told.until)}: {said}"
    low, high = told.interval
    yield (f"All over at {told.clock(told.plan.end)} as planned; between {told.clock(low)} and "
           f"{told.clock(high)} on four days of five")
    yield told.behind[:1].upper() + told.behind[1:]


def _percent(part: float) -> str:
    """To the nearest 5 in a hundred: nothing is quite sure, nor quite out of the question."""
    five = in_fives(part)
    return "under 5 %" if five == 0 else "over 95 %" if five == 100 else f"{five} %"
