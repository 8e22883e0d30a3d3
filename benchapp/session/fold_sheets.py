"""Entries about sheets, settings and plates, folded into a session: one function a kind.

Each takes (session, entry, t), `t` being room time, and is total.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from benchapp.events.entry import Entry
from benchapp.session.copying import replace
from benchapp.session.names import next_sheet_number
from benchapp.session.state import (
    NOT_KNOWN,
    SPOILED_TRY,
    Impression,
    Pull,
    ReadingTaken,
    Session,
    Setting,
)


def _begun(s: Session, entry: Entry, t: int) -> Session:
    ordinal = entry.body["impression"]
    if ordinal != len(s.impressions) + 1:
        return s
    new = Impression(ordinal, ghost=entry.body["ghost"])
    return replace(s, impressions=(*s.impressions, new), ghost_next=False)


def _changed(s: Session, ordinal: int | None,
             change: Callable[[Impression], Impression]) -> Session:
    imp = s.impression(ordinal)
    if imp is None:
        return s
    new = change(imp)
    return replace(s, impressions=(*s.impressions[: imp.ordinal - 1], new,
                                   *s.impressions[imp.ordinal :]))


def _sheet(s: Session, entry: Entry, t: int) -> Session:
    return _changed(s, entry.body["impression"], lambda i: replace(
        i, sheets=(*i.sheets, entry.body["pack"]), damp=entry.body.get("damp", i.damp)))


def _pulled(s: Session, entry: Entry, t: int) -> Session:
    body = entry.body
    pull = Pull(body["step"], tuple(body["plates"]), entry.at if body["at_press"] else None, t)
    return _changed(s, body["impression"], lambda i: replace(
        i, number=i.number or body["number"], mark=i.mark or body["mark"],
        pulls=(*i.pulls, pull), purpose=body["for"], purpose_by=body["for_by"],
        state=body["state"]))


def _ended(s: Session, entry: Entry, t: int) -> Session:
    body, sheet = entry.body, entry.body.get("sheet")
    if body["how"] == SPOILED_TRY:
        s = replace(s, given_up=body["impression"])
    return _changed(s, body["impression"], lambda i: replace(
        i, ended=body["how"], sheet=sheet, sheets=() if sheet == "back" else i.sheets,
        purpose=body.get("for", i.purpose)))


def _over(*, aside: bool) -> Callable[[Session, Entry, int], Session]:
    def change(s: Session, entry: Entry, t: int) -> Session:
        if any(k.impression == entry.body["impression"] for k in s.under_way):
            return s  # its last steps were taken back: it is not put down yet
        return _changed(s, entry.body["impression"],
                        lambda i: replace(i, laid=not aside, aside=aside))

    return change


def _for_said(s: Session, entry: Entry, t: int) -> Session:
    body = entry.body

    def change(i: Impression) -> Impression:
        said = (body["for"], body["state"])
        if not i.pulled:
            return replace(i, said=said, ghost=i.ghost or body["for"] == "ghost")
        return replace(i, said=said, purpose=body["for"], purpose_by="printer", state=body["state"])

    return _changed(s, body["impression"], change)


def _judged(s: Session, entry: Entry, t: int) -> Session:
    return _changed(s, entry.body["impression"],
                    lambda i: replace(i, verdict=entry.body["verdict"]))


def _tagged(s: Session, entry: Entry, t: int) -> Session:
    tag = entry.body["tag"]
    return _changed(s, entry.body["impression"], lambda i: i if tag in i.tags else
                    replace(i, tags=(*i.tags, tag)))


def _untagged(s: Session, entry: Entry, t: int) -> Session:
    return _changed(s, entry.body["impression"], lambda i: replace(
        i, tags=tuple(x for x in i.tags if x != entry.body["tag"])))


def _noted(s: Session, entry: Entry, t: int) -> Session:
    text = entry.body["text"]
    if entry.body["impression"] is None:
        return replace(s, notes=(*s.notes, text))
    return _changed(s, entry.body["impression"], lambda i: replace(i, notes=(*i.notes, text)))


def _look_again(s: Session, entry: Entry, t: int) -> Session:
    return _changed(s, entry.body["impression"], lambda i: replace(i, look_again=True))


def _read(s: Session, entry: Entry, t: int) -> Session:
    body = entry.body
    taken = ReadingTaken(body["name"], body["value"], body["unit"])
    if body["impression"] is None:
        return replace(s, settings=(*s.settings, _setting(s, body["name"], _with_unit(taken))))
    return _changed(s, body["impression"], lambda i: replace(
        i, readings=(*(r for r in i.readings if r.name != taken.name), taken)))


def _with_unit(r: ReadingTaken) -> str:
    return f"{r.value} {r.unit}" if r.unit else r.value


def _setting(s: Session, name: str, value: str) -> Setting:
    return Setting(name, value, next_sheet_number(s))


def _mark(s: Session, entry: Entry, t: int) -> Session:
    return _changed(s, entry.body["impression"], lambda i: replace(i, mark=entry.body["mark"]))


def _set(s: Session, entry: Entry, t: int) -> Session:
    new = _setting(s, entry.body["name"], entry.body["value"])
    return replace(s, settings=(*s.settings, new))


def _set_found(s: Session, entry: Entry, t: int) -> Session:
    body = entry.body
    imp = s.impression(body["impression"])
    since = next_sheet_number(s) if imp is None or imp.number is None else imp.number
    new = Setting(body["name"], body["value"] or NOT_KNOWN, since)
    return replace(s, settings=(*s.settings, new))


def _reworked(s: Session, entry: Entry, t: int) -> Session:
    plate, state = entry.body["plate"], entry.body["state"]
    states = s.states if state is None else {**s.states, plate: state}
    unstated = s.unstated | {plate} if state is None else s.unstated - {plate}
    return replace(s, states=states, unstated=unstated,
                   reworks=(*s.reworks, (plate, state, entry.body["what"], entry.at)))


#: Every kind about sheets, settings and plates.
SHEETS: Final[dict[str, Callable[[Session, Entry, int], Session]]] = {
    "impression begun": _begun,
    "sheet taken": _sheet,
    "pulled": _pulled,
    "impression ended": _ended,
    "laid to dry": _over(aside=False),
    "set aside": _over(aside=True),
    "for said": _for_said,
    "judged": _judged,
    "tagged": _tagged,
    "untagged": _untagged,
    "noted": _noted,
    "marked to look again": _look_again,
    "read": _read,
    "marked": _mark,
    "setting changed": _set,
    "setting found": _set_found,
    "reworked": _reworked,
}
