"""Entries of prints to editions: `apply` is total and pure, and replaying gives the same register.

Two books that both wrote about one print may be brought together, in any order. So
an entry that does not fit is never dropped and never wins in silence: what it says
is kept beside what stood there, and `clashes` names it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Final

from benchapp.edition.state import (
    NOTHING,
    NUMBERED,
    Bears,
    Cancelled,
    Cap,
    Correction,
    Edition,
    Holding,
    Lowered,
    PlateTold,
    Reason,
    Register,
    Sheet,
    Stay,
    Terms,
    Void,
)
from benchapp.journal import Entry, family


def replay(entries: Iterable[Entry], origin: str,
           sheets: Mapping[str, Sheet] | None = None) -> Register:
    """The register after all these entries, in the order of the book.

    Args:
        entries: Of any streams; only those of prints are looked at.
        origin: The book that writes now.
        sheets: The sheets of the book's sessions, by id.
    """
    register = Register(origin, sheets=sheets or {})
    for entry in entries:
        register = apply(register, entry)
    return register


def apply(register: Register, entry: Entry) -> Register:
    """`register` after one more entry. Total: other streams and unknown kinds change nothing."""
    fold = _KINDS.get(entry.kind) if family(entry.stream) == "print" else None
    if fold is None:
        return register
    before = register.edition(entry.body["print"])
    return replace(register, editions={**register.editions, before.id: fold(before, entry)})


def _held(e: Edition, entry: Entry, change: Callable[[Holding], Holding]) -> Edition:
    """The edition with one sheet changed; a sheet not seen before joins it."""
    body = entry.body
    old = e.holdings.get(body["sheet"])
    if old is None:
        old = Holding(body["sheet"], body.get("mark") or "", body.get("session") or "")
    elif not old.mark and body.get("mark"):
        old = replace(old, mark=body["mark"], session=body["session"])
    return replace(e, holdings={**e.holdings, old.sheet: change(old)})


def _declared(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    said = Terms(body["title"], body["artist"], body["form"],
                 {k: Cap(c["cap"], c["inside"]) for k, c in body["caps"].items()},
                 body["roman"], body["roman_proofs"], body["sibling"], body["relation"])
    others = tuple(x for x in e.terms if x[0] not in body["over"])
    new = replace(_said(e, entry), terms=(*others, (entry.id, said)), by=body["by"],
                  declared=entry.at)
    return _in_force(new)


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
    return replace(
        e, title=said[0].title, artist=said[0].artist, caps=caps,
        form="open" if e.size is None else form, roman=any(t.roman for t in said),
        roman_proofs=any(t.roman_proofs for t in said), sibling=beside.sibling,
        relation=beside.relation)


def _said(e: Edition, entry: Entry) -> Edition:
    """A size, over what was said before; what another book said meanwhile stays beside it.

    While two are said, the larger is reckoned with: nothing that is there falls outside.
    """
    over = entry.body["over"]
    says = (*(s for s in e.says if s[0] not in over), (entry.id, entry.body["size"]))
    size = max((n for _, n in says if n is not None), default=None)
    return replace(e, says=says, size=size)


def _lowered(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    lowered = Lowered(body["was"], body["size"], body["why"], entry.at)
    return _in_force(replace(_said(e, entry), lowered=(*e.lowered, lowered)))


def _number_given(e: Edition, entry: Entry) -> Edition:
    return _held(e, entry, lambda h: _given(h, Bears(NUMBERED, entry.body["number"],
                                                     given=entry.id)))


def _proof_given(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    if body["kind"] == "BAT" and body["by"] is not None:
        e = replace(e, approved_by=body["by"])
    return _held(e, entry, lambda h: _given(h, Bears(body["kind"], body["number"],
                                                     given=entry.id)))


def _given(h: Holding, bears: Bears) -> Holding:
    if h.bears is None:
        return replace(h, bears=bears)
    return h if h.bears.claim == bears.claim else _also(h, bears)


def _also(h: Holding, bears: Bears) -> Holding:
    """Kept beside what stands there, once; with its total, where either book has that."""
    known = [b for b in h.also if b.like(bears)]
    if known and (bears.of is None or known[0].of is not None):
        return h
    return replace(h, also=(*(b for b in h.also if not b.like(bears)), bears))


def _number_taken_back(e: Edition, entry: Entry) -> Edition:
    given = entry.body["given"]

    def change(h: Holding) -> Holding:
        if h.bears is None or h.bears.given != given:
            return replace(h, also=tuple(b for b in h.also if b == NOTHING or b.given != given))
        if h.signed is not None and not h.bare:
            return _also(h, NOTHING)  # nothing signed changes
        rest = tuple(b for b in h.also if b != NOTHING)
        return replace(h, bears=rest[0] if rest else None, also=rest[1:])

    return _held(e, entry, change)


def _signed(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    kind = body["kind"]
    said = None if kind is None else Bears(kind, body["number"], body["of"], entry.id)

    def change(h: Holding) -> Holding:
        new = replace(h, signed=h.signed or entry.at,
                      bare=said is None and (h.bare or h.signed is None))
        if said is None:
            return new
        if h.bears is None:
            return _also(replace(new, bears=said), NOTHING)
        if h.signed is not None:
            return new if h.bears.like(said) else _also(new, said)
        # What was signed stands on the paper; what the book had beside it is kept.
        if h.bears.like(said):
            return replace(new, bears=replace(said, given=h.bears.given))
        rest = (b for b in h.also if not b.like(said))
        return replace(new, bears=said, also=(h.bears, *rest))

    return _held(e, entry, change)


def _voided(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    sheets = () if body["sheet"] is None else (body["sheet"],)
    old = e.voids.get(body["number"], Void(body["why"], entry.at))
    new = replace(old, sheets=tuple(sorted({*old.sheets, *sheets})))
    return replace(e, voids={**e.voids, body["number"]: new})


def _destroyed(e: Edition, entry: Entry) -> Edition:
    reason = Reason(entry.body["why"], entry.at)
    return _held(e, entry,
                 lambda h: h if h.destroyed is not None else replace(h, destroyed=reason))


def _recalled(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    why = body["destroyed"]
    new = Holding(
        body["sheet"], "", "", Bears(body["kind"], body["number"], given=entry.id),
        signed=entry.at if body["signed"] else None, papers=body["paper"],
        destroyed=None if why is None else Reason(why, entry.at))
    return e if new.sheet in e.holdings else replace(e, holdings={**e.holdings, new.sheet: new})


def _corrected(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    was, now = _bears_in(body["was"], None), _bears_in(body["now"], entry.id)

    def change(h: Holding) -> Holding:
        # Elsewhere it came to bear something else meanwhile: both stand until it is looked at.
        other = h.bears if h.bears not in (was, now) else None
        signed = h.signed
        if body["signed"] is not None:
            signed = (h.signed or entry.at) if body["signed"] else None
        return replace(
            h, bears=other if now is None else now,
            also=() if now is None or other is None else (other,), signed=signed,
            destroyed=None if body["found"] else h.destroyed,
            corrections=(*h.corrections, Correction(h.bears, now, body["why"], entry.at)))

    return _held(e, entry, change)


def _bears_in(body: Mapping[str, object] | None, given: str | None) -> Bears | None:
    if body is None:
        return None
    number, of = body["number"], body["of"]
    return Bears(str(body["kind"]), number if isinstance(number, int) else None,
                 of if isinstance(of, int) else None, given)


def _settled(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    new = replace(e, settled={**e.settled, body["clash"]: Reason(body["why"], entry.at)})
    if not body["over"]:
        return new
    return _in_force(_said(new, entry))


def _plate_told(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    old = e.plates.get(body["plate"], PlateTold())
    told = PlateTold(old.state if body["state"] is None else body["state"],
                     old.before if body["before"] is None else body["before"])
    return replace(e, plates={**e.plates, body["plate"]: told})


def _cancelled(e: Edition, entry: Entry) -> Edition:
    if e.cancelled is not None and e.cancelled.at.wall_ms <= entry.at.wall_ms:
        return e
    body = entry.body
    return replace(e, cancelled=Cancelled(tuple(body["plates"]), body["how"], entry.at,
                                          body["day"]))


def _standard(e: Edition, entry: Entry) -> Edition:
    return replace(e, standard=entry.body["sheet"])


def _stayed(e: Edition, entry: Entry) -> Edition:
    body = entry.body
    stay = Stay(body["place"], entry.at, body.get("day"), body.get("due"), body.get("terms"),
                action=entry.action)
    return _held(e, entry, lambda h: replace(h, places=(*h.places, stay)))


def _told(e: Edition, entry: Entry) -> Edition:
    """Words lie apart from what they are about: the action they were said in joins them."""

    def change(h: Holding) -> Holding:
        if h.places and h.places[-1].action == entry.action:
            words = {**h.places[-1].words, **entry.body["words"]}
            return replace(h, places=(*h.places[:-1], replace(h.places[-1], words=words)))
        return replace(h, words={**h.words, **entry.body["words"]})

    return _held(e, entry, change)


_KINDS: Final[dict[str, Callable[[Edition, Entry], Edition]]] = {
    "declared": _declared,
    "lowered": _lowered,
    "number given": _number_given,
    "proof given": _proof_given,
    "number taken back": _number_taken_back,
    "signed": _signed,
    "number voided": _voided,
    "destroyed": _destroyed,
    "recalled": _recalled,
    "corrected": _corrected,
    "clash settled": _settled,
    "plate told": _plate_told,
    "plate cancelled": _cancelled,
    "standard named": _standard,
    "handed out": _stayed,
    "came back": _stayed,
    "placed": _stayed,
    "told in private": _told,
}
