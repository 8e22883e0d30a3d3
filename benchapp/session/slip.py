"""A slip of the foot: a tread that ended a step far too early, taken back by the next one.

Only when the last thing the printer did was a tread, it ended a hands step before
its low time, and the next tread comes within a few seconds. Otherwise a second
tread simply goes on, so that treads forgotten can be caught up with. Pure.
"""

from __future__ import annotations

from typing import Final

from benchapp.events.entry import Entry, Moment
from benchapp.events.session import StepFinished
from benchapp.session.context import worked_ms
from benchapp.session.fold import NOT_TAKEN_BACK
from benchapp.session.names import key_of, step_of
from benchapp.session.state import Session, StudioState, TaskKey

#: A slip is noticed within so many seconds (our own choice, no source).
SLIP_MS: Final = 4_000


def slipped_task(room: StudioState, now: Moment, within_ms: int = SLIP_MS) -> TaskKey | None:
    """The step that the last tread ended by a slip, if a tread at `now` takes it back.

    Args:
        room: The room, with the session on the Bench.
        now: When the next tread comes.
        within_ms: How long after the first it still counts as its correction.
    """
    s = room.session
    last = _last_done(room)
    if s is None or last is None or last.word != "go on" or not s.actions:
        return None
    done = s.actions[-1]
    if done.action != last.action or room.t_at(now) - done.t > within_ms:
        return None
    return next((key for e in room.journal if e.action == last.action
                 and (key := _too_early(s, e)) is not None), None)


def _last_done(room: StudioState) -> Entry | None:
    """The last entry of an action the printer did: a take-back among them."""
    return next((e for e in reversed(room.journal)
                 if e.word not in NOT_TAKEN_BACK or e.kind == "taken back"), None)


def _too_early(s: Session, entry: Entry) -> TaskKey | None:
    """The step an entry ended by a tread before its low time, or None."""
    end = entry.event
    if not isinstance(end, StepFinished) or end.how != "done" or not end.taken:
        return None
    key = key_of(end)
    step, work = step_of(s, key), s.work.get(key)
    if step is None or work is None or step.hands == "free" or step.time is None:
        return None
    return key if worked_ms(s, work, work.finished_t or 0) < step.time.low.ms else None
