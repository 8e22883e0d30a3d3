"""A planned day as it is told: the plain sentence first. Pure.

`clock` turns seconds from the plan's zero into a time of day; only the edge knows the zero.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from benchapp.planning.chances import in_fives
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.rows import day_rows
from benchapp.planning.sentences import pack_alarms, plan_warnings
from benchapp.planning.times import guess_words, missing_words
from benchapp.planning.what_if import (
    chance_word,
    counts_words,
    helper_words,
    plan_headline,
    reckon_pulls,
)
from benchapp.quantities import minutes_text
from benchapp.reckon.loads import Bottleneck
from benchapp.reports.blocks import Block, Drawn, Items, Section
from benchapp.reports.plan_evening import evening_parts
from benchapp.reports.render_text import render_text

_LOADS: Final[tuple[Bottleneck, ...]] = ("hands", "plate", "press", "hot plate")


def plan_text(told: PlannedDay, columns: int, *, plain: bool = False) -> list[str]:
    """The day as lines; texts are the printer's own, not yet made visible.

    Args:
        told: The day.
        columns: Cells a line of the drawing may take.
        plain: Draw in ASCII alone.
    """
    return render_text(plan_blocks(told, columns, plain=plain), columns=columns)


def plan_blocks(told: PlannedDay, columns: int, *, plain: bool = False) -> Iterator[Block]:
    """The day as blocks: the sentence, what is told of it part by part, and the day drawn.

    Args:
        told: The day.
        columns: Cells a line of the drawing may take.
        plain: Draw in ASCII alone.
    """
    until = "" if told.until is None else f" to {told.when(told.until)}"
    hours = f"{told.on}, from {told.when(0)}{until}"
    yield Items((plan_sentence(told), f"{told.title}, {told.artist} · {hours}"))
    yield from (Section(head, (Items(tuple(part), wraps=True),))
                for head, part in plan_parts(told))
    yield Drawn(tuple(day_rows(told.plan, told.day.jobs[0].shape, told.clock, columns,
                               until=told.until, plain=plain)))


def plan_parts(told: PlannedDay) -> list[tuple[str, list[str]]]:
    """What is told of the day under its first line: heads, each with its lines; none is empty."""
    evening = [] if told.evening is None else evening_parts(told, told.evening, plan_sentence)
    parts = [
        ("Limits and doubts", list(_doubts(told))),
        *evening,
        ("Paper", [f"{told.when(t)}  {words}" for t, words in pack_alarms(told.plan)]),
        ("What holds the day up", list(_held_up(told))),
        ("How sure", list(_sure(told)))]
    return [(head, part) for head, part in parts if part]


def plan_sentence(told: PlannedDay) -> str:
    """The plain first line: `Count on 7; 9 is about an even chance. A 10th would end at 17:30.`"""
    guess = "" if told.guess is None else (
        f" By a guess: {minutes_text(told.guess.ms)} a print.")
    ended = "" if told.most is None or not told.most.ended else f"{told.most.why}. "
    return f"{ended}{overnight_words(told)}{_first(told)}{_uncounted(told)}{guess}"


def overnight_words(told: PlannedDay) -> str:
    """That the paper is damped the evening before, where the plan damps it the same day."""
    paper = told.day.jobs[0].shape.damped
    new = [p for p in told.plan.packs if p.into is not None and p.ordinals]
    if (told.evening is not None or told.day.jobs[0].session or paper is None
            or paper.damp is None or paper.damp.method != "pack" or not new):
        return ""
    rest = "" if paper.damp.rest is None else f" and rests {minutes_text(paper.damp.rest.ms)}"
    return (f"This paper is damped as a pack{rest}: damp it the evening before and plan with "
            "--evening (d on the Plan). Damped only that day: ")


def aside_words(told: PlannedDay) -> str:
    """`Warm-ups: 2.`: the pulls of the day that do not count; of a day at work others too."""
    what = "Not counted" if told.day.jobs[0].session else "Warm-ups"
    return f"{what}: {told.aside}." if told.aside else ""


def _uncounted(told: PlannedDay) -> str:
    """What the plan takes for nothing: it would promise too much without a word."""
    n = len(told.plan.unknown)
    return "" if not n else (" 1 step has no time and is not counted." if n == 1 else
                             f" {n} steps have no time and are not counted.")


def _first(told: PlannedDay) -> str:
    if told.fit is not None and told.pulls is None:
        return plan_headline(told.fit, told.chances, told.when, told.most, told.aside,
                             aside_words(told))
    pulls, wanted = told.pulls or 0, told.wanted or 0
    going = bool(told.day.jobs[0].session)  # what did not count then was no warm-up only
    more = "" if going or pulls == wanted else f" with {pulls - wanted} warm-ups more"
    by = f"{wanted}{more} by {told.when(told.plan.end)}"
    lost = "" if told.spoiled is None else (
        f" With {told.spoiled.count} spoiled, by {told.when(told.spoiled.end)}.")
    if told.until is None or told.fit is None:
        return f"{by}.{lost}"
    room = counts_words(reckon_pulls(told.fit, told.chances, told.most), told.chances,
                        told.aside)
    room = f"By {told.when(told.until)} {room[0].lower()}{room[1:]}"
    return f"{by}: {chance_word(told.in_time)}.{lost} {room}."


def _doubts(told: PlannedDay) -> Iterable[str]:
    plan = told.plan
    if told.ends_on != told.on:
        yield f"It runs on past midnight: all over on {told.ends_on} at {told.clock(plan.end)}"
    yield from plan_warnings(plan, told.when)
    yield from plan.contradictions
    if (told.most is not None and not told.most.ended and told.pulls is not None
            and told.pulls > told.most.pulls):
        yield f"{told.pulls} pulls are too many: {told.most.why}"
    yield from told.foretold
    if plan.unknown:
        yield f"{missing_words(plan.unknown)}: planned as taking no time"


def _held_up(told: PlannedDay) -> Iterable[str]:
    loads = told.plan.loads
    of = ", ".join(f"{x} {float(loads.of(x)) / 60:.1f}" for x in _LOADS if loads.of(x))
    yield (f"The {loads.bottleneck}: {float(loads.seconds_each) / 60:.1f} min an impression "
           f"({of})")
    if not told.day.helper:
        yield helper_words(told.day)


def _sure(told: PlannedDay) -> Iterable[str]:
    if told.until is not None and told.chances:
        counted = [(n - told.aside, p) for n, p in told.chances.items() if n > told.aside]
        said = "; ".join(f"{n} {_percent(p)}" for n, p in counted[-6:])
        beside = f" {aside_words(told)}" if told.aside else ""
        yield f"Done by {told.when(told.until)}: {said or 'none that counts'}.{beside}"
    low, high = told.interval
    yield (f"All over at {told.when(told.plan.end)} as planned; between {told.when(low)} and "
           f"{told.when(high)} on four days of five")
    if told.guess is not None:
        yield guess_words(told.guess)
    yield told.behind[:1].upper() + told.behind[1:]


def _percent(part: float) -> str:
    """To the nearest 5 in a hundred: nothing is quite sure, nor quite out of the question."""
    five = in_fives(part)
    return "under 5 %" if five == 0 else "over 95 %" if five == 100 else f"{five} %"
