"""What is to be known of each sheet before it is recorded as signed. Nothing here refuses. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from benchapp.drying.dryness import USUAL, DryDay, Hours
from benchapp.drying.dryness import earliest_days as earliest_of
from benchapp.drying.stacks import Boards, Stack, stack_dryness, stack_earliest_days
from benchapp.edition.holding import Holding
from benchapp.edition.numbers import label_text, sheet_words
from benchapp.edition.standard import bat_sheets, held_against, what_it_is
from benchapp.edition.state import Edition, Register, Sheet
from benchapp.edition.view import where_words

_OUT = ("gallery", "given", "sold", "lost")


@dataclass(frozen=True, slots=True)
class ToSign:
    """One sheet of the list.

    Attributes:
        sheet: Its id.
        who: Which sheet it is: its mark and its day.
        label: What is pencilled on it; empty: nothing.
        warnings: What speaks against it, each in a few words.
    """

    sheet: str
    who: str
    label: str
    warnings: tuple[str, ...]

    @property
    def words(self) -> str:
        """`1/5 · K7 of 3 May 2026`."""
        return f"{self.label or 'no number'} · {self.who}"


def unsigned_sheets(e: Edition, among: Iterable[str] | None = None) -> tuple[str, ...]:
    """The sheets that have a number or a kind, are known not to be signed and still exist.

    Args:
        e: The edition.
        among: Only these; None: all of it, in the order of their numbers.
    """
    held = [h for h in e.holdings.values() if h.bears is not None and h.signed is None
            and not h.perhaps_signed and h.destroyed is None]
    if among is not None:
        ids = {h.sheet for h in held}
        return tuple(x for x in among if x in ids)
    return tuple(h.sheet for h in sorted(held, key=_by_number))


def _by_number(h: Holding) -> tuple[str, int, str]:
    b = h.bears
    return ("", 0, h.sheet) if b is None else (
        "" if b.kind == "edition" else b.kind, b.number or 0, h.sheet)


def to_sign(register: Register, boards: Boards, print_: str, sheets: Sequence[str], today: date,
            hours: Hours = USUAL) -> tuple[ToSign, ...]:
    """Each sheet with what is pencilled on it and every warning about it.

    Args:
        register: All editions, with the sheets of the book.
        boards: All stacks, those taken down too.
        print_: The edition.
        sheets: Which sheets.
        today: The local date.
        hours: When the printer changes boards.
    """
    e = register.edition(print_)
    return tuple(_one(register, boards, e, s, today, hours) for s in sheets)


def _one(register: Register, boards: Boards, e: Edition, sheet: str, today: date,
         hours: Hours) -> ToSign:
    held, known = e.holdings.get(sheet), register.sheets.get(sheet)
    who = held if held is not None and held.mark else known or held
    bears = "" if held is None or held.bears is None else label_text(e, held.bears)
    warnings = (*_of_the_edition(e, sheet, held), *_judged(known),
                *_drying(_stack_of(boards, sheet), sheet, known, today, hours))
    name = sheet if who is None else sheet_words(who)
    return ToSign(sheet, "from old papers" if name == bears else name, bears, warnings)


def _of_the_edition(e: Edition, sheet: str, held: Holding | None) -> Iterator[str]:
    if any(h.sheet == sheet for h in bat_sheets(e)) or held_against(e) == sheet:
        yield f"it is the {what_it_is(e, sheet)}"
    if held is not None and held.place is not None and held.place.place in _OUT:
        yield f"not in the studio: {where_words(held)}"


def _judged(known: Sheet | None) -> Iterator[str]:
    if known is None:  # known from an old paper: nobody judged it here
        return
    if known.verdict is None:
        yield "not judged"
    elif known.verdict != "keep":
        yield f"judged {known.verdict}"
    if known.purpose in ("warm-up", "ghost"):
        yield f"pulled as {known.purpose}"


def _stack_of(boards: Boards, sheet: str) -> Stack | None:
    """The stack it was laid in last."""
    found = [(x.laid.wall_ms, s.id) for s in boards.stacks.values() for x in s.lying
             if x.sheet == sheet]
    return boards.stacks[max(found)[1]] if found else None


def _drying(stack: Stack | None, sheet: str, known: Sheet | None, today: date,
            hours: Hours) -> Iterator[str]:
    if stack is not None and stack_dryness(stack).state == "drying":
        yield "not dry: the control sheet still loses weight"
    if stack is not None and stack.down is None and any(x.sheet == sheet for x in stack.sheets):
        yield "still under boards"
    first = _first_day(stack, known, hours)
    if first is not None and today < first.day:
        whose = "the recipe" if first.source == "recipe" else first.source
        yield f"too early: sign from {first.day.day} {first.day:%b} {first.day.year} ({whose})"


def _first_day(stack: Stack | None, known: Sheet | None, hours: Hours) -> DryDay | None:
    """The first day to sign it; None: nobody knows when it was laid or pulled."""
    found = None if stack is None else stack_earliest_days(stack, hours)
    if found is not None:
        return found.sign
    if known is None or known.pulled_ms is None:
        return None
    pulled = datetime.fromtimestamp(0, UTC) + timedelta(milliseconds=known.pulled_ms)
    return earliest_of((), pulled.replace(tzinfo=None), hours).sign
