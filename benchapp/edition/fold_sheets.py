"""Entries of one sheet, folded into its edition: what is pencilled on it, where it is. Pure.

What an entry had not seen stays beside what it says (`fold`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Final

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
from benchapp.edition.versions import add_version, inherited_telling, seen_by
from benchapp.events.entry import Entry


def _held(e: Edition, entry: Entry, change: Callable[[Holding], Holding]) -> Edition:
    """The edition with one sheet changed; a sheet not seen before joins it."""
    body = entry.body
    old = known_sheet(e, body["sheet"])
    if old is None:
        old = Holding(body["sheet"], body.get("mark") or "", body.get("session") or "")
    elif not old.mark and body.get("mark"):
        old = replace(old, mark=body["mark"], session=body.get("session") or "")
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


def _tells(e: Edition, entry: Entry, says: Callable[[Telling], Telling]) -> Edition:
    """The edition with what the entry tells of its sheet, over what its writer had seen told."""
    return _held(e, entry, lambda h: add_version(h, says(inherited_telling(h, entry))))


def _number_given(e: Edition, entry: Entry) -> Edition:
    bears = SheetLabel(NUMBERED, entry.body["number"])
    return _tells(e, entry, lambda t: replace(t, bears=bears, passed=(), gave=(t.action,)))


def _proof_given(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    bears = SheetLabel(body["kind"], body["number"])
    passed = () if body["by"] is None else (body["by"],)
    return _tells(e, entry, lambda t: replace(t, bears=bears, passed=passed,
                                               gave=(t.action,)))


def _number_taken_back(e: Edition, entry: Entry) -> Edition:
    return _tells(e, entry, lambda t: replace(t, bears=None, passed=(), gave=()))


def _signed(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    kind = body["kind"]
    bears = None if kind is None else SheetLabel(kind, body["number"], body["of"])
    return _tells(e, entry, lambda t: replace(
        t, bears=bears, signed=t.signed or entry.at, openly=body.get("open", False)))


def _destroyed(e: Edition, entry: Entry) -> Edition:
    reason = Reason(entry.body["why"], entry.at)
    return _tells(e, entry, lambda t: replace(t, destroyed=t.destroyed or reason))


def _recalled(e: Edition, entry: Entry) -> Edition:
    """One line of an old paper; two books may take in the same paper, and tell of one sheet."""
    body = entry.body
    why = body["destroyed"]
    new = Telling(entry.id, entry.action, entry.at, bears=SheetLabel(body["kind"], body["number"]),
                  signed=entry.at if body["signed"] else None, bare=body["signed"] is False,
                  destroyed=None if why is None else Reason(why, entry.at), gave=(entry.action,),
                  line=(body["paper"], body["kind"], body["number"], body["signed"], why))
    return _held(e, entry, lambda h: replace(add_version(h, new), papers=body["paper"]))


def _corrected(e: Edition, entry: Entry) -> Edition:
    """The sheet was looked at. What its writer had not seen told of it stays beside that.

    It tells of what it names alone; one from before corrections did tells of all of it.
    """
    body = entry.body
    about = frozenset(body.get("about", WHOLE))
    was, now = _bears_in(body["was"]), _bears_in(body["now"])

    def says(t: Telling) -> Telling:
        same = t.bears is not None and now is not None and t.bears.claim == now.claim
        kept = t if same else replace(t, passed=(), gave=())
        signed = t.signed if body["signed"] is None else (
            (t.signed or entry.at) if body["signed"] else None)
        return replace(
            kept, about=about, bears=now if BEARS in about else None, firm=BEARS in about,
            openly=False, bare=body["signed"] is False, signed=signed if SIGNED in about else None,
            destroyed=t.destroyed if DESTROYED in about and not body["found"] else None,
            whole=body["found"], absent=body.get("absent", False))

    about_whole = about == WHOLE
    correction = SheetCorrection(
        was, now, body["why"], entry.at, about, body["signed"],
        None if DESTROYED not in about or (about_whole and not body["found"])
        else not body["found"],
        None if KNOWN not in about or about_whole else not body.get("absent", False))
    return _held(_tells(e, entry, says), entry,
                 lambda h: replace(h, corrections=(*h.corrections, correction)))


def _bears_in(body: Mapping[str, object] | None) -> SheetLabel | None:
    if body is None:
        return None
    number, of = body["number"], body["of"]
    return SheetLabel(str(body["kind"]), number if isinstance(number, int) else None,
                      of if isinstance(of, int) else None)


def _stayed(e: Edition, entry: Entry) -> Edition:
    body = entry.body

    def change(h: Holding) -> Holding:
        over = body.get("over", h.all_told)
        why = body.get("why")
        before = sorted((s for s in h.places if s.id in over),
                        key=lambda s: (s.at.wall_ms, s.id))
        corrects = frozenset(s.id for s in before) if why is not None else frozenset[str]()
        last = _last_at(h, before, corrected=why is not None)
        lost = body["place"] == LOST
        stay = Stay(
            body["place"], entry.at, body.get("day"), body.get("due"), body.get("terms"),
            action=entry.action, id=entry.id,
            out=any(s.out for s in last) if lost else body["place"] in OUT,
            last=(last[-1].last or last[-1].place) if lost and last else None,
            past=seen_by(h, over), corrects=corrects, why=why)
        places = (*h.places, stay)
        left = [s for s in places if s.id in h.here and not _moved_on(h, s, stay)]
        now = left if any(_moved_on(h, stay, s) for s in left) else [*left, stay]
        return replace(h, places=places, here=tuple(s.id for s in now))

    return _held(e, entry, change)


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


def _told(e: Edition, entry: Entry) -> Edition:
    """Words lie apart from what they are about: the action they were said in joins them."""
    said = entry.body["words"]
    over = entry.body.get("over")

    def change(h: Holding) -> Holding:
        if over is not None:
            return replace(h, reworded=(*h.reworded, Reworded(entry.id, frozenset(over), said)))
        if all(s.action != entry.action for s in h.places):
            before = h.private.get(entry.action, {})
            return replace(h, private={**h.private, entry.action: {**before, **said}})
        return replace(h, places=tuple(
            replace(s, words={**s.words, **said}) if s.action == entry.action else s
            for s in h.places))

    return _held(e, entry, change)


SHEET_KINDS: Final[Mapping[str, Callable[[Edition, Entry], Edition]]] = {
    "number given": _number_given,
    "proof given": _proof_given,
    "number taken back": _number_taken_back,
    "signed": _signed,
    "destroyed": _destroyed,
    "recalled": _recalled,
    "corrected": _corrected,
    "handed out": _stayed,
    "came back": _stayed,
    "placed": _stayed,
    "told in private": _told,
}
