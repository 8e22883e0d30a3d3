"""Notes, readings, and the sentence left for the next day."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from benchapp.decision import Refusal
from benchapp.events.impression import NoteWritten, ReadingRecorded
from benchapp.events.session import LeftOffWritten
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.annotate import (
    NO_SHEET,
    judged_sheet,
    needs_sheet,
    noted_sheet,
    reading_about,
)
from benchapp.session.page import SessionContext
from benchapp.session.state import Impression
from benchapp.session.values import is_grade, known_reading, wrong_reading

__all__ = ["LeftOff", "Note", "TakeReading"]


@dataclass(frozen=True, slots=True)
class Note(Action):
    """Free text. `to`: `session` puts it on the session whatever is in hand."""

    text: str
    impression: int | None = None
    to: Literal["impression", "session"] = "impression"


@dataclass(frozen=True, slots=True)
class TakeReading(Action):
    """A named value; `unit` None takes the recipe's."""

    name: str
    value: str
    unit: str | None = None
    impression: int | None = None


@dataclass(frozen=True, slots=True)
class LeftOff(Action):
    """The sentence shown first at resume."""

    text: str


def _write_note(page: SessionContext, action: Note) -> Refusal | None:
    """A note goes to the try just given up, else to the sheet in hand or the last, or the day."""
    s = page.s
    if not action.text.strip():
        return Refusal("The note is empty", "write note and the words")
    meant: Impression | None = None
    if action.impression is not None:
        meant = s.impression(action.impression)
        if meant is None:
            return Refusal("There is no such sheet here", "name it by its mark")
    elif action.to == "impression":
        meant = noted_sheet(s)
    page.emit(NoteWritten(impression=None if meant is None else meant.ordinal, text=action.text))
    return None


def _take_reading(page: SessionContext, action: TakeReading) -> Refusal | None:
    """A named value; a grade has to be one of its grades, a unit the recipe's.

    What is about the day goes to no sheet, whatever is in hand, unless one is named; a grade
    never does.
    """
    s = page.s
    if not action.name.strip():
        return Refusal("A reading has a name", "write: reading tone 3")
    wrong = wrong_reading(s.recipe, action.name, action.value, action.unit)
    if wrong is not None:
        return Refusal(wrong.wrong, wrong.mend)
    known = known_reading(s.recipe, action.name)
    unit = action.unit or (None if known is None else known.unit)
    meant = (reading_about(s, action.name) if action.impression is None
             else judged_sheet(s, action.impression))
    if meant is None and (action.impression is not None or needs_sheet(s, action.name)
                          or is_grade(unit)):
        return NO_SHEET
    page.emit(ReadingRecorded(
        impression=None if meant is None else meant.ordinal,
        name=action.name if known is None else known.name, value=action.value, unit=unit))
    return None


def _leave_sentence(page: SessionContext, action: LeftOff) -> Refusal | None:
    if not action.text.strip():
        return Refusal("The sentence is empty", "write: left off and where you are")
    page.emit(LeftOffWritten(text=action.text))
    return None


SPECS: Final = (
    ActionSpec("note", (Note,), "Free text", "[MARK|session] TEXT", key="n", use=5,
               tries=lambda room, s, now: [Note("x")]),
    ActionSpec("reading", (TakeReading,), "A named value, or a grade", "[MARK] NAME VALUE [UNIT]",
               key="g", use=6,
               possible=lambda room, s, now: (
                   bool(s.recipe.readings) or judged_sheet(s, None) is not None)),
    ActionSpec("left off", (LeftOff,), "A sentence to read first when you come back", "TEXT",
               key="full_stop", use=30, tries=lambda room, s, now: [LeftOff("x")]),
)

RULES: Final = (
    Rule(Note, _write_note, closed=True, guest=True),
    Rule(TakeReading, _take_reading, closed=True, guest=True),
    Rule(LeftOff, _leave_sentence, closed=True),
)
