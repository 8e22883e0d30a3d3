"""Which numbers are taken, void and free, which is next, and how one is written.

A number is used once: who has borne it, or bears it by whatever either of two books
says, has it, also when that sheet is destroyed. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from benchapp.edition.holding import LOST, Holding, SheetLabel, Stay
from benchapp.edition.roman import HIGHEST, roman_numeral
from benchapp.edition.state import (
    AT_THE_PRESS,
    NUMBERED,
    WITHOUT_NUMBER,
    Edition,
    Sheet,
)

#: What to write where a sheet is to be named.
HOW_TO_NAME: Final = ("name it by its mark (K7), its number (12/40, AP II), or session and pull "
                      "(last:3)")
_MONTHS = ("Jan", "Feb", "March", "April", "May", "June", "July", "Aug", "Sept", "Oct", "Nov",
           "Dec")


@dataclass(frozen=True, slots=True)
class TakenNumbers:
    """The numbers of an edition, each list in order.

    Attributes:
        taken: Borne by a sheet that is there.
        void: Never used, or never again.
        free: Still to be given, up to N; of an open edition the holes below the highest.
        next: The number after the highest given that is free; None: there is none.
    """

    taken: tuple[int, ...]
    void: tuple[int, ...]
    free: tuple[int, ...]
    next: int | None


def session_day_words(day: str) -> str:
    """`3 May 2026` for the session `2026-05-03`; anything else as it is.

    A second session of the day keeps its letter: `3 May 2026 b`.
    """
    year, month, rest = (*day[:10].split("-"), "", "")[:3]
    if not (len(day) >= 10 and year.isdecimal() and month.isdecimal() and rest.isdecimal()
            and 1 <= int(month) <= 12):
        return day
    letter = f" {day[10:]}" if day[10:] else ""
    return f"{int(rest)} {_MONTHS[int(month) - 1]} {int(year)}{letter}"


def sheet_words(sheet: Holding | Sheet) -> str:
    """The name of a sheet, which every command takes: `K7`, or of one from old papers `12/40`.

    Where another sheet has that mark it is `K7 of 3 May 2026`.
    """
    if isinstance(sheet, Holding) and sheet.papers is not None:
        return first_name(sheet) if sheet.absent else sheet.called or first_name(sheet)
    return mark_words(sheet.mark, sheet.session, shared=sheet.shared)


def bearer_words(sheet: Holding) -> str:
    """Which sheet has a number that was just said."""
    return "a sheet from old papers" if sheet.papers is not None else sheet_words(sheet)


def alone_words(sheet: Holding) -> str:
    """The name of a sheet where its number would not do, as two have it: `K7`, `old:12`."""
    return sheet_words(sheet) if sheet.papers is None else first_name(sheet)


def correct_command(sheet: Holding | Sheet, what: str) -> str:
    """The command that puts something right about a sheet: `benchapp correct K7 not signed`."""
    name = alone_words(sheet) if isinstance(sheet, Holding) else sheet_words(sheet)
    quoted = f'"{name}"' if " " in name else name
    return f"benchapp correct {quoted} {what}"


def first_name(sheet: Holding) -> str:
    """`old:12`, `old:AP 2`: what a sheet was on the old paper, whatever was corrected since."""
    what = sheet.sheet.partition(" of ")[0]
    return "old:" + what.removeprefix(f"{NUMBERED} ").replace(" without a number", "")


def mark_words(mark: str, session: str, *, shared: bool) -> str:
    """The one name of a sheet: its mark, with its day only where two have that mark.

    Args:
        mark: What is pencilled on it; empty where no book here knows.
        session: The session that pulled it: `2026-05-03`.
        shared: Whether another sheet of the book has the same mark.
    """
    if not mark:
        return f"a sheet of {session_day_words(session)}"
    return f"{mark} of {session_day_words(session)}" if shared else mark


_PLACES = {"boards": "under the boards", "drawer": "in the drawer", "framed": "framed",
           "gallery": "with a gallery", "given": "given", "sold": "sold", LOST: "lost"}


def place_word(place: str) -> str:
    """A place, as a sheet is there: `with a gallery`."""
    return _PLACES.get(place, place)


def place_words(stay: Stay) -> str:
    """Where a sheet is, without anybody's name: `with a gallery, consignment, due back …`."""
    parts = [place_word(stay.place), stay.terms or "",
             "" if stay.day is None else f"since {session_day_words(stay.day)}",
             "" if stay.due is None else f"due back {session_day_words(stay.due)}",
             "" if stay.last is None else f"last {place_word(stay.last)}"]
    return ", ".join(p for p in parts if p)


def pencilled_number(number: int, in_roman: bool) -> str:
    """A number as it is pencilled; above 3999 there is no Roman one."""
    return roman_numeral(number) if in_roman and 1 <= number <= HIGHEST else str(number)


def label_text(edition: Edition, bears: SheetLabel) -> str:
    """What stands on the sheet: `7/40`, `E.V. 7/12`, `VII/XL`, `AP II/IV`, `BAT`."""
    if bears.kind == NUMBERED:
        of = edition.size if bears.of is None else bears.of
        head = "E.V. " if edition.form == "varied" else ""
        return head + _fraction(bears.number, of, edition.roman)
    if bears.number is None:
        return bears.kind
    cap = edition.caps.get(bears.kind)
    of = bears.of if bears.of is not None else None if cap is None else cap.cap
    return f"{bears.kind} {_fraction(bears.number, of, edition.roman_proofs)}"


def _fraction(number: int | None, of: int | None, in_roman: bool) -> str:
    head = "no number" if number is None else pencilled_number(number, in_roman)
    return head if of is None else f"{head}/{pencilled_number(of, in_roman)}"


def number_words(edition: Edition, number: int) -> str:
    """A number of the edition as it is pencilled."""
    return label_text(edition, SheetLabel(NUMBERED, number))


def sort_holdings(holdings: Iterable[Holding]) -> list[Holding]:
    """By day and mark: the same whichever of two books took the other in."""
    return sorted(holdings, key=lambda h: (h.session, len(h.mark), h.mark, h.sheet))


def number_bearers(edition: Edition, kind: str, number: int | None) -> tuple[Holding, ...]:
    """Who is said to be that: of a number one sheet, unless something went wrong."""
    return tuple(sort_holdings(h for h in edition.holdings.values()
                               if any(b.claim == (kind, number) for b in h.claims)))


def kind_holders(edition: Edition, kind: str) -> Iterator[Holding]:
    """The sheets that are said to be of a kind."""
    return iter(sort_holdings(h for h in edition.holdings.values()
                              if any(b.kind == kind for b in h.claims)))


def numbers_of(edition: Edition, kind: str = NUMBERED) -> set[int]:
    """Every number of a kind any sheet bears or has borne to its end."""
    return {b.number for h in edition.holdings.values() for b in h.claims
            if b.kind == kind and b.number is not None}


def is_void(edition: Edition, holding: Holding) -> bool:
    """Whether the number the sheet bears is void."""
    b = holding.bears
    return b is not None and b.kind == NUMBERED and b.number in edition.voids


def taken_numbers(edition: Edition) -> TakenNumbers:
    """The numbers of the edition as they stand."""
    there = {b.number for h in edition.holdings.values() if h.destroyed is None
             for b in h.claims if b.kind == NUMBERED and b.number is not None}
    used = numbers_of(edition)
    highest = max(used, default=0)
    size = edition.size if edition.form != "open" else highest
    # A void number that a short edition left outside it is no number of it any more.
    void = (used - there) | {n for n in edition.voids
                             if n in used or edition.size is None or n <= edition.size}
    free = tuple(n for n in range(1, (size or 0) + 1) if n not in used and n not in void)
    return TakenNumbers(tuple(sorted(there - void)), tuple(sorted(void)), free,
                        next_free_number(edition, used | void, highest))


def next_free_number(edition: Edition, used: set[int], highest: int) -> int | None:
    """The first after the highest given that is not used; holes below it stay visible."""
    n = highest + 1
    while n in used:
        n += 1
    if edition.form == "open":
        return n
    return n if edition.size is not None and n <= edition.size else None


def next_proof(edition: Edition, kind: str) -> int | None:
    """The next number of a kind of proof; None: that kind bears none."""
    if kind in WITHOUT_NUMBER:
        return None
    return max(numbers_of(edition, kind), default=0) + 1


def counted_kinds(edition: Edition) -> tuple[str, ...]:
    """The kinds of proof that count in the total."""
    return tuple(k for k, c in edition.caps.items() if c.inside)


def used_up(edition: Edition, size: int | None = None) -> int:
    """How many of N (or of `size`) are used: numbers borne or void, and proofs inside it."""
    n = edition.size if size is None else size
    void = {v for v in edition.voids if n is None or v <= n}
    proofs = sum(1 for h in edition.holdings.values()
                 if h.bears is not None and h.bears.kind in counted_kinds(edition))
    return len(numbers_of(edition) | void) + proofs


def first_signature(edition: Edition) -> Holding | None:
    """The sheet by which the size is fixed: the first signed that counts; None: not yet.

    A BAT, a cancellation proof and what was pulled as a trial are signed apart from
    the edition and fix nothing.
    """
    signed = [h for h in edition.holdings.values()
              if h.signed is not None and h.bears is not None and fixes_size(h.bears.kind)]
    return min(signed, key=lambda h: h.signed.wall_ms if h.signed else 0, default=None)


def fixes_size(kind: str) -> bool:
    """Whether a signature on that kind fixes the size of the edition."""
    return kind not in (*WITHOUT_NUMBER, *AT_THE_PRESS)


def runs_text(numbers: Iterable[int]) -> str:
    """`1 to 4, 9`: numbers in order, those that follow one another as one."""
    runs: list[list[int]] = []
    for n in sorted(numbers):
        if runs and n == runs[-1][-1] + 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    return ", ".join(f"{r[0]} to {r[-1]}" if len(r) > 2 else ", ".join(map(str, r))
                     for r in runs)


#: Of a longer list the rest is counted.
_MOST_SHOWN: Final = 12


def shown_list(numbers: Iterable[object]) -> str:
    """`1, 4, 9` for people; a long list ends in how many more there are."""
    items = list(numbers)
    text = ", ".join(str(n) for n in items[:_MOST_SHOWN])
    more = len(items) - _MOST_SHOWN
    return f"{text} and {more} more" if more > 0 else text
