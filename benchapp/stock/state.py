"""Counts and batches as their entries leave them. Pure.

Counts are kept as they were entered, and corrections beside them: of two books that come together
either may have corrected what the other counted, in whatever order the entries are read.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, time, timedelta, timezone

from benchapp.events.entry import Entry, Moment
from benchapp.events.stock import (
    BatchMixed,
    StockCountCorrected,
    StockCounted,
    StockEntryByMistake,
)
from benchapp.events.streams import stream_family
from benchapp.stock.names import item_key


@dataclass(frozen=True, slots=True)
class CountCorrection:
    """What a count was put right to.

    Attributes:
        count: The entry that was wrong.
    """

    count: str
    unit: str
    amount: int
    why: str
    at: Moment


@dataclass(frozen=True, slots=True)
class StockCount:
    """So much was there.

    Attributes:
        id: Its entry.
        lot: Which parcel of it; None: not said.
        unit: `sheets`, `pieces`, `mg` or `items`.
        amount: As corrected last.
        since_ms: From when on uses are taken off it, wall milliseconds: its moment, or the end of
            the day it was of.
        on: The day it was of, where it was not of its own moment.
        at: When it was entered.
        corrections: What was put right, the first first.
        first: What was entered, before any correction: unit and amount.
        mistake: Why it never held; None: it holds.
    """

    id: str
    item: str
    lot: str | None
    unit: str
    amount: int
    since_ms: int
    on: str | None
    at: Moment
    first: tuple[str, int]
    corrections: tuple[CountCorrection, ...] = ()
    mistake: str | None = None


@dataclass(frozen=True, slots=True)
class InkBatch:
    """A batch of ink, with what was mixed into it.

    Attributes:
        id: Its entry.
        parts: Names with milligrams, in the order given; None: not weighed.
        since_ms: When it was mixed, wall milliseconds.
        on: The day, where it was an earlier one.
        mistake: Why there never was such a batch; None: there was.
    """

    id: str
    item: str
    parts: tuple[tuple[str, int | None], ...]
    note: str | None
    since_ms: int
    on: str | None
    at: Moment
    mistake: str | None = None

    @property
    def mg(self) -> int | None:
        """What it weighed when it was mixed; None: a part was not weighed."""
        masses = [mg for _, mg in self.parts if mg is not None]
        return sum(masses) if len(masses) == len(self.parts) else None


@dataclass(frozen=True, slots=True)
class Stock:
    """Everything that was counted or mixed.

    Attributes:
        counted: Counts as they were entered, by their entries.
        corrections: All of them, in the order read.
        batches: By their entries.
        mistakes: Entries that never held, each with the reason.
    """

    counted: Mapping[str, StockCount] = field(default_factory=dict)
    corrections: tuple[CountCorrection, ...] = ()
    batches: Mapping[str, InkBatch] = field(default_factory=dict)
    mistakes: Mapping[str, str] = field(default_factory=dict)

    def names(self) -> tuple[str, ...]:
        """What was counted or mixed and held, by name, in the order first entered."""
        told: tuple[StockCount | InkBatch, ...] = (*self.batches.values(), *self.counted.values())
        held = [x for x in told if x.id not in self.mistakes]
        found: dict[str, str] = {}
        for x in sorted(held, key=lambda x: (x.at.wall_ms, x.id)):
            found.setdefault(item_key(x.item), x.item)
        return tuple(found.values())

    def counts(self, item: str) -> tuple[StockCount, ...]:
        """Every count of a thing as it is now, the earliest first; also those that never held."""
        key = item_key(item)
        found = [self._now(x) for x in self.counted.values() if item_key(x.item) == key]
        return tuple(sorted(found, key=lambda x: (x.since_ms, x.at.wall_ms, x.id)))

    def current(self, item: str) -> tuple[StockCount, ...]:
        """The last count of each lot: it stands in the place of all before it."""
        last = {item_key(x.lot or ""): x for x in self.counts(item) if x.mistake is None}
        return tuple(last.values())

    def batch(self, item: str) -> InkBatch | None:
        """The batch of that name, as it was mixed last; None: there is none."""
        key = item_key(item)
        held = [x for x in self.batches.values()
                if item_key(x.item) == key and x.id not in self.mistakes]
        return max(held, key=lambda x: (x.since_ms, x.at.wall_ms, x.id), default=None)

    def _now(self, count: StockCount) -> StockCount:
        mine = sorted((x for x in self.corrections if x.count == count.id),
                      key=lambda x: x.at.wall_ms)
        last = mine[-1] if mine else count
        return replace(count, unit=last.unit, amount=last.amount, corrections=tuple(mine),
                       mistake=self.mistakes.get(count.id))


def end_of_day(on: str, at: Moment) -> int:
    """When that day was over, in wall milliseconds; of the very day of `at`, `at` itself."""
    zone = timezone(timedelta(minutes=at.offset_min))
    midnight = datetime.combine(date.fromisoformat(on) + timedelta(days=1), time(), zone)
    over = (midnight - datetime(1970, 1, 1, tzinfo=UTC)) // timedelta(milliseconds=1)
    return min(over, at.wall_ms)


def replay_stock(entries: Iterable[Entry]) -> Stock:
    """All counts and batches of these entries."""
    stock = Stock()
    for entry in entries:
        stock = apply_stock_entry(stock, entry)
    return stock


def apply_stock_entry(stock: Stock, entry: Entry) -> Stock:
    """The stock after one more entry; one of anything else changes nothing."""
    if stream_family(entry.stream) != "stock":
        return stock
    match entry.event:
        case StockCounted() as x:
            count = StockCount(entry.id, x.item, x.lot, x.unit, x.amount, _since(x.on, entry.at),
                               x.on, entry.at, (x.unit, x.amount))
            return replace(stock, counted={**stock.counted, entry.id: count})
        case StockCountCorrected() as x:
            mended = CountCorrection(x.count, x.unit, x.amount, x.why, entry.at)
            return replace(stock, corrections=(*stock.corrections, mended))
        case BatchMixed() as x:
            parts = tuple((part["name"], part["mg"]) for part in x.parts)
            batch = InkBatch(entry.id, x.item, parts, x.note, _since(x.on, entry.at), x.on,
                             entry.at)
            return replace(stock, batches={**stock.batches, entry.id: batch})
        case StockEntryByMistake() as x:
            return replace(stock, mistakes={**stock.mistakes, x.entry: x.why})
    return stock


def _since(on: str | None, at: Moment) -> int:
    return at.wall_ms if on is None else end_of_day(on, at)
