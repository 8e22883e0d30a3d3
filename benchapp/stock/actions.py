"""The decider of the stock: (stock, action, now) to drafts, or a refusal. Total and pure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

from benchapp.decision import Decision, DecisionContext, Refusal, WordedRule
from benchapp.events.entry import Entry, Moment
from benchapp.events.event import BookEvent
from benchapp.events.moments import local_time
from benchapp.events.stock import (
    BatchMixed,
    StockCountCorrected,
    StockCounted,
    StockEntryByMistake,
)
from benchapp.events.words import STOCK_UNITS
from benchapp.safe_text import why_refused
from benchapp.stock.state import InkBatch, Stock, StockCount, apply_stock_entry

#: Nobody counts more sheets by hand; ten kilograms of one ink.
MOST_COUNTED: Final = 9_999
MOST_MG: Final = 10_000_000
#: More parts are no ink that anyone could match.
MOST_PARTS: Final = 30


@dataclass(frozen=True, slots=True)
class Count:
    """So much of a thing is there, now or at the end of the day `on`."""

    item: str
    amount: int
    unit: str
    lot: str | None = None
    on: str | None = None


@dataclass(frozen=True, slots=True)
class CorrectCount:
    """The last count of a thing was of another amount."""

    item: str
    amount: int
    unit: str
    why: str
    lot: str | None = None


@dataclass(frozen=True, slots=True)
class Mistaken:
    """The last count of a thing, or its batch, was entered by mistake."""

    item: str
    why: str
    lot: str | None = None


@dataclass(frozen=True, slots=True)
class MixBatch:
    """A batch of ink was mixed from these: names with milligrams; None: not weighed."""

    item: str
    parts: tuple[tuple[str, int | None], ...]
    note: str | None = None
    on: str | None = None


Action = Count | CorrectCount | Mistaken | MixBatch


@dataclass(slots=True)
class StockContext(DecisionContext[Stock]):
    """Drafts in the making. `origin` is the book that writes: each has a stream of its own."""

    origin: str

    def fold(self, entry: Entry) -> Stock:
        """The stock after one more entry."""
        return apply_stock_entry(self.state, entry)

    def emit(self, event: BookEvent) -> None:
        """Draft an entry of this book about its stock."""
        self.emit_to(stock_stream(self.origin), event)


def stock_stream(origin: str) -> str:
    """The stream in which the book `origin` writes what was counted and mixed."""
    return f"stock/counted@{origin}"


def stock_action_word(action: Action) -> str:
    """The word an entry keeps of the action that caused it."""
    return _RULES[type(action)].word


def decide_stock(stock: Stock, action: Action, now: Moment, origin: str) -> Decision:
    """What the action does at `now`.

    Args:
        stock: All counts and batches.
        action: What the printer says.
        now: The clocks, read at the edge.
        origin: The book that writes.

    Returns:
        Drafts in order, or why not.
    """
    page = StockContext(stock, now, stock_action_word(action), origin)
    return page.decision(_text(action.item, "The name")
                         or _RULES[type(action)].decide(page, action))


def _count(page: StockContext, action: Count) -> Refusal | None:
    refusal = (_amount(action.amount, action.unit) or _lot(action.lot)
               or _past(action.on, page.now))
    if refusal is None:
        page.emit(StockCounted(item=_plain(action.item), unit=action.unit, amount=action.amount,
                               lot=None if action.lot is None else _plain(action.lot),
                               on=action.on))
    return refusal


def _correct(page: StockContext, action: CorrectCount) -> Refusal | None:
    refusal = _amount(action.amount, action.unit) or _text(action.why, "The reason")
    last = _last(page.state, action.item, action.lot)
    if refusal is not None or isinstance(last, Refusal):
        return refusal or (last if isinstance(last, Refusal) else None)
    if (action.unit, action.amount) == (last.unit, last.amount):
        return Refusal("The count says that already", "there is nothing to do", rule="already")
    page.emit(StockCountCorrected(item=last.item, count=last.id, unit=action.unit,
                                  amount=action.amount, why=action.why.strip()))
    return None


def _mistaken(page: StockContext, action: Mistaken) -> Refusal | None:
    refusal = _text(action.why, "The reason")
    if refusal is not None:
        return refusal
    meant: StockCount | InkBatch | Refusal = _last(page.state, action.item, action.lot)
    batch = page.state.batch(action.item)
    if isinstance(meant, Refusal) and batch is not None and action.lot is None:
        meant = batch
    if isinstance(meant, Refusal):
        return meant
    page.emit(StockEntryByMistake(item=meant.item, entry=meant.id, why=action.why.strip()))
    return None


def _mix(page: StockContext, action: MixBatch) -> Refusal | None:
    if not 1 <= len(action.parts) <= MOST_PARTS:
        return Refusal("A batch needs what was mixed into it", "such as bone black 60 g",
                       rule="parts")
    for name, mg in action.parts:
        refusal = _text(name, "The name of a part") or (
            None if mg is None else _amount(mg, "mg"))
        if refusal is not None:
            return refusal
    refusal = _past(action.on, page.now) or (
        None if action.note is None else _text(action.note, "The note"))
    if refusal is not None:
        return refusal
    known = page.state.batch(action.item)
    if known is not None:
        return Refusal(f"There is a batch {known.item} already",
                       "give this one another name, or say that the other was a mistake",
                       rule="batch")
    page.emit(BatchMixed(
        item=_plain(action.item), on=action.on,
        parts=tuple({"name": _plain(name), "mg": mg} for name, mg in action.parts),
        note=None if action.note is None else action.note.strip()))
    return None


def _last(stock: Stock, item: str, lot: str | None) -> StockCount | Refusal:
    """The count that is meant: of that lot, or the only one there is."""
    current = stock.current(item)
    mine = [x for x in current if lot is None or _plain(x.lot or "").casefold()
            == _plain(lot).casefold()]
    if len(mine) == 1:
        return mine[0]
    if mine:
        names = ", ".join(x.lot or "without a name" for x in mine)
        return Refusal(f"{item} has several lots: {names}", "say which lot", rule="lot")
    return Refusal(f"{item} has no count", "count it first", rule="count")


def _plain(words: str) -> str:
    return " ".join(words.split())


def _text(words: str, what: str) -> Refusal | None:
    if not words.strip():
        return Refusal(f"{what} is missing", "write it", rule="text")
    wrong = why_refused(words)
    return None if wrong is None else Refusal(f"{what}: {wrong}", "type it again", rule="text")


def _lot(lot: str | None) -> Refusal | None:
    return None if lot is None else _text(lot, "The name of the lot")


def _amount(amount: int, unit: str) -> Refusal | None:
    if unit not in STOCK_UNITS:
        return Refusal(f"Nothing is counted in {unit}", "write sheets, pieces or g", rule="count")
    if 0 <= amount <= (MOST_MG if unit == "mg" else MOST_COUNTED):
        return None
    if unit == "mg":
        return Refusal("That is no weight of an ink", f"at most {MOST_MG // 1_000_000} kg",
                       rule="count")
    return Refusal(f"{amount} is not a count", f"write 0 to {MOST_COUNTED}", rule="count")


def _past(on: str | None, now: Moment) -> Refusal | None:
    if on is None:
        return None
    try:
        day = date.fromisoformat(on)
    except ValueError:
        day = None
    if day is None or day.isoformat() != on or day.year < 1970:
        return Refusal(f"{on} is not a day", "write it as 2026-05-03", rule="day")
    if day > local_time(now).date():
        return Refusal(f"{on} is still to come", "write the day it was counted", rule="day")
    return None


_RULES: Final[dict[type, WordedRule[StockContext]]] = {rule.action: rule for rule in (
    WordedRule(Count, _count, "count"),
    WordedRule(CorrectCount, _correct, "correct count"),
    WordedRule(Mistaken, _mistaken, "by mistake"),
    WordedRule(MixBatch, _mix, "mix batch"),
)}
