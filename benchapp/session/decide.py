"""The decider: (room, action, now) to entries, or a refusal. Total and pure.

One action is one transaction over all the streams it touches. The session is
the one on the Bench; what is said of another names it by `session`.
"""

from __future__ import annotations

from benchapp.decision import Decision, Refusal
from benchapp.events.entry import Moment
from benchapp.session import actions as a
from benchapp.session.actions.sessions import is_at_rest
from benchapp.session.advance import room_falls_due
from benchapp.session.context import SessionContext
from benchapp.session.copying import replace
from benchapp.session.names import after_closing
from benchapp.session.room_clocks import ROOM
from benchapp.session.state import StudioState


def _rule(action: a.Action) -> a.Rule:
    return a.RULES[type(action)]


def hands_gate(room: StudioState, action: a.Action) -> Refusal | None:
    """The hands gate, for whoever has only a switch: None lets the action through."""
    if room.clean or isinstance(action, a.WHILE_INKY):
        return None
    if isinstance(action, a.SwitchSession) and is_at_rest(room):
        return None
    return Refusal("Hands are inky", "wash first, then go on")


def decide(room: StudioState, action: a.Action, now: Moment,
           session: str | None = None) -> Decision:
    """What the action does at `now`.

    Args:
        room: The open sessions and the packs.
        action: What the printer, or time, does.
        now: The clocks, read at the edge.
        session: Another session than the one on the Bench.

    Returns:
        Drafts in order (none: nothing happened), or why not.
    """
    if isinstance(action, a.Open):
        page = SessionContext(room, now, a.action_word(action), action.id)
        return page.decision(_rule(action).decide(page, action))
    sid = session or room.bench
    if sid is None and isinstance(action, a.Tick):
        sid = next((s.id for s in room.open_sessions), ROOM)
    if sid == ROOM:
        return _of_the_room(room, action, now)
    if sid is None or sid not in room.sessions:
        return Refusal("No session is on the Bench", "open one with run, or resume one")
    if sid != room.bench and _rule(action).at_bench:
        return Refusal("That session is not on the Bench", "switch to it first")
    if room.guest(sid):
        if not _rule(action).guest:
            return Refusal("That session was opened in another book",
                           "continue it there; here you can judge its sheets and write notes")
        room = _at_rest_here(room, sid)
    page = SessionContext(room, now, a.action_word(action), sid)
    if page.s.closed is not None and not (
            _rule(action).closed or isinstance(action, a.Tick)):
        return Refusal("The session is closed", "you can still judge its sheets and write notes; "
                       + after_closing(page.s.name))
    return page.decision(_rule(action).decide(page, action))


def _of_the_room(room: StudioState, action: a.Action, now: Moment) -> Decision:
    """What time does, and what sounded, where no session is meant."""
    if not isinstance(action, (a.Tick, a.Sounded)):
        return Refusal("No session is on the Bench", "open one with run, or resume one")
    page = SessionContext(room, now, a.action_word(action), ROOM)
    room_falls_due(page, action.calls if isinstance(action, a.Sounded) else None)
    return tuple(page.drafts)


def _at_rest_here(room: StudioState, sid: str) -> StudioState:
    """The room with another book's session as one that is over: nothing of it is in hand here."""
    s = room.sessions[sid]
    return replace(room, sessions={
        **room.sessions, sid: replace(s, closed=s.closed or s.opened, hand=None)})


def bench_after(room: StudioState, action: a.Action) -> str | None:
    """The session on the Bench once the action is in the book."""
    if isinstance(action, a.Open):
        return action.id
    if isinstance(action, a.SwitchSession):
        return action.to
    return room.bench
