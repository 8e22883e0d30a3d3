"""The plan of a day: recipe and state as activities, scheduled, and said in the printer's words.

The hands are planned first, then the paper; then both together. There is always a plan; where
limits break it says which and by how much. Pure: the same day has the same plan everywhere.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from benchapp.planning.activities import HELPER, PRINTER, DayActivities, JobWork, late_words
from benchapp.planning.day import (
    BREAK,
    REST,
    SOAK,
    BrokenLimit,
    DayInputs,
    DayPlan,
    Made,
    Name,
    Planned,
)
from benchapp.planning.loads import loads_of
from benchapp.planning.packs import PaperWork, pack_groups
from benchapp.planning.schedule import Project, Schedule
from benchapp.planning.schedule_search import SearchResult, make_ready, solve_schedule
from benchapp.quantities import minutes_text
from benchapp.session.compiled_recipe import WASH
from benchapp.session.state import TaskKey

#: Work that is placed in schedules while the printer waits.
_BENCH_WORK: Final = 1_500
#: Work that is placed for an answer that is asked for once, and its most schedules: such a plan
#: takes about a quarter of a second, and an answer needs two or three.
_SEARCH_WORK: Final = 90_000
_MOST_TRIES: Final = 1_000
#: Schedules made of the hands without paper.
_HANDS_ALONE: Final = 3
#: An announced next step stays unless this is won, in seconds.
WORTH_CHANGING: Final = 3 * 60


def bench_tries(activities: int) -> int:
    """Schedules to make while the printer waits: the fewer, the larger the day."""
    return max(2, min(30, _BENCH_WORK // max(1, activities)))


def search_tries(activities: int) -> int:
    """Schedules to make for an answer that is asked for once: the fewer, the larger the day."""
    return max(bench_tries(activities), min(_MOST_TRIES, _SEARCH_WORK // max(1, activities)))


class PlanDraft:
    """A day's work, gathered and ready to be scheduled."""

    def __init__(self, day: DayInputs, presses: Mapping[str, Mapping[int, int]] | None,
                 floors: Mapping[str, int], due: int | None = None) -> None:
        self.day = day
        self.work = DayActivities(day)
        self.papers: list[PaperWork] = []
        self.floors: dict[str, int] = dict(floors)
        for job in day.jobs:
            mine = JobWork(self.work, job)
            mine.build()
            packs = [p for p in day.packs if p.paper == job.shape.paper_name]
            seen = None if presses is None else presses.get(job.session, {})
            paper = PaperWork(mine, pack_groups(job, packs, seen))
            if seen is not None:
                self._floors(paper, seen)
            paper.build(self.floors)
            self.papers.append(paper)
        self.work.breaks()
        self.project: Project = self.work.project(due)

    def _floors(self, paper: PaperWork, presses: Mapping[int, int]) -> None:
        """When each new pack after the first goes in at the earliest."""
        for group in paper.found[1:]:
            if group.there is None and group.ordinals:
                first = presses.get(group.ordinals[0], 0)
                self.floors.setdefault(group.id, max(0, first - paper.lead))

    def presses(self, starts: Sequence[int]) -> dict[str, dict[int, int]]:
        """When each impression takes its sheet."""
        out: dict[str, dict[int, int]] = {}
        for job in self.day.jobs:
            step = job.shape.sheet_step
            out[job.session] = {k: starts[i] for k in job.ordinals if (
                i := self.work.index.get((job.session, TaskKey(step, k)))) is not None}
        return out

    def starts(self, before: DayPlan, elapsed: int) -> list[int] | None:
        """When everything begins by the plan before; None where that does not say of something."""
        made = before.made
        said = {x.name: t - elapsed for x, t in zip(made.lines, made.starts, strict=True)}
        out = [said.get(x.name) if a.at is None else a.at
               for a, x in zip(self.work.activities, self.work.lines, strict=True)]
        return None if None in out else [t for t in out if t is not None]

    def order(self, names: Sequence[Name]) -> list[int]:
        """A list that served before, as far as its work is still there."""
        return [i for name in names if (i := self.work.index.get(name)) is not None
                and self.work.activities[i].at is None]


def plan_day(day: DayInputs, *, tries: int | None = None, due: int | None = None,
             before: DayPlan | None = None, elapsed: int = 0) -> DayPlan:
    """Plan a day, or what is left of it.

    Args:
        day: What there is to do, and what is settled.
        tries: Schedules that may be made; more find better plans. None: as many as a printer
            waits for.
        due: When all should be over, in seconds: paper soaks too long sooner than the day ends
            after that. None: it ends when it ends.
        before: The plan that stood until now: its announced next step stays unless three
            minutes are won, and its packs go in when it said.
        elapsed: Seconds between the zero of that plan and of this one.
    """
    if before is not None:
        return _again(day, tries, before, elapsed)
    if all(job.shape.damped is None for job in day.jobs):
        draft = PlanDraft(day, None, {})
        tries = tries or bench_tries(len(draft.project.activities))
        return _said(draft, solve_schedule(draft.project, tries=tries))
    alone = replace(day, jobs=tuple(replace(j, enough=True) for j in day.jobs))
    hands = PlanDraft(alone, None, {})
    rough = solve_schedule(hands.project, tries=_HANDS_ALONE).schedule.starts
    draft = PlanDraft(day, hands.presses(rough), {}, due)
    order = draft.order(_with_paper(hands, rough, draft))
    tries = tries or bench_tries(len(draft.project.activities))
    return _said(draft, solve_schedule(draft.project, tries=tries, order=order))


def _with_paper(hands: PlanDraft, starts: Sequence[int], draft: PlanDraft) -> list[Name]:
    """The order of the hands alone, with the paper's jobs at moments when they are clean."""
    lines = hands.work.lines
    when = {line.name: starts[i] for i, line in enumerate(lines) if i}
    ends = sorted((starts[i] + line.seconds, line.hands) for i, line in enumerate(lines)
                  if line.hands != "free" and i)
    clean = [t for t, hands in ends if hands == "clean"]
    paper: dict[Name, int] = {}
    for x in draft.papers:
        paper |= x.when(clean, [t for t, _ in ends], draft.floors)
    ranked = [(t, 1, name) for name, t in when.items()]
    ranked += [(t, 0, name) for name, t in paper.items() if name not in when]
    return [name for _, _, name in sorted(ranked, key=lambda x: x[:2])]


def _again(day: DayInputs, tries: int | None, before: DayPlan, elapsed: int) -> DayPlan:
    presses: dict[str, dict[int, int]] = {}
    for x in before.items:
        session, key = x.name
        job = next((j for j in day.jobs if j.session == session), None)
        if job is not None and key.step == job.shape.sheet_step and key.impression is not None:
            presses.setdefault(session, {})[key.impression] = x.start - elapsed
    for job in day.jobs:
        presses.setdefault(job.session, {})
    draft = PlanDraft(day, presses, {k: t - elapsed for k, t in before.floors.items()})
    order, ready = draft.order(before.order), make_ready(draft.project)
    kept = solve_schedule(ready, tries=1, order=order, known=draft.starts(before, elapsed))
    tries = bench_tries(len(draft.project.activities)) if tries is None else tries
    made = before.made
    if tries <= before.tries and kept.schedule.starts == made.starts \
            and draft.project == made.project:  # nothing changed: neither does the plan
        return replace(_said(draft, kept), tries=before.tries)
    if kept.proved or tries <= 1:
        return _said(draft, kept)
    found = solve_schedule(ready, tries=tries, order=kept.order, known=kept.schedule.starts)
    old, new = kept.schedule, found.schedule
    if new.late == old.late and new.end > old.end:  # what was announced does not end later
        return _said(draft, kept)
    won = old.late > new.late or old.end - new.end >= WORTH_CHANGING
    announced = _announced(draft, before)
    stays = announced is None or _next_of(draft, new.starts) == announced
    return _said(draft, found if won or (stays and new.worth < old.worth) else kept)


def _announced(draft: PlanDraft, before: DayPlan) -> Name | None:
    """The next step by the plan before: its first that is still to be begun."""
    index, lines = draft.work.index, draft.work.lines
    return next((x.name for x in before.items if x.hands != "free" and not x.settled
                 and (i := index.get(x.name)) is not None and not lines[i].settled), None)


def _next_of(draft: PlanDraft, starts: Sequence[int]) -> Name | None:
    """The first hands step that is not begun."""
    lines = draft.work.lines
    first = min(((starts[i], starts[i] + x.seconds, i) for i, x in enumerate(lines)
                 if x.hands != "free" and not x.settled), default=None)
    return None if first is None else lines[first[-1]].name


# -- in words -----------------------------------------------------------------------------


def _said(draft: PlanDraft, answer: SearchResult) -> DayPlan:
    work, schedule = draft.work, answer.schedule
    items = _items(draft, schedule)
    job = draft.day.jobs[0]
    packs = [p for paper in draft.papers for p in paper.plans(schedule.starts)]
    return DayPlan(
        items=tuple(items), packs=tuple(packs), end=schedule.end,
        broken=tuple(_broken(draft, schedule)), bound=answer.bound,
        contradictions=tuple(_contradictions(draft, answer)),
        unknown=tuple(dict.fromkeys(work.unknown)),
        loads=loads_of(job.shape, draft.day.times, helper=draft.day.helper),
        done_at=_done_at(draft, schedule), order=tuple(work.lines[i].name for i in answer.order),
        tries=answer.tries, made=Made(draft.project, schedule.starts, tuple(work.lines)),
        floors=draft.floors, done={job.session: job.done for job in draft.day.jobs})


def _items(draft: PlanDraft, schedule: Schedule) -> list[Planned]:
    """Every line in order of time, with the washes between."""
    work = draft.work
    out = [replace(line, start=schedule.starts[i])
           for i, line in enumerate(work.lines)
           if i and not (line.who == HELPER and line.name[1].step == BREAK)]
    mine = sorted((x for x in out if x.who == PRINTER and x.seconds), key=lambda x: x.start)
    wash, inky = draft.project.wash, draft.project.inky
    for x in mine:
        if wash and inky and x.hands == "clean":
            session, key = x.name
            name = (session, TaskKey(WASH, key.impression, key.pack or key.step))
            out.append(Planned(name, "Wash and dry hands", "clean", PRINTER, None,
                               x.start - wash, wash))
        inky = x.hands == "inky"
    return sorted(out, key=lambda x: (x.start, x.end, x.hands))


def _broken(draft: PlanDraft, schedule: Schedule) -> list[BrokenLimit]:
    words = dict(zip(draft.work.limits, draft.work.words, strict=True))
    return [BrokenLimit(draft.work.lines[b.limit.after].name,
                        late_words(words[b.limit], b.by), b.by) for b in schedule.broken]


def _contradictions(draft: PlanDraft, answer: SearchResult) -> list[str]:
    """Limits no day can keep, with the circle of steps behind each; one of each kind."""
    words = dict(zip(draft.work.limits, draft.work.words, strict=True))
    said: dict[str, None] = {}
    for x in answer.contradictions:
        steps = " → ".join(draft.work.lines[i].do for i in x.circle)
        said[f"{words[x.limit]}; {steps} take {minutes_text(x.by * 1000)} more"] = None
    return list(said)


def _done_at(draft: PlanDraft, schedule: Schedule) -> dict[tuple[str, int], int]:
    """When the last hands step of each impression is over."""
    out: dict[tuple[str, int], int] = {}
    for i, line in enumerate(draft.work.lines):
        session, key = line.name
        if key.impression is None or line.hands == "free" or key.step in (BREAK, SOAK, REST):
            continue
        done = session, key.impression
        out[done] = max(out.get(done, 0), schedule.starts[i] + line.seconds)
    return out
