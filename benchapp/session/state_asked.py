"""The state of a reworked plate: asked at the wash after the rework, until it is said. Pure."""

from __future__ import annotations

from benchapp.session.due import printing_over
from benchapp.session.shape import WASH
from benchapp.session.state import Room, Session


def plates_asked(room: Room, s: Session) -> tuple[str, ...]:
    """The plates whose state is asked now, in printing order.

    From the wash on, as inky hands answer nothing; while another pull is to come, and only
    where states are kept.
    """
    washing = s.hand is not None and s.hand.step == WASH
    if not s.unstated or s.closed is not None or not (washing or room.clean) or printing_over(s):
        return ()
    proofing = s.recipe.proofing
    kept = proofing is not None and proofing.for_ == "SP"
    return tuple(p.name for p in s.recipe.plates
                 if p.name in s.unstated and (kept or p.name in s.states))


def state_question(room: Room, s: Session) -> str | None:
    """The question in words; None: nothing is asked."""
    plates = plates_asked(room, s)
    if not plates:
        return None
    return f"Which state {'are' if plates[1:] else 'is'} {' and '.join(plates)} in now?"


def purpose_text(purpose: str, state: str | None) -> str:
    """What a pull is for, where it is said at the press: `SP II`, `SP, state not known`."""
    if state:
        return f"{purpose} {state}"
    return f"{purpose}, state not known" if purpose == "SP" else purpose
