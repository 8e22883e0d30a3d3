"""Notes, readings, and the sentence left for the next day."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final, Literal

from benchapp.decision import Refusal
from benchapp.events.impression import NoteWritten, ReadingRecorded
from benchapp.events.session import LeftOffWritten
from benchapp.session.actions.asking import AskContext, ChoiceQuestion, LineQuestion, Reply
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.typed import NotUnderstood, ParseContext, ParsedLine
from benchapp.session.actions.typed_names import sheet_and_text
from benchapp.session.annotate import (
    NO_SHEET,
    judged_sheet,
    last_pulled,
    needs_sheet,
    noted_sheet,
    reading_about,
    try_words,
)
from benchapp.session.context import SessionContext
from benchapp.session.state import Impression, Session
from benchapp.session.values import (
    OWN_GRADE,
    about_day,
    is_grade,
    known_reading,
    recorded_reading,
    wrong_reading,
)

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
        return Refusal("The reading has no name", "write: reading tone 3")
    value, given = recorded_reading(s.recipe, action.name, action.value, action.unit)
    wrong = wrong_reading(s.recipe, action.name, value, given)
    if wrong is not None:
        return Refusal(wrong.wrong, wrong.mend)
    known = known_reading(s.recipe, action.name)
    unit = given or (None if known is None else known.unit)
    meant = (reading_about(s, action.name) if action.impression is None
             else judged_sheet(s, action.impression))
    if meant is None and (action.impression is not None or needs_sheet(s, action.name)
                          or is_grade(unit)):
        return NO_SHEET
    page.emit(ReadingRecorded(
        impression=None if meant is None else meant.ordinal,
        name=action.name if known is None else known.name, value=value, unit=unit))
    return None


def _leave_sentence(page: SessionContext, action: LeftOff) -> Refusal | None:
    if not action.text.strip():
        return Refusal("The sentence is empty", "write: left off and where you are")
    page.emit(LeftOffWritten(text=action.text))
    return None


# -- what the keys ask -------------------------------------------------------------------

_GRADE: Final = re.compile(r"grade (\d+)-(\d+)")


def _ask_note(ask: AskContext) -> Reply:
    """Free text from its first key; the arrows bring the recipe's sentences."""
    meant = noted_sheet(ask.s)
    name = "the session" if meant is None else meant.mark or (
        "the impression in hand" if meant.ended is None else f"the {try_words(meant)}")

    def note(text: str) -> Action:
        """Filed where the line says, whatever is pulled while it stands open."""
        return Note(text, to="session") if meant is None else Note(text, meant.ordinal)

    of = "" if meant is None else meant.ordinal
    return LineQuestion(f"Note on {name}", note, phrases=ask.s.recipe.phrases,
                        draft=f"note {ask.s.id} {of}")


def _ask_reading(ask: AskContext) -> Reply:
    """A named value, a grade, or a weighing of the day; each says what it is about."""
    own: list[tuple[str, str | None]] = [(r.name, r.unit) for r in ask.s.recipe.readings]
    readings = [*(own or [(OWN_GRADE.name, OWN_GRADE.unit)]),
                *((name, "g") for name in ask.weighings if name not in dict(own))]
    if len(readings) == 1:
        return _ask_value(ask, *readings[0])
    return ChoiceQuestion("Which reading", [
        (f"{name} {_about(ask.s, name)[1]}{f' ({unit})' if unit else ''}",
         _ask_value(ask, name, unit)) for name, unit in readings])


def _about(s: Session, name: str) -> tuple[int | None, str]:
    """The sheet a reading would be filed under, and how that is said."""
    meant = reading_about(s, name)
    if meant is not None:
        return meant.ordinal, f"of {meant.mark or 'the sheet in hand'}"
    if needs_sheet(s, name):
        return None, "of a sheet"
    day = about_day(s.recipe, name) or last_pulled(s) is None
    return None, "of the day" if day else "of the session"


def _ask_value(ask: AskContext, name: str, unit: str | None) -> Reply:
    ordinal, of = _about(ask.s, name)
    if ordinal is None and needs_sheet(ask.s, name):
        return NO_SHEET
    grade = _GRADE.fullmatch(unit or "")
    if grade is not None and grade[1] == "1":
        return ChoiceQuestion(f"{name} {of}, {unit}", [
            (str(n), TakeReading(name, str(n), unit, ordinal))
            for n in range(1, int(grade[2]) + 1)])
    return LineQuestion(f"{name} {of}{f', in {unit}' if unit else ''}",
                        lambda value: TakeReading(name, value, unit, ordinal))


def _ask_left_off(ask: AskContext) -> Reply:
    """A sentence for when the printer comes back."""
    return ask.why_not(LeftOff("x")) or LineQuestion(
        "Where you left off", LeftOff, about="read first when you come back",
        value=ask.s.left_off or "")


# -- what the words take ------------------------------------------------------------------

_VALUE: Final = re.compile(r"[+-]?\d+([.,]\d+)?")


def _read_note(ears: ParseContext, rest: str) -> ParsedLine:
    head, _, tail = rest.partition(" ")
    if head.casefold() == "session" and tail.strip():
        return ParsedLine(Note(tail.strip(), to="session"))
    session, ordinal, text = sheet_and_text(ears, rest, numbers=False)
    return ParsedLine(Note(text, ordinal), session)


def _read_reading(ears: ParseContext, rest: str) -> ParsedLine:
    session, ordinal, said = sheet_and_text(ears, rest)
    name, words = _reading_name(ears, said)
    if not name or not words:
        raise NotUnderstood("Write: reading NAME VALUE, such as reading tone 3")
    return ParsedLine(TakeReading(name, words[0], " ".join(words[1:]) or None, ordinal), session)


def _reading_name(ears: ParseContext, said: str) -> tuple[str, list[str]]:
    """The name of the value, one of the recipe's or what stands before the figure."""
    for known in sorted((r.name for r in ears.s.recipe.readings), key=len, reverse=True):
        if said.casefold().startswith(known.casefold() + " "):
            return known, said[len(known):].split()
    words = said.split()
    at = next((i for i, w in enumerate(words) if _VALUE.fullmatch(w)), len(words))
    return " ".join(words[:at]), words[at:]


SPECS: Final = (
    ActionSpec("note", (Rule(Note, _write_note, closed=True, guest=True),),
               "Free text", "[MARK|session] TEXT", key="n", use=5,
               tries=lambda room, s, now: [Note("x")], asks=_ask_note, reads=_read_note),
    ActionSpec("reading", (Rule(TakeReading, _take_reading, closed=True, guest=True),),
               "A named value, or a grade", "[MARK] NAME VALUE [UNIT]",
               key="g", use=6,
               possible=lambda room, s, now: (
                   bool(s.recipe.readings) or judged_sheet(s, None) is not None),
               asks=_ask_reading, reads=_read_reading),
    ActionSpec("left off", (Rule(LeftOff, _leave_sentence, closed=True),),
               "A sentence to read first when you come back", "TEXT",
               key="full_stop", use=30, tries=lambda room, s, now: [LeftOff("x")],
               asks=_ask_left_off, reads=lambda ears, rest: ParsedLine(LeftOff(rest))),
)
