"""A tread that comes just after a wait ended by itself: it was meant for the wait.

The foot goes down when the count is at nought, and the program is there first: the step
that follows has begun by then, and the tread would end it in its first second. Pure.
"""

from __future__ import annotations

from typing import Final

from benchapp.events.entry import Moment
from benchapp.events.session import StepStarted
from benchapp.session import actions as a
from benchapp.session.advance import current_call
from benchapp.session.context import SessionContext
from benchapp.session.state import Session, StudioState, TaskKey

#: So long after a wait ended by itself a tread is for that wait (our own choice, no source).
LATE_MS: Final = 2_000


def meant_for_wait(room: StudioState, now: Moment) -> bool:
    """Whether a tread at `now` was meant for a wait of the Bench that has just ended by itself.

    Not where something calls, which the tread answers, nor where the hands were at work
    while the wait ran out beside them.

    Args:
        room: The room, with the session on the Bench or none.
        now: When the tread comes.
    """
    s = room.session
    if s is None or s.closed is not None or s.paused_t is not None:
        return False
    since = _began_by_time(room, s, s.hand) if s.hand is not None else _ended_itself(s)
    if since is None or room.t_at(now) - since >= LATE_MS:
        return False
    return current_call(SessionContext(room, now, a.action_word(a.GoOn()), s.id)) is None


def _began_by_time(room: StudioState, s: Session, hand: TaskKey) -> int | None:
    """Room time at which the step in hand began by time alone; None: a tread began it."""
    begun = next((e for e in reversed(room.journal) if e.stream == f"session/{s.id}"
                  and isinstance(e.event, StepStarted) and e.event.step == hand.step), None)
    by_time = begun is not None and begun.word == a.action_word(a.Tick())
    return s.work[hand].started_t if by_time else None


def _ended_itself(s: Session) -> int | None:
    """Room time at which the last wait to end ended by itself; None: it did not."""
    last = s.history[-1] if s.history else None
    return last.finished_t if last is not None and last.how == "ended itself" else None
