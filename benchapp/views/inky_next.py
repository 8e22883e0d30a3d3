"""Whether the next step would turn the printer's hands inky, and which it is. Pure."""

from __future__ import annotations

from benchapp.events.entry import Moment
from benchapp.session.names import step_of
from benchapp.session.next_steps import next_hands
from benchapp.session.state import StudioState


def inky_next(room: StudioState, now: Moment) -> str | None:
    """The inky step that only has to be begun, while hands are clean and none is in hand.

    Args:
        room: The room, with a session on the Bench or none.
        now: The clocks now.

    Returns:
        What to do in it, in the recipe's words; None: nothing of the kind is next.
    """
    s = room.session
    if s is None or s.closed is not None or room.inky or s.paused_t is not None \
            or s.hand is not None:
        return None
    key = next_hands(room, s, room.t_at(now))
    step = None if key is None else step_of(s, key)
    return step.do if step is not None and step.hands == "inky" else None
