"""What is left of a thing: its counts, less what the book shows was used since. Pure.

Nothing is guessed. Where a use is not in the book, what is left is not known, and why is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from benchapp.stock.names import item_key
from benchapp.stock.state import InkBatch, Stock, StockCount


@dataclass(frozen=True, slots=True)
class PaperUse:
    """A piece of paper that was printed, or lost on the way.

    Attributes:
        paper: The paper's name.
        at_ms: When, in wall milliseconds.
        day: The session, by its id.
        per_sheet: Pieces that a full sheet gives, as that recipe tears it; None: nobody knows.
    """

    paper: str
    at_ms: int
    day: str
    per_sheet: int | None


@dataclass(frozen=True, slots=True)
class InkUse:
    """Ink that a session used, or a batch took.

    Attributes:
        tin: The ink by the name of its tin or batch; None: nobody said which.
        at_ms: When, in wall milliseconds.
        mg: As weighed; None: it was not.
    """

    tin: str | None
    at_ms: int
    mg: int | None


@dataclass(frozen=True, slots=True)
class Uses:
    """What the book shows was used.

    Attributes:
        papers: Names of all papers that recipes print on: of others no use is in the book.
    """

    paper: tuple[PaperUse, ...] = ()
    ink: tuple[InkUse, ...] = ()
    papers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ItemLeft:
    """What there is of one thing.

    Attributes:
        counts: The last count of each lot.
        batch: The batch of that name; None: it is none.
        unit: What all figures are in: `sheets`, `pieces`, `mg`, `items`; None: nothing was counted.
        counted: All lots together; None: they were not counted alike, or not at all.
        used: Since the earliest of these counts; None: not known.
        used_pieces: Pieces of paper behind it; None: it is no paper.
        left: At least so much; None: not known.
        left_most: At most so much: more than `left` where lots were counted at several times.
        over: More was used than was counted: somebody counted wrong, or bought some since.
        next_day: What the last day that printed on it took; None: no day did, or not known.
        order: What is missing for another such day, in whole sheets or pieces; None: not known.
        per_sheet: Pieces a full sheet gives; None: not known, or not always the same.
        why: What is not known, and why; empty: all is.
    """

    item: str
    counts: tuple[StockCount, ...]
    batch: InkBatch | None
    unit: str | None
    counted: int | None
    used: Fraction | None
    used_pieces: int | None
    left: Fraction | None
    left_most: Fraction | None
    over: bool = False
    next_day: Fraction | None = None
    order: int | None = None
    per_sheet: int | None = None
    why: str = ""


def all_left(stock: Stock, uses: Uses) -> tuple[ItemLeft, ...]:
    """What is left of everything that was counted or mixed, in the order first entered."""
    return tuple(item_left(stock, x, uses) for x in stock.names())


def item_left(stock: Stock, item: str, uses: Uses) -> ItemLeft:
    """What is left of one thing.

    Args:
        stock: All counts and batches.
        item: Its name.
        uses: What the book shows was used.
    """
    counts, batch = stock.current(item), stock.batch(item)
    units = {x.unit for x in counts} or ({"mg"} if batch is not None else set())
    if len(units) != 1:
        return ItemLeft(item, counts, batch, None, None, None, None, None, None,
                        why="its lots are counted in different units" if units
                        else "nobody has counted it")
    if units == {"mg"}:
        return _ink_left(stock, item, counts, batch, uses)
    return _paper_left(item, counts, batch, units.pop(), uses)


# -- paper --------------------------------------------------------------------------------------


def _paper_left(item: str, counts: tuple[StockCount, ...], batch: InkBatch | None, unit: str,
                uses: Uses) -> ItemLeft:
    total, key = sum(x.amount for x in counts), item_key(item)
    if unit == "items" or key not in map(item_key, uses.papers):
        return ItemLeft(item, counts, batch, unit, total, None, None, None, None,
                        why="the book does not show when it is used: count it again")
    mine = [x for x in uses.paper if item_key(x.paper) == key]
    first, last = min(x.since_ms for x in counts), max(x.since_ms for x in counts)
    since = [x for x in mine if x.at_ms > first]
    most, least = amount_of(since, unit), amount_of([x for x in since if x.at_ms > last], unit)
    per = {x.per_sheet for x in mine}
    per_sheet = per.pop() if len(per) == 1 else None
    wanted = next_day_uses(mine)
    next_day = amount_of(wanted, unit) if wanted else None
    if most is None or least is None:
        return ItemLeft(item, counts, batch, unit, total, None, len(since), None, None,
                        per_sheet=per_sheet,
                        why="a recipe does not say how its sheets are torn: count pieces instead")
    left = max(total - most, Fraction(0))
    order = None if next_day is None else max(0, ceil(next_day - left))
    return ItemLeft(item, counts, batch, unit, total, most, len(since), left,
                    max(total - least, Fraction(0)), over=most > total, next_day=next_day,
                    order=order, per_sheet=per_sheet)


def amount_of(uses: Sequence[PaperUse], unit: str) -> Fraction | None:
    """These pieces as an amount of that unit; None: what a sheet gives is not known of one."""
    if unit == "pieces":
        return Fraction(len(uses))
    per = [x.per_sheet for x in uses]
    known = [Fraction(1, n) for n in per if n is not None]
    return sum(known, Fraction(0)) if len(known) == len(per) else None


def next_day_uses(uses: Sequence[PaperUse]) -> list[PaperUse]:
    """What the last day took: the next is taken to be like it."""
    last = max(uses, key=lambda x: x.at_ms, default=None)
    return [] if last is None else [x for x in uses if x.day == last.day]


# -- ink ----------------------------------------------------------------------------------------


def _ink_left(stock: Stock, item: str, counts: tuple[StockCount, ...], batch: InkBatch | None,
              uses: Uses) -> ItemLeft:
    key = item_key(item)
    weighed: int | None = sum(x.amount for x in counts)
    since = min((x.since_ms for x in counts), default=0)
    if batch is not None and not counts:
        weighed, since = batch.mg, batch.since_ms
    elif len({x.since_ms for x in counts}) > 1:
        return ItemLeft(item, counts, batch, "mg", weighed, None, None, None, None,
                        why="its lots were weighed at several times")
    took = [x for x in (*uses.ink, *_into_batches(stock)) if x.at_ms > since]
    own = [x.mg for x in took if x.tin is not None and item_key(x.tin) == key]
    strange = sum(1 for x in took if x.tin is None)
    why = ("" if weighed is not None else "it was not weighed when it was mixed")
    if any(mg is None for mg in own):
        why = why or "what was used since was not always weighed"
    elif strange:
        why = why or (f"{strange} {'day' if strange == 1 else 'days'} since did not record which "
                      "ink was used")
    if why or weighed is None:
        return ItemLeft(item, counts, batch, "mg", weighed, None, None, None, None, why=why)
    used = sum(mg for mg in own if mg is not None)
    left = Fraction(max(weighed - used, 0))
    return ItemLeft(item, counts, batch, "mg", weighed, Fraction(used), None, left, left,
                    over=used > weighed)


def _into_batches(stock: Stock) -> Iterable[InkUse]:
    """What batches took from tins that are counted by themselves."""
    for batch in stock.batches.values():
        if batch.id not in stock.mistakes:
            yield from (InkUse(name, batch.since_ms, mg) for name, mg in batch.parts)
