"""The state of a reworked plate: asked at the wash after the rework, until it is said. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from benchapp.recipe.model import Recipe
from benchapp.session.compiled_recipe import WASH
from benchapp.session.next_steps import printing_over
from benchapp.session.state import Session, StudioState


def reworked_before(recipe: Recipe, days: Sequence[Session]) -> tuple[str, ...]:
    """The plates that are not known to be in the state their recipe says, when a day opens.

    A recipe may still say the state from before a rework of an earlier day. One whose state was
    written anew since is believed, and so is one that says what the plate was left in.

    Args:
        recipe: The recipe of the day.
        days: The days of the print before it, in the order opened.
    """
    state = None if recipe.proofing is None else recipe.proofing.state
    if state is None:
        return ()
    return tuple(p.name for p in recipe.plates if _no_longer(state, p.name, days))


def _no_longer(state: str, plate: str, days: Sequence[Session]) -> bool:
    """Whether a plate was left in another state, or an unknown one, by a recipe that said this."""
    at = next((n for n in reversed(range(len(days))) if plate in days[n].unstated or any(
        reworked == plate for reworked, *_ in days[n].reworks)), None)
    if at is None:
        return False
    said = [x.state for s in days[: at + 1] if (x := s.recipe.proofing) is not None]
    left = None if plate in days[at].unstated else days[at].states.get(plate)
    return state in said[-1:] and left != state


def plates_asked(room: StudioState, s: Session) -> tuple[str, ...]:
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


def state_question(room: StudioState, s: Session) -> str | None:
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
