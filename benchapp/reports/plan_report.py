"""A planned day as a report for other programs: times of day, and whole moments beside them. Pure.

Chances go from 0 to 1 in steps of 0.05. The names of the fields only grow in number.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Annotated, ClassVar, Final

from benchapp.planning.chances import in_fives
from benchapp.planning.day import BREAK, REST, SOAK, PackPlan, Planned
from benchapp.planning.days import PlannedDays
from benchapp.planning.planned_day import Evening, PlannedDay
from benchapp.planning.sentences import plan_warnings
from benchapp.planning.what_if import reckon_pulls
from benchapp.reckon.loads import Bottleneck
from benchapp.reports.json_form import FLAT, SELDOM, Clock, Day, Time, Unit
from benchapp.reports.plan_days import days_sentence
from benchapp.reports.plan_evening import set_up
from benchapp.reports.plan_text import plan_sentence
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, WASH

_LOADS: Final[tuple[Bottleneck, ...]] = ("hands", "plate", "press", "hot plate")
#: What a line of the plan is, for whoever reads the figures.
_KINDS: Final = {BREAK: "break", SOAK: "soak", REST: "rest", WASH: "wash", DAMP_IN: "pack in",
                 DAMP_OUT: "pack out", "taken": "taken"}
_Minutes = Annotated[float, Unit("min")]


@dataclass(frozen=True, slots=True)
class PlannedPack:
    """A pack of paper."""

    in_: Annotated[Clock | None, "when it goes into the water; null: it is there already"]
    out: Annotated[Clock | None, "when you begin to take it out, as planned"]
    due_out: Annotated[Clock | None, "when its soak ends"]
    ready: Annotated[Clock, "when it can be printed on"]
    sheets: Annotated[int | None, "sheets in it"]
    why: Annotated[str | None, "why it has so many sheets"]
    in_at: Annotated[Time | None, "when it goes in"]
    out_at: Annotated[Time | None, "when you begin to take it out, as planned"]
    due_out_at: Annotated[Time | None, "when its soak ends"]
    ready_at: Annotated[Time, "when it can be printed on"]


@dataclass(frozen=True, slots=True)
class ExceededLimit:
    """A limit that would be exceeded."""

    what: Annotated[str, "the limit, in words"]
    minutes: Annotated[_Minutes, "by how much"]


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """A line of the day."""

    do: Annotated[str, "what is done"]
    kind: Annotated[str, "step, break, soak, rest, wash, pack in, pack out or taken"]
    impression: Annotated[int | None, "the impression it belongs to"]
    hands: Annotated[str, "inky, clean or free"]
    who: Annotated[str | None, "who does it"]
    at: Annotated[str | None, "the place it takes"]
    from_: Annotated[Clock, "when it begins"]
    until: Annotated[Clock, "when it ends"]
    running: Annotated[bool, "whether it has begun"]
    from_at: Annotated[Time, "when it begins"]
    until_at: Annotated[Time, "when it ends"]


@dataclass(frozen=True, slots=True)
class SpoiledSheets:
    """Sheets that are usually spoiled before enough are good."""

    count: Annotated[int, "how many"]
    pulls: Annotated[int, "pulls with them"]
    finish: Annotated[Clock, "when all is over with them"]
    finish_at: Annotated[Time, "when all is over with them"]


@dataclass(frozen=True, slots=True)
class CountedPrints:
    """The figures of a day in prints, without warm-ups."""

    fits: Annotated[int, "the most that end in time"]
    count_on: Annotated[int, "prints to count on"]
    hope_for: Annotated[int, "prints with about an even chance"]
    chances: Annotated[Mapping[str, float],
                       "for each number of prints the chance to be done in time, 0 to 1"]


@dataclass(frozen=True, slots=True)
class MostPulls:
    """The most pulls there can be."""

    pulls: Annotated[int, "how many"]
    why: Annotated[str, "what keeps it to that"]


@dataclass(frozen=True, slots=True)
class GuessedTime:
    """A guessed time."""

    one_print_minutes: Annotated[_Minutes, "how long one print takes"]
    steps: Annotated[tuple[str, ...], "the steps whose times come from it"]


@dataclass(frozen=True, slots=True)
class DayWithout:
    """The day if no pack is damped the evening before."""

    fits: Annotated[int | None, "the most pulls that end in time"]
    finish: Annotated[Clock, "when all is over"]


@dataclass(frozen=True, slots=True)
class EveningBefore:
    """What to do the evening before."""

    damp: Annotated[int | None, "sheets to damp as one pack"]
    why: Annotated[str | None, "why so many"]
    set_up: Annotated[tuple[str, ...], "what to set up, in words"]
    without: Annotated[DayWithout, "the day if no pack is damped"]


@dataclass(frozen=True, slots=True)
class DayPlanReport:
    """One day."""

    fits: Annotated[int | None, "the most pulls that end in time"]
    finish: Annotated[Clock, "when all is over"]
    finish_at: Annotated[Time, "when all is over"]
    minutes_each: Annotated[_Minutes, "what one impression takes of what holds the day up"]
    bottleneck: Annotated[str, "what holds the day up: hands, plate, press or hot plate"]
    loads: Annotated[Mapping[str, _Minutes], "what one impression takes of each"]
    packs: Annotated[tuple[PlannedPack, ...], "the packs of paper"]
    chances: Annotated[Mapping[str, float], "for each number of pulls the chance to be done in "
                       "time, 0 to 1 in steps of 0.05"]
    broken: Annotated[tuple[ExceededLimit, ...], "limits that would be exceeded"]
    contradictions: Annotated[tuple[str, ...], "what cannot be kept"]
    unknown: Annotated[tuple[str, ...], "steps without a time; planned as taking none"]
    at_best: Annotated[Clock, "the earliest end there could be"]
    steps: Annotated[tuple[PlannedStep, ...], "every step"]
    print: Annotated[str, "the title of the print"]
    artist: Annotated[str, "whose print it is"]
    on: Annotated[Day, "the day planned"]
    ends_on: Annotated[Day, "the day it ends on"]
    from_: Annotated[Clock, "when it begins"]
    from_at: Annotated[Time, "when it begins"]
    until_at: Annotated[Time | None, "when all must be over"]
    until: Annotated[Clock | None, "when all must be over"]
    spoiled: Annotated[SpoiledSheets | None,
                       "sheets usually spoiled before enough are good"]
    wanted: Annotated[int | None, "counting impressions wanted"]
    pulls: Annotated[int | None, "pulls planned"]
    end_between_at: Annotated[tuple[Time, ...], "the end on four days of five"]
    end_between: Annotated[tuple[Clock, ...], "the end on four days of five"]
    rests_on: Annotated[str, "the sessions the times come from"]
    sentence: Annotated[str, "the plan in one line"]
    warnings: Annotated[tuple[str, ...], "what to know before you begin"]
    count_on: Annotated[int | None, "pulls to count on"]
    hope_for: Annotated[int | None, "pulls with about an even chance"]
    counting: Annotated[CountedPrints | None, "prints, without warm-ups"]
    not_counting: Annotated[int, "pulls of the day that do not count"]
    at_most: Annotated[MostPulls | None, "the most pulls there can be"]
    guess: Annotated[GuessedTime | None, "a guessed time"]
    evening: Annotated[EveningBefore | None, "the evening before, with --evening", SELDOM]


@dataclass(frozen=True, slots=True)
class DayOfEdition:
    """One day of several."""

    day: Annotated[DayPlanReport, "a plan by itself", FLAT]
    prints: Annotated[int, "prints it gives"]
    damp_evening_before: Annotated[int | None, "sheets to damp the evening before"]


@dataclass(frozen=True, slots=True)
class PlanReport:
    """A planned day."""

    FORMAT: ClassVar = "plan/1"

    day: Annotated[DayPlanReport, "the day; of several, all work as one long day", FLAT]
    spoiled_sheets: Annotated[int | None, "sheets printed for those spoiled, over several days",
                              SELDOM] = None
    days_between: Annotated[tuple[int, ...] | None,
                            "how many days it takes in four of five tries", SELDOM] = None
    left: Annotated[int | None, "prints that had no room on any day", SELDOM] = None
    days: Annotated[tuple[DayOfEdition, ...] | None, "each day, if it takes several",
                    SELDOM] = None


def plan_report(told: PlannedDay, days: PlannedDays | None = None) -> PlanReport:
    """A planned day; with `days` the edition over several, beside the one long day."""
    day = _day(told)
    if days is None:
        return PlanReport(day)
    return PlanReport(
        replace(day, wanted=days.wanted, sentence=days_sentence(days, told)), days.spoiled,
        tuple(days.between), days.left, tuple(
            DayOfEdition(_day(x), prints, None if x.evening is None else x.evening.sheets)
            for x, prints in zip(days.days, days.prints, strict=True)))


def _day(told: PlannedDay) -> DayPlanReport:
    plan, fit = told.plan, told.fit
    found = None if fit is None else reckon_pulls(fit, told.chances, told.most)
    counting = None if found is None or fit is None else CountedPrints(
        max(0, fit.fits - told.aside), max(0, found.on - told.aside),
        max(0, found.hope - told.aside),
        {str(n - told.aside): in_fives(p) / 100 for n, p in told.chances.items()
         if n > told.aside})
    return DayPlanReport(
        None if fit is None else fit.fits, told.clock(plan.end), told.iso(plan.end),
        round(float(plan.loads.seconds_each) / 60, 1), plan.loads.bottleneck,
        {what: round(float(plan.loads.of(what)) / 60, 1) for what in _LOADS},
        tuple(_pack(p, told) for p in plan.packs),
        {str(n): in_fives(p) / 100 for n, p in told.chances.items()},
        tuple(ExceededLimit(b.words, round(b.by / 60, 1)) for b in plan.broken),
        tuple(plan.contradictions), tuple(plan.unknown), told.clock(min(plan.bound, plan.end)),
        tuple(_step(x, told) for x in plan.items),
        told.title, told.artist, told.on, told.ends_on, told.clock(0), told.iso(0),
        None if told.until is None else told.iso(told.until),
        None if told.until is None else told.clock(told.until),
        None if told.spoiled is None else SpoiledSheets(
            told.spoiled.count, (told.pulls or 0) + told.spoiled.count,
            told.clock(told.spoiled.end), told.iso(told.spoiled.end)),
        told.wanted, told.pulls, tuple(map(told.iso, told.interval)),
        tuple(map(told.clock, told.interval)), told.behind, plan_sentence(told),
        (*plan_warnings(plan, told.when), *told.foretold),
        None if found is None else found.on, None if found is None else found.hope,
        counting, told.aside,
        None if told.most is None else MostPulls(told.most.pulls, told.most.why),
        None if told.guess is None else GuessedTime(
            round(told.guess.ms / 60_000, 1), tuple(told.guess.steps)),
        None if told.evening is None else _evening(told, told.evening))


def _pack(pack: PackPlan, told: PlannedDay) -> PlannedPack:
    def clock(t: int | None) -> str | None:
        return None if t is None else told.clock(t)

    def moment(t: int | None) -> str | None:
        return None if t is None else told.iso(t)

    return PlannedPack(
        clock(pack.into), clock(pack.taken), clock(pack.due), told.clock(pack.ready), pack.sheets,
        pack.why or None, moment(pack.into), moment(pack.taken), moment(pack.due),
        told.iso(pack.ready))


def _step(x: Planned, told: PlannedDay) -> PlannedStep:
    _, key = x.name
    return PlannedStep(
        x.do, _KINDS.get(key.step, "step"), key.impression, x.hands, x.who or None, x.at,
        told.clock(x.start), told.clock(x.end), x.settled and key.step not in (BREAK, "taken"),
        told.iso(x.start), told.iso(x.end))


def _evening(told: PlannedDay, evening: Evening) -> EveningBefore:
    without = evening.without
    return EveningBefore(
        evening.sheets, evening.why or None, tuple(set_up(told, evening)),
        DayWithout(None if without.fit is None else without.fit.fits,
                   without.clock(without.plan.end)))
