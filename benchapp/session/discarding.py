"""Discarding a session in which nothing was pulled: it is closed, and lists do not show it.

Its entries stay in the book. Lists tell it by its `closed`, whose action has the word *discard*.
"""

from __future__ import annotations

from benchapp.decision import Refusal
from benchapp.events.session import SessionClosed, SessionDiscarded
from benchapp.session.context import SessionContext
from benchapp.session.counting import count_pulled
from benchapp.session.names import after_closing
from benchapp.session.state import Session, StudioState


def draft_discard(page: SessionContext) -> Refusal | None:
    """Draft it, or say why the session stays: no sheet, clock or work of another day is lost."""
    s = page.s
    refusal = _wrong(s)
    if refusal is None:
        page.emit(SessionDiscarded())
        page.emit(SessionClosed())
    return refusal


def _wrong(s: Session) -> Refusal | None:
    if s.discarded:
        return Refusal(f"{s.name} is discarded already", "benchapp sessions --all lists it")
    mend = "close it with enough" if s.closed is None else after_closing(s.name)
    if (n := count_pulled(s)) > 0:
        were = "1 sheet was" if n == 1 else f"{n} sheets were"
        return Refusal(f"{were} pulled in it", mend)
    if s.inherited:
        return Refusal(f"{s.inherited[0].do} is a step another session left to it", mend)
    if s.closed is None and s.timed:
        clock = next(iter(s.timed.values()))
        return Refusal(f"The clock {clock.name} runs in it", "answer it first, when it calls")
    return None


def before_discarding(room: StudioState, s: Session) -> tuple[str, ...]:
    """What a printer should know before a session is discarded, a sentence each."""
    facts = [x.do for x in s.recipe.steps if x.must and not any(s.musts.get((s.id, x.id), ()))]
    paper = [p for p in room.packs.values() if p.there and p.id.startswith(f"{s.id}.")]
    return (
        "Its entries stay in the book. Lists do not show it.",
        *([f"You will not be asked about: {', '.join(facts)}."] if facts else []),
        *(["Its paper stays where it is and still calls."] if paper else []))
