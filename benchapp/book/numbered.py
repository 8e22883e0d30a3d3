"""What a sheet bears, from the few entries that say so: for a search, without a register. Pure.

Two books may say different things of one sheet; both are found.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, Final

from benchapp.edition.holding import BEARS, WHOLE
from benchapp.edition.state import NUMBERED

#: (id, kind, body) of an entry, in the order of the book.
Told = tuple[str, str, Mapping[str, Any]]

#: These say what a sheet bears, in place of what they are written over.
_SAY_SO: Final = ("number given", "proof given", "number taken back", "signed", "corrected")


def is_latest_label(id_: str, told: Iterable[Told]) -> bool:
    """Whether no later entry about the sheet says what it bears in place of the entry `id_`.

    Args:
        id_: The entry.
        told: Every entry of the print about the sheet, in the order of the book: each is
            written over those it names, and over what these were.
    """
    seen: dict[str, set[str]] = {}
    for other, kind, body in told:
        over = body.get("over")
        named = set(seen) if over is None else set(over)
        seen[other] = named.union(*(seen.get(x, set()) for x in named))
        if kind in _SAY_SO and BEARS in body.get("about", WHOLE) and id_ in seen[other]:
            return False
    return True


def claim_in(kind: str, body: Mapping[str, Any]) -> tuple[str, int | None, int | None]:
    """The kind, number and total an entry says a sheet bears; None: it says none."""
    if kind == "corrected":
        body = body.get("now") or {}
    said = NUMBERED if kind == "number given" else str(body.get("kind"))
    return said, body.get("number"), body.get("of")


def declared_totals(told: Iterable[Told], proofs: str | None) -> set[int]:
    """The totals that stand declared.

    Args:
        told: The entries that declare or lower an edition.
        proofs: Of that kind of proof; None: of the numbered edition.
    """
    said: dict[str, int | None] = {}
    for id_, _, body in told:
        over = body.get("over")
        said = {k: v for k, v in said.items() if over is not None and k not in over}
        if proofs is None:
            said[id_] = body.get("size")
        elif "caps" in body:
            said[id_] = (body["caps"].get(proofs) or {}).get("cap")
    return {x for x in said.values() if x is not None}
