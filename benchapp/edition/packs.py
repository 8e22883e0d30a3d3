"""Packs of damp paper: they belong to the book, not to a session.

A pack is damped, comes out of the water, rests, and gives its sheets one by
one. Its age counts from the moment its sheets are out. All times here are
milliseconds of the room's own time, which never runs backwards. Pure.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal

from benchapp.events.entry import Moment
from benchapp.events.field_types import ABSENT
from benchapp.events.pack import (
    PackEvent,
    PackOut,
    PackPutAway,
    PackPutIn,
    PackReadySaid,
    PackSheetBack,
    PackSheetDried,
    PackSheetOut,
    PackSheetSprayed,
    SoakExtended,
)

Where = Literal["in the water", "resting", "ready", "used up", "put away"]

#: Damp paper keeps a week at most, cold and wrapped (common practice, no source). An older
#: pack that nobody put away is listed, and not counted on: it is no paper to print on.
FORGOTTEN_MS = 7 * 24 * 3_600_000
#: A sheet lying open is at its best for so long (common practice, no source).
SHEET_OPEN_MS = 5 * 60_000
_DAMPED: Final = {"soak": "soaked", "dip": "dipped", "spray": "sprayed"}


@dataclass(frozen=True, slots=True)
class Pack:
    """One pack, as its entries leave it.

    Attributes:
        id: Unique in the book.
        paper: What paper it is, as `paper_of` spells it.
        sheets: How many; None where nobody counted.
        soak_ms / rest_ms / keeps_ms: What the recipe says; None is unknown.
        by: The session it was damped in, or None.
        put_in / put_in_t: When it went in.
        out / out_t: When the sheets were out, or None.
        taken: Sheets taken and not put back.
        open: Room times at which sheets still lying open were taken.
        ready_said: The printer took it as ready before its rest was over.
        away: How what was left of it was put away, or None.
    """

    id: str
    paper: str
    sheets: int | None
    method: str
    soak_ms: int | None
    rest_ms: int | None
    keeps_ms: int | None
    by: str | None
    put_in: Moment
    put_in_t: int
    out: Moment | None = None
    out_t: int | None = None
    taken: int = 0
    open: tuple[int, ...] = ()
    ready_said: bool = False
    away: str | None = None

    @property
    def soaked(self) -> bool:
        """Whether its sheets lie or lay in water: sprayed ones, or packed damp, never did.

        Nor do dipped ones: they are out as they are stacked. Older books had them wait there.
        """
        if self.method == "dip":
            return self.out_t != self.put_in_t
        return self.soak_ms is not None or self.method == "soak"

    @property
    def left(self) -> int | None:
        """Sheets left in it; None where nobody counted them."""
        return None if self.sheets is None else max(0, self.sheets - self.taken)

    @property
    def soaked_t(self) -> int | None:
        """Room time at which its soak is over, or None where nobody said how long."""
        return None if self.soak_ms is None else self.put_in_t + self.soak_ms

    @property
    def ready_t(self) -> int | None:
        """Room time at which its rest is over; None while it is in the water."""
        if self.out_t is None:
            return None
        return self.out_t if self.ready_said else self.out_t + (self.rest_ms or 0)

    def where(self, t: int) -> Where:
        """Where it is at room time `t`."""
        if self.away is not None:
            return "put away"
        if self.out_t is None:
            return "in the water"
        if self.left == 0:
            return "used up"
        ready = self.ready_t
        return "ready" if ready is not None and t >= ready else "resting"

    @property
    def there(self) -> bool:
        """Whether it still lies somewhere in the studio, with sheets in it."""
        return self.away is None and (self.out_t is None or self.left != 0)

    def forgotten(self, t: int) -> bool:
        """Whether it has been damp for longer than any damp paper keeps."""
        return t - self.put_in_t > max(FORGOTTEN_MS, self.keeps_ms or 0)

    def usable(self, t: int) -> bool:
        """Whether sheets to print on can still come from it, now or later."""
        return self.there and not self.forgotten(t)

    def age_ms(self, t: int) -> int | None:
        """How long its sheets have been out of the water; None while they are in it."""
        return None if self.out_t is None else max(0, t - self.out_t)

    def too_old(self, t: int) -> bool:
        """Whether it has been kept longer than the recipe says it keeps, or any pack does."""
        age = self.age_ms(t)
        return self.forgotten(t) or (
            age is not None and self.keeps_ms is not None and age > self.keeps_ms)


def damped_words(method: str) -> str:
    """What was done to the sheets of a pack damped so: `sprayed`."""
    return _DAMPED.get(method, "damped")


Packs = Mapping[str, Pack]


def apply_pack_event(packs: Packs, event: PackEvent, at: Moment, t: int) -> Packs:
    """`packs` after one more event. Total: what does not fit changes nothing."""
    if isinstance(event, PackPutIn):
        new = Pack(event.pack, event.paper or "", event.sheets, event.method, event.soak_ms,
                   event.rest_ms, event.keeps_ms, event.by, at, t)
        return {**packs, new.id: new}
    pack = packs.get(event.pack)
    changed = None if pack is None else _changed(pack, event, at, t)
    return packs if changed is None else {**packs, changed.id: changed}


def _changed(pack: Pack, event: PackEvent, at: Moment, t: int) -> Pack | None:
    match event:
        case PackOut():
            return replace(pack, out=at, out_t=t) if pack.out_t is None else None
        case PackReadySaid():
            return replace(pack, ready_said=True)
        case SoakExtended():
            return replace(pack, soak_ms=(pack.soak_ms or 0) + event.by_ms)
        case PackSheetOut():
            if event.lay_open:  # it was out already: it goes to its impression
                return replace(pack, open=pack.open[1:])
            loose = pack.open if event.impression is not None else (*pack.open, t)
            return replace(pack, taken=pack.taken + 1, open=loose)
        case PackSheetBack():
            # One that was at the press already leaves those that lie open where they are.
            loose = pack.open[1:] if event.impression is ABSENT else pack.open
            return replace(pack, taken=max(0, pack.taken - 1), open=loose)
        case PackSheetSprayed():
            return replace(pack, open=(t, *pack.open[1:])) if pack.open else None
        case PackSheetDried():
            return replace(pack, open=pack.open[1:])
        case PackPutAway():
            return replace(pack, away=event.how)
        case _:
            return None


def of_paper(packs: Packs, paper: str, t: int) -> tuple[Pack, ...]:
    """The usable packs of that paper, oldest first: those out before those in the water."""
    mine = [p for p in packs.values() if p.paper == paper and p.usable(t)]
    return tuple(sorted(mine, key=lambda p: (p.out_t is None, p.out_t or p.put_in_t, p.id)))


def sheets_left(packs: Packs, paper: str, t: int) -> int | None:
    """Sheets damp, resting or in the water; None where one pack was never counted."""
    total = 0
    for pack in of_paper(packs, paper, t):
        if pack.left is None:
            return None
        total += pack.left
    return total


def lies_open(packs: Packs, paper: str) -> bool:
    """Whether a sheet of that paper lies open, out of whatever pack."""
    return any(p.open for p in packs.values() if p.paper == paper)


def in_water(packs: Packs, t: int) -> tuple[Pack, ...]:
    """The packs in the tray."""
    return tuple(p for p in packs.values() if p.where(t) == "in the water")
