"""The optional steps that can be done now and need not be. Pure."""

from __future__ import annotations

from benchapp.session.ink_lying import lying_ink
from benchapp.session.names import step_of
from benchapp.session.state import Session, StudioState, TaskKey
from benchapp.session.step_control import choosable_tasks


def offered_now(room: StudioState, s: Session, t: int) -> tuple[str, ...]:
    """What to do in them, in the recipe's words; nothing while a pause runs.

    Args:
        room: The room.
        s: The session on the Bench.
        t: Room time now.
    """
    if s.closed is not None or s.paused_t is not None:
        return ()
    keys = [k for k in choosable_tasks(room, s, t) if k != s.hand and not _inked_since(s, k)]
    steps = (step_of(s, k) for k in keys)
    return tuple(dict.fromkeys(x.do for x in steps if x is not None and x.optional))


def _inked_since(s: Session, key: TaskKey) -> bool:
    """Whether the plate a step would work on is inked for a later sheet."""
    plates = s.shape.plates_of.get(key.step, ())
    return key.impression is not None and any(
        ink.plate in plates and ink.impression > key.impression for ink in lying_ink(s))
