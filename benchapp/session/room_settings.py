"""How press, blankets and heat are really set: of the room, whichever session they were set for.

A session says how they are set from its next pull on. Another session can set them meanwhile, so
what the first said is no longer so. The room remembers what was said last, and by which session;
what cannot be known from that is not known, and the sheet pulled next says so. Pure.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from benchapp.events.entry import Entry
from benchapp.events.impression import (
    ImpressionPulled,
    ReadingRecorded,
    SettingChanged,
    SettingFound,
)
from benchapp.events.session import MustAnswered, StepFinished
from benchapp.quantities import QuantityError, read_turns
from benchapp.recipe.hazards import is_heat_off, is_press_off
from benchapp.session.copying import replace
from benchapp.session.names import step_of
from benchapp.session.press_settings import setting_name
from benchapp.session.room_facts import left_on
from benchapp.session.state import NOT_KNOWN, RoomKind, RoomSetting, Session, StudioState, TaskKey

_SCREWS: Final = re.compile(r"\b(?:screws?|press|pressure)\b|\bside$")
_BLANKETS: Final = re.compile(r"^(?:blankets?|felts?)\b")
_HEAT: Final = re.compile(r"\b(?:hot ?plate|heat|warmth)$|\bplate temperature$")
#: Where each kind is: two presses in the room can be set in two ways at once.
_PLACES: Final[Mapping[RoomKind, str]] = {
    "screws": "press", "blankets": "press", "heat": "hot plate"}
_DONE: Final = ("done", "passed", "out of reach")
_TURNS: Final = re.compile(r" turns?$")


@dataclass(frozen=True, slots=True)
class Said:
    """What a session says of one thing of the room, for one plate or for all (`plate` None)."""

    kind: RoomKind
    thing: str
    plate: str | None
    name: str
    value: str


@dataclass(frozen=True, slots=True)
class Otherwise:
    """A setting that is no longer as the session had it.

    Attributes:
        said: As the session had it.
        real: How it is set, as far as anyone said; None: not known.
        off: Whether the pressure, or the heat, was let off since.
        by: The session it was set for, used in or let off in, since.
    """

    said: Said
    real: str | None
    off: bool
    by: str


# -- what a session says ----------------------------------------------------------------------


def _said(s: Session) -> tuple[Said, ...]:
    """What is in force in a session of the things of the room, the latest said last."""
    found: dict[tuple[str, str | None], Said] = {}
    screws = _screws_of(s)
    for setting in s.settings:
        said = _read(s, screws, setting.name, setting.value)
        if said is not None:
            found.pop((said.thing, said.plate), None)
            found[said.thing, said.plate] = said
    return tuple(found.values())


def _screws_of(s: Session) -> Mapping[str, tuple[str, str | None]]:
    """The recipe's own screws: a setting's name to the side, and the plate where there are more."""
    many = len(s.recipe.plates) > 1
    return {setting_name(s.recipe, press, side).casefold():
            (side.casefold(), press.plate if many else None)
            for press in s.recipe.presses for side, _ in press.sides}


def _read(s: Session, screws: Mapping[str, tuple[str, str | None]], name: str,
          value: str) -> Said | None:
    """What a setting is about; None: nothing of the room, or there is more than one of it."""
    word = name.casefold()
    if word in screws:
        thing, plate = screws[word]
        kind: RoomKind | None = "screws"
    else:
        thing, plate = _without_plate(s, word)
        kind = _kind(thing, value)
    if kind is None or s.shape.places.get(_PLACES[kind], 1) > 1:
        return None
    return Said(kind, thing, plate, name, value)


def _without_plate(s: Session, word: str) -> tuple[str, str | None]:
    if len(s.recipe.plates) > 1:
        for plate in s.recipe.plates:
            if word.startswith(f"{plate.name.casefold()} "):
                return word[len(plate.name) + 1:], plate.name
    return word, None


def _kind(thing: str, value: str) -> RoomKind | None:
    if _BLANKETS.search(thing):
        return "blankets"
    if _HEAT.search(thing):
        return "heat"
    return "screws" if _SCREWS.search(thing) or _turns(value) is not None else None


def _for_plates(said: Sequence[Said], plates: Collection[str]) -> dict[str, list[Said]]:
    """Of each thing what is in force for those plates: one for all of them, or one a plate."""
    found: dict[str, list[Said]] = {}
    for thing in dict.fromkeys(x.thing for x in said):
        mine = [x for x in said if x.thing == thing]
        last = (next((x for x in reversed(mine) if x.plate in (None, p)), None) for p in plates)
        found[thing] = list(dict.fromkeys(x for x in last if x is not None))
    return {thing: values for thing, values in found.items() if values}


# -- what is set in the room ------------------------------------------------------------------


def after_entry(room: StudioState, s: Session, entry: Entry) -> Mapping[str, RoomSetting]:
    """How the things of the room are set after an entry of the session `s`.

    Args:
        room: As it was before, of whose settings these are the next.
        s: The session, with the entry folded.
        entry: The entry.
    """
    match entry.event:
        case SettingChanged(name=name) | SettingFound(name=name) | ReadingRecorded(
                impression=None, name=name):
            return _after_said(room, s, name)
        case ImpressionPulled(plates=plates):
            return _after_pull(room, s, plates)
        case StepFinished(step=step_id, how=how) if how in _DONE:
            step = step_of(s, TaskKey(step_id))
            return _let_off(room, s, "screws") if step is not None and is_press_off(
                step) else room.settings
        case MustAnswered(owner=s.id, step=step_id, fact=fact) if _turned_off(fact):
            step = step_of(s, TaskKey(step_id))
            return _let_off(room, s, "heat") if step is not None and is_heat_off(
                step) else room.settings
    return room.settings


def _after_said(room: StudioState, s: Session, name: str) -> Mapping[str, RoomSetting]:
    said = _said(s)
    this = next((x for x in reversed(said) if x.name == name), None)
    if this is None:
        return room.settings
    plates = [p.name for p in s.recipe.plates] if this.plate is not None else [""]
    values = {x.value for x in _for_plates(said, plates).get(this.thing, [this])}
    known = _known(this.value) if len(values) == 1 else None
    own = {thing for thing, _ in _screws_of(s).values()} | {x.thing for x in said}
    unsure = {x.thing: replace(x, value=None, off=False, by=s.id) for x in room.settings.values()
              if x.kind == this.kind and x.thing not in own and x.by != s.id}
    return {**room.settings, **unsure,
            this.thing: RoomSetting(this.kind, this.thing, known, s.id)}


def _after_pull(room: StudioState, s: Session,
                plates: Collection[str]) -> Mapping[str, RoomSetting]:
    used = {thing: RoomSetting(xs[0].kind, thing, _known(xs[0].value) if len(
        {x.value for x in xs}) == 1 else None, s.id)
        for thing, xs in _for_plates(_said(s), plates).items()}
    unsure = {x.thing: replace(x, value=None, off=False, by=s.id) for x in room.settings.values()
              if x.thing not in used and x.by != s.id and _turned_unsaid(s, x, plates)}
    return {**room.settings, **unsure, **used}


def _turned_unsaid(s: Session, x: RoomSetting, plates: Collection[str]) -> bool:
    """Whether a pull of `s`, which says nothing of a screw, leaves in doubt how it is set.

    Its recipe has another figure for it, or other names for its screws: they may have been
    turned without a word.
    """
    sides = [(side.casefold(), turns) for press in s.recipe.presses
             if press.plate is None or press.plate in plates for side, turns in press.sides]
    if x.kind != "screws" or not sides or s.shape.places.get("press", 1) > 1:
        return False
    mine = [turns for side, turns in sides if side == x.thing]
    return not mine or any(_turns(x.value or "") != turns.turns for turns in mine)


def _let_off(room: StudioState, s: Session, kind: RoomKind) -> Mapping[str, RoomSetting]:
    if s.shape.places.get(_PLACES[kind], 1) > 1:
        return room.settings
    return {thing: replace(x, value=None, off=True, by=s.id) if x.kind == kind else x
            for thing, x in room.settings.items()}


def _turned_off(fact: str | None) -> bool:
    return fact is not None and not left_on(fact)


def _known(value: str) -> str | None:
    return None if value == NOT_KNOWN else value


# -- what a session is told, and what its next pull records -----------------------------------


def set_otherwise(room: StudioState, s: Session, plates: Collection[str]) -> tuple[Otherwise, ...]:
    """What is not set as the session has it, of the things a pull of those plates is made with."""
    if all(x.by == s.id and not x.off for x in room.settings.values()):
        return ()
    return tuple(
        Otherwise(x, st.value, st.off, st.by)
        for thing, xs in _for_plates(_said(s), plates).items()
        if (st := room.settings.get(thing)) is not None and (st.by != s.id or st.off)
        for x in xs if not _same(st.value, _known(x.value)))


def to_record(room: StudioState, s: Session, plates: Collection[str]) -> tuple[Otherwise, ...]:
    """The same before a pull of those plates, with what is in doubt by it for the other plates.

    The other plates' figures rest on what was changed: where such a figure was the one of this
    plate, nobody turned the screw between the two; else nobody knows what it was turned to.
    """
    found = set_otherwise(room, s, plates)
    others = [p.name for p in s.recipe.plates if p.name not in plates]
    more = []
    for x in found:
        for y in _for_plates(_said(s), others).get(x.said.thing, ()):
            real = x.real if _same(y.value, x.said.value) else None
            if y != x.said and not _same(real, _known(y.value)):
                more.append(Otherwise(y, real, x.off, x.by))
    return (*found, *dict.fromkeys(more))


def next_plates(s: Session, ordinal: int | None) -> tuple[str, ...]:
    """The plates of the pull that comes next, of the impression in hand or of one to come."""
    for step in (s.shape.by_id[id_] for id_ in s.shape.pulls):
        if ordinal is None or not s.done(TaskKey(step.id, ordinal)):
            return step.pulls
    return s.shape.by_id[s.shape.pulls[0]].pulls


def as_before(room: StudioState, s: Session, ordinal: int | None) -> tuple[tuple[str, str], ...]:
    """Names and values that put the next pull's settings as this session had them."""
    found = set_otherwise(room, s, next_plates(s, ordinal))
    return tuple((x.said.name, x.said.value) for x in found if x.said.value != NOT_KNOWN)


def otherwise_words(room: StudioState, s: Session, ordinal: int | None) -> tuple[str, ...]:
    """What is set otherwise than this print had it, a sentence a kind; empty: nothing is.

    Args:
        room: The room.
        s: The session on the Bench.
        ordinal: The impression in hand; None: none is.
    """
    plates = next_plates(s, ordinal)
    found = [x for x in set_otherwise(room, s, plates) if x.said.value != NOT_KNOWN]
    if not found:
        return ()
    screws = [x for x in found if x.said.kind == "screws"]
    of = "" if len(s.recipe.plates) == 1 else f" for {' and '.join(plates)}"
    whole = len(screws) == sum(
        xs[0].kind == "screws" for xs in _for_plates(_said(s), plates).values())
    return (*((_screws_words(screws, of, whole=whole),) if screws else ()),
            *(_words(x, of) for x in found if x.said.kind != "screws"))


def _screws_words(screws: Sequence[Otherwise], of: str, *, whole: bool) -> str:
    had = _figures([(x.said.thing, x.said.value) for x in screws], whole=whole)
    if all(x.off for x in screws):
        return f"The pressure is off; this print had {had}{of}"
    if all(x.real is None for x in screws):
        return f"Nobody has recorded how the screws are set; this print had {had}{of}"
    now = _figures([(x.said.thing, x.real or NOT_KNOWN) for x in screws], whole=whole)
    return f"The screws are at {_TURNS.sub('', now)}; this print had {had}{of}"


def _figures(sides: Sequence[tuple[str, str]], *, whole: bool) -> str:
    """`3.5 turns` where every screw is so; else each by its name, the unit once at the end."""
    values = [value for _, value in sides]
    if whole and len(set(values)) == 1:
        return values[0]
    told = [f"{side} {_TURNS.sub('', value)}" for side, value in sides]
    unit = " turns" if any(_TURNS.search(value) for value in values) else ""
    return f"{', '.join(told)}{unit}"


def _words(x: Otherwise, of: str) -> str:
    now = x.real if x.real is not None else "off" if x.off else NOT_KNOWN
    return f"{x.said.thing.capitalize()}: {now} now; this print had {x.said.value}{of}"


def _same(one: str | None, other: str | None) -> bool:
    if one is None or other is None:
        return one is other
    turns = _turns(one)
    if turns is not None:
        return turns == _turns(other)
    return " ".join(one.casefold().split()) == " ".join(other.casefold().split())


def _turns(text: str) -> object:
    """The turns a text says, to be compared; None: it says none."""
    try:
        return read_turns(text).turns
    except QuantityError:
        return None
