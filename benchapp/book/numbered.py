"""What a sheet bears, from the few entries that say so: for a search, without a register. Pure.

Two books may say different things of one sheet; both are found.
"""

from __future__ import annotations

from collections.abc import Iterable

from benchapp.edition.holding import BEARS, WHOLE
from benchapp.edition.state import NUMBERED
from benchapp.events import edition as e
from benchapp.events.event import BookEvent, over_of
from benchapp.events.field_types import given

#: The id of an entry and what it tells, in the order of the book.
Told = tuple[str, BookEvent]


def _says_label(event: BookEvent) -> bool:
    """Whether it says what a sheet bears, in place of what it is written over."""
    if isinstance(event, e.SheetCorrected):
        return BEARS in given(event.about, WHOLE)
    return isinstance(event, e.NumberGiven | e.ProofGiven | e.NumberTakenBack | e.SheetSigned)


def is_latest_label(id_: str, told: Iterable[Told]) -> bool:
    """Whether no later entry about the sheet says what it bears in place of the entry `id_`.

    Args:
        id_: The entry.
        told: Every entry of the print about the sheet, in the order of the book: each is
            written over those it names, and over what these were.
    """
    seen: dict[str, set[str]] = {}
    for other, event in told:
        over = over_of(event)
        named = set(seen) if over is None else set(over)
        seen[other] = named.union(*(seen.get(x, set()) for x in named))
        if _says_label(event) and id_ in seen[other]:
            return False
    return True


def claim_in(event: BookEvent) -> tuple[str | None, int | None, int | None]:
    """The kind, number and total an entry says a sheet bears; None: it says none."""
    match event:
        case e.NumberGiven(number=number):
            return NUMBERED, number, None
        case e.SheetSigned(kind=kind, number=number, of=of):
            return kind, number, of
        case e.ProofGiven(kind=kind, number=number) | e.SheetRecalled(kind=kind, number=number):
            return kind, number, None
        case e.SheetCorrected(now=dict(now)):
            return now["kind"], now["number"], now["of"]
        case _:
            return None, None, None


def declared_totals(told: Iterable[Told], proofs: str | None) -> set[int]:
    """The totals that stand declared.

    Args:
        told: The entries that declare or lower an edition.
        proofs: Of that kind of proof; None: of the numbered edition.
    """
    said: dict[str, int | None] = {}
    for id_, event in told:
        over = over_of(event)
        said = {k: v for k, v in said.items() if over is not None and k not in over}
        if proofs is not None:
            if isinstance(event, e.EditionDeclared):
                cap = event.caps.get(proofs)
                said[id_] = None if cap is None else cap["cap"]
        elif isinstance(event, e.EditionDeclared | e.EditionLowered | e.EditionCutShort):
            said[id_] = event.size
    return {x for x in said.values() if x is not None}
