"""What is in force at the bench: settings, and the state of the plates."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from benchapp.decision import Refusal
from benchapp.events.impression import PlateReworked, SettingChanged
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.annotate import in_hand
from benchapp.session.page import SessionContext
from benchapp.session.room_settings import as_before
from benchapp.session.values import wrong_setting

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
        return Refusal("A setting has a name and a value", "write: set handle side: 3.25 turns")
    name, value = action.name.strip(), action.value.strip()
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
        return Refusal("Neither a state nor what was done was said", "write: reworked II: what")
    page.emit(PlateReworked(plate=plate, state=action.state, what=action.what))
    return None


SPECS: Final = (
    ActionSpec("state", (ReworkPlate,), "The state a plate is in", "[PLATE] STATE",
               of=lambda action: not action.what),
    ActionSpec("reworked", (ReworkPlate,), "A plate was reworked", "[PLATE] STATE: WHAT", key="w",
               of=lambda action: bool(action.what), use=31,
               possible=lambda room, s, now: s.closed is None),
    ActionSpec("set", (Set, SetAsBefore), "A setting in force from the next pull on",
               "NAME: VALUE|as before", key="e", use=23,
               tries=lambda room, s, now: [Set("x", "x")]),
)

RULES: Final = (
    Rule(Set, _change_setting),
    Rule(SetAsBefore, _set_as_before),
    Rule(ReworkPlate, _rework_plate, closed=True),
)
