"""What cannot all be true of an edition, named until the printer has resolved it. Pure.

Clashes come from two books that both numbered while apart, and from pencil that says
something else than the book. Nothing is chosen here: every side is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from benchapp.edition.holding import NOTHING, Bears, Holding
from benchapp.edition.numbers import (
    day_words,
    in_order,
    kin,
    label,
    number_words,
    numbers_of,
    place_words,
    sheet_words,
)
from benchapp.edition.state import CANCELLATION, NUMBERED, SINGLE, Cap, Edition, Register
from benchapp.edition.streams import print_id


@dataclass(frozen=True, slots=True)
class Clash:
    """One thing that cannot be.

    Attributes:
        key: Names it for `Settle`; another sheet or number in it makes another key.
        text: What it is, for people, with every sheet it is about.
        mend: What can be done.
        numbers: The numbers of the edition it is about.
        sheets: The sheets it is about, by id.
        by_correction: It is resolved by a correction alone; settling has nothing to settle.
        sizes: The sizes between which it is; None is an open edition.
    """

    key: str
    text: str
    mend: str
    numbers: tuple[int, ...] = ()
    sheets: tuple[str, ...] = ()
    by_correction: bool = False
    sizes: tuple[int | None, ...] = ()


def clashes(register: Register, id: str) -> tuple[Clash, ...]:
    """Every clash of the edition that is neither corrected nor settled."""
    e = register.edition(id)
    alone = (_sizes, _declared, _twice, _void_and_borne, _two_on_one, _doubted, _passed, _astray,
             _plates, _cancellings, _beyond, _other_total)
    among = (_standards, _begun_twice, _in_two_editions, _after_cancelling)
    found = (*(c for finds in alone for c in finds(e)),
             *(c for looks in among for c in looks(register, e)))
    return tuple(c for c in found if c.key not in e.settled)


def clashing(register: Register, id: str) -> frozenset[int]:
    """The numbers of the edition that some clash is about, for every list that shows them."""
    return frozenset(n for c in clashes(register, id) for n in c.numbers)


def _key(what: str, parts: Iterable[object]) -> str:
    return f"{what}: " + " | ".join(sorted(str(p) for p in parts))


def _who(holdings: Iterable[Holding]) -> str:
    return " and ".join(sheet_words(h) + (" (destroyed)" if h.destroyed else "")
                        for h in in_order(holdings))


def sizes_words(sizes: Iterable[int | None]) -> str:
    """`3 and 4`, or `open and 4`."""
    return " and ".join("open" if n is None else str(n) for n in sizes)


def _sizes(e: Edition) -> Iterator[Clash]:
    if e.sizes:
        yield Clash(_key("size", (entry for entry, _ in e.says)),
                    f"Two books say how large the edition is: {sizes_words(e.sizes)}",
                    "settle it with the true size", sizes=e.sizes)


def _declared(e: Edition) -> Iterator[Clash]:
    """Proofs, numerals, title: what two declarations say differently beside the size."""
    words = [x for x in _differences(e) if x]
    if words:
        yield Clash(_key("declared", (entry for entry, _ in e.terms)),
                    f"Two books declare the edition differently: {'; '.join(words)}",
                    "declare again which of them is true", by_correction=True)


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


def _twice(e: Edition) -> Iterator[Clash]:
    """Two sheets that are said to be the same one."""
    sides: dict[tuple[str, int | None], list[Holding]] = {}
    for h in e.holdings.values():
        for claim in {b.claim for b in h.claims}:
            sides.setdefault(claim, []).append(h)
    for (kind, number), borne in sides.items():
        if len(borne) > 1 and (number is not None or kind in SINGLE):
            yield Clash(_key(f"twice {kind} {number or ''}", (h.sheet for h in borne)),
                        f"{label(e, Bears(kind, number))} stands on {_who(borne)}",
                        "correct what one of them bears, destroy one, or settle it with the reason",
                        (number,) if kind == NUMBERED and number else (),
                        tuple(h.sheet for h in borne))


def _void_and_borne(e: Edition) -> Iterator[Clash]:
    for number, reason in e.voids.items():
        borne = [h for h in e.holdings.values() if h.sheet not in reason.sheets
                 and any(b.claim == (NUMBERED, number) for b in h.claims)]
        if borne:
            yield Clash(_key(f"void {number}", (h.sheet for h in borne)),
                        f"{number_words(e, number)} is void ({reason.why}) and stands on "
                        f"{_who(borne)}", "correct the sheet, or settle it with the reason",
                        (number,), tuple(h.sheet for h in borne))


def _two_on_one(e: Edition) -> Iterator[Clash]:
    for h in e.holdings.values():
        if h.bears is None or not h.also:
            continue
        said = sorted((h.bears, *h.also), key=str)
        words = [("nothing stands there" if b == NOTHING else label(e, b)) for b in said]
        yield Clash(_key(f"sheet {h.sheet}", (f"{b.kind} {b.number}/{b.of}" for b in said)),
                    f"Of {sheet_words(h)} two things are said: {' and '.join(words)}",
                    "look at the sheet, and correct what it bears",
                    tuple({b.number: None for b in said
                           if b.kind == NUMBERED and b.number is not None}),
                    (h.sheet,), by_correction=True)


_DOUBTS = {"signed": "it is signed, and it is not", "destroyed": "it is destroyed, and it is there"}


def _doubted(e: Edition) -> Iterator[Clash]:
    """What one book says of a sheet and another, that knew of it, takes back."""
    for h in e.holdings.values():
        for doubt in h.doubts:
            yield Clash(f"{doubt} or not {h.sheet}",
                        f"Of {sheet_words(h)} two things are said: {_DOUBTS[doubt]}",
                        "look at the sheet, and correct what it bears", _numbers(h), (h.sheet,),
                        by_correction=True)


def _passed(e: Edition) -> Iterator[Clash]:
    for h in e.holdings.values():
        if len(h.passed) > 1 and any(b.kind == "BAT" for b in h.claims):
            yield Clash(_key(f"passed {h.sheet}", h.passed),
                        f"Two books say who passed the BAT, {sheet_words(h)}: "
                        f"{' and '.join(h.passed)}", "settle it with the reason", (), (h.sheet,))


def _astray(e: Edition) -> Iterator[Clash]:
    """Where a sheet is, by two books that moved it while apart."""
    for h in e.holdings.values():
        if h.astray:
            said = dict.fromkeys(place_words(s) for s in h.stays)
            yield Clash(_key(f"where {h.sheet}", h.here),
                        f"Two books say where {sheet_words(h)} is: {' and '.join(said)}",
                        "say where it is now", (), (h.sheet,), by_correction=True)


def _standards(register: Register, e: Edition) -> Iterator[Clash]:
    said = sorted({sheet for _, sheet in e.standards}, key=lambda s: s or "")
    if len(said) > 1:
        yield Clash(_key("standard", (entry for entry, _ in e.standards)),
                    "Two books name the standard: "
                    + " and ".join(_sheet(register, e, s) for s in said),
                    "name the standard again", (), tuple(s for s in said if s is not None),
                    by_correction=True)


def _sheet(register: Register, e: Edition, sheet: str | None) -> str:
    if sheet is None:
        return "the BAT"
    known = e.holdings.get(sheet) or register.sheets.get(sheet)
    return sheet if known is None else sheet_words(known)


def _plates(e: Edition) -> Iterator[Clash]:
    """The state of a plate, or what it gave before, by two books."""
    for name, told in e.plates.items():
        states = sorted({state for _, state in told.states})
        befores = sorted({n for _, n in told.befores})
        words = [*([" and ".join(states)] if len(states) > 1 else ()),
                 *([f"{' and '.join(map(str, befores))} impressions before this book"]
                   if len(befores) > 1 else ())]
        if words:
            yield Clash(_key(f"plate {name}", told.heads),
                        f"Two books tell of the plate {name}: {'; '.join(words)}",
                        "tell again which of them is true", by_correction=True)


def _cancellings(e: Edition) -> Iterator[Clash]:
    said = sorted({(c.how, c.plates, c.day or "") for c in e.cancellings})
    if len(said) > 1:
        words = [f"{how} ({', '.join(plates) or 'every plate'})"
                 + (f", {day_words(day)}" if day else "") for how, plates, day in said]
        yield Clash(_key("cancelled", said),
                    f"Two books record how the plate was cancelled: {' and '.join(words)}",
                    "settle it with the reason")


def _begun_twice(register: Register, e: Edition) -> Iterator[Clash]:
    """One print under two names: by title and artist, as from old papers, and by a recipe's key.

    Each would be numbered from 1. Two that both have a key are two prints of one title.
    """
    mine = print_id(e.title, e.artist)
    beside = {k.id for k in kin(register, e.id)}
    for other in register.editions.values():
        if (other.id != e.id and other.id not in beside and None not in (
                e.declared, other.declared) and print_id(other.title, other.artist) == mine
                and mine in (e.id, other.id)):
            key = other.id if e.id == mine else e.id
            yield Clash(_key("begun twice", (e.id, other.id)),
                        f"{e.title} by {e.artist} is begun twice in the book: as {mine} and as "
                        f"{key}; each gives its own numbers",
                        f"write `key: {mine}` in the recipe, let one name the other, or settle it "
                        "with the reason")


def _numbers(h: Holding) -> tuple[int, ...]:
    return tuple(dict.fromkeys(b.number for b in h.claims
                               if b.kind == NUMBERED and b.number is not None))


def _beyond(e: Edition) -> Iterator[Clash]:
    if e.size is None or e.sizes:  # while it is not known, nothing can be held against it
        return
    for n in sorted(numbers_of(e)):
        if not 1 <= n <= e.size:
            borne = [h for h in e.holdings.values()
                     if any(b.claim == (NUMBERED, n) for b in h.claims)]
            yield Clash(_key(f"beyond {n} of {e.size}", (h.sheet for h in borne)),
                        f"{_who(borne)} bears {number_words(e, n)}: the edition is {e.size}",
                        "correct the sheet, or settle it with the reason", (n,),
                        tuple(h.sheet for h in borne))


def _other_total(e: Edition) -> Iterator[Clash]:
    for h in e.holdings.values():
        b = h.bears
        if b is not None and b.kind == NUMBERED and b.of not in (
                None, e.size) and not e.sizes and not h.also:
            of = "open" if e.size is None else str(e.size)
            yield Clash(f"total {h.sheet}: {b.of} of {of}",
                        f"{sheet_words(h)} bears {label(e, b)}: the edition is {of}",
                        "correct the sheet, or settle it with the reason",
                        () if b.number is None else (b.number,), (h.sheet,))


def _in_two_editions(register: Register, e: Edition) -> Iterator[Clash]:
    for other in register.editions.values():
        if other.id == e.id:
            continue
        for h in e.holdings.values():
            twin = other.holdings.get(h.sheet)
            if twin is not None and h.claims and twin.claims:
                yield Clash(_key(f"two editions {h.sheet}", (e.id, other.id)),
                            f"{sheet_words(h)} is {label(e, h.claims[0])} here and "
                            f"{label(other, twin.claims[0])} of {other.id}",
                            "look at the sheet, and correct it in the edition it is not of",
                            tuple(b.number for b in h.claims
                                  if b.kind == NUMBERED and b.number is not None), (h.sheet,))


def pulled_after(register: Register, id: str, sheet: str) -> bool:
    """Whether a sheet was pulled after the plates of the print were cancelled."""
    known = register.sheets.get(sheet)
    done = [k.cancelled for k in kin(register, id) if k.cancelled is not None]
    if known is None or known.pulled_ms is None or not done:
        return False
    first = min(done, key=lambda c: c.at.wall_ms)
    touched = not first.plates or not known.plates or bool({*first.plates} & {*known.plates})
    return touched and known.pulled_ms > first.at.wall_ms


def _after_cancelling(register: Register, e: Edition) -> Iterator[Clash]:
    for h in e.holdings.values():
        wrong = [b for b in h.claims if b.kind != CANCELLATION
                 and not (b.kind == NUMBERED and b.number in e.voids)]
        if wrong and pulled_after(register, e.id, h.sheet):
            yield Clash(f"after cancelling {h.sheet}",
                        f"{sheet_words(h)} is {label(e, wrong[0])} and was pulled after the plate "
                        "was cancelled", "correct the sheet, or settle it with the reason",
                        tuple(b.number for b in wrong
                              if b.kind == NUMBERED and b.number is not None), (h.sheet,))
