"""How many fit, how surely, and what would change it: a helper, lunch, packs, the window. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain, count
from typing import Final

from benchapp.planning.build import plan_day, search_tries
from benchapp.planning.certainty import sure_of
from benchapp.planning.chances import chance_until, falling_chances, in_fives
from benchapp.planning.day import DayInputs, DayPlan
from benchapp.planning.loads import loads_of
from benchapp.planning.pace import Pace
from benchapp.session.compiled_recipe import CompiledRecipe

#: No day has more pulls than this.
MOST: Final = 400
#: Chances in a hundred of what can be counted on, and of what is about even.
COUNT_ON: Final = 90
_EVEN: Final = 45
#: How many more than fit the chances speak of.
_BEYOND: Final = 2
#: So many counts next to a guess are tried one by one.
_ONE_BY_ONE: Final = 4
#: Where more than this fit, numbers are passed over so that a day stays planned in seconds.
_EACH_UP_TO: Final = 40


@dataclass(frozen=True, slots=True)
class Fit:
    """How many impressions fit into a window.

    Attributes:
        fits: The most pulls of the day whose plan ends by then, those done before among them.
        plan: Their plan; None where none of those still to come fits.
        one_more: The plan of one more.
    """

    fits: int
    plan: DayPlan | None
    one_more: DayPlan


@dataclass(frozen=True, slots=True)
class Most:
    """The most pulls a day can have, whatever time there is.

    Attributes:
        pulls: How many, those done before among them.
        why: What there are no more of, in words: `that is what is left of the edition`.
        ended: The edition is over: that is said before all else.
        warm_ups_said: The words name the pulls that do not count already.
    """

    pulls: int
    why: str
    ended: bool = False
    warm_ups_said: bool = False


def fit_impressions(day: DayInputs, until: int, *, tries: int | None = None,
                    thorough: bool = False) -> Fit:
    """The most impressions still to begin whose plan ends by a moment.

    Args:
        day: The day; how many more that job is to begin is looked for.
        until: The window's end, in seconds from the plan's zero.
        tries: Schedules for each plan.
        thorough: Whether the last that fits and one more are searched for longer.
    """
    seen: dict[int, DayPlan] = {}

    def plan(n: int) -> DayPlan:
        if n not in seen:
            seen[n] = plan_day(with_more(day, n), tries=tries, due=until)
        return seen[n]

    least = 0 if day.jobs[0].begun else 1
    each = max(1, round(loads_of(day.jobs[0].shape, day.times, helper=day.helper).seconds_each))
    n = max(least, min(MOST, least + (until - plan(least).end) // each))
    if n > least + _ONE_BY_ONE:  # many: by the pace of that plan, which knows washes and packs
        each = max(1, (plan(n).end - plan(least).end) // (n - least))
        n = max(least, min(MOST, least + (until - plan(least).end) // each))
    n = _last(lambda k: plan(k).end <= until, n, least)
    if thorough:
        seen = {n: _searched(day, n, until, seen[n])}
        while plan(n).end <= until and n < MOST:
            seen[n + 1] = _searched(day, n + 1, until, plan(n + 1))
            if plan(n + 1).end > until:
                break
            n += 1
    if plan(n).end > until:
        return Fit(day.jobs[0].done, None, plan(n))
    return Fit(n + pulls_before(day), plan(n), plan(n + 1))


def _searched(day: DayInputs, n: int, until: int, quick: DayPlan) -> DayPlan:
    """The plan of so many, searched for longer; no worse than the quick one."""
    found = search_plan(with_more(day, n), due=until)
    return found if (found.late, found.end) <= (quick.late, quick.end) or found.end <= until \
        else quick


def search_plan(day: DayInputs, *, due: int | None = None) -> DayPlan:
    """Plan a day with the schedules that an answer asked for once may take."""
    return plan_day(day, tries=search_tries(len(plan_day(day, tries=1).made.lines)), due=due)


def _last(fits: Callable[[int], bool], guess: int, least: int) -> int:
    """The last count that fits, sought from a guess; `least` where none does.

    The first steps go one by one: a guess is seldom far off, and then every count near it is
    looked at. From there they grow, and what lies between is halved.
    """
    up = fits(guess)
    steps = chain((1,) * _ONE_BY_ONE, (2 ** k for k in count(1)))
    low, high = (guess, MOST + 1) if up else (least, guess)
    at = guess
    for step in steps:
        at = at + step if up else at - step
        if not low < at < high:
            break
        if fits(at):
            low = at
        else:
            high = at
        if fits(at) is not up:
            break
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low


def pulls_before(day: DayInputs) -> int:
    """Pulls of the first job that are done, and those whose impression is begun."""
    return day.jobs[0].done + len(day.jobs[0].begun)


def with_more(day: DayInputs, more: int, job: int = 0) -> DayInputs:
    """The day with so many impressions of a job still to begin."""
    jobs = list(day.jobs)
    jobs[job] = replace(jobs[job], more=more)
    return replace(day, jobs=tuple(jobs))


def chances_of(day: DayInputs, until: int, fit: Fit, pace: Pace, *,
               tries: int | None = None) -> dict[int, float]:
    """The chance of each number of pulls of the day by a moment; no larger one is likelier.

    Each number is planned by itself: who stops at four has not inked for a fifth, and cleans up
    before lunch where that is better. Below one that is sure all are. Where very many fit, not
    every number is planned: one passed over has the chance of the next larger one that was, which
    never says too much.
    """
    session, before = day.jobs[0].session, pulls_before(day)
    ready = {} if fit.plan is None else {fit.fits: fit.plan}
    ready[max(fit.fits + 1, before)] = fit.one_more
    found: dict[int, Sequence[int]] = {}

    def times(n: int) -> Sequence[int]:
        plan = ready.get(n) or plan_day(with_more(day, n - before), tries=tries, due=until)
        sure = sure_of(plan, pace, session=session, counted=n == before)
        if n == before:
            found.update(sure.by_count)
        return sure.ends

    least = max(before, 1)
    for n in range(max(fit.fits, least), max(fit.fits, before) + _BEYOND + 1):
        found[n] = times(n)
    planned = min(found)
    apart = 1 + fit.fits // _EACH_UP_TO
    for n in range(planned - 1, least - 1, -1):
        sure = chance_until(found[n + 1], until) == 1
        if not sure and (planned - n >= apart or n == least):
            found[n], planned = times(n), n
        else:
            found[n] = found[n + 1]
    for n in range(max(day.jobs[0].done, 1), least):
        found.setdefault(n, found[least])
    return falling_chances(found, until)


# -- what would change it ---------------------------------------------------------------------


def with_helper(day: DayInputs) -> DayInputs:
    """The day with a helper who takes the clean steps."""
    return replace(day, helper=True)


def with_pack(day: DayInputs, sheets: int) -> DayInputs:
    """The day with its first job's packs of so many sheets."""
    first, *others = day.jobs
    recipe = first.shape.recipe
    papers = tuple(p if p.damp is None else replace(p, damp=replace(p.damp, pack=sheets))
                   for p in recipe.papers)
    first = replace(first, shape=CompiledRecipe(replace(recipe, papers=papers)))
    return replace(day, jobs=(first, *others))


def helper_words(day: DayInputs) -> str:
    """What a helper would change in the pace, in a sentence."""
    shape = day.jobs[0].shape
    alone = loads_of(shape, day.times)
    two = loads_of(shape, day.times, helper=True)
    won = alone.seconds_each - two.seconds_each
    if won < 30:
        verb = "are" if two.bottleneck == "hands" else "is"
        return f"A second pair of hands gains nothing: the {two.bottleneck} {verb} the bottleneck."
    return (f"A second pair of hands gains {float(won) / 60:.1f} min an impression; "
            f"then the {two.bottleneck} {'hold' if two.bottleneck == 'hands' else 'holds'} it up.")


# -- in words ---------------------------------------------------------------------------------


def chance_word(chance: float) -> str:
    """A chance as a word."""
    words = ((95, "as good as sure"), (75, "likely"), (55, "more likely than not"),
             (45, "even"), (25, "unlikely"))
    return next((word for least, word in words if in_fives(chance) >= least), "hardly to be had")


def plan_headline(fit: Fit, chances: Mapping[int, float], clock: Callable[[int], str],
                  most: Most | None = None, aside: int = 0, beside: str = "") -> str:
    """The plain first line: `Count on 7; 9 is about an even chance. A 10th would end at 17:30.`

    Args:
        fit: What fits, in pulls.
        chances: Of numbers of pulls.
        clock: The time of day of a second.
        most: No more than so many pulls are to be had.
        aside: Pulls among them that do not count: the line counts the others.
        beside: What names those, as a sentence.
    """
    beside = f" {beside}" if beside and aside else ""
    if most is not None and not most.pulls:
        return f"Count on none: {most.why}."
    if most is not None and most.pulls <= fit.fits:
        why = "" if most.ended else f": {most.why}"
        beside = "" if most.warm_ups_said else beside
        return f"{counts_words(reckon_pulls(fit, chances, most), chances, aside)}{why}.{beside}"
    if 0 < fit.fits < aside:
        return f"None that counts fits.{beside}"
    aside = aside if fit.fits else 0  # of a day that holds no pull its first is spoken of
    more = f"{ordinal_with_article(fit.fits + 1 - aside)} would end at {clock(fit.one_more.end)}."
    more = more[0].upper() + more[1:]
    if fit.fits == aside:
        return f"None that counts fits. {more}{beside}" if aside else f"None fits. {more}"
    return f"{counts_words(reckon_pulls(fit, chances), chances, aside)}. {more}{beside}"


@dataclass(frozen=True, slots=True)
class Reckoned:
    """What can be expected of a day.

    Attributes:
        on: The pulls to count on: nine days of ten give as many.
        hope: The pulls to hope for, about an even chance or better.
    """

    on: int
    hope: int


def reckon_pulls(fit: Fit, chances: Mapping[int, float], most: Most | None = None) -> Reckoned:
    """How many pulls to count on and to hope for: never more than fit or are to be had."""
    top = fit.fits if most is None else min(fit.fits, most.pulls)

    def up_to(least: int) -> int:
        return max((n for n, p in chances.items() if n <= top and in_fives(p) >= least), default=0)

    on = top if fit.plan is None else up_to(COUNT_ON)  # of what is done all is sure
    return Reckoned(on, max(on, up_to(_EVEN)))


def counts_words(found: Reckoned, chances: Mapping[int, float], aside: int = 0) -> str:
    """`Count on 7; 9 is about an even chance`; `aside` of the pulls are not counted."""
    on, hope = max(0, found.on - aside), max(0, found.hope - aside)
    words = f"Count on {on or 'none'}"
    if hope == on:
        return words
    return f"{words}; {hope} is {_hope(chances[found.hope])}"


def _hope(chance: float) -> str:
    words = ((75, "likely"), (60, "more likely than not"))
    return next((w for least, w in words if in_fives(chance) >= least), "about an even chance")


def ordinal_with_article(n: int) -> str:
    """A number as one more of a row: `a 9th`, `an 11th`, `a 22nd`."""
    last, teen = n % 10, n % 100 in (11, 12, 13)
    end = {1: "st", 2: "nd", 3: "rd"}.get(last, "th") if not teen else "th"
    vowel = str(n).startswith("8") or n in (11, 18)
    return f"{'an' if vowel else 'a'} {n}{end}"
