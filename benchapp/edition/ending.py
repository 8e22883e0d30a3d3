"""How an edition ends, cut short or its plates cancelled, and which numbers are left. Pure."""

from __future__ import annotations

from dataclasses import replace

from benchapp.edition.clashes import pulled_after
from benchapp.edition.numbers import Taken, taken
from benchapp.edition.sharing import cancelled
from benchapp.edition.state import AT_THE_PRESS, Edition, Register, Sheet


def cut_words(e: Edition) -> str | None:
    """`declared 40, cut short at 31, plate failed`; None: it was not cut short."""
    cut = e.cut
    return None if cut is None else f"declared {e.size}, cut short at {cut.size}, {cut.why}"


def numbers_now(register: Register, id: str) -> Taken:
    """The numbers of an edition as they are shown.

    From a cancelled plate nothing is printed any more, so no number is free and none is next.
    Those never given are void, unless a sheet pulled before still waits for its number.
    """
    e = register.edition(id)
    now = taken(e)
    if cancelled(register, id) is None:
        return now
    void = now.void if to_number(register, id) else tuple(sorted({*now.void, *now.free}))
    return replace(now, void=void, free=(), next=None)


def to_number(register: Register, id: str) -> tuple[Sheet, ...]:
    """The sheets of a print that can still take a number: nothing was decided of them yet."""
    e = register.edition(id)
    return tuple(s for s in register.pulled(id) if _waits(register, e, s))


def _waits(register: Register, e: Edition, s: Sheet) -> bool:
    held = e.holdings.get(s.id)
    return (s.purpose not in AT_THE_PRESS and s.verdict != "spoiled"
            and (held is None or (not held.claims and held.destroyed is None))
            and not any(other.id != e.id and (h := other.holdings.get(s.id)) is not None
                        and h.claims for other in register.editions.values())
            and not pulled_after(register, e.id, s.id))
