"""The one way to name a sheet: its mark, its number, or its place in a session. Pure.

Every command and screen that asks for a sheet reads it here, and every refusal names a sheet
so that it can be typed again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from benchapp.decision import Refusal
from benchapp.edition.holding import Holding, SheetLabel
from benchapp.edition.numbers import (
    HOW_TO_NAME,
    first_name,
    kind_holders,
    label_text,
    number_bearers,
    sheet_words,
    shown_list,
    taken_numbers,
)
from benchapp.edition.parse import read_claim, read_total
from benchapp.edition.state import (
    KINDS_OF_PROOF,
    NUMBERED,
    WITHOUT_NUMBER,
    Edition,
    Register,
    Sheet,
)

_TAKE_A_NUMBER: Final = frozenset(
    k.casefold() for k in KINDS_OF_PROOF if k not in WITHOUT_NUMBER) | {"e.v."}


def split_names(words: Iterable[str]) -> list[str]:
    """The names of sheets in the words of a command: `AP II` may come as one word or as two."""
    names: list[str] = []
    for word in words:
        claim = read_claim(word)
        if names and names[-1].casefold() in _TAKE_A_NUMBER and claim and claim[0] == NUMBERED:
            names[-1] += f" {word}"
        else:
            names.append(word)
    return names


def find_sheet(register: Register, said: str, print_: str | None, *, mark: str | None = None,
               pulls: Mapping[str, str] | None = None) -> str | Refusal:
    """The sheet of that name, by its id.

    Args:
        register: All editions, with the sheets of the book.
        said: `K7`, `12/40`, `12`, `AP II`, `BAT`, or what a refusal called it: `old:12`,
            `K7 of 3 May 2026`.
        print_: The edition whose numbers are meant; None: no number is.
        mark: `said` as a mark in its one spelling; None: it is none of ours.
        pulls: Of sheets pulled here, by id, their session and pull: `2026-05-03:3`.
    """
    e = register.edition(print_ or "")
    # A mark may be written like a number: which of two sheets is meant is then asked.
    found = {_id(x): x for x in (*_of_mark(register, said, mark, print_), *_of_number(e, said))}
    if len(found) == 1:
        return next(iter(found))
    if found:
        names = " and ".join(_own_name(x, said, pulls or {}) for _, x in sorted(found.items()))
        return Refusal(f"{len(found)} sheets are called {said}: {names}",
                       "name one of these", rule="several")
    return _none(register, e, said)


def print_of_sheet(register: Register, sheet: str) -> str | None:
    """The edition a sheet is something in, else the print it was pulled for; None: no sheet."""
    held = [e for e in register.editions.values()
            if sheet in e.holdings or sheet in e.withdrawn]
    of = next((e.id for e in held if sheet in e.holdings and e.holdings[sheet].claims), None)
    known = register.sheets.get(sheet)
    return of or (known.print if known is not None else next((e.id for e in held), None))


def _id(x: Sheet | Holding) -> str:
    return x.id if isinstance(x, Sheet) else x.sheet


def _everything(register: Register) -> Iterator[tuple[str, Sheet | Holding]]:
    """Every sheet of the book once, and the print it is of."""
    for s in register.sheets.values():
        yield s.print, s
    for e in register.editions.values():
        yield from ((e.id, h) for h in (*e.holdings.values(), *e.withdrawn.values())
                    if h.sheet not in register.sheets)


def _of_mark(register: Register, said: str, mark: str | None,
             print_: str | None) -> list[Sheet | Holding]:
    """Those with that mark, or of that name; of several those of the print that was named."""
    wanted = said.strip().casefold()
    spelt = {wanted, (mark or wanted).casefold()}
    found = [(of, x) for of, x in _everything(register) if wanted in _names(x)
             or (x.mark and x.mark.casefold() in spelt)]
    here = [x for of, x in found if of == print_]
    return here if len(found) > 1 and here else [x for _, x in found]


def _names(x: Sheet | Holding) -> tuple[str, ...]:
    """What a sheet is called besides its mark and its number."""
    if isinstance(x, Holding) and x.papers is not None:
        return first_name(x).casefold(), f"{first_name(x)} of {x.papers}".casefold()
    return (sheet_words(x).casefold(),) if x.shared else ()


def _own_name(x: Sheet | Holding, said: str, pulls: Mapping[str, str]) -> str:
    """A name that no other sheet has, and that is not the one `said`."""
    if isinstance(x, Holding) and x.papers is not None:
        return f"{first_name(x)} of {x.papers}"
    if x.mark and not x.shared and x.mark.casefold() != said.strip().casefold():
        return x.mark
    return pulls.get(_id(x)) or sheet_words(x)


# -- by number ------------------------------------------------------------------------------


def _of_number(e: Edition, said: str) -> list[Holding]:
    """The sheets with that number; a total that is written behind it has to be theirs."""
    claim = read_claim(said)
    if claim is None:
        return []
    if claim[1] is None:
        known = list(kind_holders(e, claim[0]))
        alone = known if claim[0] in WITHOUT_NUMBER else [
            h for h in known if SheetLabel(*claim) in h.claims]
        return [h for h in alone if h.destroyed is None] or alone
    total = read_total(said)
    return [h for h in number_bearers(e, *claim) if total is None or total in _totals(e, h, claim)]


def _totals(e: Edition, h: Holding, claim: tuple[str, int | None]) -> tuple[int | None, ...]:
    return (_total(e, claim[0]), *(b.of for b in h.claims if b.claim == claim))


def _total(e: Edition, kind: str) -> int | None:
    cap = e.caps.get(kind)
    return e.size if kind == NUMBERED else None if cap is None else cap.cap


def _none(register: Register, e: Edition, said: str) -> Refusal:
    """Why no sheet is called so."""
    claim = read_claim(said)
    if claim is None:
        return Refusal(f"No sheet {said} is in the book", HOW_TO_NAME, rule="sheet")
    kind, number = claim
    of = f" of {e.title}" if e.title and len(register.editions) > 1 else ""
    if number is None:
        known = {b for h in kind_holders(e, kind) for b in h.claims if b.kind == kind}
        if not known:
            return Refusal(f"No sheet{of} is {kind}", HOW_TO_NAME, rule="sheet")
        there = [label_text(e, b) for b in sorted(known, key=lambda b: b.number or 0)]
        return Refusal(f"{kind} alone is not enough to name a sheet{of}",
                       f"there are {shown_list(there)}", rule="sheet")
    total = _total(e, kind)
    if read_total(said) not in (None, total) and total is not None:
        what = "The edition is" if kind == NUMBERED else f"{kind} is of"
        return Refusal(f"{what} {total}, not {read_total(said)}",
                       "leave the total out", rule="total")
    words = label_text(e, SheetLabel(kind, number))
    if kind == NUMBERED and number in e.voids:
        return Refusal(f"{words} is void: {e.voids[number].why}", "no sheet has it", rule="void")
    return Refusal(f"No sheet{of} is {words}", _instead(e, kind, number), rule="sheet")


def _instead(e: Edition, kind: str, number: int) -> str:
    if kind == NUMBERED and number in taken_numbers(e).free:
        return "the number is free"
    if kind == NUMBERED and e.size is not None and number > e.size:
        return f"{number} is not between 1 and {e.size}"
    return HOW_TO_NAME
