"""Entries of prints to editions: `apply_edition_entry` is total and pure.

Replaying the entries gives the same register.

Two books that both wrote about one print may be brought together, in any order. So
each entry names those it is written over, and what its writer had not seen is neither
dropped nor spoken over: it is kept beside what the entry says, and `clashes` names both.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import Final, TypeVar

from benchapp.edition.fold_sheets import SHEET_FOLDS, Fold, known_sheet
from benchapp.edition.holding import Holding, Reason
from benchapp.edition.numbers import first_name, label_text
from benchapp.edition.pictures import PictureSubject, TiedPicture
from benchapp.edition.state import (
    SINGLE,
    Cancelled,
    Cap,
    CutShort,
    Edition,
    Lowered,
    Mistake,
    NotVoid,
    PlateTold,
    Register,
    Replaced,
    Sheet,
    Terms,
    Void,
)
from benchapp.edition.versions import named_over, seen_by
from benchapp.events.edition import (
    BatReplaced,
    ClashSettled,
    EditionCutShort,
    EditionDeclared,
    EditionLowered,
    NumberNotVoid,
    NumberVoided,
    PictureTied,
    PictureUntied,
    PlateCancelled,
    PlateHistoryTold,
    PlatesShared,
    PrintEvent,
    RecordedByMistake,
    StandardNamed,
)
from benchapp.events.entry import Entry
from benchapp.events.event import over_of

T = TypeVar("T")


def replay_register(entries: Iterable[Entry], origin: str,
                    sheets: Mapping[str, Sheet] | None = None) -> Register:
    """The register after all these entries, in the order of the book.

    Args:
        entries: Of any streams; only those of prints are looked at.
        origin: The book that writes now.
        sheets: The sheets of the book's sessions, by id.
    """
    register = Register(origin, sheets=sheets or {})
    for entry in entries:
        register = apply_edition_entry(register, entry)
    return register


def apply_edition_entry(register: Register, entry: Entry) -> Register:
    """`register` after one more entry. Total: other streams and unknown kinds change nothing."""
    event = entry.event
    if not isinstance(event, PrintEvent):
        return register
    before = register.edition(event.print)
    after = _calling(before, _FOLDS[type(event)](before, entry, event), event.of_sheet)
    if register.shared:
        after = note_shared_marks(after, register.shared)
    return replace(register, editions={**register.editions, before.id: after})


def note_shared_marks(e: Edition, shared: Collection[str]) -> Edition:
    """The edition, each of its sheets knowing whether another has its mark."""
    told_ = {k: replace(h, shared=h.mark in shared) for k, h in e.holdings.items()
             if h.shared != (h.mark in shared)}
    return replace(e, holdings={**e.holdings, **told_}) if told_ else e


def _calling(before: Edition, after: Edition, sheet: str | None) -> Edition:
    """The edition after an entry, its sheets from old papers called as they are pencilled now."""
    same = _terms(before) == _terms(after)
    about = after.holdings if not same else [sheet] if sheet in after.holdings else []
    old = [h for h in (after.holdings[x] for x in about if x is not None) if h.papers is not None]
    if not old:
        return after
    called = {h.sheet: replace(h, called=_called(after, h)) for h in old}
    return replace(after, holdings={**after.holdings, **called})


def _called(e: Edition, h: Holding) -> str:
    """Its number, if it has one that no other can have; else what it was on the paper."""
    b = h.bears
    if b is None or (b.number is None and b.kind not in SINGLE):
        return first_name(h)
    return label_text(e, b)


def _terms(e: Edition) -> tuple[object, ...]:
    """What decides how a number of the edition is written."""
    return e.form, e.size, e.roman, e.roman_proofs, e.caps


def _said_over(says: tuple[tuple[str, T], ...], entry: Entry,
               value: T) -> tuple[tuple[str, T], ...]:
    """What is said of one thing by entry, after one that says it over those it had seen."""
    over = over_of(entry.event)
    return (*(() if over is None else (s for s in says if s[0] not in over)), (entry.id, value))


def _declared(e: Edition, entry: Entry, said: EditionDeclared) -> Edition:
    terms = Terms(said.title, said.artist, said.form,
                  {k: Cap(c["cap"], c["inside"]) for k, c in said.caps.items()},
                  said.roman, said.roman_proofs, said.sibling, said.relation, entry.at,
                  said.by or "")
    return _in_force(replace(_sized(e, entry, said.size),
                             terms=_said_over(e.terms, entry, terms)))


def _in_force(e: Edition) -> Edition:
    """What is reckoned with: what is said; of several things what leaves nothing outside.

    It is the same whichever book took the other in, and `clashes` names what differs.
    """
    said = e.differing or tuple(x for _, x in e.terms[:1])
    if not said:
        return e
    caps: dict[str, Cap] = {}
    for kind, cap in (x for t in said for x in t.caps.items()):
        known = caps.get(kind, cap)
        caps[kind] = Cap(max(cap.cap, known.cap), cap.inside or known.inside)
    form = "varied" if any(t.form == "varied" for t in said) else "limited"
    beside = next((t for t in said if t.sibling is not None), said[0])
    last = max((t for _, t in e.terms), key=lambda t: (t.at.wall_ms, t.by))
    return replace(
        e, declared=last.at, by=last.by, title=said[0].title, artist=said[0].artist, caps=caps,
        form="open" if e.size is None else form, roman=any(t.roman for t in said),
        roman_proofs=any(t.roman_proofs for t in said), sibling=beside.sibling,
        relation=beside.relation)


def _sized(e: Edition, entry: Entry, said: int | None) -> Edition:
    """A size, over what was said before; what another book said meanwhile stays beside it.

    While two are said, the larger is reckoned with: nothing that is there falls outside.
    """
    says = _said_over(e.says, entry, said)
    size = max((n for _, n in says if n is not None), default=None)
    return _void_now(replace(e, says=says, size=size))


def _cut_short(e: Edition, entry: Entry, said: EditionCutShort) -> Edition:
    cut = CutShort(said.size, said.why, entry.at)
    return _void_now(replace(e, cuts=_said_over(e.cuts, entry, cut)))


def _void_now(e: Edition) -> Edition:
    """The numbers never used: those voided one by one, and those above where it was cut short."""
    cut = e.cut
    if cut is None or cut.size is None or e.size is None:
        return replace(e, voids=e.voided)
    rest = Void(f"cut short at {cut.size}: {cut.why}", cut.at, cut=True)
    return replace(e, voids={**dict.fromkeys(range(cut.size + 1, e.size + 1), rest), **e.voided})


def _lowered(e: Edition, entry: Entry, said: EditionLowered) -> Edition:
    lowered = Lowered(said.was, said.size, said.why, entry.at)
    return _in_force(replace(_sized(e, entry, said.size), lowered=(*e.lowered, lowered)))


def _voided(e: Edition, entry: Entry, said: NumberVoided) -> Edition:
    sheets = () if said.sheet is None else (said.sheet,)
    h = known_sheet(e, said.sheet)
    seen = frozenset[str]() if h is None else seen_by(h, named_over(h, said))
    new = Void(said.why, entry.at, sheets, seen, said=(entry.id,))
    return _voided_now(replace(e, voidings={**e.voidings, entry.id: (said.number, new)}))


def _not_void(e: Edition, entry: Entry, said: NumberNotVoid) -> Edition:
    """A number was voided by mistake; what voids it besides, unseen, stays."""
    new = NotVoid(said.number, frozenset(said.over), said.why, entry.at)
    return _voided_now(replace(e, not_void=(*e.not_void, new)))


def _voided_now(e: Edition) -> Edition:
    """The numbers voided one by one, without what was a mistake; of two books both are said."""
    wrong = {x for n in e.not_void for x in n.over}
    voided: dict[int, Void] = {}
    for id, (number, new) in e.voidings.items():
        if id in wrong:
            continue
        old = voided.get(number, new)
        first = min(old, new, key=lambda v: (v.at.wall_ms, v.why))
        voided[number] = replace(
            first, sheets=tuple(sorted({*old.sheets, *new.sheets})), seen=old.seen | new.seen,
            said=tuple(sorted({*old.said, *new.said})))
    return _void_now(replace(e, voided=voided))


def _settled(e: Edition, entry: Entry, said: ClashSettled) -> Edition:
    settlings = {**e.settlings, entry.id: (said.clash, Reason(said.why, entry.at))}
    new = _without_mistakes(replace(e, settlings=settlings))
    return _in_force(_sized(new, entry, said.size)) if said.over else new


def _plate_told(e: Edition, entry: Entry, said: PlateHistoryTold) -> Edition:
    known = e.plates.get(said.plate, PlateTold())
    over = over_of(said)
    told = (entry.id, said.state, said.before,
            frozenset((x for x, *_ in known.said) if over is None else over))
    return replace(e, plates={**e.plates, said.plate: PlateTold((*known.said, told))})


def _cancelled(e: Edition, entry: Entry, said: PlateCancelled) -> Edition:
    new = Cancelled(said.plates, said.how, entry.at, said.day, entry.id)
    return _without_mistakes(replace(e, cancellings=(*e.cancellings, new)))


def _mistaken(e: Edition, entry: Entry, said: RecordedByMistake) -> Edition:
    new = Mistake(said.what, frozenset(said.over), said.why, entry.at)
    return _without_mistakes(replace(e, mistakes=(*e.mistakes, new)))


def _without_mistakes(e: Edition) -> Edition:
    """The cancellings and settled clashes that count."""
    wrong = {x for m in e.mistakes for x in m.over}
    return replace(e, cancellings=tuple(c for c in e.cancellings if c.id not in wrong),
                   settled={key: reason for x, (key, reason) in e.settlings.items()
                            if x not in wrong})


def _shared(e: Edition, entry: Entry, said: PlatesShared) -> Edition:
    return replace(e, sharing=_said_over(e.sharing, entry, frozenset(said.plates)))


def _standard(e: Edition, entry: Entry, said: StandardNamed) -> Edition:
    standards = _said_over(e.standards, entry, said.sheet)
    times = {**e.standard_ms, entry.id: entry.at.wall_ms}
    return replace(e, standards=standards, standard_ms={x: times[x] for x, _ in standards})


def _replaced(e: Edition, entry: Entry, said: BatReplaced) -> Edition:
    instead = Replaced(said.sheet, said.by, said.why, entry.at)
    return replace(e, replaced=_said_over(e.replaced, entry, instead))


def _tied(e: Edition, entry: Entry, said: PictureTied) -> Edition:
    about = PictureSubject(said.sheet, said.plate, said.state, said.day)
    new = TiedPicture(about, said.picture, said.name, said.file_type, said.taken, said.taken_by,
                      entry.id, entry.at)
    return replace(e, ties=(*e.ties, new))


def _untied(e: Edition, _: Entry, said: PictureUntied) -> Edition:
    return replace(e, untied=e.untied | set(said.over))


_FOLDS: Final[Mapping[type[PrintEvent], Fold]] = {
    EditionDeclared: _declared,
    EditionLowered: _lowered,
    EditionCutShort: _cut_short,
    NumberVoided: _voided,
    NumberNotVoid: _not_void,
    ClashSettled: _settled,
    PlateHistoryTold: _plate_told,
    PlateCancelled: _cancelled,
    PlatesShared: _shared,
    RecordedByMistake: _mistaken,
    StandardNamed: _standard,
    BatReplaced: _replaced,
    PictureTied: _tied,
    PictureUntied: _untied,
    **SHEET_FOLDS,
}
