"""Moves out of the ordinary order: skip, redo, here, choose, end, extend, take back, leave."""

from __future__ import annotations

from typing import Final

from benchapp.edition import packs as damp
from benchapp.events.entry import Moment
from benchapp.events.streams import family
from benchapp.recipe.model import Step
from benchapp.session import actions as a
from benchapp.session.annotate import drop_running, end_as_it_is, in_hand, last_pulled
from benchapp.session.auto_steps import begin, end, settle
from benchapp.session.coming import before_first, begun_by_itself, coming_inky
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, WASH
from benchapp.session.counting import complete, counting, expected, target
from benchapp.session.day_end import leave_to
from benchapp.session.names import inherited_id
from benchapp.session.next_steps import (
    before_over,
    hands_ready,
    next_hands,
    offered_late,
    pack_in_due,
    printing_over,
    pulled_since,
    ready,
)
from benchapp.session.page import DecisionContext, Refusal, ends_t, wrong_time
from benchapp.session.state import Session, StudioState, TaskKey


def skip(page: DecisionContext, action: a.SkipStep) -> Refusal | None:
    """Pass the step in progress, or the next one, by: with the reason why."""
    s = page.s
    if action.off:
        if action.key is None or action.key not in s.to_skip:
            return NOT_SAID
        page.write("skip said", step=action.key.step, impression=action.key.impression, why=None)
        return None
    now = s.hand or next_hands(page.room, s, page.t)
    key = action.key or now
    if key is None:
        return Refusal("No step is in progress", "go on, or extend the wait")
    if not action.why.strip():
        return Refusal("A step is not skipped without a reason", "write: skip and why")
    if key != now and key not in coming_inky(page.room, s, page.now):
        return NOT_COMING
    refusal = _not_skipped(page, key)
    if refusal is not None:
        return refusal
    if key != now:
        page.write("skip said", step=key.step, impression=key.impression, why=action.why)
        return None
    page.finish(key, "skipped", taken=False, why=action.why)
    settle(page)
    return None


#: Said of a step that is neither to be skipped nor to be left.
NOT_SAID: Final = Refusal("You said nothing about that step", "it comes at its place")
#: Said of a step that is neither in hand nor one of the inky ones that come before the wash.
NOT_COMING: Final = Refusal("That step does not come now",
                            "name the one in hand, or an inky one that comes before the wash")


def _not_skipped(page: DecisionContext, key: TaskKey) -> Refusal | None:
    step = page.step(key)
    if key.step == WASH:
        return Refusal("Only a wash makes hands clean", "wash, then go on; or a helper joins")
    if step.must:
        return Refusal(f"{step.do} must be answered", "say its number, or not said", step.must)
    if step.pulls:
        return Refusal("A pull is not skipped",
                       "say end after an earlier pull, or spoiled before the first")
    return None


def redo(page: DecisionContext, action: a.Redo) -> Refusal | None:
    """An earlier step of the impression in hand is due again, and those after it."""
    s = page.s
    imp = in_hand(s) or last_pulled(s)
    at = s.shape.place_of.get(action.step)
    if imp is None or at is None or not s.done(TaskKey(action.step, imp.ordinal)):
        return Refusal("That step is not done for the impression in hand",
                       "name a step of it that is done")
    if imp.over:
        where = "set aside" if imp.aside else "under the boards"
        return Refusal(f"{imp.mark} is {where}", "note what was done to it instead")
    pulled = [s.shape.place_of[p.step] for p in imp.pulls]
    if pulled and at <= max(pulled):
        return Refusal(f"{imp.mark} is pulled already", "only a step after the pull is done again")
    again = [k for k, w in s.work.items() if w.running and k.impression == imp.ordinal
             and (k.step == WASH or s.shape.place_of.get(k.step, -1) >= at)]
    for key in again:
        page.finish(key, "dropped", taken=False)
    if page.s.hand is not None:
        page.write("step put off", **page.about(page.s.hand))
    page.write("redone", impression=imp.ordinal, step=action.step)
    settle(page)
    return None


def here(page: DecisionContext, action: a.Here) -> Refusal | None:
    """Jump to a later step: what was passed is done, time not taken; a must is never passed."""
    s = page.s
    goal = s.shape.by_id.get(action.step)
    steps, ordinal = _line_of(s)
    if goal is None or goal not in steps:
        return Refusal("That step does not come now", "name a later step of what is in hand")
    at = steps.index(goal)
    passed = [x for x in steps[:at] if _to_pass(s, x, ordinal)]
    if TaskKey(goal.id, ordinal) in s.work:
        return Refusal(f"{goal.do} is begun or done already", "name a later step")
    if goal.optional and pulled_since(s, goal, ordinal):
        return Refusal(f"{goal.do} comes before the pull", "name a later step")
    asked = next((x for x in passed if x.must), None)
    if asked is not None:
        return Refusal(f"{asked.do} must be answered first", "say its number", asked.must)
    _leave_hand(page, ordinal)
    for step in passed:
        key = TaskKey(step.id, ordinal)
        if key in s.to_skip:
            page.finish(key, "skipped", taken=False, why=s.to_skip[key])
        else:
            end(page, key, "passed", taken=False)
    page.write("step chosen", **page.about(TaskKey(goal.id, ordinal)))
    settle(page)
    return None


def _line_of(s: Session) -> tuple[tuple[Step, ...], int | None]:
    """The steps in line just now, and for which impression."""
    imp = in_hand(s)
    if imp is not None:
        return s.recipe.each, imp.ordinal
    return (s.recipe.after if before_over(s) else s.recipe.before), None


def _to_pass(s: Session, step: Step, ordinal: int | None) -> bool:
    key = TaskKey(step.id, ordinal)
    if s.done(key) or (ordinal is not None and not s.shape.due_on(step, ordinal)):
        return False
    return not step.optional or s.running(key)


def _leave_hand(page: DecisionContext, ordinal: int | None) -> None:
    """The wash was done on the way; paper in hand is laid aside."""
    hand = page.s.hand
    if hand is None:
        return
    if hand.step == WASH:
        page.finish(hand, "passed", taken=False)
    elif hand.step in (DAMP_IN, DAMP_OUT) or hand.impression != ordinal:
        page.write("step put off", **page.about(hand))


def choosable(room: StudioState, s: Session, t: int) -> tuple[TaskKey, ...]:
    """Every step that may be begun now: its own predecessors are done."""
    keys = [k for k in hands_ready(s, offered=True) if k not in s.work]
    for steps, ordinal in ([(s.recipe.each, i.ordinal) for i in s.impressions if not i.over]
                           if before_over(s) else [(s.recipe.before, None)]):
        keys += [TaskKey(x.id, ordinal) for x in ready(s, steps, ordinal, offered=True)
                 if x.hands == "free" and x.optional]
    keys += offered_late(s)
    into = pack_in_due(room, s, t)
    keys += [] if into is None else [into.key]
    name = s.shape.paper_name
    keys += [TaskKey(DAMP_OUT, pack=p.id) for p in damp.in_water(room.packs, t)
             if p.paper == name and not s.running(TaskKey(DAMP_OUT, pack=p.id))]
    return tuple(dict.fromkeys(keys))


def choosable_then(room: StudioState, s: Session, now: Moment) -> tuple[TaskKey, ...]:
    """What can be begun in place of the inky step that comes, once what is in hand is done."""
    page = before_first(room, s, now)
    if s.hand is None or page is None:
        return ()
    return tuple(k for k in choosable(page.room, page.s, page.t) if k != page.s.hand)


def choose(page: DecisionContext, action: a.Choose) -> Refusal | None:
    """Do another step next than the one proposed; what is in hand is laid aside, or done first."""
    s, key = page.s, action.key
    if action.then:
        if key not in choosable_then(page.room, s, page.now):
            return Refusal("That step cannot begin then", "the step before it is not done")
        page.write("step chosen", **page.about(key))
        return None
    if key == s.hand:
        return Refusal(f"{page.step(key).do} is in hand already", "go on")
    if key not in choosable(page.room, s, page.t):
        return Refusal("That step cannot begin yet", "the step before it is not done")
    if page.step(key).hands == "free":
        if s.hand is not None and _same_plate(s, s.hand, key):
            page.write("step put off", **page.about(s.hand))
        begin(page, key)
        return None
    if s.hand is not None:
        page.write("step put off", **page.about(s.hand))
    if s.done(key):
        begin(page, key)
        return None
    page.write("step chosen", **page.about(key))
    settle(page)
    return None


def _same_plate(s: Session, hand: TaskKey, key: TaskKey) -> bool:
    """Whether what is in hand is a later impression's work on the plate the step needs."""
    plates = s.shape.plates_of
    return (hand.impression is not None and hand.impression != key.impression
            and not set(plates.get(hand.step, ())).isdisjoint(plates.get(key.step, ())))


def end_here(page: DecisionContext) -> Refusal | None:
    """The impression stays as it is, after an earlier pull: a progressive, unless it is spoiled."""
    s = page.s
    imp = in_hand(s)
    if imp is None or not imp.pulls:
        return Refusal("The impression in hand has no pull yet",
                       "say spoiled to give this try up")
    if complete(s, imp) or imp.ended is not None:
        return Refusal(f"{imp.mark} has its last pull", "nothing is left to leave out")
    last = s.shape.place_of[s.shape.pulls[-1]]
    for step in s.recipe.each[: last + 1]:
        key = TaskKey(step.id, imp.ordinal)
        if not s.done(key) and s.shape.due_on(step, imp.ordinal):
            page.finish(key, "skipped", taken=False, why="the impression stays as it is")
    drop_running(page, imp.ordinal)
    end_as_it_is(page, imp, imp.verdict)
    settle(page)
    return None


def extend(page: DecisionContext, action: a.Extend) -> Refusal | None:
    """More time for a wait: counted from now where it is over already."""
    s = page.s
    wrong = wrong_time(action.by_ms, "write: extend 5 min")
    if wrong is not None:
        return wrong
    first = min(_extendable(page, action.key), key=lambda c: c[0], default=None)
    if first is None:
        return Refusal("No wait runs that could be given more time", "start a clock with time")
    _, key, counted_to = first
    by = action.by_ms + max(0, page.t - counted_to)
    if key.step == DAMP_OUT:
        page.write_to(f"pack/{key.pack}", "soak extended", pack=key.pack, by_ms=by, by=s.id)
    else:
        page.write("step extended", **page.about(key), by_ms=by)
    return None


def _extendable(page: DecisionContext, named: TaskKey | None) -> list[tuple[int, TaskKey, int]]:
    """Waits and soaks that run: when each is over, which it is, and up to when its time counts.

    A wait nobody knows the length of is over now, and has counted nothing since it began.
    """
    s = page.s
    out = []
    for key, work in s.work.items():
        if work.running and page.step(key).hands == "free":
            over = ends_t(page.step(key), work)
            out.append((page.t, key, work.started_t) if over is None else (over, key, over))
    out += [(p.soaked_t, TaskKey(DAMP_OUT, pack=p.id), p.soaked_t)
            for p in damp.in_water(page.room.packs, page.t) if p.soaked_t is not None]
    return [x for x in out if named in (None, x[1])]


def one_more(page: DecisionContext) -> Refusal | None:
    """One counting impression more than there would be."""
    s = page.s
    have = counting(s) + expected(s)
    goal = target(s)
    page.write("one more said", limit=(have if s.enough or goal is None else max(have, goal)) + 1)
    settle(page)
    return None


def take_back(page: DecisionContext) -> Refusal | None:
    """The last action of this session not taken back, with all it caused."""
    s = page.s
    begun = begun_by_itself(page.room, s)
    if begun is not None:
        page.write("step put off", **page.about(begun), hands="clean")
        return None
    if not s.actions:
        return Refusal("Nothing is left to take back", "corrections can be said in words")
    action = s.actions[-1].action
    touched = {e.stream for e in page.room.journal if e.action == action}
    beside = sorted(x for x in touched if family(x) in ("pack", "clock"))
    if any(_rested_on(page, stream, action) for stream in beside):
        return Refusal("A sheet of that pack was taken elsewhere since",
                       "say sheet back there first")
    if _left_and_done(page, action):
        return Refusal("The session it was left to has done it", "answer it there again")
    for stream in beside:
        head, _, id_ = stream.partition("/")
        page.close_with(stream, "taken back", **{head: id_, "action": action})
    page.close_with(f"session/{page.sid}", "taken back", action=action)
    return None


def _left_and_done(page: DecisionContext, action: str) -> bool:
    """Whether another session has begun, or closed without, the step this action left to it."""
    for entry in page.room.journal:
        if entry.action == action and entry.kind == "step taken over":
            other = page.room.sessions.get(entry.stream.partition("/")[2])
            key = TaskKey(inherited_id(entry.body["owner"], entry.body["step"]))
            if other is None or key in other.work or other.closed is not None:
                return True
    return False


def _rested_on(page: DecisionContext, stream: str, action: str) -> bool:
    """Whether another session did something with the pack after that action."""
    since = False
    for entry in page.room.journal:
        if entry.action == action:
            since = True
        elif (since and entry.stream == stream and entry.action not in page.room.void
              and entry.body.get("by") not in (None, page.sid)):
            return True
    return False


def leave_step(page: DecisionContext, action: a.LeaveStep) -> Refusal | None:
    """An after step is left to another open session; the last to close asks it."""
    s = page.s
    if action.off:
        if action.key is None or action.key not in s.to_leave:
            return NOT_SAID
        page.write("leave said", step=action.key.step, to=None)
        return None
    other = page.room.sessions.get(action.to)
    if other is None or other.closed is not None or other.id == s.id:
        return Refusal("That session is not open", "name one that is")
    now = s.hand if s.hand is not None else next_hands(page.room, s, page.t)
    key = action.key or now
    if key is not None and key != now and key not in coming_inky(page.room, s, page.now):
        return NOT_COMING
    if key is None or page.step(key).section != "after" or (key == now and not printing_over(s)):
        return Refusal("Only a step after printing is left to another session", "finish it here")
    if key == now:
        leave_to(page, key, other.id)
        settle(page)
        return None
    page.write("leave said", step=key.step, to=other.id)
    return None
