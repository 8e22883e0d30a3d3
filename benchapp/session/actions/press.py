"""What is pulled: for what, how many, and when an impression ends early."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from benchapp.decision import Refusal
from benchapp.events.field_types import ABSENT
from benchapp.events.impression import PurposeSaid
from benchapp.events.session import EnoughSaid, GhostSaid, OneMoreSaid, WantedSet
from benchapp.session.actions.asking import (
    AskContext,
    ChoiceQuestion,
    LineQuestion,
    Reply,
    check_count,
)
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.typed import NotUnderstood, ParseContext, ParsedLine, choose_word
from benchapp.session.actions.typed_names import read_number, sheet_and_text
from benchapp.session.annotate import (
    NO_SHEET,
    drop_running,
    end_as_it_is,
    in_hand,
    last_pulled,
    state_at_pull,
)
from benchapp.session.auto_steps import draft_auto_steps, skip_inking
from benchapp.session.context import SessionContext, wrong_count
from benchapp.session.counting import (
    count_expected,
    count_impressions,
    is_complete,
    state_in_force,
    target_count,
)
from benchapp.session.state import FORS, NOT_COUNTED, Impression, Session, TaskKey

__all__ = ["FOR_WORDS", "End", "Enough", "Ghost", "OneMore", "SayFor", "SetWanted"]

#: What a pull is for, in words.
FOR_WORDS: Final = {
    "edition": "edition", "TP": "TP, trial proof", "WP": "WP, working proof",
    "SP": "SP, state proof", "warm-up": "warm-up", "ghost": "ghost, pulled without inking",
    "cancellation proof": "cancellation proof, of a cancelled plate",
}


@dataclass(frozen=True, slots=True)
class SayFor(Action):
    """What the pull is for: edition, TP, WP, SP, warm-up or ghost.

    Attributes:
        why: Why what was said before is not so; None: nothing is put right.
    """

    purpose: str
    state: str | None = None
    impression: int | None = None
    why: str | None = None


@dataclass(frozen=True, slots=True)
class Ghost(Action):
    """Do not ink for the next pull."""


@dataclass(frozen=True, slots=True)
class SetWanted(Action):
    """How many impressions that count to print this session; None: until enough."""

    wanted: int | None


@dataclass(frozen=True, slots=True)
class Enough(Action):
    """Start no more impressions."""


@dataclass(frozen=True, slots=True)
class OneMore(Action):
    """Print one more that counts."""


@dataclass(frozen=True, slots=True)
class End(Action):
    """Stop this impression after the pull it has had."""


def _say_purpose(page: SessionContext, action: SayFor) -> Refusal | None:
    """What the pull is for. Said of a sheet pulled already it is a correction."""
    if action.purpose not in FORS:
        return Refusal(f"A pull cannot be for {action.purpose}", f"say one of {', '.join(FORS)}")
    s = page.s
    meant = (s.impression(action.impression) if action.impression is not None
             else in_hand(s) or last_pulled(s))
    if meant is None:
        return NO_SHEET
    if meant.counterproof is not None:
        return Refusal(f"{meant.mark} is a counterproof, not pulled from the plate",
                       "name the sheet you mean by its mark")
    state = action.state
    if action.purpose == "SP" and state is None and meant.pulled:
        state = state_at_pull(page.state, s, meant)
    why = ABSENT if action.why is None else action.why
    page.emit(PurposeSaid(impression=meant.ordinal, state=state, purpose=action.purpose, why=why))
    if action.purpose in NOT_COUNTED or meant.pulled:
        draft_auto_steps(page)
    return None


def _say_ghost(page: SessionContext) -> Refusal | None:
    """Do not ink for the next pull: of the impression in hand, else one more."""
    s = page.s
    held = in_hand(s)
    if last_pulled(s) is None:
        return Refusal("Nothing has been pulled yet", "pull an inked impression first")
    if held is not None and not held.pulled:
        if _is_inked(s, held):
            return Refusal("This plate is inked already", "say ghost before it is inked")
        page.emit(PurposeSaid(impression=held.ordinal, state=None, purpose="ghost"))
        skip_inking(page, held.ordinal)
    else:
        page.emit(GhostSaid())
    draft_auto_steps(page)
    return None


def _is_inked(s: Session, imp: Impression) -> bool:
    """Whether inky work on the impression was done already."""
    return any(w.key.impression == imp.ordinal and w.how in ("done", "passed", "out of reach")
               and (step := s.shape.by_id.get(w.key.step)) is not None and step.hands == "inky"
               for w in s.history)


def _set_wanted(page: SessionContext, action: SetWanted) -> Refusal | None:
    wrong = wrong_count(action.wanted, "impressions wanted", "write a number from 1 up, or none")
    if wrong is not None:
        return wrong
    page.emit(WantedSet(wanted=action.wanted))
    draft_auto_steps(page)
    return None


def _allow_one_more(page: SessionContext) -> Refusal | None:
    """One counting impression more than there would be."""
    s = page.s
    have = count_impressions(s) + count_expected(s)
    goal = target_count(s)
    page.emit(OneMoreSaid(limit=(have if s.enough or goal is None else max(have, goal)) + 1))
    draft_auto_steps(page)
    return None


def _end_impression(page: SessionContext) -> Refusal | None:
    """The impression stays as it is, after an earlier pull: a progressive, unless it is spoiled."""
    s = page.s
    imp = in_hand(s)
    if imp is None or not imp.pulls:
        return Refusal("The impression in hand has no pull yet",
                       "say spoiled to give this try up")
    if is_complete(s, imp) or imp.ended is not None:
        return Refusal(f"{imp.mark} has had its last pull", "go on with the next step")
    last = s.shape.place_of[s.shape.pulls[-1]]
    for step in s.recipe.each[: last + 1]:
        key = TaskKey(step.id, imp.ordinal)
        if not s.done(key) and s.shape.due_on(step, imp.ordinal):
            page.finish(key, "skipped", taken=False, why="the impression stays as it is")
    drop_running(page, imp.ordinal)
    end_as_it_is(page, imp, imp.verdict)
    draft_auto_steps(page)
    return None


def _say_enough(page: SessionContext, action: Enough) -> None:
    page.emit(EnoughSaid())
    draft_auto_steps(page)


# -- what the keys ask, and what the words take ---------------------------------------------


def _ask_for(ask: AskContext) -> Reply:
    """What the pull is for."""
    which = LineQuestion("Which state", lambda text: SayFor("SP", text or None),
                         about="such as II; empty: the state in force",
                         value=state_in_force(ask.s) or "", empty=True)
    return ask.why_not(SayFor("edition")) or ChoiceQuestion("This pull is for", [
        (FOR_WORDS[x], which if x == "SP" else SayFor(x)) for x in FORS])


def _read_for(ears: ParseContext, rest: str) -> ParsedLine:
    session, ordinal, said = sheet_and_text(ears, rest)
    head, _, state = said.partition(" ")
    if head.casefold() == "sp":
        return ParsedLine(SayFor("SP", state.strip() or None, ordinal), session)
    if not said:
        raise NotUnderstood(f"For what? {', '.join(FORS)}")
    return ParsedLine(SayFor(choose_word(said, FORS, "purpose"), None, ordinal), session)


def _ask_wanted(ask: AskContext) -> Reply:
    """How many counting impressions."""
    now = ask.s.wanted
    return ask.why_not(SetWanted(1)) or LineQuestion(
        "Wanted: how many impressions that count",
        lambda text: SetWanted(int(text) if text else None), about="empty: until enough",
        value="" if now is None else str(now), check=check_count, empty=True)


def _read_wanted(ears: ParseContext, rest: str) -> ParsedLine:
    if rest.casefold() == "none":
        return ParsedLine(SetWanted(None))
    if not rest:
        raise NotUnderstood("How many? Write: wanted 10, or wanted none")
    return ParsedLine(SetWanted(read_number(rest, "wanted")))


SPECS: Final = (
    ActionSpec("for", (Rule(SayFor, _say_purpose, closed=True, guest=True),),
               "What the pull is for: edition, TP, WP, SP STATE, warm-up, ghost, "
               "cancellation proof",
               "[MARK] FOR", key="f", use=7, tries=lambda room, s, now: [SayFor("edition")],
               asks=_ask_for, reads=_read_for),
    ActionSpec("ghost", (Rule(Ghost, lambda page, action: _say_ghost(page)),),
               "Do not ink for the next pull", key="h", makes=Ghost(),
               use=28),
    ActionSpec("wanted", (Rule(SetWanted, _set_wanted),),
               "How many impressions that count to print this session",
               "N|none", key="b", use=26, tries=lambda room, s, now: [SetWanted(1)],
               asks=_ask_wanted, reads=_read_wanted),
    ActionSpec("enough", (Rule(Enough, _say_enough),),
               "Start no more impressions", key="q", makes=Enough(), use=22,
               proofing=3,
               tries=lambda room, s, now: [] if s.enough else [Enough()]),
    ActionSpec("one more", (Rule(OneMore, lambda page, action: _allow_one_more(page)),),
               "Print one more that counts", key="m", makes=OneMore(),
               use=21),
    ActionSpec("end", (Rule(End, lambda page, action: _end_impression(page), at_bench=True),),
               "Stop this impression after the pull it has had", key="z",
               makes=End(), use=20),
)
