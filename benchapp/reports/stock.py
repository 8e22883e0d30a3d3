"""The stock as reports and as lines: what was counted, used, is left, and to order. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, ClassVar

from benchapp.events.entry import Moment
from benchapp.events.moments import iso_text, local_time
from benchapp.quantities import items_text, join_words, number_text
from benchapp.reports.json_form import Day, Time
from benchapp.stock.left import ItemLeft
from benchapp.stock.parse import amount_words
from benchapp.stock.state import InkBatch, Stock, StockCount


@dataclass(frozen=True, slots=True)
class CountReport:
    """A count of one lot."""

    lot: Annotated[str | None, "which lot; null if nobody said"]
    amount: Annotated[float, "how much was there, as corrected; weights in g"]
    on: Annotated[Day, "the day it was counted"]
    entered: Annotated[Time, "when it was entered"]
    corrected: Annotated[list[str], "why it was corrected, each time"]


@dataclass(frozen=True, slots=True)
class BatchReport:
    """What was mixed into a batch of ink."""

    on: Annotated[Day, "the day it was mixed"]
    parts: Annotated[list[PartReport], "in the order given"]
    note: Annotated[str | None, "a note about it"]


@dataclass(frozen=True, slots=True)
class PartReport:
    """One part of a batch."""

    name: Annotated[str, "what it is"]
    grams: Annotated[float | None, "how much of it; null if it was not weighed"]


@dataclass(frozen=True, slots=True)
class ThingReport:
    """One thing of the stock."""

    FORMAT: ClassVar[str] = "stock/1"

    name: Annotated[str, "what it is called"]
    unit: Annotated[str | None, "sheets, pieces, g or items; null if it was not counted"]
    counts: Annotated[list[CountReport], "the last count of each lot"]
    batch: Annotated[BatchReport | None, "what was mixed, if it is a batch of ink"]
    used: Annotated[float | None, "used since the first of these counts; null: not known"]
    used_pieces: Annotated[int | None, "pieces of paper used since"]
    left: Annotated[float | None, "what is left, at least; null: not known"]
    left_at_most: Annotated[float | None, "what is left, at most; null: not known"]
    next_day: Annotated[float | None, "what the last day on it took; null: not known"]
    order: Annotated[int | None, "what is missing for another such day; null: not known"]
    not_known: Annotated[str | None, "what is not known, and why"]
    sentence: Annotated[str, "the same in words"]


def stock_report(found: Iterable[ItemLeft]) -> list[ThingReport]:
    """The stock as reports, in the order given."""
    return [_report(x) for x in found]


def _report(x: ItemLeft) -> ThingReport:
    return ThingReport(
        x.item, "g" if x.unit == "mg" else x.unit,
        [CountReport(c.lot, _figure(c.amount, c.unit), c.on or _day(c.at), iso_text(c.at),
                     [m.why for m in c.corrections]) for c in x.counts],
        None if x.batch is None else _batch(x.batch), _seldom(x.used, x), x.used_pieces,
        _seldom(x.left, x), _seldom(x.left_most, x), _seldom(x.next_day, x), x.order,
        x.why or None, "; ".join(item_lines(x)))


def _batch(batch: InkBatch) -> BatchReport:
    return BatchReport(batch.on or _day(batch.at), [
        PartReport(name, None if mg is None else _figure(mg, "mg")) for name, mg in batch.parts],
        batch.note)


def _figure(amount: Fraction | int, unit: str | None) -> float:
    return float(Fraction(amount) / (1000 if unit == "mg" else 1))


def _seldom(amount: Fraction | None, x: ItemLeft) -> float | None:
    return None if amount is None else round(_figure(amount, x.unit), 3)


def _day(at: Moment) -> str:
    return local_time(at).date().isoformat()


# -- in words -----------------------------------------------------------------------------------


def stock_lines(found: Iterable[ItemLeft]) -> list[str]:
    """The whole stock, thing by thing; texts are the printer's own, not yet made visible."""
    return [line for x in found for line in (x.item, *(f"  {y}" for y in item_lines(x)))]


def item_lines(x: ItemLeft) -> list[str]:
    """What there is of one thing, a sentence a line: what was mixed, counted, used, left, to order.

    The first line says what is left, or why nobody knows.
    """
    return [left_words(x), *([batch_words(x.batch)] if x.batch is not None else []),
            *([_counted(x)] if x.counts else []),
            *([words] if (words := order_words(x)) else [])]


def left_words(x: ItemLeft) -> str:
    """What is left: `37 sheets and 2 pieces left`; or that it is not known, and why."""
    if x.left is None or x.unit is None or x.left_most is None:
        return f"left: not known, {x.why}"
    low = amount_words(x.left, x.unit, x.per_sheet)
    if x.left_most > x.left:
        return f"{low} to {amount_words(x.left_most, x.unit, x.per_sheet)} left"
    if x.over:
        return "none left by the book, which shows more used than was counted: count again"
    return f"{low} left" if x.left else "none left"


def _counted(x: ItemLeft) -> str:
    told = "counted " + join_words([count_words(c) for c in x.counts])
    if x.used is None or x.unit is None:
        return told
    if not x.used:
        return f"{told}; nothing used since"
    used = amount_words(x.used, x.unit, x.per_sheet)
    pieces = "" if x.unit != "sheets" or x.used_pieces is None or x.used < 1 else (
        f", {items_text(x.used_pieces, 'piece')} in all")
    return f"{told}; {used} used since{pieces}"


def count_words(c: StockCount) -> str:
    """A count: `40 sheets on 2026-05-03`, with its lot and what was put right."""
    lot = f" of lot {c.lot}" if c.lot else ""
    told = f"{amount_words(c.amount, c.unit)}{lot} on {c.on or _day(c.at)}"
    if c.corrections:
        amount, unit = c.first[1], c.first[0]
        told += (f" (entered as {amount_words(amount, unit)}, corrected: "
                 f"{join_words([x.why for x in c.corrections])})")
    return told


def batch_words(batch: InkBatch) -> str:
    """What was mixed: `mixed on 2026-05-03 from bone black 60 g and burnt umber, not weighed`."""
    parts = [f"{name} {number_text(Fraction(mg, 1000))} g" if mg is not None
             else f"{name} (not weighed)" for name, mg in batch.parts]
    note = f"; {batch.note}" if batch.note else ""
    return f"mixed on {batch.on or _day(batch.at)} from {join_words(parts)}{note}"


def order_words(x: ItemLeft) -> str:
    """What to order before the next day; empty: nobody can tell."""
    if x.order is None or x.next_day is None or x.unit is None:
        return ""
    took = f"the last day took {amount_words(x.next_day, x.unit, x.per_sheet)}"
    if not x.order:
        return f"enough for another day: {took}"
    return f"order {amount_words(x.order, x.unit)} before the next day: {took}"


def history_lines(stock: Stock, item: str) -> list[str]:
    """Every count of a thing, the earliest first, also those that were a mistake."""
    counts = stock.counts(item)
    current = {c.id for c in stock.current(item)}
    batch = stock.batch(item)
    lines = [] if batch is None else [batch_words(batch)]
    for c in counts:
        after = f", by mistake: {c.mistake}" if c.mistake is not None else (
            "" if c.id in current else ", replaced by a later count")
        lines.append(f"{count_words(c)}{after}")
    return lines or ["never counted"]
