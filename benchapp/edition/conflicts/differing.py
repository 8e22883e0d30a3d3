"""What books that wrote while apart say differently, each side said and none chosen. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchapp.edition.conflicts.conflict import (
    Clash,
    conflict_key,
    describe_ways_out,
    numbers_on,
    sheet_of,
    sizes_words,
)
from benchapp.edition.holding import DESTROYED, KNOWN, NOTHING, SIGNED, SheetLabel
from benchapp.edition.numbers import (
    label_text,
    place_word,
    place_words,
    session_day_words,
    sheet_words,
)
from benchapp.edition.sharing import plates_told, recorded_cancellings, share_plate
from benchapp.edition.state import NUMBERED, Cap, Edition, Register
from benchapp.quantities import join_words


def find_differences(register: Register, e: Edition) -> Iterator[Clash]:
    """Everything books say differently of the edition, its sheets and its plates."""
    for finds in (_sizes, _cuts, _declared, _two_on_one, _doubted, _meanwhile, _passed, _astray):
        yield from finds(e)
    for looks in (_standards, _plates, _cancellings):
        yield from looks(register, e)


def _sizes(e: Edition) -> Iterator[Clash]:
    if e.sizes:
        yield Clash(conflict_key("size", (entry for entry, _ in e.says)),
                    f"Books differ on the size of the edition: {sizes_words(e.sizes)}",
                    "settle it with the true size" + ("; without one it is open"
                                                      if None in e.sizes else ""), sizes=e.sizes)


def _cuts(e: Edition) -> Iterator[Clash]:
    ends = {c.size for _, c in e.cuts}
    if len(ends) > 1:
        words = ["it continues"] if None in ends else []
        words += [str(n) for n in sorted(n for n in ends if n is not None)]
        yield Clash(conflict_key("cut short", (entry for entry, _ in e.cuts)),
                    f"Books differ on the last number of the edition: {join_words(words)}",
                    "enter the right end: --cut-short N", by_correction=True)


def _declared(e: Edition) -> Iterator[Clash]:
    """Proofs, numerals, title: what two declarations say differently beside the size."""
    words = [x for x in _differences(e) if x]
    if words:
        yield Clash(conflict_key("declared", (entry for entry, _ in e.terms)),
                    f"Books declare the edition differently: {'; '.join(words)}",
                    "declare the edition again with the right values", by_correction=True)


def _differences(e: Edition) -> Iterator[str]:
    said = e.differing
    yield _both("title", (t.title for t in said))
    yield _both("artist", (t.artist for t in said))
    # Between open and a size it is a matter of the size.
    yield _both("form", (t.form for t in said if t.form != "open"))
    for kind in dict.fromkeys(k for t in said for k in t.caps):
        yield _both(kind, (_cap(t.caps.get(kind)) for t in said))
    yield _both("numbers", (_NUMERALS[t.roman] for t in said))
    yield _both("numbers of proofs", (_NUMERALS[t.roman_proofs] for t in said))
    yield _both("beside", (f"{t.sibling} ({t.relation})" if t.sibling else "no other"
                           for t in said))


_NUMERALS = {True: "Roman", False: "figures"}


def _cap(cap: Cap | None) -> str:
    return "not said" if cap is None else f"{cap.cap}{' inside the total' if cap.inside else ''}"


def _both(what: str, said: Iterable[str]) -> str:
    """`AP 3 and 4`; empty where they say the same."""
    words = list(dict.fromkeys(said))
    return f"{what} {' and '.join(words)}" if len(words) > 1 else ""


#: What two books say, and how it is decided.
_DOUBTS = {SIGNED: ("one says signed, the other not signed", ("signed", "not signed")),
           DESTROYED: ("one says destroyed, the other that it still exists",
                       ("destroyed", "not destroyed")),
           KNOWN: ("one has this sheet, the other says there is none",
                   ("number N", "no such sheet"))}


def _two_on_one(e: Edition) -> Iterator[Clash]:
    for h in e.holdings.values():
        if h.bears is None or not h.also:
            continue
        said = sorted((h.bears, *h.also), key=str)
        words = [label_text(e, b) for b in said if b != NOTHING]
        words += ["nothing"] if NOTHING in said else []
        yield Clash(conflict_key(f"sheet {h.sheet}", (f"{b.kind} {b.number}/{b.of}" for b in said)),
                    f"Books differ on {sheet_of(e, h)}: {join_words(words)}",
                    describe_ways_out(h, *_as_said(said)), numbers_on(h), (h.sheet,),
                    by_correction=True)


def _as_said(said: Iterable[SheetLabel]) -> tuple[str, ...]:
    """What can be told of a sheet that is said to bear these: each of them, or nothing."""
    return tuple("not numbered" if b == NOTHING else f"number {b.number}" if b.kind == NUMBERED
                 else f"purpose {b.kind}{'' if b.number is None else f' {b.number}'}"
                 for b in said) or ("number N", "not numbered")


def _doubted(e: Edition) -> Iterator[Clash]:
    """What one book says of a sheet and another, that knew of it, takes back."""
    for h in e.holdings.values():
        for doubt in h.doubts:
            words, ways = _DOUBTS[doubt]
            yield Clash(f"{doubt} or not {h.sheet}",
                        f"Books differ on {sheet_of(e, h)}: {words}",
                        describe_ways_out(h, *ways), numbers_on(h), (h.sheet,), by_correction=True)


def _meanwhile(e: Edition) -> Iterator[Clash]:
    """A sheet one book moved while another, that had not seen it, changed or destroyed it."""
    for h in e.holdings.values():
        pairs = sorted(h.meanwhile, key=lambda x: (x[0].id, x[1].id))
        for stay, telling in pairs[:1]:
            done = "destroyed it" if telling.destroyed else "changed what is on it"
            yield Clash(conflict_key(f"meanwhile {h.sheet}", {y.id for x in pairs for y in x}),
                        f"{sheet_of(e, h)} is {place_word(stay.place)} in one book; another "
                        f"{done} without knowing",
                        describe_ways_out(h,
                                          *(("destroyed", "not destroyed") if telling.destroyed else
                                               _as_said(h.claims))), numbers_on(h), (h.sheet,),
                        by_correction=True)


def _passed(e: Edition) -> Iterator[Clash]:
    for h in e.holdings.values():
        if len(h.passed) > 1 and any(b.kind == "BAT" for b in h.claims):
            yield Clash(conflict_key(f"passed {h.sheet}", h.passed),
                        f"Books differ on who passed the BAT, {sheet_of(e, h)}: "
                        f"{join_words(h.passed)}", "settle it, with the reason", (), (h.sheet,))


def _astray(e: Edition) -> Iterator[Clash]:
    """Where a sheet is, by two books that moved it while apart."""
    for h in e.holdings.values():
        if h.astray and h.destroyed is None:
            said = [place_words(s) for s in h.stays]
            yield Clash(conflict_key(f"where {h.sheet}", h.here),
                        f"Books differ on where {sheet_of(e, h)} is: {' / '.join(said)}",
                        describe_ways_out(h, "place PLACE"), (), (h.sheet,), by_correction=True)


def _standards(register: Register, e: Edition) -> Iterator[Clash]:
    said = sorted({sheet for _, sheet in e.standards}, key=lambda s: s or "")
    if len(said) > 1:
        yield Clash(conflict_key("standard", (entry for entry, _ in e.standards)),
                    "Books name different standards: "
                    + join_words(_sheet(register, e, s) for s in said),
                    "name the true standard again", (), tuple(s for s in said if s is not None),
                    by_correction=True)


def _sheet(register: Register, e: Edition, sheet: str | None) -> str:
    if sheet is None:
        return "the BAT"
    known = e.holdings.get(sheet) or register.sheets.get(sheet)
    return sheet if known is None else sheet_words(known)


def _plates(register: Register, e: Edition) -> Iterator[Clash]:
    """The state of a plate, or what it gave before, by two books."""
    for name, told in plates_told(register, e.id).items():
        words = [*([join_words(told.states)] if len(told.states) > 1 else ()),
                 *([f"{join_words(map(str, told.befores))} impressions before this book"]
                   if len(told.befores) > 1 else ())]
        if words:
            yield Clash(conflict_key(f"plate {name}", words),
                        f"Books differ on the plate {name}: {'; '.join(words)}",
                        "record the plate again with the right values", by_correction=True)


def _cancellings(register: Register, e: Edition) -> Iterator[Clash]:
    records = recorded_cancellings(register, e.id)
    said = sorted({(c.how, c.plates, c.day or "") for c in records
                   if any(share_plate(c, other) for other in records if other is not c)})
    if len(said) > 1:
        words = [f"{how} ({', '.join(plates) or 'every plate'})"
                 + (f", {session_day_words(day)}" if day else "") for how, plates, day in said]
        yield Clash(conflict_key("cancelled", said),
                    f"Books differ on how the plate was cancelled: {join_words(words)}",
                    "settle it, with the reason")
