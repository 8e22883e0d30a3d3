"""What begins and ends by itself, once something has changed.

`draft_auto_steps` is run at the end of every action, so that one tread is one step: a
wait begins when what it follows is done, a hands step (or the wash before it)
when no other is in progress, the next impression when its plate is free, and
the session closes when its last step is done.
"""

from __future__ import annotations

from benchapp.events.call import BenchClockStarted, CallAnswered, CallMade, TimeQuestioned
from benchapp.events.impression import (
    ImpressionBegun,
    ImpressionLaidToDry,
    ImpressionPulled,
    ImpressionSetAside,
    SettingFound,
)
from benchapp.events.session import SessionClosed, StepStarted
from benchapp.quantities import Duration
from benchapp.recipe.model import Step
from benchapp.session import paper
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, WASH
from benchapp.session.context import SessionContext, is_muted, worked_ms
from benchapp.session.counting import pull_purpose
from benchapp.session.day_end import leave_to, not_asked_here
from benchapp.session.fold_work import OVER_MS
from benchapp.session.left import asked_again
from benchapp.session.marks import free_mark
from benchapp.session.names import call_id, next_sheet_number
from benchapp.session.next_steps import (
    after_settled,
    before_over,
    chosen_still,
    is_finished,
    may_begin,
    next_hands,
    next_ordinal,
    next_pack_size,
    printing_over,
    waits_ready,
)
from benchapp.session.room_settings import to_record
from benchapp.session.state import StudioState, TaskKey

#: One action begins one impression at most; nothing can run away.
BEGUN_AT_ONCE = 1


def draft_auto_steps(page: SessionContext, *, by_time: bool = False) -> None:
    """Draft all that follows by itself.

    Args:
        page: Where it is drafted.
        by_time: Time alone went on: no call is answered by that.
    """
    begun = len(page.s.impressions)
    while page.s.closed is None:
        if not (_lay_to_dry(page) or _begin_waits(page) or _begin_next(page, begun)
                or _begin_hands(page, by_time=by_time) or _close(page)):
            break
    if page.s.closed is not None or not page.state.clean:
        return
    if not by_time:
        speak_silent(page)
    _question(page)


def _lay_to_dry(page: SessionContext) -> bool:
    for imp in page.s.active:
        if imp.pulled and is_finished(page.s, imp.ordinal):
            ended = ImpressionSetAside if imp.verdict == "spoiled" else ImpressionLaidToDry
            page.emit(ended(impression=imp.ordinal))
            return True
    for imp in page.s.impressions:  # judged anew since
        if imp.aside and imp.verdict != "spoiled":
            page.emit(ImpressionLaidToDry(impression=imp.ordinal))
            return True
    return False


def _begin_waits(page: SessionContext) -> bool:
    for key in list(waits_ready(page.s)):
        draft_begin(page, key)
        return True
    return False


def _begin_next(page: SessionContext, begun: int) -> bool:
    s = page.s
    if s.hand is not None or page.state.bench != page.sid:
        return False
    if len(s.impressions) - begun >= BEGUN_AT_ONCE or not may_begin(s):
        return False
    if any(not i.pulled for i in s.active):
        return False
    begin_impression(page)
    return True


def begin_impression(page: SessionContext) -> None:
    """Draft that work on the next sheet begins; a ghost passes its inking by."""
    s = page.s
    ordinal = next_ordinal(s)
    ghost = s.ghost_next
    page.emit(ImpressionBegun(impression=ordinal, ghost=ghost))
    if ghost:
        skip_inking(page, ordinal)


def skip_inking(page: SessionContext, ordinal: int) -> None:
    """Draft that the inky steps before the last pull are passed by: a ghost is not inked."""
    s = page.s
    last = s.shape.place_of[s.shape.pulls[-1]]
    for step in s.recipe.each[:last]:
        key = TaskKey(step.id, ordinal)
        if step.hands == "inky" and not s.done(key) and s.shape.due_on(step, ordinal):
            page.finish(key, "skipped", taken=False, why="ghost")


def _begin_hands(page: SessionContext, *, by_time: bool) -> bool:
    s = page.s
    if s.hand is not None or s.paused_t is not None or page.state.bench != page.sid:
        return False
    key = next_hands(page.state, s, page.t)
    if key is None or (by_time and key.step == DAMP_OUT and key != s.chosen):
        return False  # sheets in the water call until somebody comes for them
    step = page.step(key)
    if key != s.chosen and step.must and not_asked_here(page, key):
        return True
    if step.hands == "inky" and not page.state.inky and (
            page.writing or key == s.held or (by_time and s.held is not None)):
        return False  # an inky step was put back by hand: time alone begins no other in its place
    if key.impression is not None and key.impression == next_ordinal(s):
        begin_impression(page)
    if _passed_as_said(page, key):
        return True
    if step.hands == "clean" and not page.state.clean:
        key = TaskKey(WASH, key.impression, key.pack)
    draft_begin(page, key)
    return True


def _passed_as_said(page: SessionContext, key: TaskKey) -> bool:
    """Skip or leave a step that has come, where that was said before and it was not chosen."""
    s = page.s
    if key == s.chosen:
        return False
    if key in s.to_skip:
        page.finish(key, "skipped", taken=False, why=s.to_skip[key])
        return True
    other = page.state.sessions.get(s.to_leave.get(key, ""))
    if other is None or other.closed is not None:
        return False  # that session is closed since: the step is due here
    leave_to(page, key, other.id)
    return True


def draft_begin(page: SessionContext, key: TaskKey) -> None:
    """Draft the beginning of a piece of work, and the sheet it takes."""
    page.emit(StepStarted(**page.about(key)))
    if key.step == page.s.shape.sheet_step and key.impression is not None:
        paper.take_sheet(page, key.impression)


def draft_end(page: SessionContext, key: TaskKey, how: str, *, taken: bool = True,
              why: str | None = None) -> None:
    """Draft the end of a piece of work with what it brings about: a pull, a pack in or out."""
    step = page.step(key)
    if step.pulls and how in ("done", "passed", "out of reach") and key.impression is not None:
        draft_pull(page, step, key.impression, at_press=taken)
    if how != "skipped" and key.pack is not None:
        if key.step == DAMP_IN:
            paper.put_in(page, key.pack, next_pack_size(page.state, page.s, page.t).sheets)
        elif key.step == DAMP_OUT:
            paper.draft_take_out(page, key.pack)
    page.finish(key, how, taken=taken, why=why)
    if step.lasts is not None and how in ("done", "passed", "out of reach"):
        _start_lasting(page, *step.lasts)


def _start_lasting(page: SessionContext, name: str, time: Duration) -> None:
    """Draft the clock of something that is good for a time; what is fresh takes the old one's."""
    for clock in page.s.timed.values():
        if clock.name == name:
            page.emit(CallAnswered(call=clock.id))
    page.emit(BenchClockStarted(
        clock=f"clock {page.s.clocks_started + 1}", name=name, ms=time.ms))


def draft_pull(page: SessionContext, step: Step, ordinal: int, *, at_press: bool) -> None:
    """Draft a pull: the first gives the sheet its number and mark."""
    imp = page.s.impression(ordinal)
    if imp is None:
        return
    if not imp.sheets:
        paper.take_sheet(page, ordinal)
    number = imp.number or next_sheet_number(page.s)
    purpose, state, by = pull_purpose(page.s, imp)
    for x in to_record(page.state, page.s, step.pulls):
        page.emit(SettingFound(impression=ordinal, name=x.said.name, value=x.real, by=x.by))
    sheet = imp.mark or free_mark(page.s.letters, number, marks_given(page.state))
    page.emit(ImpressionPulled(
        impression=ordinal, step=step.id, plates=step.pulls, number=number, mark=sheet,
        purpose=purpose, purpose_by=by, state=state, at_press=at_press))


def marks_given(room: StudioState) -> frozenset[str]:
    """Every mark that stands on a sheet of the sessions in the room."""
    return frozenset(i.mark for s in room.sessions.values() for i in s.impressions
                     if i.mark is not None)


def _close(page: SessionContext) -> bool:
    s = page.s
    if (s.hand is not None or page.state.bench != page.sid or not before_over(s)
            or not printing_over(s) or not after_settled(s)):
        return False
    if chosen_still(s) is not None or s.paused_t is not None:
        return False
    if (hot := asked_again(s)) is not None:
        clean = page.step(hot).hands != "clean" or page.state.clean
        draft_begin(page, hot if clean else TaskKey(WASH))
        return True
    page.emit(SessionClosed())
    return True


def speak_silent(page: SessionContext) -> None:
    """Calls that were silent while hands were inky are spoken as one list, and so answered."""
    for call in sorted(page.s.calls.values(), key=lambda c: c.due_t):
        if call.called or is_muted(page.s, call.id, page.t):
            continue
        page.emit(CallMade(call=call.id))
        page.emit(CallAnswered(call=call.id))
        for key, work in page.s.work.items():
            if work.running and call_id(key) == call.id and page.step(key).hands == "free":
                draft_end(page, key, "done")
                draft_auto_steps(page)
                return


def _question(page: SessionContext) -> None:
    """A step far over its high time is asked about once, at a clean moment."""
    s, t = page.s, page.t
    for work in s.to_ask:
        step = s.shape.by_id.get(work.key.step)
        if step is None or step.time is None:
            continue
        if worked_ms(s, work, t) > step.time.high.ms + OVER_MS:
            page.emit(TimeQuestioned(
                step=work.key.step, impression=work.key.impression, attempt=work.attempt,
                pack=work.key.pack))
