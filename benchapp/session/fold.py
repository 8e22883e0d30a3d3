"""Entries to state: `apply_entry` is total and pure, and replaying a book gives the same room.

A take-back is an entry like others. It names an action; everything that action
wrote is then left out, and the journal is folded anew: what time did meanwhile
stays, a step reopened keeps its old start, a pull taken back gives its number
back. So there is no second code for undoing anything.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final, TypeGuard

from benchapp.edition import packs as damp
from benchapp.events.entry import Entry
from benchapp.events.event import ActionTakenBack, BookEvent
from benchapp.events.field_types import ABSENT, given
from benchapp.events.pack import PackEvent
from benchapp.events.session import (
    HelperJoined,
    SessionOpened,
    StepFinished,
    StepPutOff,
)
from benchapp.events.stack import StackActionTakenBack
from benchapp.events.streams import SAID, is_said, stream_family
from benchapp.events.timer import ClockAnswered, ClockEvent, ClockStarted, ClockStopped
from benchapp.recipe.problems import RecipeError
from benchapp.session.compiled_recipe import WASH, CompiledRecipe
from benchapp.session.copying import replace
from benchapp.session.fold_sheets import SHEETS
from benchapp.session.fold_work import WORK, without_call
from benchapp.session.merge_order import comes_last, order_entries, reach_by_stream
from benchapp.session.names import session_id, shape_of, step_of
from benchapp.session.room_settings import after_entry
from benchapp.session.state import (
    UNNAMED,
    Call,
    Session,
    StudioState,
    TaskKey,
    TimerState,
    UndoableAction,
)

#: Words of actions that a take-back passes over: nothing the printer did at the bench.
NOT_TAKEN_BACK: Final = frozenset(
    {"time passed", "sounded", "run", "resume session", "switch", "back"})
#: With these a pack's clock begins anew: what it called before is over.
_SOAK_ANEW: Final = frozenset({"put in", "soak extended"})
#: With these it has nothing more to call for.
_SOAKED: Final = frozenset({"out", "put away"})
_KINDS: Final = {**WORK, **SHEETS}


def replay_entries(entries: Iterable[Entry], bench: str | None = None,
                   origin: str | None = None) -> StudioState:
    """The room after all these entries, in the order of the book.

    Args:
        entries: Of sessions, packs and clocks.
        bench: The session on the Bench.
        origin: The book whose room it is; None: no session is a guest in it.
    """
    journal = tuple(entries)
    void = frozenset(e.event.action for e in journal if _takes_back(e.event))
    return _fold(journal, StudioState(bench=bench, void=void, origin=origin))


def apply_entry(room: StudioState, entry: Entry) -> StudioState:
    """`room` after one more entry. Total: an entry that does not fit changes nothing but time."""
    journal = (*room.journal, entry)
    event = entry.event
    if _takes_back(event) and event.action not in room.void:
        return _fold(journal, _empty(room, room.void | {event.action}))
    if not comes_last(room.journal, room.said_ms, entry):
        return _fold(journal, _empty(room, room.void))
    said = reach_by_stream((entry,))
    if said:
        room = replace(room, said_ms={**room.said_ms, **said})
    return _applied(replace(room, journal=journal), entry)


def _takes_back(event: BookEvent) -> TypeGuard[ActionTakenBack]:
    """Whether a whole action is taken back: a sheet put back on its stack undoes no verdict."""
    return isinstance(event, ActionTakenBack) and not isinstance(event, StackActionTakenBack)


def _empty(room: StudioState, void: frozenset[str]) -> StudioState:
    return StudioState(bench=room.bench, void=void, origin=room.origin)


def _fold(journal: tuple[Entry, ...], room: StudioState) -> StudioState:
    for entry in order_entries(journal):
        room = _applied(room, entry)
    return replace(room, journal=journal, said_ms=reach_by_stream(journal))


def _is_void(room: StudioState, entry: Entry) -> bool:
    """Whether it tells of nothing. A session stays opened, whatever a book says it took back."""
    return entry.kind == "taken back" or (entry.action in room.void and entry.kind != "opened")


def _applied(room: StudioState, entry: Entry) -> StudioState:
    if is_said(entry.stream):
        return _said(room, entry)
    if _elsewhere(room, entry):
        return _guest(room, entry)
    room = _passed(room, entry)
    if _is_void(room, entry):
        return room
    if stream_family(entry.stream) == "pack":
        return _pack(room, entry)
    if stream_family(entry.stream) == "clock":
        return _timer(room, entry)
    if stream_family(entry.stream) != "session":
        return room
    if entry.kind == "opened":
        return _opened(room, entry, room.t)
    session = room.sessions.get(session_id(entry.stream))
    step = _KINDS.get(entry.kind)
    if session is None or step is None:
        return room
    changed = _acted(room, step(session, entry, room.t), entry)
    room = replace(room, settings=after_entry(room, changed, entry))
    room = _hands(replace(room, sessions={**room.sessions, session.id: changed}), session,
                  changed, entry)
    return _hands_elsewhere(room, changed) if entry.kind == "step started" else room


def _hands_elsewhere(room: StudioState, s: Session) -> StudioState:
    """What the hands had begun for another session is not seen to its end: they are here now.

    Only a take-back leaves it running: it reopens a step from before the hands came over.
    """
    if s.hand is None:
        return room
    left = {o.id: replace(o, work={**o.work, o.hand: replace(o.work[o.hand], unseen=True)})
            for o in room.sessions.values() if o.id != s.id and o.closed is None
            and o.hand is not None and o.running(o.hand) and not room.guest(o.id)}
    return replace(room, sessions={**room.sessions, **left}) if left else room


def _said(room: StudioState, entry: Entry) -> StudioState:
    """What another book said of a sheet: no time passes by it and no hands are in it."""
    session = room.sessions.get(session_id(entry.stream))
    if session is None or entry.kind not in SAID["session"]:
        return room
    changed = SHEETS[entry.kind](session, entry, room.t)
    return replace(room, sessions={**room.sessions, session.id: changed})


def _elsewhere(room: StudioState, entry: Entry) -> bool:
    return stream_family(entry.stream) == "session" and room.guest(session_id(entry.stream))


def _guest(room: StudioState, entry: Entry) -> StudioState:
    """An entry of another book's session: its clocks, its ink and its helper are not here."""
    if _is_void(room, entry):
        return room
    t = entry.at.wall_ms
    if entry.kind == "opened":
        return _opened(room, entry, t)
    session = room.sessions.get(session_id(entry.stream))
    step = _KINDS.get(entry.kind)
    if session is None or step is None:
        return room
    return replace(room, sessions={**room.sessions, session.id: step(session, entry, t)})


def _passed(room: StudioState, entry: Entry) -> StudioState:
    """Time up to this entry."""
    at = entry.at
    if room.anchor is None:
        return replace(room, anchor=at, anchor_t=room.t, last=at)
    t = room.t_at(at)
    if at.boot_id == room.anchor.boot_id:
        return replace(room, t=t, last=at)
    before = room.off.get(t, 0)
    off = at.wall_ms - (room.last or at).wall_ms
    known = None if before is None or off < 0 else before + off
    return replace(room, t=t, last=at, anchor=at, anchor_t=t, off={**room.off, t: known})


def _opened(room: StudioState, entry: Entry, t: int) -> StudioState:
    """A session with the recipe it keeps; none where no recipe can be made of that text."""
    opened = SessionOpened.from_entry(entry)
    try:
        shape = shape_of(opened.recipe_text)
    except RecipeError:
        return room
    session = Session(
        id=session_id(entry.stream), name=opened.session, letters=opened.letters,
        recipe=shape.recipe, recipe_name=opened.recipe, recipe_sha256=opened.recipe_sha256,
        shape=shape, opened=entry.at, opened_t=t, wanted=opened.wanted,
        states=_first_states(shape), cancelled=given(opened.cancelled, None),
        unstated=frozenset(given(opened.reworked, ())),
    )
    return replace(room, sessions={**room.sessions, session.id: session})


def _first_states(shape: CompiledRecipe) -> dict[str | None, str]:
    proofing = shape.recipe.proofing
    if proofing is None or proofing.state is None:
        return {}
    return {plate.name: proofing.state for plate in shape.recipe.plates}


def _pack(room: StudioState, entry: Entry) -> StudioState:
    """An entry of a pack; it belongs to the actions of the session that did it."""
    event = entry.event
    if not isinstance(event, PackEvent):
        return room
    packs = damp.apply_pack_event(room.packs, event, entry.at, room.t)
    sessions = dict(room.sessions)
    by = sessions.get(event.done_by or "")
    if by is not None:
        sessions[by.id] = _acted(room, by, entry)
    call = f"soak {event.pack}"
    if entry.kind in _SOAK_ANEW:
        sessions = {k: without_call(s, call) for k, s in sessions.items()}
    calls = _calls(room, call, entry)
    return replace(room, packs=packs, sessions=sessions, calls=calls)


def _timer(room: StudioState, entry: Entry) -> StudioState:
    """An entry of a clock that belongs to no session."""
    event = entry.event
    if not isinstance(event, ClockEvent):
        return room
    id_, timers, sessions = event.clock, dict(room.timers), room.sessions
    if isinstance(event, ClockStarted):
        timers[id_] = TimerState(id_, event.name, room.t, event.ms)
    elif isinstance(event, ClockAnswered | ClockStopped):
        timers.pop(id_, None)
    by = sessions.get(event.done_by or "")
    if by is not None:
        sessions = {**sessions, by.id: _acted(room, by, entry)}
    calls = {k: c for k, c in _calls(room, f"clock {id_}", entry).items()
             if not k.startswith("clock ") or k.removeprefix("clock ") in timers}
    return replace(room, timers=timers, calls=calls, sessions=sessions)


def _calls(room: StudioState, call: str, entry: Entry) -> Mapping[str, Call]:
    """The calls of the room after an entry about one clock of it."""
    known = room.calls.get(call)
    if entry.kind == "due":
        clean = stream_family(entry.stream) == "pack"
        return {**room.calls, call: Call(call, room.t, clean)}
    if known is not None and entry.kind in ("called", "answered"):
        return {**room.calls, call: replace(known, called=True,
                                            answered=entry.kind == "answered")}
    if entry.kind in _SOAK_ANEW | _SOAKED:
        return {k: c for k, c in room.calls.items() if k != call}
    return room.calls


def _acted(room: StudioState, session: Session, entry: Entry) -> Session:
    """Remember the action, so that it can be taken back in the session it was done in.

    What it wrote elsewhere too (a step left to another session) is not the other's to undo.
    """
    if room.guest(session.id):
        return session
    known = any(s.actions and s.actions[-1].action == entry.action
                for s in room.sessions.values())
    if known or entry.word in NOT_TAKEN_BACK:
        return session
    done = UndoableAction(entry.action, entry.word, entry.at, room.t)
    return replace(session, actions=(*session.actions, done))


def _hands(room: StudioState, before: Session, after: Session, entry: Entry) -> StudioState:
    """Hands belong to the printer, not to a session: only a wash makes them clean."""
    match entry.kind:
        case "step started" if after.hand is not None and after.hand != before.hand:
            step = step_of(after, after.hand)
            if step is not None and step.hands == "inky":
                return replace(room, inky=True)
        case "step finished":
            end = StepFinished.from_entry(entry)
            if end.step == WASH and before.hand == TaskKey(WASH, end.impression, end.pack) and (
                    end.how in ("done", "passed", "out of reach")):
                return replace(room, inky=False)
        case "step put off" if before.hand != after.hand:
            hands = StepPutOff.from_entry(entry).hands
            return room if hands is ABSENT else replace(room, inky=hands == "inky")
        case "helper joined":
            name = HelperJoined.from_entry(entry).name
            return replace(room, helper=name or UNNAMED, helped=frozenset({after.id}))
        case "helper present":
            return replace(room, helped=room.helped | {after.id})
        case "helper left":
            return replace(room, helper=None, helped=frozenset())
        case "closed" if not room.open_sessions:
            return replace(room, inky=False, helper=None, helped=frozenset())
    return room
