"""How an edition ends, cut short or its plates cancelled, and which numbers are left. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from benchapp.edition.numbers import TakenNumbers, kind_holders, taken_numbers
from benchapp.edition.sharing import (
    first_cancelling,
    is_pulled_after,
    of_the_same_plates,
    pulled_after,
)
from benchapp.edition.state import AT_THE_PRESS, CANCELLATION, Edition, Register, Sheet
from benchapp.events.entry import Moment


def cut_short_words(e: Edition) -> str | None:
    """`declared 40, cut short at 31, plate failed`; None: it was not cut short."""
    cut = e.cut
    return None if cut is None else f"declared {e.size}, cut short at {cut.size}, {cut.why}"


def numbers_now(register: Register, id: str) -> TakenNumbers:
    """The numbers of an edition as they are shown.

    From a cancelled plate nothing is printed any more: no number is free, none is next, and those
    never given are void. A sheet pulled before that can still take one (`to_number`).
    """
    e = register.edition(id)
    now = taken_numbers(e)
    if first_cancelling(register, id) is None:
        return now
    return replace(now, void=tuple(sorted({*now.void, *now.free})), free=(), next=None)


def to_number(register: Register, id: str) -> tuple[Sheet, ...]:
    """The sheets of a print that can still take a number: nothing was decided of them yet."""
    e, done = register.edition(id), first_cancelling(register, id)
    return tuple(s for s in register.pulled(id) if s.purpose not in AT_THE_PRESS
                 and (done is None or not is_pulled_after(done, s)) and _undecided(register, e, s))


def _undecided(register: Register, e: Edition, s: Sheet) -> bool:
    """Whether it can still become something, here or in another edition."""
    held = e.holdings.get(s.id)
    return (s.verdict != "spoiled"
            and (held is None or (not held.claims and held.destroyed is None))
            and not any(other.id != e.id and (h := other.holdings.get(s.id)) is not None
                        and h.claims for other in register.editions.values()))


def is_cancellation_proof(register: Register, id: str, sheet: Sheet) -> bool:
    """Whether a sheet is proposed as the cancellation proof: pulled after, and there is none."""
    e = register.edition(id)
    if not pulled_after(register, id, sheet.id) or not _undecided(register, e, sheet):
        return False
    of_it = (e, *of_the_same_plates(register, id))
    return not any(True for x in of_it for _ in kind_holders(x, CANCELLATION))


def is_of_edition(register: Register, id: str, sheets: Sequence[Sheet], opened: Moment) -> bool:
    """Whether a day is one of the edition: not one on which its cancelled plate was printed.

    Args:
        register: All editions, with the sheets of the book.
        id: The edition.
        sheets: What was pulled that day; of a day without a sheet its opening counts.
        opened: When the day was opened.
    """
    done = first_cancelling(register, id)
    if done is None:
        return True
    if not sheets:
        return opened.wall_ms <= done.at.wall_ms
    return not all(is_pulled_after(done, s) for s in sheets)
