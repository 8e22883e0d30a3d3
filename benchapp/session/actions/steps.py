"""Going on, and moves out of the ordinary order: back, skip, redo, here, next."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from types import MappingProxyType
from typing import Final

from benchapp.decision import Refusal
from benchapp.events.entry import Moment
from benchapp.events.event import ActionTakenBack
from benchapp.events.pack import PackActionTakenBack, PackEvent
from benchapp.events.session import (
    SessionActionTakenBack,
    SkipSaid,
    StepChosen,
    StepPutOff,
    StepRedone,
    StepTakenOver,
)
from benchapp.events.streams import stream_family
from benchapp.events.timer import ClockActionTakenBack, ClockEvent
from benchapp.recipe.model import Recipe, Step
from benchapp.session.actions.asking import AskContext, ChoiceQuestion, LineQuestion, Reply
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.typed import NotUnderstood, ParseContext, ParsedLine
from benchapp.session.actions.typed_names import (
    key_next,
    key_said,
    key_then,
    key_to_skip,
    step_among,
    steps_of_hand,
    steps_to_redo,
)
from benchapp.session.advance import go_on
from benchapp.session.annotate import in_hand, last_pulled
from benchapp.session.auto_steps import draft_auto_steps, draft_begin, draft_end
from benchapp.session.coming import begun_by_itself, coming_inky, now_and_coming
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, WASH
from benchapp.session.context import SessionContext
from benchapp.session.names import inherited_id
from benchapp.session.next_steps import before_over, next_hands, pulled_since
from benchapp.session.state import Session, StudioState, TaskKey
from benchapp.session.step_control import choosable_tasks, choosable_then
from benchapp.session.tags import KEYS

__all__ = ["Choose", "GoOn", "Here", "Redo", "SkipStep", "TakeBack"]


@dataclass(frozen=True, slots=True)
class GoOn(Action):
    """Go on: one tread."""


@dataclass(frozen=True, slots=True)
class TakeBack(Action):
    """Take the last action back."""


@dataclass(frozen=True, slots=True)
class SkipStep(Action):
    """Pass a step by: in progress or next, or `key`, which may come yet; `off`: it is not."""

    why: str
    key: TaskKey | None = None
    off: bool = False


@dataclass(frozen=True, slots=True)
class Redo(Action):
    """Do an earlier step of the impression in hand again, and those after it."""

    step: str


@dataclass(frozen=True, slots=True)
class Here(Action):
    """I am here: jump to a later step of the impression in hand."""

    step: str


@dataclass(frozen=True, slots=True)
class Choose(Action):
    """Do this step next: now, or `then`, once the one in hand is done."""

    key: TaskKey
    then: bool = False


def _skip_step(page: SessionContext, action: SkipStep) -> Refusal | None:
    """Pass the step in progress, or the next one, by: with the reason why."""
    s = page.s
    if action.off:
        if action.key is None or action.key not in s.to_skip:
            return NOT_SAID
        page.emit(SkipSaid(step=action.key.step, impression=action.key.impression, why=None))
        return None
    now = s.hand or next_hands(page.state, s, page.t)
    key = action.key or now
    if key is None:
        return Refusal("No step is in progress", "go on, or extend the wait")
    if not action.why.strip():
        return Refusal("A skipped step needs a reason", "write: skip and why")
    if key != now and key not in coming_inky(page.state, s, page.now):
        return NOT_COMING
    refusal = _why_not_skipped(page, key)
    if refusal is not None:
        return refusal
    if key != now:
        page.emit(SkipSaid(step=key.step, impression=key.impression, why=action.why))
        return None
    page.finish(key, "skipped", taken=False, why=action.why)
    draft_auto_steps(page)
    return None


#: Said of a step that is neither to be skipped nor to be left.
NOT_SAID: Final = Refusal("That step is not marked to skip or to leave", "nothing was changed")


#: Said of a step that is neither in hand nor one of the inky ones that come before the wash.
NOT_COMING: Final = Refusal("That step is not next",
                            "name the one in hand, or an inky one that comes before the wash")


def _why_not_skipped(page: SessionContext, key: TaskKey) -> Refusal | None:
    step = page.step(key)
    if key.step == WASH:
        return Refusal("Only a wash makes hands clean", "wash, then go on; or a helper joins")
    if step.must:
        return Refusal(f"{step.do} must be answered", "say its number, or not said", step.must)
    if step.pulls:
        return Refusal("You cannot skip a pull",
                       "say end after an earlier pull, or spoiled before the first")
    return None


def _redo_step(page: SessionContext, action: Redo) -> Refusal | None:
    """An earlier step of the impression in hand is due again, and those after it."""
    s = page.s
    imp = in_hand(s) or last_pulled(s)
    at = s.shape.place_of.get(action.step)
    if imp is None or at is None or not s.done(TaskKey(action.step, imp.ordinal)):
        return Refusal("That step is not done yet for this impression",
                       "name a step you have done")
    if imp.over:
        where = "set aside" if imp.aside else "under the boards"
        return Refusal(f"{imp.mark} is {where}", "write a note about it instead")
    pulled = [s.shape.place_of[p.step] for p in imp.pulls]
    if pulled and at <= max(pulled):
        return Refusal(f"{imp.mark} is pulled already", "you can repeat only a step after the pull")
    again = [k for k, w in s.work.items() if w.running and k.impression == imp.ordinal
             and (k.step == WASH or s.shape.place_of.get(k.step, -1) >= at)]
    for key in again:
        page.finish(key, "dropped", taken=False)
    if page.s.hand is not None:
        page.emit(StepPutOff(**page.about(page.s.hand)))
    page.emit(StepRedone(impression=imp.ordinal, step=action.step))
    draft_auto_steps(page)
    return None


def _jump_here(page: SessionContext, action: Here) -> Refusal | None:
    """Jump to a later step: what was passed is done, time not taken; a must is never passed."""
    s = page.s
    goal = s.shape.by_id.get(action.step)
    steps, ordinal = _line_of(s)
    if goal is None or goal not in steps:
        return Refusal("That step is not next", "name a later step of this part of the day")
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
            draft_end(page, key, "passed", taken=False)
    page.emit(StepChosen(**page.about(TaskKey(goal.id, ordinal))))
    draft_auto_steps(page)
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


def _leave_hand(page: SessionContext, ordinal: int | None) -> None:
    """The wash was done on the way; paper in hand is laid aside."""
    hand = page.s.hand
    if hand is None:
        return
    if hand.step == WASH:
        page.finish(hand, "passed", taken=False)
    elif hand.step in (DAMP_IN, DAMP_OUT) or hand.impression != ordinal:
        page.emit(StepPutOff(**page.about(hand)))


def _choose_step(page: SessionContext, action: Choose) -> Refusal | None:
    """Do another step next than the one proposed; what is in hand is laid aside, or done first."""
    s, key = page.s, action.key
    if action.then:
        if key not in choosable_then(page.state, s, page.now):
            return Refusal("That step cannot begin then", "do the step before it first")
        page.emit(StepChosen(**page.about(key)))
        return None
    if key == s.hand:
        return Refusal(f"{page.step(key).do} is in hand already", "go on")
    if key not in choosable_tasks(page.state, s, page.t):
        return Refusal("That step cannot begin yet", "do the step before it first")
    if page.step(key).hands == "free":
        if s.hand is not None and _share_plate(s, s.hand, key):
            page.emit(StepPutOff(**page.about(s.hand)))
        draft_begin(page, key)
        return None
    if s.hand is not None:
        page.emit(StepPutOff(**page.about(s.hand)))
    if s.done(key):
        draft_begin(page, key)
        return None
    page.emit(StepChosen(**page.about(key)))
    draft_auto_steps(page)
    return None


def _share_plate(s: Session, hand: TaskKey, key: TaskKey) -> bool:
    """Whether what is in hand is a later impression's work on the plate the step needs."""
    plates = s.shape.plates_of
    return (hand.impression is not None and hand.impression != key.impression
            and not set(plates.get(hand.step, ())).isdisjoint(plates.get(key.step, ())))


def _take_back(page: SessionContext) -> Refusal | None:
    """The last action of this session not taken back, with all it caused."""
    s = page.s
    begun = begun_by_itself(page.state, s)
    if begun is not None:
        page.emit(StepPutOff(**page.about(begun), hands="clean"))
        return None
    if not s.actions:
        return Refusal("There is nothing left to undo", "to correct a sheet, name it by its mark")
    action = s.actions[-1].action
    touched = {e.stream for e in page.state.journal if e.action == action}
    beside = sorted(x for x in touched if stream_family(x) in ("pack", "clock"))
    if any(_rested_on(page, stream, action) for stream in beside):
        return Refusal("Another session has taken a sheet of that pack since",
                       "say sheet back there first")
    if _left_and_done(page, action):
        return Refusal("The session you left it to has done it", "correct it in that session")
    for stream in beside:
        page.emit_final(stream, _taken_back(stream, action))
    page.emit_final(f"session/{page.sid}", SessionActionTakenBack(action=action))
    return None


def _taken_back(stream: str, action: str) -> ActionTakenBack:
    """What is written of an action taken back where it did something to a pack or a clock."""
    id_ = stream.partition("/")[2]
    if stream_family(stream) == "pack":
        return PackActionTakenBack(pack=id_, action=action)
    return ClockActionTakenBack(clock=id_, action=action)


def _left_and_done(page: SessionContext, action: str) -> bool:
    """Whether another session has begun, or closed without, the step this action left to it."""
    for entry in page.state.journal:
        left = entry.event
        if entry.action == action and isinstance(left, StepTakenOver):
            other = page.state.sessions.get(entry.stream.partition("/")[2])
            key = TaskKey(inherited_id(left.owner, left.step))
            if other is None or key in other.work or other.closed is not None:
                return True
    return False


def _rested_on(page: SessionContext, stream: str, action: str) -> bool:
    """Whether another session did something with the pack after that action."""
    since = False
    for entry in page.state.journal:
        if entry.action == action:
            since = True
        elif (since and entry.stream == stream and entry.action not in page.state.void
              and isinstance(entry.event, PackEvent | ClockEvent)
              and entry.event.done_by not in (None, page.sid)):
            return True
    return False


def _skips(room: StudioState, s: Session, now: Moment) -> Iterator[SkipStep]:
    """What may be skipped, or is to be and may be taken back."""
    yield from (SkipStep("", key, off=True) for key in s.to_skip)
    yield from (SkipStep("x", key) for key in now_and_coming(room, s, now))


def _can_choose(room: StudioState, s: Session, now: Moment) -> bool:
    return bool(choosable_then(room, s, now)) or any(
        key != s.hand for key in choosable_tasks(room, s, room.t_at(now)))


# -- what the keys ask -------------------------------------------------------------------
#
# The tread that begins an inky step makes hands inky, and these keys are refused then. So skip,
# next and left to ask from the clean moment before it which step is meant, each by its name.


def step_keys(recipe: Recipe, steps: Sequence[str]) -> tuple[str, ...]:
    """The key of each of these steps: by its place in the recipe, whichever others are listed.

    A step listed for several impressions has none, nor has work that is no step of the recipe.
    """
    places = {step.id: key for key, step in zip(KEYS, recipe.steps, strict=False)}
    return tuple(places.get(x, "") if steps.count(x) == 1 else "" for x in steps)


def _ask_here(ask: AskContext) -> Reply:
    """I am here: a later step."""
    return _ask_step(ask, "Jump here: the steps before count as done, untimed",
                     ask.possible([Here(step.id) for step in ask.s.recipe.steps]),
                     none="No later step can be reached now")


def _ask_redo(ask: AskContext) -> Reply:
    """An earlier step again."""
    return _ask_step(ask, "Do this step again, and the steps after it",
                     ask.possible([Redo(step.id) for step in ask.s.recipe.each]),
                     none="No earlier step can be done again")


def _ask_step(ask: AskContext, title: str, actions: Sequence[Here | Redo], *,
              none: str) -> Reply:
    return ChoiceQuestion(title, [(ask.s.shape.by_id[x.step].do, x) for x in actions], none=none,
                          keys=step_keys(ask.s.recipe, [x.step for x in actions]))


def _ask_skip(ask: AskContext) -> Reply:
    """Which step is passed by, and why; or one that was to be skipped is not."""
    s = ask.s
    keys = tuple(x.key for x in ask.possible([*_skips(ask.room, s, ask.now)]) if not x.off)
    if not keys and not s.to_skip and (refusal := ask.why_not(SkipStep("x"))) is not None:
        return refusal

    def skip(key: TaskKey) -> Reply:
        if key in s.to_skip:
            return SkipStep("", key, off=True)
        return LineQuestion(f"Why is {ask.words(key)} skipped", lambda why: SkipStep(why, key))

    return which_step(ask, "Skip", keys, skip, dict.fromkeys(s.to_skip, "do it after all"))


def _ask_next(ask: AskContext) -> Reply:
    """Another step in place of the one in hand, or of the inky one that comes after it."""
    room, s, hand = ask.room, ask.s, ask.s.hand
    here = _with_words(ask, (key for key in choosable_tasks(room, s, ask.t) if key != hand))
    then = _with_words(ask, choosable_then(room, s, ask.now))
    coming = coming_inky(room, s, ask.now)
    if not then or hand is None:
        return _choice_of(ask, "Do this next", here, then=False)
    if not here:
        return _choice_of(ask, f"In place of {ask.words(coming[0])}", then, then=True)
    return which_step(ask, "In place of", (hand, coming[0]), lambda key: _choice_of(
        ask, f"In place of {ask.words(key)}", here if key == hand else then, then=key != hand))


def _with_words(ask: AskContext, keys: Iterable[TaskKey]) -> list[tuple[TaskKey, str]]:
    """Work with its words, and of which sheet where it is of one."""
    out = []
    for key in keys:
        imp = ask.s.impression(key.impression)
        of = "" if imp is None or imp.mark is None else f" ({imp.mark})"
        out.append((key, ask.words(key) + of))
    return out


def _choice_of(ask: AskContext, title: str, steps: Sequence[tuple[TaskKey, str]], *,
               then: bool) -> Reply:
    return ChoiceQuestion(
        title, [(words + ask.ends_early(Choose(key, then)), Choose(key, then))
                for key, words in steps],
        none="Nothing else can begin now",
        keys=step_keys(ask.s.recipe, [key.step for key, _ in steps]))


def which_step(ask: AskContext, title: str, keys: Sequence[TaskKey],
               leads: Callable[[TaskKey], Reply],
               said: Mapping[TaskKey, str] = MappingProxyType({})) -> Reply:
    """Ask which step is meant: the one in hand is always 1; with only one nothing is asked.

    Args:
        ask: What the question is made of.
        title: What is to be done with it.
        keys: The one in hand, and those that come, in their order.
        leads: What the one chosen leads to.
        said: Steps of which it was said already, with what choosing them does; in the list only.
    """
    if len(keys) == 1 and not said:
        return leads(keys[0])
    here = bool(keys) and keys[0] == ask.s.hand
    title += " this one or the next?" if here else " the next or a later one?"
    places = [n + (not here) for n in range(len(keys))]
    told = ["this one", "the next"]
    answers = [(f"{ask.words(key)} · {told[at] if at < 2 else 'later'}", partial(leads, key))
               for key, at in zip(keys, places, strict=True)]
    answers += [(f"{ask.words(key)} · {what}", partial(leads, key)) for key, what in said.items()]
    return ChoiceQuestion(
        title, answers, keys=[*("123456789"[at:at + 1] for at in places), *[""] * len(said)])


# -- what the words take ------------------------------------------------------------------


def _read_here(ears: ParseContext, rest: str) -> ParsedLine:
    return ParsedLine(Here(step_among(rest, steps_of_hand(ears)).id))


def _read_next(ears: ParseContext, rest: str) -> ParsedLine:
    """`next STEP`: now; `next then STEP`: once the one in hand is done."""
    head, _, tail = rest.partition(" ")
    if head.casefold() == "then":
        return ParsedLine(Choose(key_then(ears, tail.strip()), then=True))
    return ParsedLine(Choose(key_next(ears, rest)))


def _read_skip(ears: ParseContext, rest: str) -> ParsedLine:
    head, _, tail = rest.partition(" ")
    if head.casefold() == "not" and (key := key_said(ears, tail, ears.s.to_skip)):
        return ParsedLine(SkipStep("", key, off=True))
    key, why = key_to_skip(ears, rest)
    return ParsedLine(SkipStep(why, key))


def _read_redo(ears: ParseContext, rest: str) -> ParsedLine:
    try:
        return ParsedLine(Redo(step_among(rest, steps_to_redo(ears)).id))
    except NotUnderstood:
        if not rest:
            raise
        return ParsedLine(Redo(step_among(rest, ears.s.recipe.each).id))


SPECS: Final = (
    ActionSpec("go on", (Rule(GoOn, lambda page, action: go_on(page), at_bench=True),),
               "Answer the call, end the step, begin the next",
               inky=True, makes=GoOn()),
    ActionSpec("back", (Rule(TakeBack, lambda page, action: _take_back(page), at_bench=True),),
               "Undo the last action", key="backspace", inky=True,
               makes=TakeBack(), use=11,
               possible=lambda room, s, now: (
                   bool(s.actions) or begun_by_itself(room, s) is not None)),
    ActionSpec("here", (Rule(Here, _jump_here, at_bench=True),),
               "Jump here: the steps before count as done, untimed", "STEP",
               key="i", use=14,
               tries=lambda room, s, now: (Here(step.id) for step in s.recipe.steps),
               asks=_ask_here, reads=_read_here),
    ActionSpec("next", (Rule(Choose, _choose_step, at_bench=True),),
               "Do this step next, or after the one in hand (then)",
               "[then] STEP", key="o", use=12, possible=_can_choose, asks=_ask_next,
               reads=_read_next),
    ActionSpec("redo", (Rule(Redo, _redo_step, at_bench=True),),
               "Do an earlier step of this impression again", "STEP", key="r",
               use=18, tries=lambda room, s, now: (Redo(step.id) for step in s.recipe.each),
               asks=_ask_redo, reads=_read_redo),
    ActionSpec("skip", (Rule(SkipStep, _skip_step, at_bench=True),),
               "Skip this step, or a later inky one",
               "[STEP:] WHY|not STEP", key="x", use=19, proofing=2, tries=_skips, asks=_ask_skip,
               reads=_read_skip),
)
