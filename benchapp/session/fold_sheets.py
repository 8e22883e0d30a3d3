"""Entries about sheets, settings and plates, folded into a session: one function a kind.

Each takes (session, entry, t), `t` being room time, and is total.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable
from typing import Final

from benchapp.events import impression as e
from benchapp.events.entry import Entry
from benchapp.events.field_types import given
from benchapp.events.words import COUNTERPROOF, SheetEndWord
from benchapp.session.copying import replace
from benchapp.session.names import next_sheet_number
from benchapp.session.state import (
    NOT_KNOWN,
    SPOILED_TRY,
    FromSheet,
    Impression,
    Pull,
    ReadingTaken,
    Session,
    Setting,
)


def _begun(s: Session, entry: Entry, t: int) -> Session:
    begun = e.ImpressionBegun.from_entry(entry)
    if begun.impression != len(s.impressions) + 1:
        return s
    new = Impression(begun.impression, ghost=begun.ghost)
    return replace(_with(s, new), ghost_next=False)


def _with(s: Session, new: Impression) -> Session:
    """With an impression that is new, or in the place of what it was."""
    before, after = s.impressions[:new.ordinal - 1], s.impressions[new.ordinal:]
    active = [i for i in s.active if i.ordinal != new.ordinal]
    if not new.over and new.ended != SPOILED_TRY:
        insort(active, new, key=lambda i: i.ordinal)
    return replace(s, impressions=(*before, new, *after), active=tuple(active))


def _changed(s: Session, ordinal: int | None,
             change: Callable[[Impression], Impression]) -> Session:
    imp = s.impression(ordinal)
    if imp is None:
        return s
    return _with(s, change(imp))


def _sheet(s: Session, entry: Entry, t: int) -> Session:
    taken = e.SheetTaken.from_entry(entry)
    return _changed(s, taken.impression, lambda i: replace(
        i, sheets=(*i.sheets, taken.pack), damp=given(taken.damp, i.damp)))


def _pulled(s: Session, entry: Entry, t: int) -> Session:
    pulled = e.ImpressionPulled.from_entry(entry)
    pull = Pull(pulled.step, pulled.plates, entry.at if pulled.at_press else None, t)
    return _changed(s, pulled.impression, lambda i: replace(
        i, number=i.number or pulled.number, mark=i.mark or pulled.mark,
        pulls=(*i.pulls, pull), purpose=pulled.purpose, purpose_by=pulled.purpose_by,
        state=pulled.state))


def _counterproof(s: Session, entry: Entry, t: int) -> Session:
    pulled = e.CounterproofPulled.from_entry(entry)
    if pulled.impression != len(s.impressions) + 1:
        return s
    new = Impression(pulled.impression, number=pulled.number, mark=pulled.mark,
                     purpose=COUNTERPROOF, purpose_by="printer",
                     counterproof=FromSheet(pulled.source, entry.at))
    return _with(s, new)


def _ended(s: Session, entry: Entry, t: int) -> Session:
    ended = e.ImpressionEnded.from_entry(entry)
    sheet: SheetEndWord | None = given(ended.sheet, None)
    if ended.how == SPOILED_TRY:
        s = replace(s, given_up=ended.impression)
    return _changed(s, ended.impression, lambda i: replace(
        i, ended=ended.how, sheet=sheet, sheets=() if sheet == "back" else i.sheets,
        purpose=given(ended.purpose, i.purpose)))


def _laid(s: Session, entry: Entry, t: int) -> Session:
    return _put_down(s, e.ImpressionLaidToDry.from_entry(entry).impression, aside=False)


def _aside(s: Session, entry: Entry, t: int) -> Session:
    return _put_down(s, e.ImpressionSetAside.from_entry(entry).impression, aside=True)


def _put_down(s: Session, ordinal: int, *, aside: bool) -> Session:
    if any(k.impression == ordinal for k in s.under_way):
        return s  # its last steps were taken back: it is not put down yet
    return _changed(s, ordinal, lambda i: replace(i, laid=not aside, aside=aside))


def _for_said(s: Session, entry: Entry, t: int) -> Session:
    now = e.PurposeSaid.from_entry(entry)

    def change(i: Impression) -> Impression:
        said = (now.purpose, now.state)
        if not i.pulled:
            return replace(i, said=said, ghost=i.ghost or now.purpose == "ghost")
        return replace(i, said=said, purpose=now.purpose, purpose_by="printer", state=now.state)

    return _changed(s, now.impression, change)


def _judged(s: Session, entry: Entry, t: int) -> Session:
    judged = e.ImpressionJudged.from_entry(entry)
    return _changed(s, judged.impression, lambda i: replace(i, verdict=judged.verdict))


def _tagged(s: Session, entry: Entry, t: int) -> Session:
    put_on = e.TagPutOn.from_entry(entry)
    return _changed(s, put_on.impression, lambda i: i if put_on.tag in i.tags else
                    replace(i, tags=(*i.tags, put_on.tag)))


def _untagged(s: Session, entry: Entry, t: int) -> Session:
    off = e.TagTakenOff.from_entry(entry)
    return _changed(s, off.impression, lambda i: replace(
        i, tags=tuple(x for x in i.tags if x != off.tag)))


def _noted(s: Session, entry: Entry, t: int) -> Session:
    note = e.NoteWritten.from_entry(entry)
    if note.impression is None:
        return replace(s, notes=(*s.notes, note.text))
    return _changed(s, note.impression, lambda i: replace(i, notes=(*i.notes, note.text)))


def _look_again(s: Session, entry: Entry, t: int) -> Session:
    ordinal = e.MarkedToLookAgain.from_entry(entry).impression
    return _changed(s, ordinal, lambda i: replace(i, look_again=True))


def _read(s: Session, entry: Entry, t: int) -> Session:
    read = e.ReadingRecorded.from_entry(entry)
    taken = ReadingTaken(read.name, read.value, read.unit)
    if read.impression is None:
        return replace(s, settings=(*s.settings, _setting(s, read.name, _with_unit(taken))))
    return _changed(s, read.impression, lambda i: replace(
        i, readings=(*(r for r in i.readings if r.name != taken.name), taken)))


def _with_unit(r: ReadingTaken) -> str:
    return f"{r.value} {r.unit}" if r.unit else r.value


def _setting(s: Session, name: str, value: str) -> Setting:
    return Setting(name, value, next_sheet_number(s))


def _mark(s: Session, entry: Entry, t: int) -> Session:
    marked = e.SheetMarked.from_entry(entry)
    return _changed(s, marked.impression, lambda i: replace(i, mark=marked.mark))


def _set(s: Session, entry: Entry, t: int) -> Session:
    changed = e.SettingChanged.from_entry(entry)
    return replace(s, settings=(*s.settings, _setting(s, changed.name, changed.value)))


def _set_found(s: Session, entry: Entry, t: int) -> Session:
    found = e.SettingFound.from_entry(entry)
    imp = s.impression(found.impression)
    since = next_sheet_number(s) if imp is None or imp.number is None else imp.number
    new = Setting(found.name, found.value or NOT_KNOWN, since)
    return replace(s, settings=(*s.settings, new))


def _reworked(s: Session, entry: Entry, t: int) -> Session:
    reworked = e.PlateReworked.from_entry(entry)
    plate, state = reworked.plate, reworked.state
    states = s.states if state is None else {**s.states, plate: state}
    unstated = s.unstated | {plate} if state is None else s.unstated - {plate}
    return replace(s, states=states, unstated=unstated,
                   reworks=(*s.reworks, (plate, state, reworked.what, entry.at)))


#: Every kind about sheets, settings and plates.
SHEETS: Final[dict[str, Callable[[Session, Entry, int], Session]]] = {
    "impression begun": _begun,
    "sheet taken": _sheet,
    "pulled": _pulled,
    "counterproof pulled": _counterproof,
    "impression ended": _ended,
    "laid to dry": _laid,
    "set aside": _aside,
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
