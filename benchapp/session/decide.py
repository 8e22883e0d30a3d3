"""The decider: (room, action, now) to entries, or a refusal. Total and pure.

One action is one transaction over all the streams it touches. The session is
the one on the Bench; what is said of another names it by `session`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from benchapp.events.entry import Draft, Moment
from benchapp.recipe.reader import read
from benchapp.session import actions as a
from benchapp.session import annotate as says
from benchapp.session import paper
from benchapp.session import step_control as moves
from benchapp.session.advance import answer_named, end_hands, go_on, room_falls_due, sounded, tick
from benchapp.session.auto_steps import end, settle
from benchapp.session.compiled_recipe import WASH
from benchapp.session.copying import replace
from benchapp.session.discarding import discard
from benchapp.session.names import after_closing
from benchapp.session.page import DecisionContext, Refusal, wrong_count, wrong_time
from benchapp.session.room_clocks import ROOM
from benchapp.session.room_settings import as_before
from benchapp.session.sheet_asked import sheet_answers
from benchapp.session.state import UNNAMED, StudioState
from benchapp.session.values import wrong_setting

Decision = tuple[Draft, ...] | Refusal

#: What a closed session still takes.
AFTER_CLOSING: Final = (a.Note, a.Tag, a.Judge, a.SayFor, a.TakeReading, a.GiveMark, a.LookAgain,
                        a.Must, a.CanEmptied, a.LeftOff, a.ReworkPlate, a.SwitchSession,
                        a.Discard)
#: What can be said of the sheets of a session that another book opened.
OF_A_GUEST: Final = (a.Note, a.Tag, a.Judge, a.SayFor, a.TakeReading, a.GiveMark, a.LookAgain)
#: What hands do, they do at the Bench; the rest can be said of any session in the room.
AT_THE_BENCH: Final = (a.GoOn, a.TakeBack, a.SkipStep, a.Redo, a.Here, a.Choose, a.End, a.LeaveStep)
#: What inky hands may do: nothing to answer, nothing that could hurt.
WHILE_INKY: Final = (a.GoOn, a.AnswerCall, a.TakeBack, a.LookAgain, a.Pause, a.Resume, a.Tick)


def gate(room: StudioState, action: a.Action) -> Refusal | None:
    """The hands gate, for whoever has only a switch: None lets the action through."""
    if room.clean or isinstance(action, WHILE_INKY):
        return None
    if isinstance(action, a.SwitchSession) and _at_rest(room):
        return None
    return Refusal("Hands are inky", "wash first, then go on")


def _at_rest(room: StudioState) -> bool:
    """Whether nothing can be washed for: the session on the Bench is closed, or there is none."""
    return room.session is None or room.session.closed is not None


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
        return _open(room, action, now)
    sid = session or room.bench
    if sid is None and isinstance(action, a.Tick):
        sid = next((s.id for s in room.open_sessions), ROOM)
    if sid == ROOM:
        return _of_the_room(room, action, now)
    if sid is None or sid not in room.sessions:
        return Refusal("No session is on the Bench", "open one with run, or resume one")
    if sid != room.bench and isinstance(action, AT_THE_BENCH):
        return Refusal("That session is not on the Bench", "switch to it first")
    if room.guest(sid):
        if not isinstance(action, OF_A_GUEST):
            return Refusal("That session was opened in another book",
                           "it is continued there; here its sheets can be judged and noted")
        room = _at_rest_here(room, sid)
    page = DecisionContext(room, sid, now, a.word_of(action))
    if page.s.closed is not None and not isinstance(action, (*AFTER_CLOSING, a.Tick)):
        return Refusal("The session is closed", "its sheets can still be judged and noted; "
                       + after_closing(page.s.name))
    refusal = _HANDLERS[type(action)](page, action)
    return tuple(page.drafts) if refusal is None else refusal


def _of_the_room(room: StudioState, action: a.Action, now: Moment) -> Decision:
    """What time does, and what sounded, where no session is meant."""
    if not isinstance(action, (a.Tick, a.Sounded)):
        return Refusal("No session is on the Bench", "open one with run, or resume one")
    page = DecisionContext(room, ROOM, now, a.word_of(action))
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


def _open(room: StudioState, action: a.Open, now: Moment) -> Decision:
    if action.id in room.sessions:
        return Refusal(f"A session {action.name} is open already", "resume it")
    if room.open_sessions and not room.clean and not action.typed:
        return Refusal("Hands are inky", "wash before another session is opened")
    wrong = wrong_count(action.wanted, "impressions wanted", "write a whole number from 1 up")
    if wrong is not None:
        return wrong
    known = read(action.recipe_text).print
    page = DecisionContext(replace(room, bench=action.id), action.id, now, a.word_of(action))
    _put_others_off(page, room)
    page.write("opened", session=action.name, letters=action.letters,
               print=known.title, artist=known.artist, recipe=action.recipe,
               recipe_text=action.recipe_text, recipe_sha256=action.recipe_sha256,
               wanted=action.wanted,
               **({} if action.cancelled is None else {"cancelled": action.cancelled}),
               **({"reworked": list(action.reworked)} if action.reworked else {}))
    _note_helper(page)
    settle(page)
    return tuple(page.drafts)


def _note_helper(page: DecisionContext) -> None:
    """A helper who joined in another session helps in this one too, once it is worked on."""
    helper = page.room.helper
    if helper is not None and page.sid not in page.room.helped:
        page.write("helper present", name=None if helper == UNNAMED else helper)


def _put_others_off(page: DecisionContext, room: StudioState) -> None:
    """What was in hand in another session is laid aside there: there are two hands, not four."""
    for other in room.open_sessions:
        key = other.hand
        if key is not None and other.id != page.sid:
            page.write_to(f"session/{other.id}", "step put off", step=key.step,
                          impression=key.impression, attempt=other.work[key].attempt,
                          pack=key.pack)


# -- handlers that are a line or two ------------------------------------------------------


def _settled(kind: str, **body: Any) -> Callable[[DecisionContext, Any], None]:
    def handler(page: DecisionContext, action: a.Action) -> None:
        page.write(kind, **body)
        settle(page)

    return handler


def _then_settle(page: DecisionContext, refusal: Refusal | None) -> Refusal | None:
    if refusal is None:
        settle(page)
    return refusal


def _continue(page: DecisionContext, action: a.Continue) -> Refusal | None:
    page.write("continued", last_seen_ms=action.last_seen_ms)
    if page.sid == page.room.bench:
        _put_others_off(page, page.room)
        _note_helper(page)
    tick(page)
    return None


def _tick(page: DecisionContext, action: a.Tick) -> None:
    page.writing = action.writing
    tick(page)


def _sounded(page: DecisionContext, action: a.Sounded) -> None:
    sounded(page, action.calls)


def _pause(page: DecisionContext, action: a.Pause) -> Refusal | None:
    if page.s.paused_t is not None:
        return Refusal("It is paused already", "go on to resume")
    page.write("paused")
    return None


def _resume(page: DecisionContext, action: a.Resume) -> Refusal | None:
    if page.s.paused_t is None:
        return Refusal("Nothing is paused", "go on")
    page.write("resumed")
    settle(page)
    return None


def _set(page: DecisionContext, action: a.Set) -> Refusal | None:
    if not action.name.strip() or not action.value.strip():
        return Refusal("A setting has a name and a value", "write: set handle side: 3.25 turns")
    name, value = action.name.strip(), action.value.strip()
    wrong = wrong_setting(page.s.recipe, name, value)
    if wrong is not None:
        return Refusal(f"{name}: {wrong.wrong}", wrong.mend)
    page.write("setting changed", name=name, value=value)
    return None


def _set_as_before(page: DecisionContext, action: a.SetAsBefore) -> Refusal | None:
    held = says.in_hand(page.s)
    before = as_before(page.room, page.s, None if held is None else held.ordinal)
    if not before:
        return Refusal("Everything is set as this print had it", "write: set NAME: VALUE")
    for name, value in before:
        page.write("setting changed", name=name, value=value)
    return None


def _start_clock(page: DecisionContext, action: a.StartClock) -> Refusal | None:
    wrong = wrong_time(action.ms, "write: time 5 min varnish")
    if wrong is not None:
        return wrong
    page.write("timed", clock=f"clock {page.s.clocks_started + 1}", name=action.name, ms=action.ms)
    return None


def _damped(page: DecisionContext, action: a.DampPack) -> Refusal | None:
    wrong = wrong_count(action.sheets, "sheets", "write: damped 6")
    if wrong is not None:
        return wrong
    return _then_settle(page, paper.damped(page, action.sheets))


def _out(page: DecisionContext, action: a.SheetsOut) -> Refusal | None:
    return _then_settle(page, paper.sheets_out(page, action))


def _sheet(page: DecisionContext, action: a.MoveSheet) -> Refusal | None:
    return _then_settle(page, paper.one_sheet(page, action))


def _wanted(page: DecisionContext, action: a.SetWanted) -> Refusal | None:
    wrong = wrong_count(action.wanted, "impressions wanted", "write a number from 1 up, or none")
    if wrong is not None:
        return wrong
    page.write("wanted set", wanted=action.wanted)
    settle(page)
    return None


def _helper(page: DecisionContext, action: a.Helper) -> Refusal | None:
    hand = page.s.hand
    if action.joins:
        if page.room.helper is not None:
            return Refusal("A helper is in already", "say helper leaves when they go")
        page.write("helper joined", name=action.name)
        if hand is not None and hand.step == WASH:
            page.finish(hand, "dropped", taken=False)
    else:
        if page.room.helper is None:
            return Refusal("No helper is in", "say helper when one joins")
        page.write("helper left")
        if hand is not None and page.room.inky and page.step(hand).hands == "clean":
            page.write("step put off", **page.about(hand))
    settle(page)
    return None


def _mute(page: DecisionContext, action: a.Mute) -> Refusal | None:
    loud = [c.id for c in page.s.calls.values() if not c.answered
            and action.call in (None, c.id)]
    wrong = None if action.ms is None else wrong_time(action.ms, "write: mute 5 min")
    if wrong is not None:
        return wrong
    if not loud:
        return Refusal("Nothing is calling", "a clock can be muted while it calls")
    for call in loud:
        page.write("muted", call=call, until_ms=action.ms)
    return None


def _left_off(page: DecisionContext, action: a.LeftOff) -> Refusal | None:
    if not action.text.strip():
        return Refusal("The sentence is empty", "write: left off and where you are")
    page.write("left off", text=action.text)
    return None


def _must(page: DecisionContext, action: a.Must) -> Refusal | None:
    hand = page.s.hand
    if hand is not None and action.step in (None, hand.step) and sheet_answers(
            page.room, page.s, page.t):
        if action.fact is not None:
            return paper.answer_sheet(page, action.fact)
        end_hands(page, hand)
        return None
    refusal = says.settle_must(page, action)
    if refusal is not None or hand is None or action.step not in (None, hand.step):
        return refusal
    if page.step(hand).must:
        if action.fact is not None:
            paper.put_away(page, page.step(hand), action.fact)
        end(page, hand, "not said" if action.fact is None else "done")
        settle(page)
    return None


def _explain(page: DecisionContext, action: a.Explain) -> Refusal | None:
    asked = [w for w in page.s.history if w.question == "asked"
             and action.key in (None, w.key)]
    if not asked:
        return Refusal("No time is in question", "nothing ran far over its high time")
    work = asked[-1]
    page.write("time explained", step=work.key.step, impression=work.key.impression,
               attempt=work.attempt, pack=work.key.pack, answer=action.answer)
    return None


def _switch(page: DecisionContext, action: a.SwitchSession) -> Refusal | None:
    to = page.room.sessions.get(action.to)
    if to is None or to.closed is not None or page.room.guest(to.id):
        return Refusal("That session is not open", "open ones are listed in the Studio")
    if not page.room.clean and not action.typed and not _at_rest(page.room):
        return Refusal("Hands are inky", "wash before the Bench is changed")
    before = page.room
    page.room = replace(page.room, bench=to.id)
    page.sid = to.id
    _put_others_off(page, before)
    _note_helper(page)
    settle(page)
    return None


_HANDLERS: Final[dict[type, Callable[[DecisionContext, Any], Refusal | None]]] = {
    a.Continue: _continue, a.Tick: _tick, a.Sounded: _sounded, a.GoOn: lambda p, x: go_on(p),
    a.AnswerCall: lambda p, x: answer_named(p, x.call), a.LookAgain: says.look_again,
    a.TakeBack: lambda p, x: moves.take_back(p),
    a.Pause: _pause, a.Resume: _resume, a.Note: says.note, a.Tag: says.tag, a.Judge: says.judge,
    a.SpoilTry: says.spoil_try,
    a.SayFor: says.say_for, a.Ghost: lambda p, x: says.ghost(p), a.ReworkPlate: says.rework,
    a.TakeReading: says.take_reading, a.Set: _set,
    a.SetAsBefore: _set_as_before, a.GiveMark: says.give_mark, a.SkipStep: moves.skip,
    a.Redo: moves.redo, a.Here: moves.here, a.Extend: moves.extend, a.StartClock: _start_clock,
    a.Choose: moves.choose, a.DampPack: _damped, a.SheetsOut: _out, a.MoveSheet: _sheet,
    a.SetWanted: _wanted, a.Enough: _settled("enough said"), a.OneMore: lambda p,
    x: moves.one_more(p),
    a.End: lambda p, x: moves.end_here(p), a.Helper: _helper, a.Mute: _mute,
    a.LeftOff: _left_off, a.Must: _must, a.LeaveStep: moves.leave_step, a.Explain: _explain,
    a.SwitchSession: _switch, a.CanEmptied: _settled("can emptied"),
    a.Discard: lambda p, x: discard(p),
}
