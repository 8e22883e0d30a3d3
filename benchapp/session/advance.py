"""Going on: what one tread does, and what time does by itself."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from benchapp.decision import Refusal
from benchapp.edition.packs import Pack
from benchapp.events.call import CallAnswered, CallDue, CallMade, MachineSlept, WallClockStepped
from benchapp.events.moments import slept_ms, stepped_ms
from benchapp.events.session import SessionResumed
from benchapp.recipe.order import shown_first
from benchapp.session import paper, room_clocks
from benchapp.session.auto_steps import begin_impression, draft_auto_steps, draft_begin, draft_end
from benchapp.session.calls import (
    clocks_of,
    hands_due_t,
    hands_of,
    next_is_clean,
    next_wash_t,
    spoils_t,
)
from benchapp.session.compiled_recipe import DAMP_OUT, WASH
from benchapp.session.context import SessionContext, ends_t, is_muted
from benchapp.session.limits import waiting_sheets
from benchapp.session.names import after_closing, call_id, is_limit, limit_call_id
from benchapp.session.next_steps import (
    hands_ready,
    next_hands,
    next_ordinal,
    packs_out_due,
    what_holds,
)
from benchapp.session.sheet_asked import NONE_READY, sheet_answers
from benchapp.session.state import Call, StudioState, TaskKey

#: Wall or sleeping time off by more than this against the boot clock is a jump.
JUMP_MS = 2_000


def go_on(page: SessionContext) -> Refusal | None:
    """The first that applies: resume, answer the call, end the hands step, cut the wait short."""
    s = page.s
    if s.closed is not None:
        return Refusal("The session is closed", "name its sheets by their marks to judge them or "
                       "write notes; " + after_closing(s.name))
    if s.paused_t is not None:
        page.emit(SessionResumed())
    elif (call := current_call(page)) is not None:
        answer_call(page, call)
    elif s.hand is not None:
        refusal = _asked(page, s.hand)
        if refusal is None:
            end_hands(page, s.hand)
        return refusal
    elif s.held is not None and s.held == next_hands(page.state, s, page.t):
        draft_begin(page, s.held)
        return None
    else:
        return _cut_short(page)
    draft_auto_steps(page)
    return None


def _asked(page: SessionContext, key: TaskKey) -> Refusal | None:
    """What the step in hand asks, which a tread alone does not answer."""
    step = page.step(key)
    if step.must:
        return ask_fact(step.must, step.do)
    sheets = sheet_answers(page.state, page.s, page.t)
    return ask_fact(sheets, NONE_READY) if sheets else None


def end_hands(page: SessionContext, key: TaskKey) -> None:
    """Draft the end of the hands step in progress, whatever it asks, and what follows by itself."""
    if page.step(key).out_of_reach:
        _end_out_of_reach(page, key)
    else:
        draft_end(page, key, "done", taken=not _start_unseen(page, key))
        draft_auto_steps(page)


def _start_unseen(page: SessionContext, key: TaskKey) -> bool:
    """Whether a step came on the screen as one out of reach ended: it may be half done by then."""
    began = page.s.work[key].started_t
    ended = (page.s.work.get(TaskKey(step, key.impression)) for step in page.s.shape.by_id)
    return any(w is not None and w.how == "out of reach" and w.finished_t == began for w in ended)


def ask_fact(must: tuple[str, ...], do: str) -> Refusal:
    """A tread alone never ends a step that must be given a fact: it asks again."""
    facts = ", ".join(f"{i} {fact}" for i, fact in enumerate(must, 1))
    return Refusal(f"{do}: which? {facts}", "say its number or its words", must)


def _end_out_of_reach(page: SessionContext, key: TaskKey) -> None:
    """A step without a tread of its own ends with the one after it, time not taken.

    Where nothing of the same impression comes after it, the tread was its own. A wash, a fact
    and a step with a caution are never passed unseen: they come on the screen first.
    """
    before = page.mark()
    draft_end(page, key, "out of reach", taken=False)
    draft_auto_steps(page)
    after = page.s.hand if page.s.closed is None else None
    if after is None or after.impression != key.impression:
        page.back_to(before)
        draft_end(page, key, "done")
        draft_auto_steps(page)
        return
    step = page.step(after)
    if (step.must or after.step == WASH or shown_first(step) or _asked_elsewhere(page, before)
            or sheet_answers(page.state, page.s, page.t)):
        return
    if step.out_of_reach:
        _end_out_of_reach(page, after)
        return
    draft_end(page, after, "done", taken=False)
    draft_auto_steps(page)


def _asked_elsewhere(page: SessionContext, since: tuple[StudioState, int]) -> bool:
    """Whether a question was left to another session, or answered by it, since that mark.

    What stands behind it is not the step the printer expected to be shown.
    """
    return any(d.kind in ("step left", "must answered") for d in page.drafts[since[1]:])


def _cut_short(page: SessionContext) -> Refusal | None:
    """End the wait the next step needs: cut short, unless its time was up or nobody knew it."""
    held = what_holds(page.state, page.s, page.t)
    if held is None:
        draft_auto_steps(page)  # paper may be ready since time was last looked at
        if page.drafts:
            return None
        return Refusal("There is no next step", "say next and a step, one more, or enough")
    if isinstance(held, Pack):
        if held.where(page.t) == "in the water":
            draft_begin(page, TaskKey(DAMP_OUT, pack=held.id))
            return None
        _take_resting(page, held)
    else:
        over = ends_t(page.step(held), page.s.work[held])
        draft_end(page, held, "cut short" if over is not None and page.t < over else "done")
    draft_auto_steps(page)
    return None


def _take_resting(page: SessionContext, pack: Pack) -> None:
    """The next step has a sheet of a pack that still rests; the others go on resting."""
    key = next(hands_ready(page.s))
    if key.impression == next_ordinal(page.s):
        begin_impression(page)
    if key.impression is not None:
        paper.take_from(page, key.impression, pack)


# -- calls ------------------------------------------------------------------------------


def live_session_calls(page: SessionContext) -> list[Call]:
    """The calls whose clock still stands, most harmful first: paper in the water, then waits."""
    s = page.s
    running = {call_id(k) for k in s.under_way}
    of_room = {clock.call: call for clock, call in room_clocks.live_room_calls(page.state, page.t)}
    water = {f"soak {p.id}" for p in page.state.packs.values() if p.where(page.t) == "in the water"}
    limits = {limit_call_id(TaskKey(x.limit.step, x.impression)) for x in waiting_sheets(s, page.t)}
    alive = running | water | set(s.timed) | limits
    mine = [c for c in s.calls.values() if c.id in alive and c.id not in of_room]
    return sorted((*mine, *of_room.values()), key=lambda c: (
        c.id not in water, c.id.startswith("clock "), c.due_t, c.id))


def current_call(page: SessionContext) -> Call | None:
    """The call that sounds or flashes now and that a tread answers, the most harmful first.

    A sheet that waits has hands at work for it: the tread that ends this ends the call too.
    """
    return next((c for c in live_session_calls(page) if c.called and not c.answered
                 and not is_limit(c.id) and not is_muted(page.s, c.id, page.t)), None)


def answer_call(page: SessionContext, call: Call) -> None:
    """Answer a call; the end of a wait ends that wait."""
    of_room = {clock.call: clock for clock, _ in room_clocks.live_room_calls(page.state, page.t)}
    clock = of_room.get(call.id)
    if clock is not None:
        page.emit_to(clock.stream, clock.answered(page.sid))
        return
    page.emit(CallAnswered(call=call.id))
    for key, work in page.s.work.items():
        if work.running and call_id(key) == call.id and page.step(key).hands == "free":
            draft_end(page, key, "done")
            return


def answer_named(page: SessionContext, named: str | None) -> Refusal | None:
    """Answer one call and do nothing else: a pause stays a pause.

    Args:
        page: Where it is drafted.
        named: Which call; None: the most harmful.
    """
    call = next((c for c in live_session_calls(page) if c.called and not c.answered
                 and named in (None, c.id)), None)
    if call is None:
        return Refusal("Nothing is calling", "see the list of clocks")
    answer_call(page, call)
    draft_auto_steps(page)
    return None


# -- time -------------------------------------------------------------------------------


def tick(page: SessionContext) -> None:
    """Time passed: clocks that jumped, waits that ended, calls that fell due, in every session."""
    _jumps(page)
    bench = page.sid
    for session in page.state.open_sessions:
        page.sid = session.id
        _waits(page)
        _hands_calls(page)
        _timed(page)
        _limits(page)
        _soaks(page)
        draft_auto_steps(page, by_time=True)
    page.sid = bench
    room_falls_due(page)


def _jumps(page: SessionContext) -> None:
    last, now = page.state.last, page.now
    if last is None:
        return
    stepped, slept = stepped_ms(last, now), slept_ms(last, now)
    if abs(stepped) > JUMP_MS:
        page.emit(WallClockStepped(by_ms=stepped))
    if slept > JUMP_MS:
        page.emit(MachineSlept(ms=slept))


def _waits(page: SessionContext) -> None:
    for key, work in page.s.live:
        step = page.step(key)
        over = ends_t(step, work)
        if step.hands != "free" or over is None or page.t < over:
            continue
        if step.ends_itself:
            draft_end(page, key, "ended itself")
        else:
            _fall_due(page, call_id(key), clean=next_is_clean(page.s, key),
                      spoils=spoils_t(page.s, key, over))


def _hands_calls(page: SessionContext) -> None:
    key = page.s.hand
    if key is None:
        return
    due = hands_due_t(page.step(key), page.s.work[key])
    if due is not None and page.s.paused_t is None and page.t >= due:
        _fall_due(page, call_id(key), clean=False)


def _timed(page: SessionContext) -> None:
    for clock in page.s.timed.values():
        if page.t >= clock.started_t + clock.ms:
            _fall_due(page, clock.id, clean=False)


def _limits(page: SessionContext) -> None:
    for run in waiting_sheets(page.s, page.t):
        if run.left_ms <= 0:
            _fall_due(page, limit_call_id(TaskKey(run.limit.step, run.impression)), clean=False)


def _soaks(page: SessionContext) -> None:
    for key in packs_out_due(page.state, page.s, page.t):
        if not page.s.running(key):
            _fall_due(page, call_id(key), clean=True)


def _fall_due(page: SessionContext, call: str, *, clean: bool, spoils: int | None = None) -> None:
    """A clock ran out. What needs clean hands stays silent while they are inky and at work.

    Not where it would be spoilt by the next wash, nor where nothing is in hand: the
    printer stands waiting for this very call.
    """
    if call not in page.s.calls:
        page.emit(CallDue(call=call, clean=clean))
    due = page.s.calls.get(call)
    if due is None or due.called or is_muted(page.s, call, page.t):
        return
    if not clean or hands_of(page.state) == "clean" or _too_late(page, spoils):
        page.emit(CallMade(call=call))


def room_falls_due(page: SessionContext, sounded: Collection[str] | None = None) -> None:
    """Clocks that belong to no session ran out, by the same rule.

    Args:
        page: Where it is drafted; it needs no session.
        sounded: The calls that were foreseen and sounded, before time was looked at. What was
            only told at the wash calls once hands are clean. None: time passed.
    """
    hands = hands_of(page.state)
    for clock in room_clocks.running_clocks(page.state, page.t):
        if page.t < clock.due_t or (sounded is not None and clock.call not in sounded):
            continue
        if clock.call not in page.state.calls:
            page.emit_to(clock.stream, clock.due())
        aloud = not clock.clean or hands == "clean" if sounded is None else hands != "washing"
        if aloud and not page.state.calls[clock.call].called:
            page.emit_to(clock.stream, clock.called())


def _too_late(page: SessionContext, spoils: int | None) -> bool:
    """Whether what is to be done would be spoilt before the next expected wash."""
    wash = next_wash_t(page.state, page.t)
    return spoils is not None and hands_of(page.state) == "inky" and (
        wash is None or spoils < wash)


def record_sounded(page: SessionContext, calls: Iterable[str]) -> None:
    """Calls sounded that were foreseen, before time was looked at: let the entries say so.

    What was answered, taken back or given more time meanwhile is left alone, and so is
    what was told at the wash: that list is answered by the wash's end.
    """
    clocks = {c.call: c for c in clocks_of(page.state, page.s, page.t)}
    for call in calls:
        clock = clocks.get(call)
        if clock is None or page.t < clock.due_t:
            continue
        if call not in page.s.calls:
            page.emit(CallDue(call=call, clean=clock.clean))
        if not page.s.calls[call].called and hands_of(page.state) != "washing":
            page.emit(CallMade(call=call))
