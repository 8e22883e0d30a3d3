"""What a printer counted of paper and ink, and batches of ink with what was mixed into them."""

from __future__ import annotations

from benchapp.events.event import BookEvent, event
from benchapp.events.field_types import Amount, BatchParts, IsoDay, StockUnit


class StockEvent(BookEvent):
    """What was counted, weighed or mixed.

    Attributes:
        item: The paper, the ink or whatever it is, by its name.
    """

    item: str


@event("stock", "counted")
class StockCounted(StockEvent):
    """So much of it was there, at that moment or, on an earlier day, at the end of that day.

    Lot: which parcel of it, null: not said; amount: in milligrams where the unit is mg.
    """

    item: str
    lot: str | None
    unit: StockUnit
    amount: Amount
    on: IsoDay | None


@event("stock", "count corrected")
class StockCountCorrected(StockEvent):
    """A count was of another amount; count: the entry that was wrong."""

    item: str
    count: str
    unit: StockUnit
    amount: Amount
    why: str


@event("stock", "batch mixed")
class BatchMixed(StockEvent):
    """A batch of ink was mixed from these, in the order given; mg null: not weighed."""

    item: str
    parts: BatchParts
    on: IsoDay | None
    note: str | None


@event("stock", "by mistake")
class StockEntryByMistake(StockEvent):
    """An entry about stock never held; entry: its id."""

    item: str
    entry: str
    why: str
