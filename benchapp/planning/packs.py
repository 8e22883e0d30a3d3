"""Paper second: once the hands are planned, sheets are grouped into packs in pulling order.

A pack goes in so that it is ready when it is needed and not much sooner; putting in and taking
out are small hands jobs, the soak takes up the tray, the rest takes up nothing.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from benchapp.planning.activities import ORIGIN, JobWork
from benchapp.planning.day import REST, SOAK, DampedPack, Job, Name, PackPlan
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT
from benchapp.session.pack_size import KEEPS, PackSize, size_pack
from benchapp.session.state import TaskKey

#: Sized paper may lie in the water longer than its soak, but not for ever (common practice,
#: no source).
OVER_SOAK: Final = 30 * 60


@dataclass(slots=True)
class PackGroup:
    """One pack and the impressions it gives sheets to."""

    id: str
    size: PackSize
    ordinals: list[int]
    there: DampedPack | None = None


def pack_groups(job: Job, packs: Sequence[DampedPack], presses: Mapping[int, int] | None = None,
                ) -> list[PackGroup]:
    """The packs the impressions without a sheet take theirs from, those there are first.

    Args:
        job: The session.
        packs: The packs of its paper that are there, oldest first.
        presses: When each impression takes its sheet, as planned before; None: not yet known.
    """
    damped = job.shape.damped
    if damped is None or damped.damp is None:
        return []
    wanting = [k for k in job.ordinals if k not in job.sheets and _takes(job, k)]
    out: list[PackGroup] = []
    for pack in packs:
        take = wanting if pack.sheets is None else wanting[: pack.sheets]
        if pack.old is not None and presses is not None and not job.enough:
            take = [k for k in take if presses.get(k, 0) <= pack.old]
        wanting = wanting[len(take):]
        out.append(PackGroup(pack.id, PackSize(pack.sheets), list(take), pack))
    if job.enough:
        return out
    keeps = damped.damp.keeps
    number = job.packs
    while wanting:
        size = size_pack(damped.damp.pack, len(wanting) if job.counted else None)
        take = fits = wanting if size.sheets is None else wanting[:size.sheets]
        if keeps is not None and presses is not None:
            first = presses.get(take[0], 0)
            fits = [k for k in take if presses.get(k, 0) - first <= keeps.ms // 1000] or take[:1]
        if len(fits) < len(take):
            size = PackSize(len(fits), KEEPS)
        wanting = wanting[len(fits):]
        number += 1
        out.append(PackGroup(f"{job.session}.{number}", size, list(fits)))
    return out


def _first(moments: Sequence[int], t: int) -> int:
    """The first of some moments from `t` on, or `t` where there is none."""
    at = bisect_left(moments, t)
    return moments[at] if at < len(moments) else t


def _takes(job: Job, k: int) -> bool:
    """Whether the sheet of an impression is still to be taken."""
    return TaskKey(job.shape.sheet_step, k) not in job.over \
        and TaskKey(job.shape.sheet_step, k) not in job.running


class PaperWork:
    """The activities of one session's packs."""

    def __init__(self, work: JobWork, found: Sequence[PackGroup]) -> None:
        self.jobs, self.work, self.job = work, work.work, work.job
        self.shape, self.found = work.shape, found
        damp = None if self.shape.damped is None else self.shape.damped.damp
        self.soak = 0 if damp is None or damp.soak is None else damp.soak.ms // 1000
        self.rest = 0 if damp is None or damp.rest is None else damp.rest.ms // 1000
        self.keeps = None if damp is None or damp.keeps is None else damp.keeps.ms // 1000
        self.water = damp is not None and damp.in_water
        self.handling = self.shape.handling.ms // 1000

    @property
    def lead(self) -> int:
        """How long before its first sheet is taken a pack goes in, and one impression more."""
        out = self.handling if self.water else 0
        return self.handling + self.soak + out + self.rest + self.shape.cycle_ms // 1000

    def build(self, floors: Mapping[str, int]) -> None:
        """Add what is still to be done for each pack, and let its sheets wait for it."""
        outs: list[int] = []
        first = True
        tray = self.shape.places["tray"]
        for group in self.found:
            there = group.there
            if there is None:
                into = self._in(group, floors.get(group.id, 0))
                if first:
                    self._opens(into)
                if len(outs) >= tray:
                    self.work.follow(outs[-tray], into)
                ready = self._soaked(group, into)
                if self.water:
                    outs.append(ready[0])
                self._sheets(group, ready[1])
            elif there.soaked is not None:
                out = self._out(group)
                self.work.not_before(out, there.soaked)
                self.work.wish(ORIGIN, out, there.soaked)
                outs.append(out)
                self._sheets(group, self._rest(group, out, there.rest))
            else:
                self._from_now(group, there)
            first = False

    def _name(self, step: str, group: PackGroup) -> tuple[str, TaskKey]:
        return self.job.session, TaskKey(step, pack=group.id)

    def _in(self, group: PackGroup, floor: int) -> int:
        name = self._name(DAMP_IN, group)
        runs = self.job.running.get(name[1])
        step = self.shape.by_id[DAMP_IN]
        seconds = self.handling if runs is None else runs[1]
        into = self.work.add(name, step.do, "clean", seconds, at=None if runs is None else runs[0])
        self.work.not_before(into, floor)
        return into

    def _out(self, group: PackGroup) -> int:
        name = self._name(DAMP_OUT, group)
        runs = self.job.running.get(name[1])
        step = self.shape.by_id[DAMP_OUT]
        seconds = self.handling if runs is None else runs[1]
        return self.work.add(name, step.do, "clean", seconds,
                             at=None if runs is None else runs[0])

    def _soaked(self, group: PackGroup, into: int) -> tuple[int, int]:
        """Soak, out and rest of a new pack: what takes it out, and what makes it ready."""
        last = into
        if self.water:
            soak = self.work.add(self._name(SOAK, group), "Soak", "free", self.soak, place="tray")
            self.work.follow(into, soak)
            self.work.within(into, soak, 0, "the soak begins with the pack going in")
            out = self._out(group)
            self.work.follow(soak, out)
            self.work.within(soak, out, OVER_SOAK,
                             "Sheets out of the water: soaked too long (common practice: 30 min)")
            self.work.wish(soak, out, self.soak)
            last = out
        return last, self._rest(group, last, self.rest)

    def _rest(self, group: PackGroup, after: int, seconds: int) -> int:
        rest = self.work.add(self._name(REST, group), "Rest", "free", seconds)
        self.work.follow(after, rest)
        self.work.within(after, rest, 0, "the rest begins with the sheets out")
        return rest

    def _opens(self, into: int) -> None:
        """The first pack goes in before the work before printing."""
        for step in self.shape.recipe.before:
            i = self.jobs.at(step.id, None)
            if i is not None and self.work.activities[i].at is None:
                self.work.follow(into, i)

    def _sheets(self, group: PackGroup, rest: int) -> None:
        for k in group.ordinals:
            i = self.jobs.at(self.shape.sheet_step, k)
            if i is not None:
                self.work.follow(rest, i)
                if self.keeps is not None:
                    keeps = max(0, self.keeps - self.work.activities[rest].seconds)
                    self.work.within(rest, i, keeps, "Sheet too old: put it in a later pack")

    def _from_now(self, group: PackGroup, there: DampedPack) -> None:
        for k in group.ordinals:
            i = self.jobs.at(self.shape.sheet_step, k)
            if i is None:
                continue
            self.work.not_before(i, there.ready)
            if there.old is not None:
                self.work.by(i, there.old, "Sheet too old: put it in a later pack")

    def when(self, clean: Sequence[int], any_hands: Sequence[int],
             floors: Mapping[str, int]) -> dict[Name, int]:
        """About when each of its jobs comes in the day, at moments when hands are clean.

        Args:
            clean: When a clean step ends, in the plan of the hands alone; in order.
            any_hands: When a hands step ends.
            floors: When each pack goes in at the earliest.
        """
        out: dict[Name, int] = {}
        fresh = bool(self.found) and self.found[0].there is None
        # The first pack goes in before everything else, and puts it off by as much.
        shift = self.handling if fresh else 0
        clean, any_hands = [t + shift for t in clean], [t + shift for t in any_hands]
        for group in self.found:
            there = group.there
            over = 0 if there is None else there.soaked or 0
            if there is None:
                floor = floors.get(group.id, 0)
                into = _first(clean, floor) if floor else 0
                out[self._name(DAMP_IN, group)] = out[self._name(SOAK, group)] = into
                over = into + self.handling + self.soak
            taken = _first(clean, over)
            if taken > over + OVER_SOAK:
                taken = _first(any_hands, over)
            out[self._name(DAMP_OUT, group)] = out[self._name(REST, group)] = taken
        return {name: max(0, t - shift) for name, t in out.items()}

    def _due(self, group: PackGroup, starts: Sequence[int]) -> int | None:
        """When its soak is over; None where it is out of the water, or never lies in it."""
        if group.there is not None:
            return group.there.soaked
        soak = self.work.index.get(self._name(SOAK, group))
        return None if soak is None else starts[soak] + self.soak

    def plans(self, starts: Sequence[int]) -> list[PackPlan]:
        """The packs as planned."""
        out = []
        for group in self.found:
            at = {step: self.work.index.get(self._name(step, group))
                  for step in (DAMP_IN, DAMP_OUT, REST)}
            into, taken, rest = (None if i is None else starts[i] for i in at.values())
            ready = group.there.ready if rest is None and group.there else 0
            if rest is not None and at[REST] is not None:
                ready = rest + self.work.activities[at[REST]].seconds
            over = None if taken is None else taken + self.handling
            out.append(PackPlan(group.id, group.size.sheets, tuple(group.ordinals), into, over,
                                ready, group.size.why, taken, self._due(group, starts)))
        return out
