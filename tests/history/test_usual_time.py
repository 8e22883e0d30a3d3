"""What is learnt of a time converges, is left alone within chance, and asks for few changes."""

from __future__ import annotations

import random
from itertools import pairwise
from statistics import median

import pytest

from benchapp.history.usual_time import learn_time, round_time
from benchapp.quantities import Span, read_span

MIN = 60_000


def printer(seed: int, days: int, true: float, first: Span) -> list[Span]:
    """The recipe's value after each day of one printer who applies what is offered every day.

    Six times a day; a day is quicker or slower by .10, a time by .20 (ln, standard deviations).
    """
    dice = random.Random(seed)
    taken: list[list[int]] = []
    text, out = first, []
    for _ in range(days):
        pace = dice.gauss(0, 0.10)
        taken.append([round(true * MIN * 2.718281828 ** (pace + dice.gauss(0, 0.20)))
                      for _ in range(6)])
        text = learn_time(first, text, taken)
        out.append(text)
    return out


def is_near(value: Span, true: float) -> bool:
    """Within 5 %, the rounding of the recipe's text included."""
    return abs(value.usual.ms / MIN / true - 1) <= 0.05 + 1e-9


@pytest.mark.parametrize("first", ["12/15/19 min", "20/27/35 min"])
def test_applied_daily_it_settles_at_the_truth(first: str) -> None:
    """True 20 min: near in the median after ten days, in 95 of 100 after thirty, then still."""
    printers = 500
    runs = [printer(seed, 30, 20, read_span(first)) for seed in range(printers)]
    errors = [abs(run[9].usual.ms / MIN / 20 - 1) for run in runs]
    assert median(errors) <= 0.05 + 1e-9
    assert sum(is_near(run[-1], 20) for run in runs) >= 0.95 * printers
    changes = sum(a != b for run in runs for a, b in pairwise(run[9:]))
    assert changes < printers


def test_what_chance_explains_changes_nothing() -> None:
    """A day a little slower than the recipe says is no reason to change it."""
    text = read_span("8/10/12 min")
    assert learn_time(text, text, [[round(10.6 * MIN)] * 6]) == text
    assert learn_time(text, text, [[15 * MIN] * 6] * 3) != text


def test_a_recipe_without_a_time_takes_the_times_and_then_keeps_them() -> None:
    """The second day's chance does not move what the first days gave."""
    given = learn_time(None, None, [[9 * MIN, 10 * MIN, 11 * MIN]])
    assert given.usual.ms == 10 * MIN
    assert learn_time(None, given, [[9 * MIN, 10 * MIN, 11 * MIN], [10 * MIN]]) == given


def test_one_time_stays_one_time() -> None:
    """`10 min` becomes `15 min`, no low and high."""
    ten = read_span("10 min")
    assert str(learn_time(ten, ten, [[15 * MIN] * 8] * 8)) == "15 min"


@pytest.mark.parametrize(("ms", "unit", "rounded"), [
    (7_400, "s", 5_000), (8_000, "s", 10_000), (7_400, "min", 15_000), (60_000, "min", 60_000),
    (95_000, "min", 90_000), (14 * 60_000 + 50_000, "min", 15 * 60_000),
    (20 * 60_000 + 40_000, "min", 21 * 60_000), (62 * 60_000, "min", 60 * 60_000),
    (63 * 60_000, "min", 65 * 60_000), (40 * 60_000, "h", 45 * 60_000),
    (5 * 60_000, "h", 15 * 60_000), (0, "min", 15_000)])
def test_a_time_is_rounded_as_long_as_it_is(ms: int, unit: str, rounded: int) -> None:
    """To seconds, minutes or quarters of an hour; never to nothing."""
    assert round_time(ms, unit) == rounded


def test_a_time_of_no_length_says_nothing_of_its_ends() -> None:
    """From 0 min is no beginning: the days alone say how long the step takes."""
    taken = [[10 * 60_000] * 6] * 3
    alone = learn_time(None, None, taken)
    assert learn_time(read_span("0/5/10 min"), None, taken) == alone
    assert alone.low == alone.usual == alone.high
