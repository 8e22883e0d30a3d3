"""An edition that ends early: its plate failed, or no more is printed, after some are signed.

N is never lowered after the first signature (a workshop agreement of the 1960s, ss. 15: such an
edition is numbered as a short one). So the total stays, the edition ends at a number, and those
above it are void by this one sentence.
"""

from __future__ import annotations

from dataclasses import replace

from benchapp.decision import Refusal, written_ids
from benchapp.edition import actions as a
from benchapp.edition.context import EditionContext
from benchapp.edition.numbers import counted_kinds, numbers_of, used_up
from benchapp.edition.rules_size import check_size_agreed, fixed_by
from benchapp.edition.state import Edition
from benchapp.edition.validators import check_text
from benchapp.events.edition import EditionCutShort


def cut_short(page: EditionContext, action: a.CutEdition) -> Refusal | None:
    """It ends at a number, or goes on after all; said again, the later word counts."""
    e = page.e
    refusal = check_text(action.why, "The reason the edition ends early",
                         "say why") or check_size_agreed(e)
    if refusal is None:
        refusal = _goes_on(e) if action.size is None else _ends(e, action.size, action.why)
    if refusal is not None:
        return refusal
    page.emit(EditionCutShort(print=page.id, size=action.size, was=e.size, why=action.why.strip(),
                              over=written_ids(x for x, _ in e.cuts)))
    return None


def _goes_on(e: Edition) -> Refusal | None:
    return None if any(c.size is not None for _, c in e.cuts) else Refusal(
        "The edition was not cut short", "there is nothing to do", rule="cut")


def _ends(e: Edition, size: int, why: str) -> Refusal | None:
    if e.size is None:
        return Refusal("An open edition has no total, so it cannot be cut short"
                       if e.form == "open" else "No size was declared", "declare one", rule="size")
    if fixed_by(e) is None:
        return Refusal("Nothing of the edition is signed yet",
                       f"make it a short edition instead: --short {size} --why WORDS", rule="lower")
    if not 1 <= size < e.size:
        return Refusal(f"{size} is not between 1 and {e.size - 1}",
                       "name the last number of the edition", rule="size")
    if [(c.size, c.why) for _, c in e.cuts] == [(size, why.strip())]:
        return Refusal(f"The edition ends at {size} already",
                       "there is nothing to do", rule="already")
    least = max(max(numbers_of(e), default=0), _used_below(e, size))
    if size < least:
        what = "numbers, with the proofs inside the total," if counted_kinds(e) else "numbers"
        return Refusal(f"The {what} go up to {least} already",
                       f"cut it short at {least} or above, or correct a sheet first", rule="size")
    return None


def _used_below(e: Edition, size: int) -> int:
    """How many of the first `size` are used up, so that proofs inside the total have room."""
    return used_up(replace(e, voids=e.voided), size) if counted_kinds(e) else 0
