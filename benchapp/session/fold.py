"""Entries to state: `apply` is total and pure, and replaying a book gives the same room.

A take-back is an entry like others. It names an action; everything that action
wrote is then left out, and the journal is folded anew: what time did meanwhile
stays, a step reopened keeps its old start, a pull taken back gives its number
back. So there is no second code for undoing anything.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Set
from dataclasses import replace
from functools import lru_cache
from typing import Final

from benchapp.edition import packs as damp
from benchapp.journal import Entry, family
from benchapp.recipe.model import Step
from benchapp.recipe.reader import read
from benchapp.session.shape import WASH, Shape
from benchapp.session.state import (
    Call,
    Done,
    Impression,
    Jump,
    Key,
    Pull,
    ReadingTaken,
    Room,
    Session,
    Setting,
    Timed,
    Work,
)

#: Words of actions that a take-back passes over: nothing the printer did at the bench.
NOT_TAKEN_BACK: Final = frozenset({"time", "run", "resume session", "switch", "back"})
#: With these a pack's clock begins anew: what it called before is over.
_SOAK_ANEW: Final = frozenset({"put in", "soak extended"})


@lru_cache(maxsize=32)
def shape_of(recipe_text: str) -> Shape:
    """The recipe a session keeps, read once.

    Raises:
        RecipeError: The text is no recipe (it was one when the session opened).
    """
    return Shape(read(recipe_text))


def session_id(stream: str) -> str:
    """The session a stream belongs to."""
    return stream.partition("/")[2]


def replay(entries: Iterable[Entry], bench: str | None = None) -> Room:
    """The room after all these entries, in the order of the book."""
    journal = tuple(entries)
    void = frozenset(e.body["action"] for e in journal if e.kind == "taken back")
    return _fold(journal, void, bench)


def apply(room: Room, entry: Entry) -> Room:
    """`room` after one more entry. Total: an entry that does not fit changes nothing but time."""
    if entry.kind == "taken back" and entry.body["action"] not in room.void:
        return _fold((*room.journal, entry), room.void | {entry.body["action"]}, room.bench)
    return _applied(replace(room, journal=(*room.journal, entry)), entry)


def _fold(journal: tuple[Entry, ...], void: frozenset[str], bench: str | None) -> Room:
    room = Room(bench=bench, void=void)
    for entry in journal:
        room = _applied(room, entry)
    return replace(room, journal=journal)


def _applied(room: Room, entry: Entry) -> Room:
    room = _passed(room, entry)
    if entry.action in room.void or entry.kind == "taken back":
        return room
    if family(entry.stream) == "pack":
        return _pack(room, entry)
    if family(entry.stream) != "session":
        return room
    if entry.kind == "opened":
        return _opened(room, entry)
    session = room.sessions.get(session_id(entry.stream))
    step = _STEPS.get(entry.kind)
    if session is None or step is None:
        return room
    changed = _acted(room, step(session, entry, room.t), entry)
    return _hands(replace(room, sessions={**room.sessions, session.id: changed}), session,
                  changed, entry)


def _passed(room: Room, entry: Entry) -> Room:
    """Time up to this entry."""
    at = entry.at
    if room.anchor is None:
        return replace(room, anchor=at, anchor_t=room.t, last=at)
    t = room.t_at(at)
    if at.boot_id == room.anchor.boot_id:
        return replace(room, t=t, last=at)
    return replace(room, t=t, last=at, anchor=at, anchor_t=t, restarts=(*room.restarts, t))


def _opened(room: Room, entry: Entry) -> Room:
    body = entry.body
    shape = shape_of(body["recipe_text"])
    session = Session(
        id=session_id(entry.stream), name=body["session"], letters=body["letters"],
        recipe=shape.recipe, recipe_name=body["recipe"], recipe_sha256=body["recipe_sha256"],
        shape=shape, opened=entry.at, opened_t=room.t, wanted=body["wanted"],
        states=_first_states(shape),
    )
    return replace(room, sessions={**room.sessions, session.id: session})


def _first_states(shape: Shape) -> dict[str, str]:
    proofing = shape.recipe.proofing
    if proofing is None or proofing.state is None:
        return {}
    return {plate.name: proofing.state for plate in shape.recipe.plates}


def _pack(room: Room, entry: Entry) -> Room:
    """An entry of a pack; it belongs to the actions of the session that did it."""
    packs = damp.apply(room.packs, entry.kind, entry.body, entry.at, room.t)
    sessions = dict(room.sessions)
    by = sessions.get(entry.body.get("by") or "")
    if by is not None:
        sessions[by.id] = _acted(room, by, entry)
    if entry.kind in _SOAK_ANEW:
        call = f"soak {entry.body['pack']}"
        sessions = {k: _silent(s, call) for k, s in sessions.items()}
    return replace(room, packs=packs, sessions=sessions)


def _acted(room: Room, session: Session, entry: Entry) -> Session:
    """Remember the action, so that it can be taken back in the session it was done in.

    What it wrote elsewhere too (a step left to another session) is not the other's to undo.
    """
    known = any(s.actions and s.actions[-1].action == entry.action
                for s in room.sessions.values())
    if known or entry.word in NOT_TAKEN_BACK:
        return session
    done = Done(entry.action, entry.word, entry.at, room.t)
    return replace(session, actions=(*session.actions, done))


def _hands(room: Room, before: Session, after: Session, entry: Entry) -> Room:
    """Hands belong to the printer, not to a session: only a wash makes them clean."""
    body = entry.body
    match entry.kind:
        case "step started" if after.hand is not None and after.hand != before.hand:
            step = step_of(after, after.hand)
            if step is not None and step.hands == "inky":
                return replace(room, inky=True)
        case "step finished" if body["step"] == WASH and before.hand == Key(
            WASH, body["impression"], body["pack"]
        ):
            if body["how"] in ("done", "passed", "out of reach"):
                return replace(room, inky=False)
        case "helper joined":
            return replace(room, helper=body["name"] or "helper")
        case "helper left":
            return replace(room, helper=None)
        case "closed" if not room.open_sessions:
            return replace(room, inky=False, helper=None)
    return room


def step_of(session: Session, key: Key) -> Step | None:
    """The step a key names: of the recipe, of the program's own, or taken over."""
    step = session.shape.by_id.get(key.step)
    if step is None:
        step = next((s for s in session.inherited if s.id == key.step), None)
    return step


# -- one function a kind: (session, entry, t) -> session -------------------------------


def _key(entry: Entry) -> Key:
    body = entry.body
    return Key(body["step"], body["impression"], body["pack"])


def _started(s: Session, entry: Entry, t: int) -> Session:
    key, step = _key(entry), step_of(s, _key(entry))
    if step is None or s.running(key):
        return s
    by_hand = step.hands != "free"
    if by_hand and s.hand is not None:
        return s  # one hands step at a time: this one was begun by what was taken back
    work = Work(key, entry.body["attempt"], entry.at, t)
    if key.pack is None:  # what an earlier try called, taken back since, is over
        s = _silent(s, call_id(key))
    return replace(s, work={**s.work, key: work}, under_way=(*s.under_way, key),
                   hand=key if by_hand else s.hand,
                   chosen=None if s.chosen == key else s.chosen)


def _finished(s: Session, entry: Entry, t: int) -> Session:
    key, body = _key(entry), entry.body
    work = s.work.get(key)
    if work is None:
        # Passed or skipped before it was begun.
        work = Work(key, body["attempt"], None, t)
        if body["how"] not in ("passed", "skipped", "left"):
            return s
    elif not work.running:
        if work.attempt >= body["attempt"]:
            return s
        work = Work(key, body["attempt"], None, t)
    paused = work.paused_ms
    if s.paused_t is not None and s.hand == key:
        paused += t - s.paused_t
    done = replace(work, finished=entry.at, finished_t=t, how=body["how"], why=body["why"],
                   taken=body["taken"], paused_ms=paused)
    s = _silent(s, call_id(key))
    return replace(s, work={**s.work, key: done}, history=(*s.history, done),
                   under_way=_without(s, {key}),
                   hand=None if s.hand == key else s.hand,
                   chosen=None if s.chosen == key else s.chosen)


def _silent(s: Session, call: str) -> Session:
    """Without that call, and without what was said to silence it."""
    if call not in s.calls and call not in s.muted:
        return s
    return replace(s, calls={k: c for k, c in s.calls.items() if k != call},
                   muted={k: m for k, m in s.muted.items() if k != call})


def call_id(key: Key) -> str:
    """The call that belongs to a piece of work; `out` of a pack answers its soak."""
    if key.step == "damp.out":
        return f"soak {key.pack}"
    return " ".join(str(p) for p in ("step", key.step, key.impression) if p is not None)


def _put_off(s: Session, entry: Entry, t: int) -> Session:
    key = _key(entry)
    if not s.running(key):
        return s
    work = {k: w for k, w in s.work.items() if k != key}
    return replace(s, work=work, under_way=_without(s, {key}), again=s.again | {key},
                   hand=None if s.hand == key else s.hand)


def _without(s: Session, keys: Set[Key]) -> tuple[Key, ...]:
    return tuple(k for k in s.under_way if k not in keys)


def _chosen(s: Session, entry: Entry, t: int) -> Session:
    return replace(s, chosen=_key(entry))


def _extended(s: Session, entry: Entry, t: int) -> Session:
    key = _key(entry)
    work = s.work.get(key)
    if work is None or not work.running:
        return s
    longer = replace(work, extended_ms=work.extended_ms + entry.body["by_ms"])
    return _silent(replace(s, work={**s.work, key: longer}), call_id(key))


def _redone(s: Session, entry: Entry, t: int) -> Session:
    ordinal, first = entry.body["impression"], entry.body["step"]
    at = s.shape.place_of.get(first)
    if at is None:
        return s
    again = {k for k in s.work
             if k.impression == ordinal and s.shape.place_of.get(k.step, -1) >= at}
    # Their attempts stay in the history; the next ones count on from them.
    return replace(s, work={k: w for k, w in s.work.items() if k not in again},
                   under_way=_without(s, again), again=s.again | again,
                   hand=None if s.hand in again else s.hand, chosen=None)


def _begun(s: Session, entry: Entry, t: int) -> Session:
    ordinal = entry.body["impression"]
    if ordinal != len(s.impressions) + 1:
        return s
    new = Impression(ordinal, ghost=entry.body["ghost"])
    return replace(s, impressions=(*s.impressions, new), ghost_next=False)


def _changed(s: Session, ordinal: int | None,
             change: Callable[[Impression], Impression]) -> Session:
    imp = s.impression(ordinal)
    if imp is None:
        return s
    new = change(imp)
    return replace(s, impressions=(*s.impressions[: imp.ordinal - 1], new,
                                   *s.impressions[imp.ordinal :]))


def _sheet(s: Session, entry: Entry, t: int) -> Session:
    return _changed(s, entry.body["impression"],
                    lambda i: replace(i, sheets=(*i.sheets, entry.body["pack"])))


def _pulled(s: Session, entry: Entry, t: int) -> Session:
    body = entry.body
    pull = Pull(body["step"], tuple(body["plates"]), entry.at if body["at_press"] else None, t)
    return _changed(s, body["impression"], lambda i: replace(
        i, number=i.number or body["number"], mark=i.mark or body["mark"],
        pulls=(*i.pulls, pull), purpose=body["for"], purpose_by=body["for_by"],
        state=body["state"]))


def _ended(s: Session, entry: Entry, t: int) -> Session:
    return _changed(s, entry.body["impression"], lambda i: replace(i, ended=entry.body["how"]))


def _laid(s: Session, entry: Entry, t: int) -> Session:
    if any(k.impression == entry.body["impression"] for k in s.under_way):
        return s  # its last steps were taken back: it is not under the boards yet
    return _changed(s, entry.body["impression"], lambda i: replace(i, laid=True))


def _for_said(s: Session, entry: Entry, t: int) -> Session:
    body = entry.body

    def change(i: Impression) -> Impression:
        said = (body["for"], body["state"])
        if not i.pulled:
            return replace(i, said=said, ghost=i.ghost or body["for"] == "ghost")
        return replace(i, said=said, purpose=body["for"], purpose_by="printer", state=body["state"])

    return _changed(s, body["impression"], change)


def _judged(s: Session, entry: Entry, t: int) -> Session:
    return _changed(s, entry.body["impression"],
                    lambda i: replace(i, verdict=entry.body["verdict"]))


def _tagged(s: Session, entry: Entry, t: int) -> Session:
    tag = entry.body["tag"]
    return _changed(s, entry.body["impression"], lambda i: i if tag in i.tags else
                    replace(i, tags=(*i.tags, tag)))


def _untagged(s: Session, entry: Entry, t: int) -> Session:
    return _changed(s, entry.body["impression"], lambda i: replace(
        i, tags=tuple(x for x in i.tags if x != entry.body["tag"])))


def _noted(s: Session, entry: Entry, t: int) -> Session:
    text = entry.body["text"]
    if entry.body["impression"] is None:
        return replace(s, notes=(*s.notes, text))
    return _changed(s, entry.body["impression"], lambda i: replace(i, notes=(*i.notes, text)))


def _look_again(s: Session, entry: Entry, t: int) -> Session:
    return _changed(s, entry.body["impression"], lambda i: replace(i, look_again=True))


def _read(s: Session, entry: Entry, t: int) -> Session:
    body = entry.body
    taken = ReadingTaken(body["name"], body["value"], body["unit"])
    if body["impression"] is None:
        return replace(s, settings=(*s.settings, _setting(s, body["name"], _with_unit(taken))))
    return _changed(s, body["impression"], lambda i: replace(
        i, readings=(*(r for r in i.readings if r.name != taken.name), taken)))


def _with_unit(r: ReadingTaken) -> str:
    return f"{r.value} {r.unit}" if r.unit else r.value


def _setting(s: Session, name: str, value: str) -> Setting:
    return Setting(name, value, next_number(s))


def next_number(s: Session) -> int:
    """The number the next sheet pulled for the first time will bear."""
    return 1 + max((i.number for i in s.impressions if i.number is not None), default=0)


def _mark(s: Session, entry: Entry, t: int) -> Session:
    return _changed(s, entry.body["impression"], lambda i: replace(i, mark=entry.body["mark"]))


def _set(s: Session, entry: Entry, t: int) -> Session:
    new = _setting(s, entry.body["name"], entry.body["value"])
    return replace(s, settings=(*s.settings, new))


def _reworked(s: Session, entry: Entry, t: int) -> Session:
    plate, state = entry.body["plate"], entry.body["state"]
    states = s.states if state is None else {**s.states, plate: state}
    return replace(s, states=states,
                   reworks=(*s.reworks, (plate, state, entry.body["what"], entry.at)))


def _timed(s: Session, entry: Entry, t: int) -> Session:
    body = entry.body
    clock = Timed(body["clock"], body["name"], t, body["ms"])
    return replace(_silent(s, clock.id), timed={**s.timed, clock.id: clock},
                   clocks_started=s.clocks_started + 1)


def _paused(s: Session, entry: Entry, t: int) -> Session:
    return replace(s, paused_t=t) if s.paused_t is None else s


def _resumed(s: Session, entry: Entry, t: int) -> Session:
    if s.paused_t is None:
        return s
    work = s.work
    if s.hand is not None and s.running(s.hand):
        held = s.work[s.hand]
        since = max(s.paused_t, held.started_t)
        work = {**work, s.hand: replace(held, paused_ms=held.paused_ms + t - since)}
    return replace(s, paused_t=None, work=work, breaks=(*s.breaks, (s.paused_t, t)))


def _continued(s: Session, entry: Entry, t: int) -> Session:
    seen = entry.body["last_seen_ms"]
    off = 0 if seen is None else max(0, entry.at.wall_ms - seen)
    return replace(s, breaks=(*s.breaks, (max(0, t - off), t)),
                   jumps=(*s.jumps, Jump("continued", off, entry.at, t)))


def _due(s: Session, entry: Entry, t: int) -> Session:
    body = entry.body
    return replace(s, calls={**s.calls, body["call"]: Call(body["call"], t, body["clean"])})


def _called(s: Session, entry: Entry, t: int) -> Session:
    return _call(s, entry, lambda c: replace(c, called=True))


def _answered(s: Session, entry: Entry, t: int) -> Session:
    s = _call(s, entry, lambda c: replace(c, called=True, answered=True))
    if entry.body["call"] in s.timed:
        name = entry.body["call"]
        s = replace(s, timed={k: v for k, v in s.timed.items() if k != name})
        return _silent(s, name)
    return replace(s, muted={k: m for k, m in s.muted.items() if k != entry.body["call"]})


def _call(s: Session, entry: Entry, change: Callable[[Call], Call]) -> Session:
    call = s.calls.get(entry.body["call"])
    return s if call is None else replace(s, calls={**s.calls, call.id: change(call)})


def _muted(s: Session, entry: Entry, t: int) -> Session:
    until = entry.body["until_ms"]
    return replace(s, muted={**s.muted, entry.body["call"]: None if until is None else t + until})


def _question(s: Session, key: Key, attempt: int, answer: str) -> Session:
    work = s.work.get(key)
    if work is not None and work.attempt == attempt:
        s = replace(s, work={**s.work, key: replace(work, question=answer)})
    history = tuple(replace(w, question=answer) if (w.key, w.attempt) == (key, attempt) else w
                    for w in s.history)
    return replace(s, history=history)


def _questioned(s: Session, entry: Entry, t: int) -> Session:
    return _question(s, _key(entry), entry.body["attempt"], "asked")


def _explained(s: Session, entry: Entry, t: int) -> Session:
    s = _question(s, _key(entry), entry.body["attempt"], entry.body["answer"])
    work = next((w for w in s.history if (w.key, w.attempt)
                 == (_key(entry), entry.body["attempt"])), None)
    if entry.body["answer"] == "away" and work is not None and work.finished_t is not None:
        s = replace(s, breaks=(*s.breaks, (work.started_t, work.finished_t)))
    return s


def _must(s: Session, entry: Entry, t: int) -> Session:
    at = (entry.body["owner"], entry.body["step"])
    return replace(s, musts={**s.musts, at: (*s.musts.get(at, ()), entry.body["fact"])})


def inherited_id(owner: str, step: str) -> str:
    """What an after step is called in the session another left it to."""
    return f"{owner} {step}"


def _taken_over(s: Session, entry: Entry, t: int) -> Session:
    body = entry.body
    step = Step(inherited_id(body["owner"], body["step"]), "after", body["do"], "clean",
                must=tuple(body["must"]))
    if any(x.id == step.id for x in s.inherited):
        return s
    return replace(s, inherited=(*s.inherited, step), owners={**s.owners, step.id: body["owner"]})


def _jump(what: str) -> Callable[[Session, Entry, int], Session]:
    def change(s: Session, entry: Entry, t: int) -> Session:
        ms = entry.body["by_ms"] if "by_ms" in entry.body else entry.body["ms"]
        return replace(s, jumps=(*s.jumps, Jump(what, ms, entry.at, t)))

    return change


_STEPS: Final[dict[str, Callable[[Session, Entry, int], Session]]] = {
    "step started": _started, "step finished": _finished, "step put off": _put_off,
    "step chosen": _chosen, "step extended": _extended, "redone": _redone,
    "impression begun": _begun, "sheet taken": _sheet, "pulled": _pulled,
    "impression ended": _ended, "laid to dry": _laid, "for said": _for_said,
    "judged": _judged, "tagged": _tagged, "untagged": _untagged, "noted": _noted,
    "marked to look again": _look_again, "read": _read, "marked": _mark,
    "setting changed": _set, "reworked": _reworked, "timed": _timed,
    "paused": _paused, "resumed": _resumed, "continued": _continued,
    "due": _due, "called": _called, "answered": _answered, "muted": _muted,
    "time questioned": _questioned, "time explained": _explained, "must answered": _must,
    "step taken over": _taken_over,
    "step left": lambda s, e, t: s,
    "clock stepped": _jump("clock stepped"), "slept": _jump("slept"),
    "wanted set": lambda s, e, t: replace(s, wanted=e.body["wanted"], limit=None, enough=False),
    "enough said": lambda s, e, t: replace(s, enough=True, limit=None),
    "one more said": lambda s, e, t: replace(s, enough=False, limit=e.body["limit"]),
    "ghost said": lambda s, e, t: replace(s, ghost_next=True),
    "left off": lambda s, e, t: replace(s, left_off=e.body["text"]),
    "helper joined": lambda s, e, t: replace(s, helpers=(*s.helpers, e.body["name"])),
    "helper left": lambda s, e, t: s,
    "can emptied": lambda s, e, t: replace(s, can_emptied=True),
    "closed": lambda s, e, t: replace(s, closed=e.at, hand=None, chosen=None),
}
