"""Discarding a session in the Studio: asked first, and only a figure answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.pick import Pick
from benchapp.service.outcome import Outcome
from benchapp.session import actions as a
from benchapp.session.discarding import before_discarding

if TYPE_CHECKING:
    from benchapp.screens.page_base import FollowingPage


def ask_discard(screen: FollowingPage, session: str) -> None:
    """Say why it can't be discarded, or ask and do it."""
    workshop = screen.workshop
    workshop.look_at(session)
    refusal = workshop.refuses(a.Discard(), session, gated=True)
    if refusal is not None:
        screen.tell(Outcome(refusal=refusal))
        return
    s = workshop.room.sessions[session]

    def take(place: int | None) -> None:
        if place is not None:
            outcome = screen.done(lambda: workshop.do(a.Discard(), session=session, gated=True))
            screen.tell(outcome, f"{s.name} is discarded")
            screen.again()

    screen.app.push_screen(
        Pick(sanitize(f"Discard {s.name}, {s.recipe.print.title}?"), (SafeText("discard it"),),
             sanitize(" ".join(before_discarding(workshop.room, s))),
             by_number=True, later="keep it open"), take)
