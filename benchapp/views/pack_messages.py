"""What happened to packs of damp paper and to timers, in short lines for a printer. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final, TypeAlias, TypeVar

from benchapp.edition.packs import Pack, damped_words
from benchapp.events.entry import Entry
from benchapp.events.event import BookEvent
from benchapp.events.pack import (
    PackAnswered,
    PackCalled,
    PackDue,
    PackEvent,
    PackOut,
    PackPutAway,
    PackPutIn,
    PackReadySaid,
    PackSheetBack,
    PackSheetDried,
    PackSheetOut,
    PackSheetSprayed,
    SoakExtended,
)
from benchapp.events.timer import ClockEvent
from benchapp.quantities import minutes_text
from benchapp.session.pack_size import sheets_text
from benchapp.session.state import StudioState

E = TypeVar("E", bound=PackEvent)
_Teller: TypeAlias = Callable[[Pack, Any], str]


def pack_line(room: StudioState, e: Entry) -> str:
    """The line of one entry of a pack; empty where it needs none."""
    told = e.event
    tell = _PACK_TELLERS.get(type(told))
    pack = room.packs.get(told.pack) if isinstance(told, PackEvent) else None
    return "" if tell is None or pack is None else tell(pack, told)


def timer_line(before: StudioState, after: StudioState, e: Entry) -> str:
    """The line of one entry of a clock that belongs to no session."""
    told = e.event
    if not isinstance(told, ClockEvent):
        return ""
    # One that was answered runs no more afterwards: its name is known before.
    timer = after.timers.get(told.clock) or before.timers.get(told.clock)
    if timer is None:
        return ""
    match e.kind:
        case "started":
            return f"Clock: {minutes_text(timer.ms)} {timer.name}"
        case "due" | "called" | "answered" | "stopped":
            return f"{_STATES[e.kind]}: {timer.name}"
        case _:
            return ""


def _in_water(state: str) -> Callable[[Pack, PackEvent], str]:
    return lambda pack, told: f"{_STATES[state]}: {sheets_text(pack.left)} in the water" + (
        " (for clean hands)" if state == "due" else "")


_STATES: Final = {"due": "Due", "called": "Calling", "answered": "Answered", "stopped": "Stopped"}


def _pack_in(pack: Pack, told: PackPutIn) -> str:
    where = "in the water" if pack.method == "soak" else damped_words(pack.method)
    soak = f", {minutes_text(pack.soak_ms)}" if pack.soak_ms is not None else ""
    said = sheets_text(told.sheets)
    return f"{said[:1].upper()}{said[1:]} {where}{soak}"


def _pack_out(pack: Pack, told: PackOut) -> str:
    rest = f", rest {minutes_text(pack.rest_ms)}" if pack.rest_ms else ""
    if not pack.soaked:
        return f"{sheets_text(pack.sheets).capitalize()} stacked{rest}"
    return f"{sheets_text(pack.sheets).capitalize()} out of the water{rest}"


def _sheet_out(pack: Pack, told: PackSheetOut) -> str:
    if told.impression is None:
        return f"A sheet is out of its pack; {sheets_text(pack.left)} left there"
    return "" if pack.left is None else f"Sheet taken; {sheets_text(pack.left)} left in its pack"


def _row(of: type[E], tell: Callable[[Pack, E], str]) -> tuple[type[BookEvent], _Teller]:
    return of, tell


_PACK_TELLERS: Final[Mapping[type[BookEvent], _Teller]] = dict((
    _row(PackPutIn, _pack_in),
    _row(PackOut, _pack_out),
    _row(PackSheetOut, _sheet_out),
    _row(PackDue, _in_water("due")),
    _row(PackCalled, _in_water("called")),
    _row(PackAnswered, _in_water("answered")),
    _row(PackSheetBack,
         lambda pack, told: f"Sheet back in its pack; {sheets_text(pack.left)} there"),
    _row(PackSheetSprayed, lambda pack, told: "Sheet sprayed"),
    _row(PackSheetDried, lambda pack, told: "Sheet set to dry unprinted"),
    _row(PackReadySaid, lambda pack, told: "The pack counts as ready"),
    _row(SoakExtended, lambda pack, told: f"{minutes_text(told.by_ms)} more in the water"),
    _row(PackPutAway, lambda pack, told: (
        "No damp sheets are left" if told.how == "none" else f"Left-over sheets {told.how}")),
))
