"""A plan as it is told: the sentences that warn in time. Pure.

`clock` turns seconds from the plan's zero into a time of day; only the edge knows the zero.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Final

from benchapp.planning.day import (
    DampedPack,
    DayInputs,
    DayPlan,
    PackPlan,
)
from benchapp.planning.what_if import ordinal_with_article
from benchapp.quantities import Duration, items_text, minutes_text
from benchapp.session.compiled_recipe import DAMP_IN

Clock = Callable[[int], str]

#: From so many seconds before it goes in a pack is spoken of.
_SOON: Final = 45 * 60
# -- in time ---------------------------------------------------------------------------------


def in_by(plan: DayPlan) -> int | None:
    """Until when the next pack may go in without making the first sheet of it wait; else None."""
    pack = next((p for p in plan.packs if p.into is not None and p.ordinals), None)
    if pack is None or pack.into is None:
        return None
    wanted = _taken_at(plan, pack)
    return None if wanted is None else pack.into + max(0, wanted - pack.ready)


def _taken_at(plan: DayPlan, pack: PackPlan) -> int | None:
    """When the first sheet of a pack goes to the press."""
    return min((x.start for x in plan.items if x.at == "press"
                and x.name[1].impression in pack.ordinals), default=None)


def plan_warnings(plan: DayPlan, clock: Clock) -> tuple[str, ...]:
    """What the printer should know now, in sentences."""
    out = []
    by = in_by(plan)
    if by is not None:
        first = "The first" if plan.packs[0].into is not None else "The next"
        out.append(f"{first} pack must go in by {clock(by)}")
    out += [too_long_words(n, p, clock) for n, p in enumerate(plan.packs, 1) if p.over]
    for b in plan.broken:
        k = b.name[1].impression
        if b.words.startswith("Sheet too old") and k is not None:
            out.append(f"Sheet {k} would be {minutes_text(b.by * 1000)} too old: "
                       "put it in a later pack")
        else:
            out.append(b.words)
    return tuple(out)


def too_long_words(n: int, pack: PackPlan, clock: Clock) -> str:
    """`Pack 1 stays in the water 7 min longer than its soak: due out 09:58, taken out 10:05`."""
    taken, due = pack.taken or 0, pack.due or 0
    return (f"Pack {n} stays in the water {minutes_text(pack.over * 1000)} longer than its soak: "
            f"due out {clock(due)}, your hands are clean and free at {clock(taken)}")


def would_end(n: int, plan: DayPlan, clock: Clock) -> str:
    """`an 11th would end at 17:19`, by the plan that has one more."""
    return f"{ordinal_with_article(n)} would end at {clock(plan.end)}"


def too_old(day: DayInputs, plan: DayPlan) -> dict[int, int]:
    """The impressions whose sheet would be too old out of the pack it lies in or was meant for.

    Those that the plan breaks the limit for, and those it takes from the next pack instead.

    Returns:
        By how many seconds, by ordinal.
    """
    out = {k: b.by for b in plan.broken if b.words.startswith("Sheet too old")
           and (k := b.name[1].impression) is not None}
    there = {p.id: p for p in day.packs}
    for job in day.jobs:
        damp = None if job.shape.damped is None else job.shape.damped.damp
        if damp is None:
            continue
        packs = [p for p in plan.packs
                 if p.id in there or p.id.startswith(f"{job.session}.")]
        taken = {x.name[1].impression: x.start for x in plan.items
                 if x.name[0] == job.session and x.name[1].step == job.shape.sheet_step}
        for pack, later in pairwise(packs):
            size = pack.sheets if pack.id in there else damp.pack
            left = later.ordinals if size is None else later.ordinals[
                :max(0, size - len(pack.ordinals))]
            out |= _moved(plan, left, taken, _old(there.get(pack.id), pack, damp.keeps))
    return dict(sorted(out.items()))


def _old(there: DampedPack | None, pack: PackPlan, keeps: Duration | None) -> int | None:
    """When a pack is older than it keeps."""
    if there is not None:
        return there.old
    return None if keeps is None else keeps.ms // 1000 + (pack.out or pack.into or 0)


def _moved(plan: DayPlan, left: Sequence[int], taken: Mapping[int | None, int],
           old: int | None) -> dict[int, int]:
    """Of those a pack had a sheet left for, the ones it would be too old for, printed in turn."""
    out: dict[int, int] = {}
    if old is None:
        return out
    for k in left:
        before = taken.get(k - 1)
        turn = taken.get(k, 0) if before is None else min(
            taken.get(k, 0), before + round(plan.loads.seconds_each))
        if turn > old:
            out[k] = turn - old
    return out


def _old_words(found: Mapping[int, int]) -> str:
    """`Sheet 7 would be 42 min too old: put it in a second pack`."""
    late = minutes_text(max(found.values()) // 60 * 60_000)
    if len(found) == 1:
        return f"Sheet {next(iter(found))} would be {late} too old: put it in a second pack"
    which = f"{min(found)} {'and' if len(found) == 2 else 'to'} {max(found)}"
    return f"Sheets {which} would be up to {late} too old: put them in a second pack"


def rest_of_day_notes(day: DayInputs, plan: DayPlan, clock: Clock) -> tuple[str, ...]:
    """What the Bench says of the rest of the day, in whole sentences, the most urgent first."""
    out = []
    by, into = in_by(plan), _goes_in(plan)
    if by is not None and into is not None and 0 <= into <= _SOON:
        first = not day.packs and not any(j.packs for j in day.jobs)
        out.append(f"{'First' if first else 'Next'} pack must go in by {clock(by)}")
    old = {k: by for k, by in too_old(day, plan).items() if by >= 60}
    return (*out, _old_words(old)) if old else tuple(out)


def _goes_in(plan: DayPlan) -> int | None:
    """When the next pack goes in, where it is not going in already."""
    return next((x.start for x in plan.items
                 if x.name[1].step == DAMP_IN and not x.settled), None)


def pack_alarms(plan: DayPlan, *, due: bool = False) -> tuple[tuple[int, str], ...]:
    """When packs go in and come out and are ready, in order.

    Args:
        plan: The plan.
        due: Take a pack out when its soak is over, as an alarm should ring; else as planned.
    """
    out: list[tuple[int, str]] = []
    for n, pack in enumerate(plan.packs, 1):
        sheets = "sheets" if pack.sheets is None else items_text(pack.sheets, "sheet")
        if pack.into is not None:
            why = f" ({pack.why})" if pack.why else ""
            out.append((pack.into, f"Pack {n} in: {sheets}{why}"))
        if pack.taken is not None:
            at = pack.taken if pack.due is None or not due else pack.due
            out.append((at, f"Pack {n} out"))
        if pack.into is not None or pack.out is not None:
            out.append((pack.ready, f"Pack {n} ready"))
    return tuple(sorted(out))
