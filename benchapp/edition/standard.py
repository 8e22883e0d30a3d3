"""The one sheet the others are held against: the BAT, or a standard until there is one. Pure.

A BAT is replaced when another sheet is approved in its place: the first keeps what is pencilled
on it and is the BAT no longer. A standard named later than the BAT was given is meant instead,
as when the BAT has left the studio.
"""

from __future__ import annotations

from benchapp.edition.holding import Holding
from benchapp.edition.numbers import kind_holders
from benchapp.edition.state import BAT, Edition, Replaced


def replaced_bats(e: Edition) -> dict[str, Replaced]:
    """The sheets that were the BAT and are it no longer, with why; of two books both count."""
    last: dict[str, list[Replaced]] = {}
    for _, said in e.replaced:
        last.setdefault(said.sheet, []).append(said)
    return {sheet: said[0] for sheet, said in last.items() if all(x.by for x in said)}


def bat_sheets(e: Edition) -> tuple[Holding, ...]:
    """The sheets that are the BAT now, also if destroyed: one, unless two books differ."""
    gone = replaced_bats(e)
    return tuple(h for h in kind_holders(e, BAT) if h.sheet not in gone)


def held_against(e: Edition) -> str | None:
    """The sheet others are held against, by its id; None: there is none yet."""
    bat = next((h for h in bat_sheets(e) if h.destroyed is None), None)
    named = e.standard
    if named is not None and (h := e.holdings.get(named)) is not None and h.destroyed is not None:
        named = None
    if bat is None or named is None:
        return named if bat is None else bat.sheet
    return named if _named_ms(e) > _given_ms(bat) else bat.sheet


def _named_ms(e: Edition) -> int:
    return max((e.standard_ms.get(entry, 0) for entry, _ in e.standards), default=0)


def _given_ms(bat: Holding) -> int:
    """When it was first said to be the BAT."""
    return min((t.at.wall_ms for t in bat.tellings.values()
                if t.bears is not None and t.bears.kind == BAT), default=0)


def what_it_is(e: Edition, sheet: str) -> str:
    """`BAT` or `standard`: the one word for the sheet that others are held against."""
    return "BAT" if any(h.sheet == sheet for h in bat_sheets(e)) else "standard"
