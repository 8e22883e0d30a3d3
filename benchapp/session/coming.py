"""The inky steps that come before hands can be clean again, seen from a clean moment. Pure.

A tread that begins one makes hands inky, and with inky hands nothing can be said. So what is
to be skipped, left or put later is said before: it is tried out what the next treads would
begin, up to the wash.
"""

from __future__ import annotations

from typing import Final

from benchapp.events.entry import Moment
from benchapp.events.session import StepStarted
from benchapp.session.auto_steps import draft_auto_steps, draft_begin, draft_end
from benchapp.session.context import SessionContext
from benchapp.session.fold import NOT_TAKEN_BACK, replay_entries
from benchapp.session.names import key_of, step_of
from benchapp.session.next_steps import next_hands, what_holds
from benchapp.session.state import Session, StudioState, TaskKey

#: No recipe has so many inky steps between two washes.
_MOST: Final = 50


def coming_inky(room: StudioState, s: Session, now: Moment) -> tuple[TaskKey, ...]:
    """The inky steps that begin before the next clean one, the first of them first.

    Args:
        room: The room.
        s: The session on the Bench.
        now: The clocks.

    Returns:
        None where hands are inky, where a pause runs, or where the next step is a clean one.
    """
    page = _tried(room, s, now)
    found: list[TaskKey] = []
    while page is not None and len(found) < _MOST and _to_next_hands(page):
        key = page.s.hand
        if key is None or page.step(key).hands != "inky":
            break
        found.append(key)
    return tuple(found)


def before_first(room: StudioState, s: Session, now: Moment) -> SessionContext | None:
    """A page with the first of these steps in hand: what could be begun in its place.

    Returns:
        None where no inky step comes.
    """
    page = _tried(room, s, now)
    if page is None or not _to_next_hands(page):
        return None
    key = page.s.hand
    return None if key is None or page.step(key).hands != "inky" else page


def begun_by_itself(room: StudioState, s: Session) -> TaskKey | None:
    """The inky step that the end of a wait, or the opening, began, with nothing done since.

    Nobody trod for it, so nobody said that hands are inky: taken back it waits for the pedal.
    The tread before the wait stays; a word said meanwhile is taken back first, as always.
    """
    key = _inky_hand(room, s)
    if key is None or (s.actions and s.actions[-1].word != "go on"):
        return None
    for place, e in reversed(list(enumerate(room.journal))):
        if e.word not in NOT_TAKEN_BACK or e.kind == "taken back":
            return None
        if e.stream == f"session/{s.id}" and isinstance(e.event, StepStarted) and (
                key == key_of(e.event)):
            before = replay_entries(room.journal[:place], room.bench, room.origin)
            return key if not before.inky else None
    return None


def held_words(room: StudioState, s: Session, t: int) -> str | None:
    """The inky step that began by itself and was taken back, in words; None: there is none."""
    if s.held is None or s.hand is not None or s.held != next_hands(room, s, t):
        return None
    step = step_of(s, s.held)
    return None if step is None else f"{step.do}: not begun"


def back_cleans(room: StudioState, s: Session) -> bool:
    """Whether hands are inky only by what a take-back would undo."""
    if begun_by_itself(room, s) is not None:
        return True
    if _inky_hand(room, s) is None or not s.actions:
        return False
    last = s.actions[-1].action
    return not replay_entries((e for e in room.journal if e.action != last), room.bench,
                              room.origin).inky


def _inky_hand(room: StudioState, s: Session) -> TaskKey | None:
    step = None if s.hand is None else step_of(s, s.hand)
    return s.hand if room.inky and step is not None and step.hands == "inky" else None


def _tried(room: StudioState, s: Session, now: Moment) -> SessionContext | None:
    if room.inky or s.closed is not None or s.paused_t is not None or room.bench != s.id:
        return None
    return SessionContext(room, now, "", s.id)


def _to_next_hands(page: SessionContext) -> bool:
    """End what is in hand, then the waits, until another step is in hand; False: none comes."""
    if page.s.hand is not None:
        draft_end(page, page.s.hand, "done")
        draft_auto_steps(page)
    for _ in range(_MOST):
        if page.s.hand is not None or page.s.closed is not None:
            break
        held = what_holds(page.state, page.s, page.t)
        if isinstance(held, TaskKey):
            draft_end(page, held, "done")
        elif page.s.held is not None and page.s.held == next_hands(page.state, page.s, page.t):
            draft_begin(page, page.s.held)
        else:
            break
        draft_auto_steps(page)
    return page.s.hand is not None


def now_and_coming(room: StudioState, s: Session, now: Moment) -> tuple[TaskKey, ...]:
    """The step in hand, or the next, and the inky ones that come before the wash."""
    first = s.hand or next_hands(room, s, room.t_at(now))
    return tuple(dict.fromkeys((*(() if first is None else (first,)),
                                *coming_inky(room, s, now))))
