"""A day as it stands some hours in: what its plan had done by then is over, the rest is left."""

from __future__ import annotations

from dataclasses import replace

from benchapp.planning.day import DampedPack, DayInputs, DayPlan, Job, PackPlan, Planned
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, WASH
from benchapp.session.state import TaskKey

#: Steps of a plan that nobody does.
_NOT_DONE = ("break", "soak", "rest", "taken", WASH)


def left(day: DayInputs, plan: DayPlan, t: int, idle: int = 0) -> DayInputs:
    """What is left of a day of one session that went as planned for `t` seconds.

    Args:
        day: The day from its beginning.
        plan: Its plan.
        t: Seconds since then; not in the middle of a wash.
        idle: Seconds in which nothing more was done after that, and nothing runs.
    """
    now = t + idle
    lines = [x for x in plan.items if x.name[1].step not in _NOT_DONE and x.start < t]
    over = {x.name[1]: x.end - now for x in lines if x.end <= t or idle}
    running = {x.name[1]: (x.start - now, x.seconds) for x in lines if x.name[1] not in over}
    job = day.jobs[0]
    begun = {x.name[1].impression for x in lines if x.name[1].impression is not None}
    whole = {k for k in begun if all(TaskKey(s.id, k) in over for s in job.shape.recipe.each)}
    after = max(begun, default=0) + 1
    sheets = frozenset(x.name[1].impression or 0 for x in lines
                       if x.name[1].step == job.shape.sheet_step)
    found = [_pack(job, p, lines, sheets, now) for p in plan.packs]
    packs = tuple(p for p in found if p is not None)
    hands = [x for x in lines if x.who == "printer" and x.seconds]
    others = [x for x in plan.items if x.name[1].step in ("break", WASH) and x.start < t]
    last = max((*hands, *others), key=lambda x: x.start, default=None)
    mine = replace(job, more=job.more - after + 1, begun=tuple(sorted(begun - whole)), next=after,
                   over=over, running=running, sheets=sheets, packs=len(packs), done=len(whole))
    breaks = tuple(replace(b, at=b.at - now) for b in day.breaks)
    return replace(day, jobs=(mine,), breaks=breaks, packs=packs,
                   inky=last is not None and last.hands == "inky")


def _pack(job: Job, pack: PackPlan, lines: list[Planned], sheets: frozenset[int],
          now: int) -> DampedPack | None:
    """A pack of the plan as it lies there now; None where it is not in yet."""
    damped = job.shape.damped
    into = next((x for x in lines if x.name[1] == TaskKey(DAMP_IN, pack=pack.id)), None)
    if into is None or into.end > now or damped is None or damped.damp is None:
        return None
    soak, rest, keeps = damped.damp.soak, damped.damp.rest, damped.damp.keeps
    seconds = 0 if rest is None else rest.ms // 1000
    rest_of = len(pack.ordinals) - len(sheets & set(pack.ordinals))
    out = next((x for x in lines if x.name[1] == TaskKey(DAMP_OUT, pack=pack.id)), None)
    if out is None or out.end > now:
        wet = into.end + (0 if soak is None else soak.ms // 1000) - now
        return DampedPack(pack.id, str(job.shape.paper_name), rest_of, max(0, wet), seconds)
    old = None if keeps is None else out.end + keeps.ms // 1000 - now
    return DampedPack(pack.id, str(job.shape.paper_name), rest_of, None, 0,
                      max(0, out.end + seconds - now), old)
