"""What is asked at the end of a day: facts, steps left to another session, the can."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from benchapp.decision import Refusal
from benchapp.events.entry import Moment
from benchapp.events.impression import RagCanEmptied
from benchapp.events.session import LeaveSaid
from benchapp.session.actions.asking import AskContext, Reply
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.steps import NOT_COMING, NOT_SAID, which_step
from benchapp.session.actions.typed import NotUnderstood, ParseContext, ParsedLine
from benchapp.session.actions.typed_names import key_said, key_to_leave, other_session
from benchapp.session.advance import end_hands
from benchapp.session.auto_steps import draft_auto_steps, draft_end
from benchapp.session.coming import coming_inky, now_and_coming
from benchapp.session.context import SessionContext
from benchapp.session.day_end import leave_to, write_fact
from benchapp.session.left import UnansweredFact
from benchapp.session.names import step_of
from benchapp.session.next_steps import next_hands, printing_over
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
        return Refusal("No question is open", "go on with the next step")
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
        return Refusal("You can leave only a closing step to another session", "finish it here")
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


def _ask_left_to(ask: AskContext) -> Reply:
    """Which step is left, and to which session; or one that was to be left is not."""
    s = ask.s
    keys = tuple(dict.fromkeys(
        x.key for x in ask.possible([*_leaves(ask.room, s, ask.now)]) if not x.off))
    if not keys and not s.to_leave:
        return ask.another_session("Leave it to", LeaveStep)

    def leave(key: TaskKey) -> Reply:
        if key in s.to_leave:
            return LeaveStep("", key, off=True)
        return ask.another_session(f"{ask.words(key)}: left to", lambda to: LeaveStep(to, key))

    return which_step(ask, "Leave", keys, leave, dict.fromkeys(s.to_leave, "do it here after all"))


def _read_left_to(ears: ParseContext, rest: str) -> ParsedLine:
    """`left to SESSION: STEP`; both may be left out where only one can be meant.

    `left to here: STEP` takes back what was said of one that comes.
    """
    to, colon, step = rest.partition(":")
    if to.strip().casefold() == "here" and (key := key_said(ears, step, ears.s.to_leave)):
        return ParsedLine(LeaveStep("", key, off=True))
    key = key_to_leave(ears, step.strip()) if colon else None
    return ParsedLine(LeaveStep(other_session(ears, to.strip()), key))


def _read_can(ears: ParseContext, rest: str) -> ParsedLine:
    """The can of an earlier day is meant, where one still stands."""
    cans = ears.cans()
    return ParsedLine(CanEmptied(), cans[-1] if cans else None)


# -- facts ------------------------------------------------------------------------------

UNSAID: Final = "not said"


def facts_in_hand(ears: ParseContext) -> tuple[str, ...]:
    """The answers of the fact in hand; none where none is asked."""
    s = ears.room.session
    step = None if s is None or s.hand is None else step_of(s, s.hand)
    if s is None or step is None:
        return ()
    return step.must or sheet_answers(ears.room, s, ears.room.t_at(ears.now))


def find_fact(said: str, facts: tuple[str, ...], *, whole: bool) -> str | None:
    """The fact meant by its number or its words, or by their unambiguous beginning."""
    if said.isascii() and said.isdigit():
        return facts[int(said) - 1] if 1 <= int(said) <= len(facts) else None
    small = said.casefold()
    found = [f for f in facts if f.casefold() == small or (not whole and
                                                           f.casefold().startswith(small))]
    return found[0] if len(found) == 1 else None


def number_facts(facts: tuple[str, ...]) -> str:
    """The answers, each with its number."""
    return ", ".join(f"{i} {fact}" for i, fact in enumerate(facts, 1))


def question_line(number: int, asked: UnansweredFact) -> str:
    """How a fact of an earlier day is asked: `1 · 2026-05-02 Rags: 1 in the can, …`."""
    return (f"Not said · must {number} · {asked.name} · {asked.do}: which? "
            f"{number_facts(asked.must)} · write: must {number} and the answer")


def _read_must(ears: ParseContext, rest: str) -> ParsedLine:
    """`must 2 hung`: the answer to the second fact of earlier days; else to the one in hand."""
    head, _, tail = rest.partition(" ")
    asked = facts_in_hand(ears)
    if head.isdecimal() and tail.strip() and 1 <= int(head) <= len(ears.unsaid):
        return _past(ears.unsaid[int(head) - 1], tail.strip())
    if asked:
        fact = find_fact(rest, asked, whole=False)
        if fact is None and rest.casefold() != UNSAID:
            raise NotUnderstood(f"{rest or 'Nothing'} is not one of the answers; say "
                                f"{number_facts(asked)}")
        return ParsedLine(Must(fact))
    if len(ears.unsaid) == 1 and rest:
        return _past(ears.unsaid[0], rest)
    if not ears.unsaid:
        raise NotUnderstood("No question is open; go on with the next step")
    raise NotUnderstood("; ".join(question_line(i, u) for i, u in enumerate(ears.unsaid, 1)))


def _past(about: UnansweredFact, said: str) -> ParsedLine:
    fact = find_fact(said, about.must, whole=False)
    if fact is None and said.casefold() != UNSAID:
        raise NotUnderstood(f"{said} is not one of the answers; say {number_facts(about.must)}")
    return ParsedLine(Must(fact, about.step), about.session)


SPECS: Final = (
    ActionSpec("left to", (Rule(LeaveStep, _leave_step, at_bench=True),),
               "Leave a closing step, this or a later one, to another session",
               "[SESSION|here][: STEP]", key="greater_than_sign", use=10, tries=_leaves,
               asks=_ask_left_to, reads=_read_left_to),
    ActionSpec("can emptied", (Rule(CanEmptied, _empty_can, closed=True),),
               "The rag can was emptied", reads=_read_can),
    ActionSpec("must", (Rule(Must, _answer_must, closed=True),), listed=False, reads=_read_must),
)
