"""A day as it is asked for: what is asked goes into its plan, and no more than that."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest

from benchapp.planning.certainty import from_days, timed_steps
from benchapp.planning.day import Break, DampedPack, DayInputs, Job, TakenPlace
from benchapp.planning.pace import Pace, TimedStep, learn_pace
from benchapp.planning.packs import pack_groups
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.question import (
    EVENING,
    DayQuestion,
    Known,
    RunningSession,
    Zero,
    packs_at,
    plan_asked_day,
)
from benchapp.planning.times import Guess, guess_words, missing_words, read_guess
from benchapp.planning.what_if import (
    Most,
    Reckoned,
    counts_words,
    helper_words,
    reckon_pulls,
)
from benchapp.quantities import QuantityError
from benchapp.recipe.reader import read_recipe
from benchapp.session import actions as a
from tests.planning.paces import CERTAIN
from tests.planning.plans import MIN, shape, worked
from tests.session.support import DAMP, INK, LIFT, PULL, SOAK, TWO, WIPE, Bench, recipe

TEXT = recipe(each=(INK, PULL, LIFT), damp=SOAK,
              after=["{do: Clean up, hands: inky, time: 10 min}"])
RECIPE = read_recipe(TEXT)
ZERO = Zero(date(2026, 5, 3), 9 * 60 + 30, UTC)
KNOWN = Known(pace=CERTAIN, settings={"press": "3 turns"})


def asked(known: Known = KNOWN, **asked: object) -> PlannedDay:
    """The day from 09:30, so asked."""
    return plan_asked_day(DayQuestion(RECIPE, **{"zero": ZERO, **asked}), known)  # type: ignore[arg-type]


def counted(day: PlannedDay) -> int:
    """How many pulls its plan has."""
    return len({x.name[1].impression for x in day.plan.items if x.do == "Pull"})


def test_times_are_counted_from_when_the_day_begins() -> None:
    """Over midnight, and over a night in which the clocks are set on."""
    assert (ZERO.after(12 * 60), ZERO.after(9 * 60)) == (150 * MIN, -30 * MIN)
    assert ZERO.after(24 * 60) == 14.5 * 60 * MIN
    assert [ZERO.clock(x) for x in (0, 60, 3599, 14 * 3600 + 1800)] == [
        "09:30", "09:31", "10:29", "00:00"]
    assert ZERO.wall(15 * 3600) == datetime(2026, 5, 4, 0, 30)  # noqa: DTZ001 - of the wall
    berlin = Zero(date(2026, 3, 29), 60, ZoneInfo("Europe/Berlin"))
    assert (berlin.after(4 * 60), berlin.clock(2 * 3600)) == (2 * 3600, "04:00")
    assert berlin.moment == datetime(2026, 3, 29, tzinfo=UTC)


def test_a_number_wanted_is_planned_with_its_warm_ups() -> None:
    """And says on what day it is over; without a window nothing is said to fit."""
    day = asked(wanted=3)
    assert (counted(day), day.pulls, day.wanted, day.fit, day.until) == (5, 5, 3, None, None)
    assert (day.title, day.artist, day.on, day.ends_on) == (
        "Slack Water", "Wren Halloran", "2026-05-03", "2026-05-03")
    assert day.interval == (day.plan.end, day.plan.end)
    assert day.behind == "from the recipe's times and common practice: no day of this print yet"
    late = asked(wanted=3, zero=replace(ZERO, minutes=23 * 60))
    assert (late.on, late.ends_on, late.clock(late.plan.end)) == (
        "2026-05-03", "2026-05-04", "01:05")


def test_what_fits_into_a_window_is_planned_where_no_number_is_asked() -> None:
    """Its chances end at what fits and a little beyond; those of a number asked are there too."""
    day = asked(until=12 * 60)
    assert day.fit is not None
    assert (day.until, day.fit.fits, counted(day)) == (150 * MIN, 6, 6)
    assert day.chances == {**dict.fromkeys(range(1, 7), 1.0), 7: 0.0, 8: 0.0}
    assert (day.pulls, day.evening) == (None, None)
    more = asked(until=12 * 60, wanted=10)
    assert (counted(more), more.pulls, more.chances[12]) == (12, 12, 0.0)
    assert {n: p for n, p in more.chances.items() if n < 9} == day.chances


def test_nothing_fits_into_too_small_a_window() -> None:
    """The first one is planned all the same: that is when it would end."""
    day = asked(until=10 * 60)
    assert day.fit is not None
    assert (day.fit.fits, day.fit.plan, counted(day)) == (0, None, 1)


def test_breaks_places_helper_and_packs_are_planned_with() -> None:
    """Times of one place that meet are one, a break is of all hands, packs have so many sheets."""
    day = asked(until=12 * 60, breaks=((11 * 60, 20 * MIN),), helper=True, pack=2, taken=(
        ("press", 605, 10 * MIN), ("press", 600, 10 * MIN), ("press", 660, MIN), ("tray", 700, MIN),
        ("press", 661, 2)))
    assert day.day.breaks == (Break(90 * MIN, 20 * MIN),)
    assert day.day.taken == (
        TakenPlace("press", 30 * MIN, 15 * MIN), TakenPlace("press", 90 * MIN, MIN + 2),
        TakenPlace("tray", 130 * MIN, MIN))
    assert day.day.helper
    assert [p.sheets for p in day.plan.packs] == [2, 2]
    assert not asked(wanted=1).day.helper


def test_a_place_there_are_two_of_is_taken_twice() -> None:
    """Two people can have both at one time."""
    two = read_recipe(TEXT + "places: {press: 2}\n")
    day = plan_asked_day(DayQuestion(two, ZERO, taken=(
        ("press", 600, 10 * MIN), ("press", 605, 10 * MIN))), KNOWN)
    assert day.day.taken == (TakenPlace("press", 30 * MIN, 10 * MIN),
                             TakenPlace("press", 35 * MIN, 10 * MIN))


def test_a_pack_damped_the_evening_before() -> None:
    """As many as the day's first pack has; it is as old as it is by then: 48 h from 18:00."""
    day, plain = asked(until=12 * 60, evening=True), asked(until=12 * 60)
    assert day.evening is not None
    assert (day.evening.sheets, day.evening.why) == (4, "the recipe's pack")
    assert day.evening.settings == {"press": "3 turns"}
    assert day.evening.without.plan.end == plain.plan.end
    assert day.day.packs == (DampedPack(EVENING, "cotton", 4, old=(48 - 15) * 3600 - 30 * MIN),)
    assert day.fit is not None
    assert plain.fit is not None
    assert day.fit.fits == 9 > plain.fit.fits


def test_no_pack_is_damped_where_none_is_needed() -> None:
    """What lies ready is enough; or the paper is printed dry."""
    there = DampedPack("p", "cotton", 20)
    day = asked(replace(KNOWN, packs=(there,)), wanted=1, evening=True)
    assert day.evening is not None
    assert (day.evening.sheets, day.day.packs) == (None, (there,))
    dry = plan_asked_day(DayQuestion(read_recipe(recipe()), ZERO, wanted=1, evening=True), KNOWN)
    assert dry.evening is not None
    assert (dry.evening.sheets, dry.day.packs) == (None, ())


def test_no_more_are_planned_than_are_to_be_had() -> None:
    """What is left of an edition; an edition that is over has no warm-ups before its last pull."""
    few = Most(2, "that is what is left of the edition")
    assert counted(asked(replace(KNOWN, most=few), until=12 * 60)) == 2
    assert counted(asked(replace(KNOWN, most=replace(few, pulls=20)), until=12 * 60)) == 6
    over = asked(replace(KNOWN, most=Most(9, "the edition is cancelled", ended=True)), wanted=1)
    assert (over.pulls, counted(over)) == (1, 1)
    assert asked(replace(KNOWN, most=few), wanted=3).pulls == 5


def test_the_rest_of_a_day_at_work() -> None:
    """What is done counts; another number wanted is planned as if it had been said."""
    b = Bench(recipe(each=(INK, PULL, LIFT)), wanted=2)
    for do in ("Ink", "Pull", "Lift"):
        b.until(do)
        b.work(do, 4)
    known = replace(KNOWN, running=RunningSession(b.room, b.s.id, b.t))
    recipe_ = b.s.recipe
    more = len(plan_asked_day(DayQuestion(recipe_, ZERO), known).day.jobs[0].ordinals)
    same = plan_asked_day(DayQuestion(recipe_, ZERO, wanted=2), known)
    ten = plan_asked_day(DayQuestion(recipe_, ZERO, wanted=10, helper=True,
                                     breaks=((9 * 60, 45 * MIN), (9 * 60, 10 * MIN))), known)
    assert same.day.jobs[0].done == 1
    assert len(same.day.jobs[0].ordinals) == more
    assert same.pulls == 1 + more
    assert len(ten.day.jobs[0].ordinals) == more + 8
    assert (ten.pulls, ten.wanted, ten.day.helper, same.day.helper) == (9 + more, 10, True, False)
    assert ten.day.breaks == (Break(-30 * MIN, 45 * MIN),)  # the other one is over
    assert plan_asked_day(DayQuestion(recipe_, ZERO, evening=True), known).evening is None


def test_steps_without_a_time_are_planned_by_a_guess() -> None:
    """In a day at work too; the plan says by which guess."""
    text = recipe(each=("{do: Ink, hands: inky}", PULL, LIFT))
    b = Bench(text, wanted=2)
    for known in (KNOWN, replace(KNOWN, running=RunningSession(b.room, b.s.id, b.t))):
        ask = DayQuestion(b.s.recipe, ZERO, wanted=2)
        assert plan_asked_day(ask, known).plan.unknown == ("Ink",)
        day = plan_asked_day(replace(ask, each_ms=20 * MIN * 1000), known)
        assert (day.plan.unknown, day.guess) == ((), Guess(20 * MIN * 1000, ("Ink",)))
        assert next(x.seconds for x in day.plan.items if x.do == "Ink") == 690


def test_what_is_guessed_and_missing_in_words() -> None:
    """The steps by name, or how many more there are."""
    assert guess_words(Guess(40 * MIN * 1000, ("Ink", "Wipe"))) == (
        "A guess: one print takes 40 min. Steps without a time: Ink and Wipe")
    assert missing_words(("Ink", "Wipe", "Pull")) == "No time is known for Ink, Wipe and Pull"
    assert missing_words(("Ink", "Wipe", "Pull"), start="no", most=1) == (
        "no time is known for Ink and 2 more")
    assert read_guess("40 min", 39 * MIN * 1000) == 40 * MIN * 1000
    with pytest.raises(QuantityError, match="the steps with a time take 40 min a print already"):
        read_guess("40 min", 40 * MIN * 1000)


def test_packs_that_are_there_when_a_day_begins() -> None:
    """One put in since is not; its age counts on to then."""
    b = Bench(DAMP, wanted=2)
    b.until("Sheets out of the water")
    b.work("Sheets out of the water", 35)
    now = b.now
    at = datetime.fromtimestamp(0, UTC) + timedelta(milliseconds=now.wall_ms)
    zone = timezone(timedelta(0))
    sooner, later = (Zero((at + timedelta(hours=h)).date(), (at + timedelta(hours=h)).hour * 60,
                          zone) for h in (-3, 12))
    assert packs_at(b.room, now, sooner) == ()
    pack, = packs_at(b.room, now, later)
    assert (pack.id, pack.paper, pack.soaked, pack.ready) == (b.packs[0].id, "cotton", None, 0)
    assert pack.old is not None
    assert 35 * 3600 < pack.old < 37 * 3600


def test_sheets_that_would_be_too_old_are_for_a_later_pack() -> None:
    """Those pressed before it is too old; the first of a new pack always."""
    sh = shape(recipe(damp=SOAK))
    job = Job("s", sh, 4)
    old = DampedPack("p", "cotton", 3, old=100)
    groups = pack_groups(job, (old,), {1: 50, 2: 100, 3: 101, 4: 48 * 3600 + 102})
    assert [(g.id, g.ordinals, g.size.sheets) for g in groups] == [
        ("p", [1, 2], 3), ("s.1", [3], 1), ("s.2", [4], groups[2].size.sheets)]
    assert groups[1].size.why == "what is printed while it keeps"
    assert [g.ordinals for g in pack_groups(job, (old,))] == [[1, 2, 3], [4]]
    assert [g.ordinals for g in pack_groups(replace(job, enough=True), (old,), {3: 999})] == [
        [1, 2, 3]]


def test_what_a_helper_would_gain() -> None:
    """Minutes an impression and what holds it up then; nothing where the plate is alone."""
    assert helper_words(worked(1)) == (
        "A second pair of hands gains nothing: the plate is the bottleneck.")
    assert helper_words(DayInputs((Job("", shape(TWO), 1),))) == (
        "A second pair of hands gains 9.5 min an impression; then the plate holds it up.")


def test_what_can_be_counted_on() -> None:
    """Nine days of ten give as many; about even is what can be hoped for."""
    chances = {1: 1.0, 2: 0.9, 3: 0.6, 4: 0.46, 5: 0.3}
    fit = asked(until=12 * 60).fit
    assert fit is not None
    assert reckon_pulls(fit, chances) == Reckoned(2, 4)
    assert reckon_pulls(fit, chances, Most(3, "")) == Reckoned(2, 3)
    assert reckon_pulls(replace(fit, plan=None, fits=1), {}) == Reckoned(1, 1)
    assert counts_words(Reckoned(2, 4), chances) == "Count on 2; 4 is about an even chance"
    assert counts_words(Reckoned(2, 3), chances) == "Count on 2; 3 is more likely than not"
    assert counts_words(Reckoned(4, 5), chances, aside=2) == (
        "Count on 2; 3 is about an even chance")
    assert counts_words(Reckoned(0, 1), {1: 0.8}) == "Count on none; 1 is likely"
    assert counts_words(Reckoned(2, 2), chances) == "Count on 2"


def test_how_much_is_behind_a_plan() -> None:
    """Days, or steps of today, or only the recipe."""
    def pace(*days: int) -> Pace:
        return learn_pace([TimedStep("Ink", 900, 600, day) for day in days])

    assert from_days(pace(0, 1, 1)) == "from 2 days of this print"
    assert from_days(pace(0)) == "from 1 day of this print"
    assert from_days(pace(-1, -1)) == "from 2 steps of today"


def test_what_was_skipped_or_has_no_time_teaches_nothing() -> None:
    """Nor a wait: that is a clock."""
    b = Bench(recipe(each=(INK, WIPE, PULL, LIFT)), wanted=None)
    b.work("Ink", 6)
    b.do(a.SkipStep("warm"))
    assert [x.step for x in timed_steps(b.room, b.s)] == ["Ink"]
