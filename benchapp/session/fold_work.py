"""Entries about work, clocks and time, folded into a session: one function a kind.

Each takes (session, entry, t), `t` being room time, and is total: what does not
fit changes nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Set
from typing import Final

from benchapp.events import call as c
from benchapp.events import session as e
from benchapp.events.entry import Entry
from benchapp.events.field_types import ABSENT, given
from benchapp.recipe.model import Step
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, WASH
from benchapp.session.copying import replace
from benchapp.session.names import call_id, inherited_id, key_of, limit_call_id, step_of
from benchapp.session.state import (
    Attempt,
    Call,
    Jump,
    Session,
    TakenOver,
    TaskKey,
    TimerState,
)

#: A step of the hands over which benchapp was closed longer than this has no time: nobody said
#: that it was work. Not after less: a program that crashed was last seen alive up to a minute
#: before (its mark is written once a minute), and gets half a minute to be started again.
CLOSED_MS: Final = 90_000
#: So far over its high time a step is asked about, once (common practice, no source).
OVER_MS: Final = 5 * 60_000


def _started(s: Session, entry: Entry, t: int) -> Session:
    started = e.StepStarted.from_entry(entry)
    key = key_of(started)
    step = step_of(s, key)
    if step is None or s.running(key):
        return s
    by_hand = step.hands != "free"
    if by_hand and s.hand is not None:
        return s  # one hands step at a time: this one was begun by what was taken back
    work = Attempt(key, started.attempt, entry.at, t)
    if key.pack is None:  # what an earlier try called, taken back since, is over
        s = without_call(s, call_id(key))
    return replace(_said_no_more(s, key), work={**s.work, key: work},
                   under_way=(*s.under_way, key), hand=key if by_hand else s.hand,
                   held=None if by_hand else s.held)


def _finished(s: Session, entry: Entry, t: int) -> Session:
    end = e.StepFinished.from_entry(entry)
    key = key_of(end)
    work = s.work.get(key)
    if work is None:
        # Passed or skipped before it was begun.
        work = Attempt(key, end.attempt, None, t)
        if end.how not in ("passed", "skipped", "left"):
            return s
    elif not work.running:
        if work.attempt >= end.attempt:
            return s
        work = Attempt(key, end.attempt, None, t)
    paused = work.paused_ms
    if s.paused_t is not None and s.hand == key:
        paused += t - s.paused_t
    if end.how in _WORKED and _past_given_up(s, key):
        s = replace(s, given_up=None)
    done = replace(work, finished=entry.at, finished_t=t, how=end.how, why=end.why,
                   taken=end.taken, paused_ms=paused)
    s = _said_no_more(without_call(without_call(s, call_id(key)), limit_call_id(key)), key)
    return replace(s, work={**s.work, key: done}, history=(*s.history, done),
                   to_ask=(*s.to_ask, done) if _ran_long(s, done) else s.to_ask,
                   under_way=_without(s, {key}),
                   hand=None if s.hand == key else s.hand,
                   held=None if s.held == key else s.held,
                   unstated=s.unstated | _reworked_by(s, done))


def _reworked_by(s: Session, work: Attempt) -> frozenset[str]:
    """The plate whose state is not known any more by what ended; none by most."""
    plate = s.shape.reworks.get(work.key.step)
    worked = work.how in _WORKED or work.how in ("ended itself", "cut short")
    return frozenset({plate}) if plate is not None and worked else frozenset()


def _said_no_more(s: Session, key: TaskKey) -> Session:
    """Without what was said of a piece of work before it came: it has come."""
    return replace(s, chosen=None if s.chosen == key else s.chosen,
                   to_skip={k: why for k, why in s.to_skip.items() if k != key},
                   to_leave={k: to for k, to in s.to_leave.items() if k != key})


#: Ends of work that was done, seen or not.
_WORKED: Final = frozenset({"done", "passed", "out of reach", "not said"})


def _past_given_up(s: Session, key: TaskKey) -> bool:
    """Whether it is hands work of the recipe on anything but the try given up last."""
    step = step_of(s, key)
    return (step is not None and step.hands != "free" and key.impression != s.given_up
            and key.step not in (WASH, DAMP_IN, DAMP_OUT))


def without_call(s: Session, call: str) -> Session:
    """Without that call, and without what was said to silence it."""
    if call not in s.calls and call not in s.muted:
        return s
    return replace(s, calls={k: c for k, c in s.calls.items() if k != call},
                   muted={k: m for k, m in s.muted.items() if k != call})


def _put_off(s: Session, entry: Entry, t: int) -> Session:
    put_off = e.StepPutOff.from_entry(entry)
    key = key_of(put_off)
    if not s.running(key):
        return s
    work = {k: w for k, w in s.work.items() if k != key}
    return replace(s, work=work, under_way=_without(s, {key}), again=s.again | {key},
                   hand=None if s.hand == key else s.hand,
                   held=s.held if put_off.hands is ABSENT else key)


def _skip_said(s: Session, entry: Entry, t: int) -> Session:
    said = e.SkipSaid.from_entry(entry)
    key, why = TaskKey(said.step, said.impression), said.why
    others = {k: x for k, x in s.to_skip.items() if k != key}
    return replace(s, to_skip=others if why is None else {**others, key: why})


def _leave_said(s: Session, entry: Entry, t: int) -> Session:
    said = e.LeaveSaid.from_entry(entry)
    key, to = TaskKey(said.step), said.to
    others = {k: x for k, x in s.to_leave.items() if k != key}
    return replace(s, to_leave=others if to is None else {**others, key: to})


def _without(s: Session, keys: Set[TaskKey]) -> tuple[TaskKey, ...]:
    return tuple(k for k in s.under_way if k not in keys)


def _chosen(s: Session, entry: Entry, t: int) -> Session:
    return replace(s, chosen=key_of(e.StepChosen.from_entry(entry)))


def _extended(s: Session, entry: Entry, t: int) -> Session:
    extended = e.StepExtended.from_entry(entry)
    key = key_of(extended)
    work = s.work.get(key)
    if work is None or not work.running:
        return s
    longer = replace(work, extended_ms=work.extended_ms + extended.by_ms)
    return without_call(replace(s, work={**s.work, key: longer}), call_id(key))


def _redone(s: Session, entry: Entry, t: int) -> Session:
    redone = e.StepRedone.from_entry(entry)
    ordinal, first = redone.impression, redone.step
    at = s.shape.place_of.get(first)
    if at is None:
        return s
    again = {k for k in s.work
             if k.impression == ordinal and s.shape.place_of.get(k.step, -1) >= at}
    # Their attempts stay in the history; the next ones count on from them.
    return replace(s, work={k: w for k, w in s.work.items() if k not in again},
                   under_way=_without(s, again), again=s.again | again,
                   hand=None if s.hand in again else s.hand, chosen=None)


def _timed(s: Session, entry: Entry, t: int) -> Session:
    started = c.BenchClockStarted.from_entry(entry)
    clock = TimerState(started.clock, started.name, t, started.ms)
    return replace(without_call(s, clock.id), timed={**s.timed, clock.id: clock},
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
    seen = e.SessionContinued.from_entry(entry).last_seen_ms
    off = 0 if seen is None else max(0, entry.at.wall_ms - seen)
    if off > CLOSED_MS and s.paused_t is None and s.hand is not None and s.running(s.hand):
        # A pause said before leaving covers it. What ended in a book from before keeps what its
        # end says: this is read where a step is ended.
        s = replace(s, work={**s.work, s.hand: replace(s.work[s.hand], unseen=True)})
    return replace(s, breaks=(*s.breaks, (max(0, t - off), t)),
                   jumps=(*s.jumps, Jump("continued", off, entry.at, t)))


def _due(s: Session, entry: Entry, t: int) -> Session:
    due = c.CallDue.from_entry(entry)
    return replace(s, calls={**s.calls, due.call: Call(due.call, t, due.clean)})


def _called(s: Session, entry: Entry, t: int) -> Session:
    return _call(s, c.CallMade.from_entry(entry).call, lambda x: replace(x, called=True))


def _answered(s: Session, entry: Entry, t: int) -> Session:
    name = c.CallAnswered.from_entry(entry).call
    s = _call(s, name, lambda x: replace(x, called=True, answered=True))
    if name in s.timed:
        s = replace(s, timed={k: v for k, v in s.timed.items() if k != name})
        return without_call(s, name)
    return replace(s, muted={k: m for k, m in s.muted.items() if k != name})


def _call(s: Session, name: str, change: Callable[[Call], Call]) -> Session:
    call = s.calls.get(name)
    return s if call is None else replace(s, calls={**s.calls, call.id: change(call)})


def _muted(s: Session, entry: Entry, t: int) -> Session:
    muted = c.CallMuted.from_entry(entry)
    until = None if muted.until_ms is None else t + muted.until_ms
    return replace(s, muted={**s.muted, muted.call: until})


#: Answers after which nobody knows how long the work itself took.
_UNTIMED: Final = frozenset({"away", "forgot"})


def _ran_long(s: Session, work: Attempt) -> bool:
    """Whether a step of the hands ran far over its high time, pauses and all."""
    step = s.shape.by_id.get(work.key.step)
    return (work.taken and step is not None and step.hands != "free" and step.time is not None
            and work.finished_t is not None
            and work.finished_t - work.started_t > step.time.high.ms + OVER_MS)


def _question(s: Session, key: TaskKey, attempt: int, answer: str) -> Session:
    def said(work: Attempt) -> Attempt:
        return replace(work, question=answer, taken=work.taken and answer not in _UNTIMED)

    work = s.work.get(key)
    if work is not None and work.attempt == attempt:
        s = replace(s, work={**s.work, key: said(work)})
    history = tuple(said(w) if (w.key, w.attempt) == (key, attempt) else w for w in s.history)
    left = tuple(w for w in s.to_ask if (w.key, w.attempt) != (key, attempt))
    return replace(s, history=history, to_ask=left)


def _questioned(s: Session, entry: Entry, t: int) -> Session:
    asked = c.TimeQuestioned.from_entry(entry)
    return _question(s, key_of(asked), asked.attempt, "asked")


def _explained(s: Session, entry: Entry, t: int) -> Session:
    told = c.TimeExplained.from_entry(entry)
    key = key_of(told)
    s = _question(s, key, told.attempt, told.answer)
    work = next((w for w in s.history if (w.key, w.attempt) == (key, told.attempt)), None)
    if told.answer == "away" and work is not None and work.finished_t is not None:
        s = replace(s, breaks=(*s.breaks, (work.started_t, work.finished_t)))
    return s


def _must(s: Session, entry: Entry, t: int) -> Session:
    answer = e.MustAnswered.from_entry(entry)
    at = (answer.owner, answer.step)
    return replace(s, musts={**s.musts, at: (*s.musts.get(at, ()), answer.fact)},
                   musts_at={**s.musts_at, at: entry.at})


def _taken_over(s: Session, entry: Entry, t: int) -> Session:
    over = e.StepTakenOver.from_entry(entry)
    step = Step(inherited_id(over.owner, over.step), "after", over.do, over.hands,
                must=over.must, lines=given(over.lines, ()), care=given(over.care, None),
                care_short=given(over.care_short, None), short=given(over.short, None))
    if any(x.id == step.id for x in s.inherited):
        return s
    whose = TakenOver(given(over.print, over.owner.partition("@")[0]), given(over.paper, None))
    return replace(s, inherited=(*s.inherited, step), owners={**s.owners, step.id: over.owner},
                   taken_over={**s.taken_over, step.id: whose})


def _stepped(s: Session, entry: Entry, t: int) -> Session:
    by_ms = c.WallClockStepped.from_entry(entry).by_ms
    return replace(s, jumps=(*s.jumps, Jump("clock stepped", by_ms, entry.at, t)))


def _slept(s: Session, entry: Entry, t: int) -> Session:
    ms = c.MachineSlept.from_entry(entry).ms
    return replace(s, jumps=(*s.jumps, Jump("slept", ms, entry.at, t)))


def _wanted(s: Session, entry: Entry, t: int) -> Session:
    return replace(s, wanted=e.WantedSet.from_entry(entry).wanted, limit=None, enough=False)


def _one_more(s: Session, entry: Entry, t: int) -> Session:
    return replace(s, enough=False, limit=e.OneMoreSaid.from_entry(entry).limit)


def _left_off(s: Session, entry: Entry, t: int) -> Session:
    return replace(s, left_off=e.LeftOffWritten.from_entry(entry).text)


def _joined(s: Session, entry: Entry, t: int) -> Session:
    return replace(s, helpers=(*s.helpers, e.HelperJoined.from_entry(entry).name))


def _present(s: Session, entry: Entry, t: int) -> Session:
    return replace(s, helpers=(*s.helpers, e.HelperPresent.from_entry(entry).name))


#: Every kind about work, clocks and time.
WORK: Final[dict[str, Callable[[Session, Entry, int], Session]]] = {
    "step started": _started,
    "step finished": _finished,
    "step put off": _put_off,
    "step chosen": _chosen,
    "skip said": _skip_said,
    "leave said": _leave_said,
    "step extended": _extended,
    "redone": _redone,
    "timed": _timed,
    "paused": _paused,
    "resumed": _resumed,
    "continued": _continued,
    "due": _due,
    "called": _called,
    "answered": _answered,
    "muted": _muted,
    "time questioned": _questioned,
    "time explained": _explained,
    "must answered": _must,
    "step taken over": _taken_over,
    "step left": lambda s, e, t: s,
    "blankets seen to": lambda s, e, t: s,
    "clock stepped": _stepped,
    "slept": _slept,
    "wanted set": _wanted,
    "enough said": lambda s, e, t: replace(s, enough=True, limit=None),
    "one more said": _one_more,
    "ghost said": lambda s, e, t: replace(s, ghost_next=True),
    "left off": _left_off,
    "helper joined": _joined,
    "helper present": _present,
    "helper left": lambda s, e, t: s,
    "can emptied": lambda s, e, t: replace(s, can_emptied=e.at),
    "discarded": lambda s, e, t: replace(s, discarded=True),
    "closed": lambda s, e, t: replace(s, closed=e.at, hand=None, chosen=None),
}
