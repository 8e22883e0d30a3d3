"""Editions beside one another, the plates they have in common, and what was cancelled. Pure.

A colourway or a second edition may be printed from the same plates or from others. Which it
shares is known only where somebody said so: until then nothing is taken over from the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from benchapp.edition.numbers import session_day_words
from benchapp.edition.state import Cancelled, Edition, PlateTold, Register, Sheet

#: Plates in common; None: nobody said which.
Plates = frozenset[str] | None


def related_editions(register: Register, id: str) -> tuple[Edition, ...]:
    """The edition and those it is named beside, directly or through others, by id."""
    return tuple(e for e, _ in _reached(register, id))


def editions_sharing_plates(register: Register, id: str) -> Iterator[tuple[Edition, Plates]]:
    """Each edition beside it, directly or through others, with the plates they share."""
    return ((e, plates) for e, plates in _reached(register, id) if e.id != id)


def _reached(register: Register, id: str) -> list[tuple[Edition, Plates]]:
    """The edition and its kin by id; through others only what all on the way share."""
    beside: dict[str, list[tuple[str, Plates]]] = {}
    for e in register.editions.values():
        if e.sibling is not None:
            beside.setdefault(e.id, []).append((e.sibling, e.shares))
            beside.setdefault(e.sibling, []).append((e.id, e.shares))
    found: dict[str, Plates] = {id: None}
    waiting = [id]
    while waiting:
        here = waiting.pop(0)
        for other, plates in beside.get(here, ()):
            if other not in found:
                found[other] = plates if here == id else _both(found[here], plates)
                waiting.append(other)
    return [(register.edition(x), found[x]) for x in sorted(found)
            if x == id or x in register.editions]


def _both(one: Plates, other: Plates) -> Plates:
    return None if one is None or other is None else one & other


def recorded_cancellings(register: Register, id: str) -> tuple[Cancelled, ...]:
    """What was recorded of the cancelling of its plates, in it and where they are shared."""
    found = list(register.edition(id).cancellings)
    for other, plates in editions_sharing_plates(register, id):
        for c in other.cancellings:
            hit = plates & {*c.plates} if plates and c.plates else plates
            if hit:
                found.append(replace(c, plates=tuple(sorted(hit))))
    return tuple(found)


def of_the_same_plates(register: Register, id: str) -> Iterator[Edition]:
    """The editions that are known to share a plate with it."""
    return (e for e, plates in editions_sharing_plates(register, id) if plates)


def first_cancelling(register: Register, id: str) -> Cancelled | None:
    """What counts as the cancelling of the plates: the first recorded.

    Of plates, all that any record names; none named: every plate.
    """
    records = recorded_cancellings(register, id)
    if len(records) < 2:
        return records[0] if records else None
    first = min(records, key=lambda c: (c.at.wall_ms, c.how, c.plates, c.day or ""))
    every = any(not c.plates for c in records)
    plates = () if every else tuple(sorted({p for c in records for p in c.plates}))
    return replace(first, plates=plates)


def cancelled_words(register: Register, id: str) -> str | None:
    """`key: scored through, 3 May 2026`; None: nobody recorded that its plates were cancelled."""
    done = first_cancelling(register, id)
    if done is None:
        return None
    which = ", ".join(done.plates) + ": " if done.plates else ""
    return which + done.how + ("" if done.day is None else f", {session_day_words(done.day)}")


def is_pulled_after(done: Cancelled, sheet: Sheet | None) -> bool:
    """Whether a sheet was pulled from a plate after that was cancelled."""
    if sheet is None or sheet.pulled_ms is None:
        return False
    touched = not done.plates or not sheet.plates or bool({*done.plates} & {*sheet.plates})
    return touched and sheet.pulled_ms > done.at.wall_ms


def pulled_after(register: Register, id: str, sheet: str) -> bool:
    """Whether a sheet was pulled after the plates of the print were cancelled."""
    done = first_cancelling(register, id)
    return done is not None and is_pulled_after(done, register.sheets.get(sheet))


def share_plate(one: Cancelled, other: Cancelled) -> bool:
    """Whether two records are about the same plate."""
    return not one.plates or not other.plates or bool({*one.plates} & {*other.plates})


def from_same_plates(register: Register, id: str, name: str) -> Iterator[Edition]:
    """The editions printed from the plate of that name: itself, and those that share it.

    Where nobody said what is shared, plates of one name are counted as one.
    """
    yield register.edition(id)
    yield from (e for e, plates in editions_sharing_plates(register, id)
                if plates is None or name in plates)


def plates_told(register: Register, id: str) -> dict[str, PlateTold]:
    """What was told of each plate, in the edition and in those printed from the same plates."""
    told: dict[str, PlateTold] = {}
    for name in dict.fromkeys(n for e in related_editions(register, id) for n in e.plates):
        said = [x for e in from_same_plates(register, id, name) if name in e.plates
                for x in e.plates[name].said]
        if said:
            told[name] = PlateTold(tuple(said))
    return told
