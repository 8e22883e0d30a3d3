"""The clocks that run in the room as they are shown: waits, packs, timers, what waits too long."""

from __future__ import annotations

from dataclasses import dataclass

from benchapp.edition import packs as damp
from benchapp.quantities import items_text, mmss
from benchapp.session.context import ends_t
from benchapp.session.ink_lying import SHOWN_FROM_MS, lying_ink
from benchapp.session.limits import RunningLimit, waiting_name, waiting_sheets
from benchapp.session.names import call_id, is_limit, limit_call_id, step_of
from benchapp.session.state import Attempt, Session, StudioState, TaskKey


@dataclass(frozen=True, slots=True)
class Count:
    """A count that runs: up for hands, down for waits.

    Attributes:
        ms: Worked so far, or left; below zero a wait is over.
        down: Whether it counts down.
        low / usual / high: What the recipe says, or None.
        exact: False across a restart: shown with ≈.
        unsure_ms: How much of it is by the wall clock alone; None: nobody knows.
    """

    ms: int
    down: bool
    low: int | None = None
    usual: int | None = None
    high: int | None = None
    exact: bool = True
    unsure_ms: int | None = 0


def time_left(room: StudioState, since_t: int, due_t: int, t: int) -> Count:
    """What is left until `due_t` of what began at `since_t`, all room times."""
    return Count(due_t - t, down=True, exact=room.exact(since_t, t),
                 unsure_ms=room.unsure_ms(since_t, t))


def at_most(count: Count) -> str:
    """What could be left at most, where the machine was off meanwhile: `, 40:00 at most`."""
    if count.exact or not count.down or (count.unsure_ms == 0 and count.ms > 0):
        return ""
    if count.unsure_ms is None:
        return ", perhaps less" if count.ms > 0 else ""
    most = count.ms + count.unsure_ms
    return f", {mmss(most)} at most" if most > 0 else ""


@dataclass(frozen=True, slots=True)
class ClockView:
    """Another clock that runs: a wait, a soak, a rest, a clock of the printer's, an open sheet."""

    id: str
    name: str
    count: Count
    clean: bool = False
    session: str | None = None

    @property
    def is_waited_for(self) -> bool:
        """Whether it is a wait of the Bench: it counts down, and is no limit of the hands' work."""
        return self.session is None and self.count.down and not is_limit(self.id)


def clock_views(room: StudioState, t: int) -> tuple[ClockView, ...]:
    """Every clock that runs in the room beside the hands: those that end first, ink last."""
    out: list[ClockView] = []
    for s in room.open_sessions:
        other = None if s.id == room.bench else s.name
        out += [_wait_view(room, s, k, w, t, other) for k, w in s.live
                if (st := step_of(s, k)) is not None and st.hands == "free"]
        out += [ClockView(c.id, c.name, time_left(room, c.started_t, c.started_t + c.ms, t),
                          session=other)
                for c in s.timed.values()]
        out += [_limit_view(room, s, run, t, other) for run in waiting_sheets(s, t)]
        out += [ClockView(f"ink {i.plate} {i.impression}", f"since {i.plate} was wiped",
                          Count(t - i.since_t, down=False, exact=room.exact(i.since_t, t)),
                          clean=True)
                for i in lying_ink(s) if other is None and t - i.since_t >= SHOWN_FROM_MS]
    out += [ClockView(f"clock {c.id}", c.name, time_left(room, c.started_t, c.started_t + c.ms, t))
            for c in room.timers.values()]
    out += [v for p in room.packs.values() if (v := _pack_view(room, p, t)) is not None]
    return tuple(sorted(out, key=lambda c: (
        c.id.startswith("ink "), not c.count.down, c.count.ms, c.id)))


def _wait_view(room: StudioState, s: Session, key: TaskKey, work: Attempt, t: int,
               other: str | None) -> ClockView:
    step = s.shape.by_id[key.step]
    over = ends_t(step, work)
    exact = room.exact(work.started_t, t)
    count = (Count(t - work.started_t, down=False, exact=exact) if over is None
             else time_left(room, work.started_t, over, t))
    return ClockView(call_id(key), step.do, count, session=other)


def _limit_view(room: StudioState, s: Session, run: RunningLimit, t: int,
                other: str | None) -> ClockView:
    since_t = t + run.left_ms - run.limit.within.ms
    return ClockView(limit_call_id(TaskKey(run.limit.step, run.impression)),
                     waiting_name(s, run.limit),
                     Count(run.left_ms, down=True, exact=room.exact(since_t, t)), session=other)


def _pack_view(room: StudioState, pack: damp.Pack, t: int) -> ClockView | None:
    sheets = "sheets" if pack.left is None else items_text(pack.left, "sheet")
    where = pack.where(t)
    if where == "in the water":
        exact = room.exact(pack.put_in_t, t)
        count = (Count(t - pack.put_in_t, down=False, exact=exact) if pack.soaked_t is None
                 else time_left(room, pack.put_in_t, pack.soaked_t, t))
        return ClockView(f"soak {pack.id}", f"{sheets} in the water", count, clean=True)
    if where == "resting" and pack.ready_t is not None and pack.out_t is not None:
        return ClockView(f"rest {pack.id}", f"{sheets} resting",
                         time_left(room, pack.out_t, pack.ready_t, t))
    if pack.open:
        return ClockView(f"open {pack.id}", "Sheet out of its pack",
                         Count(pack.open[0] + damp.SHEET_OPEN_MS - t, down=True,
                               exact=room.exact(pack.open[0], t)), clean=True)
    return None
