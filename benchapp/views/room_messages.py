"""What two sessions share, in short lines for a printer: settings, helper, last questions. Pure."""

from __future__ import annotations

from typing import Final

from benchapp.events import session as e
from benchapp.events.impression import SettingFound
from benchapp.session.names import step_of
from benchapp.session.state import NOT_KNOWN, Session, StudioState, TaskKey
from benchapp.views.tellers import teller


def _set_found(room: StudioState, s: Session, told: SettingFound) -> str:
    by = room.sessions.get(told.by)
    whose = "" if by is None or told.value is None else f", as set for {by.recipe.print.title}"
    return f"{told.name}: {told.value or NOT_KNOWN}{whose}"


def _must(room: StudioState, s: Session, told: e.MustAnswered) -> str:
    own = told.step if told.owner == s.id else f"{told.owner} {told.step}"
    step = step_of(s, TaskKey(own))
    if step is None:
        return ""
    return f"{step.do}: {told.fact or 'not said'}"


def _taken_over(room: StudioState, s: Session, told: e.StepTakenOver) -> str:
    return f"{told.do}: left to {s.recipe.print.title}"


ROOM_TELLERS: Final = (
    teller(SettingFound, _set_found),
    teller(e.MustAnswered, _must),
    teller(e.StepTakenOver, _taken_over),
    teller(e.HelperJoined,
           lambda r, s, told: f"{told.name or 'A helper'} is in, with clean hands"),
    teller(e.HelperPresent, lambda r, s, told: f"{told.name or 'The helper'} is in here too"),
    teller(e.HelperLeft, lambda r, s, told: "The helper has left"),
)
