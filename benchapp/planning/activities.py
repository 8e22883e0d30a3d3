"""A day's work as activities, arcs and limits: the recipe's order and limits, the room's places."""

from __future__ import annotations

from collections.abc import Iterable

from benchapp.planning.day import BREAK, TAKEN, Break, DayInputs, Job, Name, Planned
from benchapp.planning.schedule import NONE, Activity, Arc, Project, StartLimit
from benchapp.quantities import minutes_text
from benchapp.recipe.model import Hands, Step
from benchapp.session.state import TaskKey

#: The activity at zero from which what is over is counted.
ORIGIN = 0
PRINTER, HELPER = "printer", "helper"


class DayActivities:
    """The activities of a day, gathered one by one, and what each of them is."""

    def __init__(self, day: DayInputs) -> None:
        self.day = day
        self.resources: list[str] = [PRINTER, *([HELPER] if day.helper else [])]
        self.capacities = [1] * len(self.resources)
        self.activities = [Activity(0, at=0, ends_day=False)]
        self.lines: list[Planned] = [Planned(("", TaskKey("now")), "", "free", "", None, 0, 0,
                                             True)]
        self.arcs: list[Arc] = []
        self.limits: list[StartLimit] = []
        self.words: list[str] = []
        self.wishes: list[StartLimit] = []
        self.index: dict[Name, int] = {}
        self.unknown: list[str] = []
        self.wash = max((round(j.shape.recipe.wash.ms / 1000) for j in day.jobs), default=0)
        for job in day.jobs:
            for place, count in job.shape.places.items():
                self._resource(place, count)

    def _resource(self, name: str, capacity: int) -> None:
        """A place; where two recipes count it differently, the smaller count is planned with."""
        if name not in self.resources:
            self.resources.append(name)
            self.capacities.append(capacity)
        at = self.resources.index(name)
        self.capacities[at] = min(self.capacities[at], capacity)

    # -- gathering ------------------------------------------------------------------

    def add(self, name: Name, do: str, hands: Hands, seconds: int, *, place: str | None = None,
            at: int | None = None, ends_day: bool = True, who: str | None = None) -> int:
        """One more activity; its index."""
        if who is None:
            who = self._who(hands)
        uses = [(self.resources.index(who), 1)] if who else []
        if place in self.resources and place is not None:
            uses.append((self.resources.index(place), 1))
        inky = None if who != PRINTER else hands == "inky"
        self.activities.append(Activity(seconds, tuple(uses), inky, at, ends_day))
        self.lines.append(Planned(name, do, hands, who, place, at or 0, seconds, at is not None))
        i = len(self.activities) - 1
        self.index[name] = i
        return i

    def _who(self, hands: Hands) -> str:
        """The helper takes the clean steps; the printer's hands stay inky."""
        if hands == "free":
            return ""
        return HELPER if self.day.helper and hands == "clean" else PRINTER

    def follow(self, before: int, after: int, more: int = 0) -> None:
        """`after` begins when `before` is over and hands are washed, or so much later."""
        first, then = self.activities[before], self.activities[after]
        wash = self.wash if first.inky and then.inky is False else 0
        self.arcs.append(Arc(before, after, first.seconds + max(wash, more)))

    def not_before(self, i: int, moment: int) -> None:
        """Activity `i` does not begin before a moment."""
        if moment > 0:
            self.arcs.append(Arc(ORIGIN, i, moment))

    def within(self, before: int, after: int, seconds: int, words: str) -> None:
        """`after` should begin within so many seconds of the end of `before`."""
        self.limits.append(StartLimit(before, after, self.activities[before].seconds + seconds))
        self.words.append(words)

    def by(self, i: int, moment: int, words: str) -> None:
        """Activity `i` should begin by a moment; one that is past is history, and warned about."""
        self.limits.append(StartLimit(ORIGIN, i, moment))
        self.words.append(words)

    def wish(self, before: int, after: int, most: int) -> None:
        """`after` begins at best no later than so many seconds after `before` begins."""
        self.wishes.append(StartLimit(before, after, most))

    def project(self, due: int | None = None) -> Project:
        """All that was gathered, as numbers; `due`: when it should be over."""
        return Project(tuple(self.activities), tuple(self.capacities), tuple(self.arcs),
                       tuple(self.limits), hands=0 if self.wash else NONE, wash=self.wash,
                       inky=self.day.inky, wishes=tuple(self.wishes), due=due)

    # -- breaks and places ------------------------------------------------------------

    def breaks(self) -> None:
        """Breaks, those not begun behind the step in hand; and places others use."""
        busy = max((a.at + a.seconds for a, x in zip(self.activities, self.lines, strict=True)
                    if a.at is not None and x.hands != "free"), default=0)
        whole = _joined(self.day.breaks, busy)
        for k, x in enumerate(whole):
            for who in self.resources[: 2 if self.day.helper else 1]:
                key = TaskKey(BREAK, pack=f"{k}{who}")
                self.add(("", key), x.name, "clean", x.seconds, at=x.at, ends_day=False, who=who)
        for y in self.day.taken:
            if y.place in self.resources and y.at + y.seconds > 0:
                key = TaskKey(TAKEN, pack=f"{y.place}{y.at}")
                self.add(("", key), f"{y.place} taken", "free", y.seconds, place=y.place, at=y.at,
                         ends_day=False)


def _joined(breaks: Iterable[Break], busy: int) -> list[Break]:
    """Breaks still to come, none inside another, and none before the hands are free."""
    out: list[Break] = []
    for x in sorted(breaks, key=lambda b: b.at):
        if x.at + x.seconds <= 0:
            continue
        at = max(x.at, busy) if busy > 0 else x.at
        if out and at < out[-1].at + out[-1].seconds:
            last = out.pop()
            end = max(last.at + last.seconds, at + x.seconds)
            at, x = last.at, Break(last.at, end - last.at, last.name)
        out.append(Break(at, x.seconds, x.name))
    return out


class JobWork:
    """One session's activities."""

    def __init__(self, work: DayActivities, job: Job) -> None:
        self.work, self.job = work, job
        self.shape, self.recipe = job.shape, job.shape.recipe

    def build(self) -> None:
        """Everything but paper and breaks."""
        job = self.job
        for step in self.recipe.before:
            self._add(step, None)
        for k in job.ordinals:
            for step in self.recipe.each:
                if self.shape.due_on(step, k):
                    self._add(step, k)
        for step in (*self.recipe.after, *job.inherited):
            self._add(step, None)
        self._order()
        self._plates()
        self._limits()

    def _add(self, step: Step, k: int | None) -> None:
        key = TaskKey(step.id, k)
        runs = self.job.running.get(key)
        if key in self.job.over or key in self.job.left_out or (step.optional and runs is None):
            return
        if step.time is None and runs is None:
            self.work.unknown.append(step.do)
        seconds = self.work.day.times(self.shape, step) if runs is None else runs[1]
        self.work.add((self.job.session, key), step.do, step.hands, seconds, place=step.at,
                      at=None if runs is None else runs[0])

    # -- order ------------------------------------------------------------------------

    def at(self, step: str, k: int | None) -> int | None:
        """The activity of a step, or None where it has none."""
        return self.work.index.get((self.job.session, TaskKey(step, k)))

    def ends(self, step: str, k: int | None) -> set[int]:
        """The activities whose end lets go what follows a step; empty where all is over."""
        if TaskKey(step, k) in self.job.over:
            return set()
        i = self.at(step, k)
        if i is not None:
            return {i}
        return {j for p in self.shape.follows[step] for j in self.ends(p, k)}

    def _order(self) -> None:
        recipe = self.recipe
        opening = self._chain(recipe.before, None, set())
        printed = set(opening)
        for k in self.job.ordinals:
            self._chain(recipe.each, k, opening)
            printed |= {j for s in recipe.each for j in self._hands_end(s, k)}
        last = self._chain(recipe.after, None, printed)
        for step in self.job.inherited:
            i = self.at(step.id, None)
            if i is not None:
                for j in last or printed:
                    self.work.follow(j, i)
                last = {i}

    def _chain(self, steps: tuple[Step, ...], k: int | None, opening: set[int]) -> set[int]:
        """Arcs inside a section; the activities at its end (or what opened it)."""
        open_ends: set[int] = set()
        for step in steps:
            i = self.at(step.id, k)
            if i is None:
                continue
            before = {j for p in self.shape.follows[step.id] for j in self.ends(p, k)}
            for j in before or opening:
                self.work.follow(j, i)
            open_ends = (open_ends - before) | {i}
        return open_ends or opening

    def _hands_end(self, step: Step, k: int) -> set[int]:
        """The activity of a hands step that no other hands step of its impression follows."""
        i = self.at(step.id, k)
        if i is None or step.hands == "free":
            return set()
        later = {x.id for x in self.recipe.each if step.id in self.shape.follows[x.id]
                 and x.hands != "free" and self.at(x.id, k) is not None}
        return set() if later else {i}

    def _plates(self) -> None:
        """A plate is held until the first step after its last pull is over.

        A later step that names it, such as reworking it, holds it too.
        """
        for plate, release in self.shape.release.items():
            mine = [s for s in self.recipe.each if plate in self.shape.plates_of[s.id]]
            ids = {s.id for s in mine}
            held: set[int] = set()
            for k in self.job.ordinals:
                for step in mine:
                    i = self.at(step.id, k)
                    if i is not None and not any(
                            self.work.lines[j].name[1].step in ids
                            for p in self.shape.follows[step.id] for j in self.ends(p, k)):
                        for j in held:
                            self.work.follow(j, i)
                held = self.ends(release, k) | self._later(mine, release, k) or held

    def _later(self, mine: list[Step], release: str, k: int) -> set[int]:
        """What is still to be done on a plate after the step that frees it."""
        place = self.shape.place_of
        return {i for s in mine if place[s.id] > place[release]
                and (i := self.at(s.id, k)) is not None}

    # -- limits -----------------------------------------------------------------------

    def _limits(self) -> None:
        for limit in self.shape.limits:
            step = self.shape.by_id[limit.step]
            where = self.job.ordinals if step.section == "each" else (None,)
            for k in where:
                i = self.at(limit.step, k)
                if i is None or self.work.activities[i].at is not None:
                    continue
                base = self._base(limit.after, k)
                if base is None:
                    continue
                within = limit.within.ms // 1000
                if limit.to_end:  # at once at the soonest: `check` warns of a work longer than that
                    within = max(0, within - self.work.activities[i].seconds)
                self._limit(base, i, within, f"{step.do}: {limit.why}")

    def _limit(self, base: int | TaskKey, i: int, within: int, words: str) -> None:
        if isinstance(base, TaskKey):
            self.work.by(i, self.job.over[base] + within, words)
        else:
            self.work.within(base, i, within, words)

    def _base(self, step: str, k: int | None) -> int | TaskKey | None:
        """What a limit counts from: an activity, or work that is over."""
        seen = step
        while True:
            key = TaskKey(seen, k)
            if key in self.job.over:
                return key
            i = self.at(seen, k)
            if i is not None:
                return i
            before = self.shape.follows[seen]
            if not before:
                return None
            seen = before[-1]


def late_words(words: str, seconds: int) -> str:
    """A broken limit as a sentence."""
    return f"{words}; planned {minutes_text(seconds * 1000)} later than that"
