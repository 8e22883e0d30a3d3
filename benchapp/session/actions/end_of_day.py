"""What is asked at the end of a day: facts, steps left to another session, the can."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from benchapp.decision import Refusal
from benchapp.events.entry import Moment
from benchapp.events.impression import RagCanEmptied
from benchapp.events.session import LeaveSaid
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.steps import NOT_COMING, NOT_SAID
from benchapp.session.advance import end_hands
from benchapp.session.auto_steps import draft_auto_steps, draft_end
from benchapp.session.coming import coming_inky, now_and_coming
from benchapp.session.day_end import leave_to, write_fact
from benchapp.session.names import step_of
from benchapp.session.next_steps import next_hands, printing_over
from benchapp.session.page import SessionContext
from benchapp.session.paper import answer_sheet, put_away
from benchapp.session.sheet_asked import sheet_answers
from benchapp.session.state import Session, StudioState, TaskKey

__all__ = ["CanEmptied", "LeaveStep", "Must"]


@dataclass(frozen=True, slots=True)
class Must(Action):
    """The fact of a step (None: the one in hand), also of a closed session; None: not said."""

    fact: str | None
    step: str | None = None


@dataclass(frozen=True, slots=True)
class LeaveStep(Action):
    """Leave an after step to another session: in progress, or `key`; `off`: it is not left."""

    to: str
    key: TaskKey | None = None
    off: bool = False


@dataclass(frozen=True, slots=True)
class CanEmptied(Action):
    """The rag can was emptied, said the morning after."""


def _answer_must(page: SessionContext, action: Must) -> Refusal | None:
    hand = page.s.hand
    if hand is not None and action.step in (None, hand.step) and sheet_answers(
            page.state, page.s, page.t):
        if action.fact is not None:
            return answer_sheet(page, action.fact)
        end_hands(page, hand)
        return None
    refusal = _settle_must(page, action)
    if refusal is not None or hand is None or action.step not in (None, hand.step):
        return refusal
    if page.step(hand).must:
        if action.fact is not None:
            put_away(page, page.step(hand), action.fact)
        draft_end(page, hand, "not said" if action.fact is None else "done")
        draft_auto_steps(page)
    return None


def _settle_must(page: SessionContext, action: Must) -> Refusal | None:
    """The fact of a step that must have one; None is recorded as not said."""
    s = page.s
    step_id = action.step or (s.hand.step if s.hand is not None else None)
    step = None if step_id is None else step_of(page.s, TaskKey(step_id))
    if step_id is None or step is None or not step.must:
        return Refusal("Nothing is asked just now", "go on with a tread")
    if action.fact is not None and action.fact not in step.must:
        facts = ", ".join(f"{i} {fact}" for i, fact in enumerate(step.must, 1))
        return Refusal(f"{action.fact} is not one of the answers", f"say {facts}", step.must)
    write_fact(page, step, action.fact)
    return None


def _leave_step(page: SessionContext, action: LeaveStep) -> Refusal | None:
    """An after step is left to another open session; the last to close asks it."""
    s = page.s
    if action.off:
        if action.key is None or action.key not in s.to_leave:
            return NOT_SAID
        page.emit(LeaveSaid(step=action.key.step, to=None))
        return None
    other = page.state.sessions.get(action.to)
    if other is None or other.closed is not None or other.id == s.id:
        return Refusal("That session is not open", "name one that is")
    now = s.hand if s.hand is not None else next_hands(page.state, s, page.t)
    key = action.key or now
    if key is not None and key != now and key not in coming_inky(page.state, s, page.now):
        return NOT_COMING
    if key is None or page.step(key).section != "after" or (key == now and not printing_over(s)):
        return Refusal("Only a step after printing is left to another session", "finish it here")
    if key == now:
        leave_to(page, key, other.id)
        draft_auto_steps(page)
        return None
    page.emit(LeaveSaid(step=key.step, to=other.id))
    return None


def _empty_can(page: SessionContext, action: CanEmptied) -> None:
    page.emit(RagCanEmptied())
    draft_auto_steps(page)


def _leaves(room: StudioState, s: Session, now: Moment) -> Iterator[LeaveStep]:
    """What may be left to another session, or is to be and may be taken back."""
    yield from (LeaveStep("", key, off=True) for key in s.to_leave)
    yield from (LeaveStep(other.id, key) for key in now_and_coming(room, s, now)
                for other in room.open_sessions)


SPECS: Final = (
    ActionSpec("left to", (LeaveStep,),
               "Leave a closing step, this or a later one, to another session",
               "[SESSION|here][: STEP]", key="greater_than_sign", use=10, tries=_leaves),
    ActionSpec("can emptied", (CanEmptied,), "The rag can was emptied"),
    ActionSpec("must", (Must,), listed=False),
)

RULES: Final = (
    Rule(Must, _answer_must, closed=True),
    Rule(LeaveStep, _leave_step, at_bench=True),
    Rule(CanEmptied, _empty_can, closed=True),
)
