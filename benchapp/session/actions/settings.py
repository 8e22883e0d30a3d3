"""What is in force at the bench: settings, and the state of the plates."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from benchapp.decision import Refusal
from benchapp.events.impression import PlateReworked, SettingChanged
from benchapp.session.actions.asking import (
    AskContext,
    ChoiceQuestion,
    LineQuestion,
    NameQuestion,
    Reply,
)
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.typed import NotUnderstood, ParseContext, ParsedLine
from benchapp.session.actions.typed_names import first_plate
from benchapp.session.annotate import in_hand
from benchapp.session.context import SessionContext
from benchapp.session.room_settings import as_before
from benchapp.session.setting_names import recipe_settings, setting_keys
from benchapp.session.values import recorded_setting, wrong_setting

__all__ = ["ReworkPlate", "Set", "SetAsBefore"]


@dataclass(frozen=True, slots=True)
class Set(Action):
    """A setting in force from the next pull on."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class SetAsBefore(Action):
    """What another session set since is set again as this print had it, for the next pull."""


@dataclass(frozen=True, slots=True)
class ReworkPlate(Action):
    """A plate is in another state; `what` was done to it."""

    plate: str | None
    state: str | None
    what: str | None = None


def _change_setting(page: SessionContext, action: Set) -> Refusal | None:
    if not action.name.strip() or not action.value.strip():
        return Refusal("The setting needs a name and a value", "write: set handle side: 3.25 turns")
    name = action.name.strip()
    value = recorded_setting(page.s.recipe, name, action.value.strip())
    wrong = wrong_setting(page.s.recipe, name, value)
    if wrong is not None:
        return Refusal(f"{name}: {wrong.wrong}", wrong.mend)
    page.emit(SettingChanged(name=name, value=value))
    return None


def _set_as_before(page: SessionContext, action: SetAsBefore) -> Refusal | None:
    held = in_hand(page.s)
    before = as_before(page.state, page.s, None if held is None else held.ordinal)
    if not before:
        return Refusal("Everything is set as this print had it", "write: set NAME: VALUE")
    for name, value in before:
        page.emit(SettingChanged(name=name, value=value))
    return None


def _rework_plate(page: SessionContext, action: ReworkPlate) -> Refusal | None:
    """A plate reworked to a new state, or said to be in one."""
    plates = page.s.recipe.plates
    names = ", ".join(p.name for p in plates)
    plate = action.plate or (plates[0].name if len(plates) == 1 else None)
    if plate is None or page.s.recipe.plate(plate) is None:
        return Refusal("Which plate?" if plate is None else f"There is no plate {plate}",
                       f"the plates are {names}")
    if not action.state and not action.what:
        return Refusal("The new state and the work are missing",
                       "write: reworked II: sky burnished")
    page.emit(PlateReworked(plate=plate, state=action.state, what=action.what))
    return None


# -- what the keys ask -------------------------------------------------------------------


def _ask_set(ask: AskContext) -> Reply:
    """A setting, by its name, then its value; or all as this print had them."""
    s = ask.s
    refusal = ask.why_not(Set("x", "x"))
    if refusal is not None:
        return refusal
    known = {**recipe_settings(s.recipe), **{x.name: x.value for x in s.settings}}
    held = in_hand(s)
    before = as_before(ask.room, s, None if held is None else held.ordinal)

    def value(name: str) -> LineQuestion:
        return LineQuestion(f"{name} from the next pull on", lambda text: Set(name, text),
                            value=known.get(name, ""))

    keys = setting_keys(ask.room.journal, s)
    another = NameQuestion("Which setting", value, about="such as hot plate or room")
    answers: list[tuple[str, Reply]] = [
        ("another setting …", another), *((f"{name}: {known[name]}", value(name))
                                          for name in known)]
    signs = ["0", *(keys.get(x, "") for x in known)]
    if before:
        had = ", ".join(dict.fromkeys(was for _, was in before))
        answers.insert(0, (f"as this print had it: {had}", SetAsBefore()))
        signs.insert(0, "=")
    return ChoiceQuestion("Setting", answers, keys=signs)


def _ask_reworked(ask: AskContext) -> Reply:
    """Which plate, which state, what was done."""
    def rework(plate: str) -> LineQuestion:
        return LineQuestion(f"{plate}: its state, and what you did",
                            lambda text: ReworkPlate(plate, *_state_and_what(text)),
                            about="such as II: burnished the sky")

    plates = [p.name for p in ask.s.recipe.plates]
    if len(plates) == 1:
        return rework(plates[0])
    return ChoiceQuestion("Which plate did you rework", [(p, rework(p)) for p in plates])


def _state_and_what(text: str) -> tuple[str | None, str | None]:
    state, colon, what = text.partition(":")
    return state.strip() or None, (what.strip() or None) if colon else None


# -- what the words take ------------------------------------------------------------------

#: A state of a plate; "I" alone is rather the printer.
_STATE: Final = re.compile(r"(?!I$)[IVXLC]+|[0-9]+")


def _read_state(ears: ParseContext, rest: str) -> ParsedLine:
    plate, state = first_plate(ears.s, rest)
    if not state:
        raise NotUnderstood("Which state? Write: state II, or state key II")
    return ParsedLine(ReworkPlate(plate, state))


def _read_reworked(ears: ParseContext, rest: str) -> ParsedLine:
    plate, said = first_plate(ears.s, rest)
    state, colon, what = said.partition(":")
    if not colon:  # a state said without one is a state all the same
        first, _, rest_of_it = said.partition(" ")
        state, what = (first, rest_of_it) if _STATE.fullmatch(first) else ("", said)
    if not what.strip():
        raise NotUnderstood("What did you do? Write: reworked II: sky burnished")
    return ParsedLine(ReworkPlate(plate, state.strip() or None, what.strip()))


def _read_set(ears: ParseContext, rest: str) -> ParsedLine:
    if rest.casefold() == "as before":
        return ParsedLine(SetAsBefore())
    name, colon, value = rest.partition(":")
    if not colon:
        raise NotUnderstood("The setting needs a name and a value; "
                            "write: set handle side: 3.25 turns")
    return ParsedLine(Set(name.strip(), value.strip()))


_REWORK_PLATE: Final = Rule(ReworkPlate, _rework_plate, closed=True)

SPECS: Final = (
    ActionSpec("state", (_REWORK_PLATE,), "The state a plate is in", "[PLATE] STATE",
               of=lambda action: not action.what, reads=_read_state),
    ActionSpec("reworked", (_REWORK_PLATE,), "You reworked a plate", "[PLATE] STATE: WHAT", key="w",
               of=lambda action: bool(action.what), use=31, proofing=1,
               foot=lambda s: "reworked" if s.recipe.proofing is None else "state, reworked",
               possible=lambda room, s, now: s.closed is None,
               asks=_ask_reworked, reads=_read_reworked),
    ActionSpec("set", (Rule(Set, _change_setting), Rule(SetAsBefore, _set_as_before)),
               "A setting in force from the next pull on",
               "NAME: VALUE|as before", key="e", use=23,
               tries=lambda room, s, now: [Set("x", "x")], asks=_ask_set, reads=_read_set),
)
