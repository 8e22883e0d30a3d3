"""Entries of one sheet, folded into its edition: what is pencilled on it, where it is. Pure.

What an entry had not seen stays beside what it says (`fold`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final, TypeAlias

from benchapp.edition.holding import (
    BEARS,
    DESTROYED,
    KNOWN,
    LOST,
    OUT,
    SIGNED,
    WHOLE,
    Holding,
    Reason,
    Reworded,
    SheetCorrection,
    SheetLabel,
    Stay,
    Telling,
)
from benchapp.edition.state import NUMBERED, Edition
from benchapp.edition.versions import add_version, inherited_telling, named_over, seen_by
from benchapp.events.edition import (
    NumberGiven,
    NumberTakenBack,
    PrintEvent,
    ProofGiven,
    SheetCameBack,
    SheetCorrected,
    SheetDestroyed,
    SheetHandedOut,
    SheetPlaced,
    SheetRecalled,
    SheetSigned,
    ToldInPrivate,
)
from benchapp.events.entry import Entry
from benchapp.events.field_types import LabelFields, given

#: An edition after an entry; last the event of the entry, of the class it is listed with.
Fold: TypeAlias = Callable[[Edition, Entry, Any], Edition]


def _held(e: Edition, said: PrintEvent, change: Callable[[Holding], Holding]) -> Edition:
    """The edition with one sheet changed; a sheet not seen before joins it."""
    mark, session = said.sheet_names
    old = known_sheet(e, said.of_sheet)
    if old is None:
        old = Holding(said.of_sheet or "", mark, session)
    elif not old.mark and mark:
        old = replace(old, mark=mark, session=session)
    new = change(old)
    if not (old.absent or new.absent):
        return replace(e, holdings={**e.holdings, new.sheet: new})
    return replace(
        e, holdings={**{k: h for k, h in e.holdings.items() if k != new.sheet},
                     **({} if new.absent else {new.sheet: new})},
        withdrawn={**{k: h for k, h in e.withdrawn.items() if k != new.sheet},
                   **({new.sheet: new} if new.absent else {})})


def known_sheet(e: Edition, sheet: str | None) -> Holding | None:
    """The sheet, also where there is no such sheet any more."""
    return None if sheet is None else e.holdings.get(sheet) or e.withdrawn.get(sheet)


def _tells(e: Edition, entry: Entry, said: PrintEvent,
           says: Callable[[Telling], Telling]) -> Edition:
    """The edition with what the entry tells of its sheet, over what its writer had seen told."""
    return _held(e, said, lambda h: add_version(h, says(inherited_telling(h, entry))))


def _number_given(e: Edition, entry: Entry, said: NumberGiven) -> Edition:
    bears = SheetLabel(NUMBERED, said.number)
    return _tells(e, entry, said, lambda t: replace(t, bears=bears, passed=(), gave=(t.action,)))


def _proof_given(e: Edition, entry: Entry, said: ProofGiven) -> Edition:
    bears = SheetLabel(said.kind, said.number)
    passed = () if said.by is None else (said.by,)
    return _tells(e, entry, said, lambda t: replace(t, bears=bears, passed=passed,
                                                    gave=(t.action,)))


def _number_taken_back(e: Edition, entry: Entry, said: NumberTakenBack) -> Edition:
    return _tells(e, entry, said, lambda t: replace(t, bears=None, passed=(), gave=()))


def _signed(e: Edition, entry: Entry, said: SheetSigned) -> Edition:
    bears = None if said.kind is None else SheetLabel(said.kind, said.number, said.of)
    openly = getattr(said, "open", False)  # books from before open editions do not say
    return _tells(e, entry, said, lambda t: replace(
        t, bears=bears, signed=t.signed or entry.at, openly=openly))


def _destroyed(e: Edition, entry: Entry, said: SheetDestroyed) -> Edition:
    reason = Reason(said.why, entry.at)
    return _tells(e, entry, said, lambda t: replace(t, destroyed=t.destroyed or reason))


def _recalled(e: Edition, entry: Entry, said: SheetRecalled) -> Edition:
    """One line of an old paper; two books may take in the same paper, and tell of one sheet."""
    why = said.destroyed
    new = Telling(entry.id, entry.action, entry.at, bears=SheetLabel(said.kind, said.number),
                  signed=entry.at if said.signed else None, bare=said.signed is False,
                  destroyed=None if why is None else Reason(why, entry.at), gave=(entry.action,),
                  line=(said.paper, said.kind, said.number, said.signed, why))
    return _held(e, said, lambda h: replace(add_version(h, new), papers=said.paper))


def _corrected(e: Edition, entry: Entry, said: SheetCorrected) -> Edition:
    """The sheet was looked at. What its writer had not seen told of it stays beside that.

    It tells of what it names alone; one from before corrections did tells of all of it.
    """
    about = frozenset(given(said.about, WHOLE))
    absent = given(said.absent, False)
    was, now = _label_in(said.was), _label_in(said.now)

    def says(t: Telling) -> Telling:
        same = t.bears is not None and now is not None and t.bears.claim == now.claim
        kept = t if same else replace(t, passed=(), gave=())
        signed = t.signed if said.signed is None else (
            (t.signed or entry.at) if said.signed else None)
        return replace(
            kept, about=about, bears=now if BEARS in about else None, firm=BEARS in about,
            openly=False, bare=said.signed is False, signed=signed if SIGNED in about else None,
            destroyed=t.destroyed if DESTROYED in about and not said.found else None,
            whole=said.found, absent=absent)

    about_whole = about == WHOLE
    correction = SheetCorrection(
        was, now, said.why, entry.at, about, said.signed,
        None if DESTROYED not in about or (about_whole and not said.found)
        else not said.found,
        None if KNOWN not in about or about_whole else not absent)
    return _held(_tells(e, entry, said, says), said,
                 lambda h: replace(h, corrections=(*h.corrections, correction)))


def _label_in(said: LabelFields | None) -> SheetLabel | None:
    return None if said is None else SheetLabel(said["kind"], said["number"], said["of"])


def _handed_out(e: Edition, entry: Entry, said: SheetHandedOut) -> Edition:
    return _stayed(e, entry, said, day=said.day, due=said.due, terms=said.terms,
                   why=given(said.why, None))


def _came_back(e: Edition, entry: Entry, said: SheetCameBack) -> Edition:
    return _stayed(e, entry, said, day=said.day)


def _placed(e: Edition, entry: Entry, said: SheetPlaced) -> Edition:
    return _stayed(e, entry, said, day=given(said.day, None), why=given(said.why, None))


def _stayed(e: Edition, entry: Entry, said: SheetHandedOut | SheetCameBack | SheetPlaced, *,
            day: str | None, due: str | None = None, terms: str | None = None,
            why: str | None = None) -> Edition:
    def change(h: Holding) -> Holding:
        over = named_over(h, said)
        before = sorted((s for s in h.places if s.id in over),
                        key=lambda s: (s.at.wall_ms, s.id))
        corrects = frozenset(s.id for s in before) if why is not None else frozenset[str]()
        last = _last_at(h, before, corrected=why is not None)
        lost = said.place == LOST
        stay = Stay(
            said.place, entry.at, day, due, terms, action=entry.action, id=entry.id,
            out=any(s.out for s in last) if lost else said.place in OUT,
            last=(last[-1].last or last[-1].place) if lost and last else None,
            past=seen_by(h, over), corrects=corrects, why=why)
        places = (*h.places, stay)
        left = [s for s in places if s.id in h.here and not _moved_on(h, s, stay)]
        now = left if any(_moved_on(h, stay, s) for s in left) else [*left, stay]
        return replace(h, places=places, here=tuple(s.id for s in now))

    return _held(e, said, change)


def _last_at(h: Holding, before: Sequence[Stay], *, corrected: bool) -> Sequence[Stay]:
    """Where a sheet was last, before it was lost; of a place put right what was before that."""
    if not corrected:
        return before
    wrong = {x for s in h.places for x in s.corrects} | {s.id for s in before}
    past = {x for s in before for x in s.past}
    return sorted((s for s in h.places if s.id in past and s.id not in wrong),
                  key=lambda s: (s.at.wall_ms, s.id))[-1:] or [
                      s for s in before if s.place == LOST and s.last is not None]


def _moved_on(h: Holding, one: Stay, later: Stay) -> bool:
    """Whether the later was said by one who had seen the other, or the same line elsewhere."""
    return one.id in later.past or (h.papers is not None and not one.past and any(
        s.id in later.past and not s.past and s.said == one.said for s in h.places))


def _told(e: Edition, entry: Entry, said: ToldInPrivate) -> Edition:
    """Words lie apart from what they are about: the action they were said in joins them."""
    words, over = said.words, given(said.over, None)

    def change(h: Holding) -> Holding:
        if over is not None:
            return replace(h, reworded=(*h.reworded, Reworded(entry.id, frozenset(over), words)))
        if all(s.action != entry.action for s in h.places):
            before = h.private.get(entry.action, {})
            return replace(h, private={**h.private, entry.action: {**before, **words}})
        return replace(h, places=tuple(
            replace(s, words={**s.words, **words}) if s.action == entry.action else s
            for s in h.places))

    return _held(e, said, change)


SHEET_FOLDS: Final[Mapping[type[PrintEvent], Fold]] = {
    NumberGiven: _number_given,
    ProofGiven: _proof_given,
    NumberTakenBack: _number_taken_back,
    SheetSigned: _signed,
    SheetDestroyed: _destroyed,
    SheetRecalled: _recalled,
    SheetCorrected: _corrected,
    SheetHandedOut: _handed_out,
    SheetCameBack: _came_back,
    SheetPlaced: _placed,
    ToldInPrivate: _told,
}
