"""A day as it is asked for, and as it is told: the same for the command line and the screen.

What is asked says times of day as minutes after midnight; what the book knows comes in as
values. Nothing here reads a book or a clock: only the machine's zone, for a day that is to come.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from fractions import Fraction
from typing import Final

from benchapp.events.entry import Moment
from benchapp.planning.build import plan_day
from benchapp.planning.certainty import from_days, sure_of, times_by
from benchapp.planning.chances import chance_until, end_interval, falling_chances
from benchapp.planning.day import Break, DampedPack, DayInputs, DayPlan, PackPlan, TakenPlace, Times
from benchapp.planning.pace import Pace
from benchapp.planning.planned_day import Evening, PlannedDay, SpoiledPulls
from benchapp.planning.plate_wear import Given, wear_of, wear_sentences
from benchapp.planning.remaining import day_of_recipe, day_of_room, pulls_aside, pulls_for
from benchapp.planning.spoilage import spread_counts
from benchapp.planning.times import Guess, TimedRecipe, in_room, time_recipe
from benchapp.planning.what_if import (
    MOST,
    Fit,
    Most,
    chances_of,
    fit_impressions,
    pulls_before,
    search_plan,
    with_helper,
    with_more,
    with_pack,
)
from benchapp.quantities import Percentage, Span
from benchapp.recipe.model import Recipe
from benchapp.recipe.warnings import paper_too_small
from benchapp.reckon.sheets import Record, reckon_sheets
from benchapp.session.compiled_recipe import CompiledRecipe, paper_of
from benchapp.session.counting import target_count
from benchapp.session.pack_size import packs_why, size_packs
from benchapp.session.state import StudioState

#: So many days have at most as many pulls as are planned for the end's interval.
_NEARLY_ALL: Final = Percentage(Fraction(95, 100))
#: So many numbers of pulls are planned each by itself.
_PLANNED_COUNTS: Final = 8
#: What a pack damped the evening before is called; no pack of a book has this name.
EVENING: Final = "evening before"
#: When it is put in, in minutes after midnight, where that evening is not begun yet.
DAMPED_AT: Final = 18 * 60


@dataclass(frozen=True, slots=True)
class Zero:
    """The moment a plan is counted from: a time of day of some day.

    Attributes:
        on: The day.
        minutes: Minutes after midnight.
        zone: What the wall goes by; None: this machine's zone.
    """

    on: date
    minutes: int
    zone: tzinfo | None = None

    @property
    def moment(self) -> datetime:
        """The moment itself."""
        return self._moment(self.minutes)

    def _moment(self, minutes: int) -> datetime:
        naive = datetime.combine(self.on, time()) + timedelta(minutes=minutes)
        known = naive.astimezone() if self.zone is None else naive.replace(tzinfo=self.zone)
        return known.astimezone(UTC)

    def after(self, minutes: int) -> int:
        """Seconds from here to a time of the same day, in minutes after midnight."""
        return round((self._moment(minutes) - self.moment).total_seconds())

    def wall(self, second: int) -> datetime:
        """The time on the wall, without its zone, so many seconds later."""
        return (self.moment + timedelta(seconds=second)).astimezone(self.zone).replace(tzinfo=None)

    def clock(self, second: int) -> str:
        """The time of day so many seconds later."""
        return f"{self.wall(second):%H:%M}"

    def when(self, second: int) -> str:
        """The time of day so many seconds later; of another day with its date."""
        at = self.wall(second)
        return f"{at:%H:%M}" if at.date() == self.on else f"{at:%H:%M} on {at.date().isoformat()}"

    def iso(self, second: int) -> str:
        """The whole moment so many seconds later, by ISO 8601 with its offset."""
        at = (self.moment + timedelta(seconds=second)).astimezone(self.zone)
        return at.isoformat(timespec="minutes")


@dataclass(frozen=True, slots=True)
class DayQuestion:
    """What is asked of a day.

    Attributes:
        recipe: What is printed.
        zero: When it begins.
        until: When all must be over, in minutes after midnight; None: no matter.
        breaks: When each begins, in minutes after midnight, and its seconds.
        taken: Places others use: which, from when (minutes after midnight), seconds.
        helper: Whether a second pair of hands takes the clean steps.
        wanted: How many should count; None: the most pulls that fit.
        pack: Sheets a pack, where it is another number than the recipe's.
        evening: Whether a pack is damped the evening before.
        each_ms: How long one print takes, as guessed, in milliseconds; None: nobody guessed.
    """

    recipe: Recipe
    zero: Zero
    until: int | None = None
    breaks: tuple[tuple[int, int], ...] = ()
    taken: tuple[tuple[str, int, int], ...] = ()
    helper: bool = False
    wanted: int | None = None
    pack: int | None = None
    evening: bool = False
    each_ms: int | None = None

    @property
    def pulls(self) -> int | None:
        """The pulls that the wanted number takes where none is spoiled."""
        return None if self.wanted is None else pulls_for(self.recipe, self.wanted)


@dataclass(frozen=True, slots=True)
class RunningSession:
    """A session that is at work: its day is planned from how things stand.

    Attributes:
        room: The room.
        session: The session's id; it is open.
        t: Room time at the plan's zero.
    """

    room: StudioState
    session: str
    t: int


@dataclass(frozen=True, slots=True)
class Known:
    """What the book knows of it.

    Attributes:
        pace: What the days of this print taught.
        packs: The packs that are there when the day begins.
        settings: What was in force at the end of the last session on the print.
        running: The session whose rest of the day is planned; None: a day to come.
        times: Usual times of steps that the recipe gives none.
        guess: The guess it is planned by, where one was needed.
        most: No more than so many pulls are to be had; None: nobody knows.
        record: The sheets that were judged on days of this print; None: spoilage is left out.
        given: What the plates have given; None: not looked up, or of no matter.
    """

    pace: Pace = field(default_factory=Pace)
    packs: tuple[DampedPack, ...] = ()
    settings: Mapping[str, str] = field(default_factory=dict)
    running: RunningSession | None = None
    times: Mapping[str, Span] = field(default_factory=dict)
    most: Most | None = None
    guess: Guess | None = None
    record: Record | None = None
    given: Mapping[str, Given] | None = None

    def timed(self, asked: DayQuestion) -> TimedRecipe:
        """The recipe asked for with every time there is."""
        return time_recipe(asked.recipe, self.times, asked.each_ms)


def packs_at(room: StudioState, now: Moment, zero: Zero) -> tuple[DampedPack, ...]:
    """The packs of a room that are there when a day begins, as its plan sees them."""
    t = room.t_at(now) + round(zero.moment.timestamp() * 1000) - now.wall_ms
    there = {k: p for k, p in room.packs.items() if p.put_in_t <= t}
    return day_of_room(StudioState(packs=there), t).packs


def plan_asked_day(asked: DayQuestion, known: Known, *, thorough: bool = True) -> PlannedDay:
    """The day planned and told; steps whose time is `missing` are planned as taking none.

    Args:
        asked: What is asked.
        known: What the book knows of it.
        thorough: Whether it is searched for about a second; else as while a printer waits.
    """
    found = known.timed(asked)
    asked = replace(asked, recipe=found.recipe)
    known = _lasting(replace(known, guess=found.guess), found.recipe)
    if not asked.evening or known.running is not None:
        return _told(asked, known, _day(asked, known), thorough=thorough)
    plain = _told(replace(asked, evening=False), known, _day(asked, known), thorough=thorough)
    first = next((p for p in plain.plan.packs if p.ordinals), None)
    pack = None if first is None else _evening_pack(asked, first)
    if first is None or pack is None:
        return replace(plain, evening=Evening(None, plain, known.settings))
    if _rests_overnight(asked.recipe):
        return _all_of_it(asked, known, pack, plain, thorough=thorough)
    told = _with_packs(asked, known, (pack,), thorough=thorough)
    return replace(told, evening=Evening(pack.sheets, plain, known.settings, first.why))


def _with_packs(asked: DayQuestion, known: Known, packs: Sequence[DampedPack], *,
                thorough: bool) -> PlannedDay:
    return _told(asked, known, _day(asked, replace(known, packs=(*known.packs, *packs))),
                 thorough=thorough)


def _rests_overnight(recipe: Recipe) -> bool:
    """Whether paper put in on the day itself comes too late for it."""
    paper = CompiledRecipe(recipe).damped
    return paper is not None and paper.damp is not None and paper.damp.method == "pack"


def _all_of_it(asked: DayQuestion, known: Known, pack: DampedPack, plain: PlannedDay, *,
               thorough: bool) -> PlannedDay:
    """The day with every sheet it prints damped the evening before, as many packs as that takes.

    How many it prints is seen from a day that never lacks paper. Where a number is wanted, the
    sheets that nine days of ten spoil on the way are damped too, as `prepare` has them.
    """
    plenty = _with_packs(asked, known, (replace(pack, sheets=MOST),), thorough=False)
    need = next((len(p.ordinals) for p in plenty.plan.packs if p.id == EVENING), 0)
    if asked.wanted is not None and asked.pulls is not None and known.record is not None:
        sheets = reckon_sheets(asked.wanted, record=known.record,
                               warm_ups=pulls_for(asked.recipe, 0)).figures["sheets"]
        need += max(0, int(sheets) - asked.pulls) if need else 0
    paper = CompiledRecipe(asked.recipe).damped
    sizes = size_packs(None if paper is None or paper.damp is None else paper.damp.pack, need)
    packs = [replace(pack, id=f"{EVENING} {n}", sheets=size.sheets)
             for n, size in enumerate(sizes, 1)]
    told = _with_packs(asked, known, packs, thorough=thorough)
    if told.fit is not None and plenty.fit is not None and told.fit.fits == plenty.fit.fits:
        # One more is not late for want of paper: it would have been damped with the others.
        told = replace(told, fit=replace(told.fit, one_more=plenty.fit.one_more))
    return replace(told, evening=Evening(
        sum(x.sheets or 0 for x in sizes) or None, plain, known.settings, packs_why(sizes)))


def _lasting(known: Known, recipe: Recipe) -> Known:
    """The same, with the session at work going by the times of this recipe."""
    running = known.running
    if running is None or running.room.sessions[running.session].recipe == recipe:
        return known
    room = in_room(running.room, running.session, recipe)
    return replace(known, running=replace(running, room=room))


def _day(asked: DayQuestion, known: Known) -> DayInputs:
    zero, times = asked.zero, times_by(known.pace)
    breaks = [Break(zero.after(at), s) for at, s in asked.breaks]
    if known.running is not None:
        return _rest(asked, known.running, [b for b in breaks if b.at + b.seconds > 0], times)
    day = day_of_recipe(asked.recipe, 1, breaks=breaks, taken=_taken(asked), packs=known.packs,
                        times=times)
    day = with_helper(day) if asked.helper else day
    return day if asked.pack is None else with_pack(day, asked.pack)


def _rest(asked: DayQuestion, running: RunningSession, breaks: Sequence[Break],
          times: Times) -> DayInputs:
    """What is left of the day of a session; another number wanted is planned as if it were said."""
    room, id_ = running.room, running.session
    s = room.sessions[id_]
    if asked.wanted is not None and asked.wanted != target_count(s):
        s = replace(s, wanted=asked.wanted, limit=None, enough=False)
    room = replace(room, bench=id_, sessions={**room.sessions, id_: s})
    day = day_of_room(room, running.t, breaks=breaks, taken=_taken(asked), times=times)
    return replace(day, helper=asked.helper)


def _taken(asked: DayQuestion) -> Sequence[TakenPlace]:
    """What others use; of a place there is one of, times that meet are one."""
    places, out = CompiledRecipe(asked.recipe).places, list[TakenPlace]()
    for place, at, seconds in sorted(asked.taken, key=lambda x: x[:2]):
        start = asked.zero.after(at)
        end = start + seconds
        last = out[-1] if out and out[-1].place == place else None
        if last is not None and places.get(place, 1) == 1 and start <= last.at + last.seconds:
            out[-1] = replace(last, seconds=max(end - last.at, last.seconds))
        else:
            out.append(TakenPlace(place, start, seconds))
    return out


def _evening_pack(asked: DayQuestion, first: PackPlan) -> DampedPack | None:
    """The first pack the day would put in, as it lies ready when damped the evening before."""
    damped = CompiledRecipe(asked.recipe).damped
    if first.into is None or damped is None or damped.damp is None:
        return None
    keeps = damped.damp.keeps
    night = (24 * 60 - DAMPED_AT + asked.zero.minutes) * 60
    old = None if keeps is None else max(0, keeps.ms // 1000 - night)
    return DampedPack(EVENING, paper_of(asked.recipe, damped), first.sheets, old=old)


def _told(asked: DayQuestion, known: Known, day: DayInputs, *,
          thorough: bool) -> PlannedDay:
    zero, job = asked.zero, day.jobs[0]
    pulls = asked.pulls
    if known.most is not None and known.most.ended:
        pulls = asked.wanted  # a cancellation proof has no warm-ups before it
    if known.running is not None and pulls is not None:
        pulls = job.done + len(job.begun) + job.more
    until = None if asked.until is None else zero.after(asked.until)
    fit = None if until is None else fit_impressions(day, until, thorough=thorough)
    if known.running is not None and pulls is not None:
        made = search_plan(day, due=until)
    else:
        made = _made(day, fit, pulls, known.most, until, thorough=thorough)
    sure = sure_of(made, known.pace, session=job.session)
    ends, likely = sure.ends, None
    if known.running is None and known.record is not None and asked.wanted is not None \
            and pulls is not None and not (known.most is not None and known.most.ended):
        ends, likely = _with_spoilage(day, known, asked.wanted, made, pulls)
    chances = {} if fit is None or until is None else chances_of(day, until, fit, known.pace)
    if pulls is not None and until is not None and pulls not in chances:
        chances |= {n: p for n, p in falling_chances(sure.by_count, until).items()
                    if n not in chances}
    printed = asked.recipe.print
    return PlannedDay(
        printed.title, printed.artist, zero.on.isoformat(), zero.wall(made.end).date().isoformat(),
        day, made, zero.clock, zero.when, zero.iso, until, fit, asked.wanted,
        pulls, chances, end_interval(ends), from_days(known.pace), guess=known.guess,
        most=known.most, aside=_aside(asked, known), spoiled=likely,
        in_time=0.0 if until is None else chance_until(ends, until),
        foretold=_foretold(asked, known, pulls or (1 if fit is None else fit.fits)))


def _foretold(asked: DayQuestion, known: Known, pulls: int) -> tuple[str, ...]:
    """What plates and paper say of a day to come; one at work was told before it began.

    Args:
        asked: What was asked.
        known: What the book knows.
        pulls: The pulls planned.
    """
    if known.running is not None or known.given is None:
        return ()
    return (*paper_too_small(asked.recipe),
            *(said for x in wear_of(asked.recipe, known.given, pulls) if x.near
              for said in wear_sentences(x)))


def _with_spoilage(day: DayInputs, known: Known, wanted: int, plan: DayPlan,
                   pulls: int) -> tuple[Sequence[int], SpoiledPulls | None]:
    """When days are over that go on until enough are good, replayed; and a day with the usual loss.

    Each replay has its own number of pulls, as likely as the record of this print makes it. Planned
    are as many as all but one day in twenty need.
    """
    recipe, record = day.jobs[0].shape.recipe, known.record or Record(0, 0)
    if recipe.proofing is not None:
        return sure_of(plan, known.pace).ends, None
    warm = pulls_for(recipe, 0)
    most = int(reckon_sheets(wanted, sure=_NEARLY_ALL, record=record).figures["sheets"]) + warm
    if max(most, pulls) > MOST:
        return sure_of(plan, known.pace).ends, None
    sure = sure_of(plan, known.pace)
    needs = [n + warm for n in spread_counts(record, wanted, len(sure.ends))]
    by_count = _ends_by_count(day, known.pace, needs, max(most, pulls), {pulls: sure.ends})
    ends = [by_count[n][r] for r, n in enumerate(needs)]
    lost = pulls_for(recipe, wanted, record) - pulls
    if lost <= 0:
        return ends, None
    return ends, SpoiledPulls(lost, plan_day(with_more(day, pulls + lost)).end)


def _ends_by_count(day: DayInputs, pace: Pace, needs: Sequence[int], most: int,
                   known: Mapping[int, Sequence[int]]) -> dict[int, Sequence[int]]:
    """When the day is over with each number of pulls, replayed; as many replays for each.

    Each number is planned by itself: who stops earlier has not inked for one more, and may clean
    up before a break. Of very many numbers one passed over has the end of the next larger one.

    Args:
        day: The day.
        pace: What is known of the printer's times.
        needs: The numbers.
        most: Those above have the end of this one.
        known: What is there already.
    """
    replays = len(needs)

    def ends(n: int) -> Sequence[int]:
        plan = plan_day(with_more(day, n))
        return sure_of(plan, pace, replays=replays, counted=False).ends

    found, last = dict(known), most
    counts = sorted({n for n in needs if n < most} - set(known), reverse=True)
    found[most] = found.get(most) or ends(most)
    apart = 1 + len(counts) // _PLANNED_COUNTS
    for at, n in enumerate(counts, 1):
        if at % apart == 0:
            found[n], last = ends(n), n
        else:
            found[n] = found[last]
    return {n: found[min(n, most)] for n in (*needs, *known)}


def _aside(asked: DayQuestion, known: Known) -> int:
    """The pulls of the day that do not count."""
    if known.running is not None:
        return pulls_aside(known.running.room.sessions[known.running.session])
    if known.most is not None and known.most.ended:
        return 0  # a cancellation proof has no warm-ups before it
    return pulls_for(asked.recipe, 0)


def _made(day: DayInputs, fit: Fit | None, pulls: int | None, most: Most | None,
          until: int | None, *, thorough: bool) -> DayPlan:
    if pulls is None and fit is not None and most is not None and most.pulls < fit.fits:
        day = with_more(day, max(0, most.pulls - pulls_before(day)))
        return search_plan(day, due=until) if thorough else plan_day(day, due=until)
    if pulls is None and fit is not None:
        return fit.plan or fit.one_more
    day = with_more(day, pulls or 1)
    return search_plan(day, due=until) if thorough else plan_day(day, due=until)
