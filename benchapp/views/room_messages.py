"""What two sessions share, in short lines for a printer: settings, helper, last questions. Pure."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from benchapp.events.entry import Entry
from benchapp.session.names import step_of
from benchapp.session.state import NOT_KNOWN, Session, StudioState, TaskKey


def _set_found(room: StudioState, s: Session, e: Entry) -> str:
    by = room.sessions.get(e.body["by"])
    whose = "" if by is None or e.body["value"] is None else f", as set for {by.recipe.print.title}"
    return f"{e.body['name']}: {e.body['value'] or NOT_KNOWN}{whose}"


def _must(room: StudioState, s: Session, e: Entry) -> str:
    own = e.body["step"] if e.body["owner"] == s.id else f"{e.body['owner']} {e.body['step']}"
    step = step_of(s, TaskKey(own))
    if step is None:
        return ""
    return f"{step.do}: {e.body['fact'] or 'not said'}"


def _taken_over(room: StudioState, s: Session, e: Entry) -> str:
    return f"{e.body['do']}: left to {s.recipe.print.title}"


ROOM_TELLERS: Final[dict[str, Callable[[StudioState, Session, Entry], str]]] = {
    "setting found": _set_found, "must answered": _must, "step taken over": _taken_over,
    "helper joined": lambda r, s, e: f"{e.body['name'] or 'A helper'} is in, with clean hands",
    "helper present": lambda r, s, e: f"{e.body['name'] or 'The helper'} is in here too",
    "helper left": lambda r, s, e: "The helper has left",
}
