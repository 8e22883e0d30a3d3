"""How long something has waited that should not wait: for the impressions in hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from benchapp.recipe.order import StepLimit
from benchapp.session.next_steps import belongs_to
from benchapp.session.state import Attempt, Session, TaskKey


@dataclass(frozen=True, slots=True)
class RunningLimit:
    """A limit that counts: `left_ms` below zero is how much too late it is."""

    limit: StepLimit
    impression: int | None
    left_ms: int


def running_limits(s: Session, t: int,
                   among: Iterable[StepLimit] | None = None) -> Iterator[RunningLimit]:
    """The limits that count at room time `t`: what starts them is done, what ends them is not.

    Args:
        s: The session.
        t: Room time.
        among: Which limits; None: all of the recipe.
    """
    in_hand = [i.ordinal for i in s.active if i.ended is None]
    for limit in s.shape.limits if among is None else among:
        if s.shape.by_id[limit.step].optional:
            continue  # offered, not due: nothing waits for it
        each = s.shape.by_id[limit.step].section == "each"
        for ordinal in in_hand if each else (None,):
            work = _counted_from(s, limit.after, ordinal)
            key = TaskKey(limit.step, ordinal)
            if work is None or work.finished_t is None or (
                    s.done(key) if limit.to_end else key in s.work):
                continue
            yield RunningLimit(limit, ordinal, work.finished_t + limit.within.ms - t)


def waiting_sheets(s: Session, t: int) -> Iterator[RunningLimit]:
    """Those that count on the screen and call: said of a pull, from the pull before it on."""
    for run in running_limits(s, t, s.shape.calling_limits):
        imp = s.impression(run.impression)
        if imp is not None and imp.pulled:
            yield run


def waiting_name(s: Session, limit: StepLimit) -> str:
    """What counts there: `Sheet waits for key`."""
    return f"Sheet waits for {' and '.join(s.shape.by_id[limit.step].pulls)}"


def _counted_from(s: Session, step: str, ordinal: int | None) -> Attempt | None:
    """The work a limit counts from; a step offered and not done hands on to the one before it."""
    seen = step
    while True:
        work = s.work.get(TaskKey(seen, ordinal))
        known = s.shape.by_id[seen]
        if work is not None or not (known.optional or not belongs_to(s, known, ordinal)):
            return work
        before = [w for x in s.shape.follows[seen]
                  if (w := s.work.get(TaskKey(x, ordinal))) is not None and not w.running]
        if before:
            return max(before, key=lambda w: w.finished_t or 0)
        if not s.shape.follows[seen]:
            return None
        seen = s.shape.follows[seen][-1]
