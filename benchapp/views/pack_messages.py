"""What happened to packs of damp paper and to timers, in short lines for a printer. Pure."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from benchapp.edition.packs import Pack, damped_words
from benchapp.events.entry import Entry
from benchapp.quantities import minutes_text
from benchapp.session.pack_size import sheets_text
from benchapp.session.state import StudioState


def pack_line(room: StudioState, e: Entry) -> str:
    """The line of one entry of a pack; empty where it needs none."""
    teller = _PACK_TELLERS.get(e.kind)
    pack = room.packs.get(e.body["pack"])
    return "" if teller is None or pack is None else teller(pack, e)


def timer_line(before: StudioState, after: StudioState, e: Entry) -> str:
    """The line of one entry of a clock that belongs to no session."""
    # One that was answered runs no more afterwards: its name is known before.
    timer = after.timers.get(e.body["clock"]) or before.timers.get(e.body["clock"])
    if timer is None:
        return ""
    match e.kind:
        case "started":
            return f"Clock: {minutes_text(timer.ms)} {timer.name}"
        case "due" | "called" | "answered" | "stopped":
            return f"{_STATES[e.kind]}: {timer.name}"
        case _:
            return ""


def _in_water(state: str) -> Callable[[Pack, Entry], str]:
    return lambda pack, e: f"{_STATES[state]}: {sheets_text(pack.left)} in the water" + (
        " (for clean hands)" if state == "due" else "")


_STATES: Final = {"due": "Due", "called": "Calling", "answered": "Answered", "stopped": "Stopped"}


def _pack_in(pack: Pack, e: Entry) -> str:
    where = "in the water" if pack.method == "soak" else damped_words(pack.method)
    soak = f", {minutes_text(pack.soak_ms)}" if pack.soak_ms is not None else ""
    said = sheets_text(e.body["sheets"])
    return f"{said[:1].upper()}{said[1:]} {where}{soak}"


def _pack_out(pack: Pack, e: Entry) -> str:
    rest = f", rest {minutes_text(pack.rest_ms)}" if pack.rest_ms else ""
    if not pack.soaked:
        return f"{sheets_text(pack.sheets).capitalize()} stacked{rest}"
    return f"{sheets_text(pack.sheets).capitalize()} out of the water{rest}"


def _sheet_out(pack: Pack, e: Entry) -> str:
    if e.body["impression"] is None:
        return f"A sheet lies open; {sheets_text(pack.left)} left in its pack"
    return "" if pack.left is None else f"Sheet taken; {sheets_text(pack.left)} left in its pack"


_PACK_TELLERS: Final[dict[str, Callable[[Pack, Entry], str]]] = {
    "put in": _pack_in, "out": _pack_out, "sheet out": _sheet_out,
    **{state: _in_water(state) for state in ("due", "called", "answered")},
    "sheet back": lambda p, e: f"Sheet back in its pack; {sheets_text(p.left)} there",
    "sheet sprayed": lambda p, e: "Sheet sprayed",
    "sheet dried": lambda p, e: "Sheet put to dry unprinted",
    "ready said": lambda p, e: "The pack is taken as ready",
    "soak extended": lambda p, e: f"{minutes_text(e.body['by_ms'])} more in the water",
    "put away": lambda p, e: ("No damp sheets are left" if e.body["how"] == "none"
                              else f"Left-over sheets {e.body['how']}"),
}
