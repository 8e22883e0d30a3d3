"""Whose hands work: a pause, and a helper with clean ones."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from benchapp.decision import Refusal
from benchapp.events.session import (
    HelperJoined,
    HelperLeft,
    SessionPaused,
    SessionResumed,
    StepPutOff,
)
from benchapp.session.actions.asking import AskContext, LineQuestion, Reply
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.typed import ParseContext, ParsedLine
from benchapp.session.auto_steps import draft_auto_steps
from benchapp.session.compiled_recipe import WASH
from benchapp.session.context import SessionContext

__all__ = ["Helper", "Pause", "Resume"]


@dataclass(frozen=True, slots=True)
class Pause(Action):
    """Hands counts stand still; waits go on."""


@dataclass(frozen=True, slots=True)
class Resume(Action):
    """Hands counts go on."""


@dataclass(frozen=True, slots=True)
class Helper(Action):
    """A clean-handed helper joins, or leaves."""

    joins: bool
    name: str | None = None


def _pause_hands(page: SessionContext, action: Pause) -> Refusal | None:
    if page.s.paused_t is not None:
        return Refusal("It is paused already", "go on to resume")
    page.emit(SessionPaused())
    return None


def _resume_hands(page: SessionContext, action: Resume) -> Refusal | None:
    if page.s.paused_t is None:
        return Refusal("Nothing is paused", "go on")
    page.emit(SessionResumed())
    draft_auto_steps(page)
    return None


def _change_helper(page: SessionContext, action: Helper) -> Refusal | None:
    hand = page.s.hand
    if action.joins:
        if page.state.helper is not None:
            return Refusal("A helper is in already", "say helper leaves when they go")
        page.emit(HelperJoined(name=action.name))
        if hand is not None and hand.step == WASH:
            page.finish(hand, "dropped", taken=False)
    else:
        if page.state.helper is None:
            return Refusal("No helper is in", "say helper when one joins")
        page.emit(HelperLeft())
        if hand is not None and page.state.inky and page.step(hand).hands == "clean":
            page.emit(StepPutOff(**page.about(hand)))
    draft_auto_steps(page)
    return None


def _ask_helper(ask: AskContext) -> Reply:
    """Who joins; or the helper leaves."""
    if ask.room.helper is not None:
        return Helper(joins=False)
    return LineQuestion("A clean-handed helper joins: who", lambda name: Helper(
        joins=True, name=name or None), about="may stay empty", empty=True)


def _read_helper(ears: ParseContext, rest: str) -> ParsedLine:
    if rest.casefold() in ("leaves", "left", "gone"):
        return ParsedLine(Helper(joins=False))
    return ParsedLine(Helper(joins=True, name=rest or None))


SPECS: Final = (
    ActionSpec("pause", (Rule(Pause, _pause_hands),),
               "Stop your working time; waits go on", key="p", inky=True,
               makes=Pause(), use=13),
    ActionSpec("resume", (Rule(Resume, _resume_hands),),
               "Go on after a pause", inky=True, makes=Resume()),
    ActionSpec("helper", (Rule(Helper, _change_helper),),
               "A clean-handed helper joins or leaves", "[NAME]|leaves",
               key="j", use=16, possible=lambda room, s, now: s.closed is None, asks=_ask_helper,
               reads=_read_helper),
)
