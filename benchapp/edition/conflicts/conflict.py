"""One thing that cannot be true of an edition, and how it is worded."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from benchapp.edition.holding import Holding
from benchapp.edition.numbers import (
    alone_words,
    correct_command,
    label_text,
    sheet_words,
    sort_holdings,
)
from benchapp.edition.state import NUMBERED, Edition
from benchapp.quantities import join_words


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


def conflict_key(what: str, parts: Iterable[object]) -> str:
    """What names a clash: the same whatever the order of what it is about."""
    return f"{what}: " + " | ".join(sorted(str(p) for p in parts))


def describe_sheets(holdings: Iterable[Holding]) -> str:
    """The sheets, for people, and which of them are no more."""
    return " and ".join(alone_words(h) + (" (destroyed)" if h.destroyed else "")
                        for h in sort_holdings(holdings))


def sheet_of(e: Edition, h: Holding) -> str:
    """Which sheet of the edition: also of one known only from old papers."""
    if h.papers is None or h.bears is None:
        return sheet_words(h)
    return f"{label_text(e, h.bears)} from old papers"


def describe_ways_out(h: Holding, *ways: str) -> str:
    """How a clash about one sheet is decided: each way a command of its own."""
    return "look at the sheet, then " + " or ".join(correct_command(h, way) for way in ways)


def how_among(holdings: Iterable[Holding], *ways: str) -> str:
    """How a clash about several sheets is decided; it may also stay."""
    first = next(iter(sort_holdings(holdings)))
    return f"{describe_ways_out(first, *ways)}; it may also stay: --settle, with the reason"


def sizes_words(sizes: Iterable[int | None]) -> str:
    """`3 and 4`, or `open, 3 and 4`."""
    return join_words("open" if n is None else str(n) for n in sizes)


def numbers_on(h: Holding) -> tuple[int, ...]:
    """Every number of the edition that is said to stand on a sheet."""
    return tuple(dict.fromkeys(b.number for b in h.claims
                               if b.kind == NUMBERED and b.number is not None))
