"""How many sheets go into one pack, and why so many: one rule for Bench, card, plan and `prepare`.

A pack is the recipe's, or smaller where the day needs no more. A sheet is never damped alone:
it takes an hour, and one that is spoiled would ask for the next one. Pure.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import Final

from benchapp.quantities import items_text, join_words

#: More packs than this are said by their sizes, not one by one.
_LISTED: Final = 6
RECIPE: Final = "the recipe's pack"
NEEDED: Final = "what the day still needs"
SPARE: Final = f"{NEEDED} and 1 spare"
#: Of a plan alone: the Bench does not know yet when each sheet will be printed.
KEEPS: Final = "what is printed while it keeps"


def sheets_text(count: int | None) -> str:
    """`3 sheets`, or `sheets` where nobody counted."""
    return "sheets" if count is None else items_text(count, "sheet")


@dataclass(frozen=True, slots=True)
class PackSize:
    """Sheets of one pack; None where the printer counts. `why`: in words, empty for none."""

    sheets: int | None
    why: str = ""

    @property
    def words(self) -> str:
        """`6 sheets (the recipe's pack)`; empty where the printer counts."""
        if self.sheets is None:
            return ""
        return f"{items_text(self.sheets, 'sheet')} ({self.why})"


def size_pack(pack: int | None, need: int | None) -> PackSize:
    """The size of the next pack.

    Args:
        pack: Sheets the recipe has in one; None: it names no number.
        need: Sheets the day still needs beyond those that are damp; None: nobody knows. Who
            damps more than it needs damps the recipe's pack.
    """
    if not need:
        return PackSize(None) if pack is None else PackSize(pack, RECIPE)
    if pack is not None and need >= pack:
        return PackSize(pack, RECIPE)
    return PackSize(need, NEEDED) if need > 1 else PackSize(2, SPARE)


def size_packs(pack: int | None, need: int) -> tuple[PackSize, ...]:
    """Every pack that so many sheets take, in the order they go in."""
    out: list[PackSize] = []
    while need > 0:
        out.append(size_pack(pack, need))
        need -= out[-1].sheets or need
    return tuple(out)


def pack_sizes_words(sizes: tuple[PackSize, ...]) -> str:
    """`6 + 6 + 3 sheets (the recipe's pack, then what the day still needs)`.

    Of many packs how many there are of each size: `166 of 6 sheets and 1 of 4 sheets (…)`, or
    `6 sheets each (…)`.
    """
    return f"{_sizes_text(sizes)} ({_why(sizes)})"


def packs_why(sizes: tuple[PackSize, ...]) -> str:
    """`the recipe's pack`; of several packs their sizes first; empty for none."""
    return f"{_sizes_text(sizes)}: {_why(sizes)}" if len(sizes) > 1 else _why(sizes)


def _sizes_text(sizes: tuple[PackSize, ...]) -> str:
    if len(sizes) > _LISTED:
        if len(set(sizes)) == 1:
            return f"{sheets_text(sizes[0].sheets)} each"
        runs = [(size, len(list(same))) for size, same in groupby(sizes)]
        return join_words(f"{count} of {sheets_text(size.sheets)}" for size, count in runs)
    sheets = " + ".join(str(x.sheets) for x in sizes)
    return f"{sheets} sheet{'' if sheets == '1' else 's'}"


def _why(sizes: tuple[PackSize, ...]) -> str:
    return ", then ".join(dict.fromkeys(x.why for x in sizes))
