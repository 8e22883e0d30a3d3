"""Blankets washed, or swapped for others: how many pulls they had since is counted in the book.

Washing and swapping are of a press, so of the pulls of every print on it (`session/blankets`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, cast

from benchapp.decision import Refusal
from benchapp.events.session import BlanketsSeenTo
from benchapp.events.words import BLANKETS_DONE, BlanketsWord
from benchapp.session.actions.asking import AskContext, ChoiceQuestion, Reply
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.typed import NotUnderstood, ParseContext, ParsedLine
from benchapp.session.blankets import presses
from benchapp.session.context import SessionContext
from benchapp.session.state import Session

__all__ = ["SeeToBlankets"]


@dataclass(frozen=True, slots=True)
class SeeToBlankets(Action):
    """The blankets were washed or swapped; of that press, None: of the one the recipe pulls on."""

    how: BlanketsWord
    place: str | None = None


def _see_to_blankets(page: SessionContext, action: SeeToBlankets) -> Refusal | None:
    known = presses(page.s.recipe)
    if action.place is None and len(known) > 1:
        return Refusal("This recipe pulls on more than one press",
                       f"write such as blankets {action.how}: {known[0]}")
    if action.place is not None and action.place not in known:
        return Refusal(f"This recipe does not pull at {action.place}",
                       f"it pulls at {' and '.join(known)}")
    page.emit(BlanketsSeenTo(how=action.how, place=action.place or known[0]))
    return None


def _ask(ask: AskContext) -> Reply:
    """Washed or swapped, and on which press if there are more."""
    known = presses(ask.s.recipe)
    answers: list[tuple[str, Reply]] = [
        (how if len(known) == 1 else f"{how}, {place}",
         SeeToBlankets(cast("BlanketsWord", how), place))
        for place in known for how in BLANKETS_DONE]
    return ChoiceQuestion("The blankets were", answers)


def _read(ears: ParseContext, rest: str) -> ParsedLine:
    how, _, place = rest.partition(":")
    how = how.strip().casefold()
    if how not in BLANKETS_DONE:
        raise NotUnderstood("What was done to the blankets? Write: blankets washed, or "
                            "blankets swapped")
    return ParsedLine(SeeToBlankets(cast("BlanketsWord", how), place.strip() or None))


def _tell(s: Session, done: BlanketsSeenTo) -> str:
    return f"Blankets {done.how}"


SPECS: Final = (
    ActionSpec("blankets", (Rule(SeeToBlankets, _see_to_blankets, closed=True),),
               "You washed or swapped the blankets", "washed|swapped[: PRESS]",
               key="asterisk", use=33, asks=_ask, reads=_read,
               tries=lambda room, s, now: [SeeToBlankets("washed", presses(s.recipe)[0])],
               tells={BlanketsSeenTo: _tell}),
)
