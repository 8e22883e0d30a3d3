"""Where the time of a day went, step by step, for a screen: beside the recipe and days before.

A sign before a difference says that it is more than the recipe, or the days before, account for.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from benchapp.quantities import figure_text
from benchapp.reports.blocks import Block, Sentence, Table
from benchapp.reports.earlier_days import EarlierStep
from benchapp.reports.review import Review
from benchapp.reports.review_day import StepTimes
from benchapp.reports.review_words import (
    a_sheet_words,
    hours_words,
    length_words,
    pauses_words,
)

LONGER: Final = "▲ "
SHORTER: Final = "▽ "
_SIGNS_MEAN: Final = "▲ above the recipe's high   ▽ below its low"


def time_blocks(r: Review) -> Iterator[Block]:
    """The day, then each step of the hands: how often, its middle time beside the recipe's."""
    if words := hours_words(r.hours):
        yield Sentence(words)
    yield from (Sentence(pause, aside=True) for pause in pauses_words(r.hours))
    rows = tuple(_step(x) for x in r.by_step if x.times or x.not_taken)
    if rows:
        yield Table(("step", "times", "middle", "recipe", "", "in all"), rows,
                    quiet=frozenset({3, 4}))
    if any(cell.startswith((LONGER, SHORTER)) for row in rows for cell in row):
        yield Sentence(_SIGNS_MEAN, aside=True)


def _step(x: StepTimes) -> tuple[str, ...]:
    recipe, middle = x.recipe, x.middle_seconds
    slow = recipe is not None and middle is not None and middle > recipe.high
    quick = recipe is not None and middle is not None and middle < recipe.low
    return (x.step, f"{x.times}" + (f" of {x.times + x.not_taken}" if x.not_taken else ""),
            length_words(middle), "" if recipe is None else _said(recipe.usual),
            (LONGER if slow else SHORTER if quick else "") + _over(x.over_usual_seconds),
            length_words(x.total_seconds) if x.times else "")


def earlier_blocks(r: Review) -> Iterator[Block]:
    """Where the time went beside the days before on this print: first the sentence, then steps."""
    found = r.earlier
    yield Sentence(found.sentence)
    if words := a_sheet_words(r):
        yield Sentence(words)
    now = {x.id: x for x in r.by_step}
    rows = tuple(_before(x, now[x.id]) for x in found.by_step if x.times)
    if rows:
        yield Table(("step", "now", "before", "timed", ""), rows, quiet=frozenset({3, 4}))
        yield Sentence(f"before: {', '.join(x.session for x in found.sessions)}", aside=True)


def _before(x: EarlierStep, now: StepTimes) -> tuple[str, ...]:
    over = x.over_seconds
    sign = "" if over is None or not x.plainly else LONGER if over > 0 else SHORTER
    return (x.step, length_words(now.middle_seconds), length_words(x.middle_seconds),
            "once" if x.times == 1 else f"{x.times} times", sign + _over(over))


def _said(seconds: float) -> str:
    """A time of the recipe, or beside it: a minute and a half stays one."""
    return figure_text(round(seconds * 1000))


def _over(seconds: float | None) -> str:
    """How much longer or shorter, with its sign; nothing below a second."""
    if seconds is None or abs(seconds) < 1:
        return ""
    return ("+" if seconds > 0 else "-") + _said(abs(seconds))
