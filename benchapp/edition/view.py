"""An edition as its screen, its list and its papers show it. Pure.

No view holds the printer's own words about people unless `private` asks for them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from benchapp.edition import figures as f
from benchapp.edition.conflicts.conflict import Clash
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.corrections import correction_lines, put_right
from benchapp.edition.ending import cut_short_words, numbers_now, to_number
from benchapp.edition.holding import Holding, SheetLabel, Stay
from benchapp.edition.numbers import (
    TakenNumbers,
    bearer_words,
    is_void,
    label_text,
    number_words,
    place_words,
    sheet_words,
    taken_numbers,
    used_up,
)
from benchapp.edition.sharing import (
    cancelled_words,
    editions_sharing_plates,
    first_cancelling,
    related_editions,
)
from benchapp.edition.standard import bat_sheets, held_against, replaced_bats
from benchapp.edition.state import NUMBERED, Edition, Register


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One sheet of the register, as a line.

    Attributes:
        label: What stands on it: `7/40`.
        sheet: Its id, or None: a void number no sheet bears.
        who: Which sheet it is.
        standing: signed, not signed, signature not known, void, destroyed.
        where: Where it is, in one phrase; empty: not said.
        clashes: What cannot be about it.
        corrected: How often the book followed its pencil.
        state: `signature_words` as a code: signed, unsigned, unknown, void, destroyed.
        place / terms / since / due: `where` as codes and ISO days; None: not said.
        papers: It is known from old papers.
    """

    label: str
    number: int | None
    kind: str
    sheet: str | None
    who: str
    standing: str
    where: str
    clashes: tuple[str, ...]
    corrected: int
    state: str = "void"
    place: str | None = None
    terms: str | None = None
    since: str | None = None
    due: str | None = None
    papers: bool = False


@dataclass(frozen=True, slots=True)
class Sibling:
    """An edition named beside this one; `relation` None: it is the one the others name.

    Attributes:
        shares: The plates they have in common; None: nobody said which.
        cancelled: What was recorded of the cancelling of its own plates; None: nothing.
    """

    id: str
    title: str
    relation: str | None
    size: int | None
    shares: tuple[str, ...] | None = None
    cancelled: str | None = None


@dataclass(frozen=True, slots=True)
class EditionView:
    """Everything an edition's screen shows."""

    id: str
    title: str
    artist: str
    form: str
    declared_by: str
    figures: f.Figures
    totals: f.Totals
    planned: int | None
    numbers: TakenNumbers
    left_to_give: int | None
    proofs: dict[str, f.Proofs]
    accounts: dict[str, int]
    plates: tuple[f.PlateFigures, ...]
    bat: str | None
    standard: str | None
    standard_is_bat: bool
    short: tuple[str, ...]
    cut: str | None
    cut_at: int | None
    cancelled: str | None
    to_number: int
    siblings: tuple[Sibling, ...]
    size_with_siblings: int | None
    clashes: tuple[Clash, ...]
    rows: tuple[SheetRow, ...]
    put_right: tuple[str, ...] = ()


def edition_view(register: Register, id: str, *, private: bool = False) -> EditionView:
    """The edition whole, as it stands."""
    e = register.edition(id)
    return EditionView(
        e.id, e.title, e.artist, e.form, e.by, f.edition_figures(register, id), f.edition_totals(e),
        f.planned_impressions(e.size, e.caps), numbers_now(register, id),
        _left_to_give(register, e), f.proof_figures(register, id),
        f.sheet_accounts(register, id), f.plate_figures(register, id),
        bat_words(e, private=private),
        _standard(register, e), held_against(e) in {h.sheet for h in bat_sheets(e)},
        tuple(f"lowered from {x.was} to {x.size}: {x.why}" for x in e.lowered),
        cut_short_words(e), None if e.cut is None else e.cut.size, cancelled_words(register, e.id),
        len(to_number(register, id)),
        edition_siblings(register, id), joint_total(register, id),
        unsettled_clashes(register, id), sheet_rows(register, id, private=private),
        put_right(e))


def _left_to_give(register: Register, e: Edition) -> int | None:
    """How many numbers can still be given; from a cancelled plate none. None: no size is known."""
    if e.size is None:
        return None
    return 0 if first_cancelling(register, e.id) is not None else max(0, e.size - used_up(e))


def edition_siblings(register: Register, id: str) -> tuple[Sibling, ...]:
    """The editions named beside this one, each with its size."""
    return tuple(Sibling(k.id, k.title, k.relation, k.size,
                         None if plates is None else tuple(sorted(plates)),
                         cancelled_words(register, k.id))
                 for k, plates in editions_sharing_plates(register, id))


def joint_total(register: Register, id: str) -> int | None:
    """The total of an edition and all its siblings; None: one has no size that is known."""
    sizes = [k.size for k in related_editions(register, id)]
    return None if None in sizes else sum(s for s in sizes if s is not None)


def bat_words(e: Edition, *, private: bool = False) -> str | None:
    """Which sheet the BAT is, who passed it, and where it lies; None: there is none."""
    said = []
    for held in bat_sheets(e):  # one, unless a clash of two books names both
        passed = f", passed by {' or '.join(held.passed)}" if held.passed else ""
        where = where_words(held, private=private)
        said.append(f"{sheet_words(held)}{passed}" + (f": {where}" if where else ""))
    return " and ".join(said) or None


def _standard(register: Register, e: Edition) -> str | None:
    """The sheet the others are held against; of two that two books name, both."""
    against = held_against(e)
    both = {sheet for _, sheet in e.standards if sheet is not None}
    said = []
    for sheet in sorted(both) if against in both and len(both) > 1 else [against]:
        known = None if sheet is None else e.holdings.get(sheet) or register.sheets.get(sheet)
        said += [] if known is None else [sheet_words(known)]
    return " or ".join(said) or None


def sheet_rows(register: Register, id: str, *, private: bool = False) -> tuple[SheetRow, ...]:
    """Every sheet of the register: numbers in order, void ones in their place, then proofs."""
    e = register.edition(id)
    wrong = unsettled_clashes(register, id)
    found = [_row(e, h, wrong, private) for h in e.holdings.values()]
    found += [SheetRow(number_words(e, n), n, NUMBERED, None, "no sheet", f"void: {r.why}", "",
                       tuple(
        c.text for c in wrong if n in c.numbers), 0)
        for n, r in e.voided.items() if not r.sheets]
    found += _cut_row(e)
    return tuple(sorted(found, key=lambda r: (r.kind != NUMBERED, r.kind, r.number or 0, r.who)))


def _cut_row(e: Edition) -> list[SheetRow]:
    """The numbers above where it was cut short: all in one line, as one sentence voids them."""
    gone = [n for n, void in e.voids.items() if void.cut]
    if not gone:
        return []
    first, last = number_words(e, min(gone)), number_words(e, max(gone))
    return [SheetRow(first if first == last else f"{first} to {last}", min(gone), NUMBERED, None,
                     "no sheet", f"void: {e.voids[min(gone)].why}", "", (), 0)]


def _row(e: Edition, h: Holding, wrong: Iterable[Clash], private: bool) -> SheetRow:
    b = h.bears or SheetLabel("undecided")
    # Of an open edition a sheet is finished when it is signed: it gets no number.
    said = "unnumbered" if h.bears is None and h.signed and e.form == "open" else label_text(e, b)
    return SheetRow(said, b.number, b.kind, h.sheet,
                    "from old papers" if h.papers and h.bears is not None else sheet_words(h),
                    signature_words(e, h),
                    where_words(h, private=private),
                    tuple(c.text for c in wrong if h.sheet in c.sheets),
                    len(correction_lines(e, h)),
                    signature_state(e, h), *_stay(h), papers=h.papers is not None)


def signature_state(e: Edition, h: Holding) -> str:
    """`signature_words` as a code: signed, unsigned, unknown (whether signed), void, destroyed."""
    if h.destroyed is not None:
        return "destroyed"
    if is_void(e, h):
        return "void"
    return "signed" if h.signed is not None else "unknown" if h.perhaps_signed else "unsigned"


def _stay(h: Holding) -> tuple[str | None, str | None, str | None, str | None]:
    """Place, terms, since and due of a sheet that exists."""
    stay = None if h.destroyed is not None else h.place
    return (None,) * 4 if stay is None else (stay.place, stay.terms, stay.day, stay.due)


def signature_words(e: Edition, h: Holding) -> str:
    """signed, not signed, signature not known, void, destroyed; with its reason."""
    if h.absent:
        return "there is no such sheet"
    if h.destroyed is not None:
        return f"destroyed: {h.destroyed.why}"
    if is_void(e, h) and h.bears is not None and h.bears.number is not None:
        return f"void: {e.voids[h.bears.number].why}"
    said = "signature not known" if h.perhaps_signed else (
        "signed" if h.signed is not None else "not signed")
    replaced = replaced_bats(e).get(h.sheet)
    return said if replaced is None else f"{said}, replaced as the BAT: {replaced.why}"


def where_words(h: Holding, *, private: bool = False) -> str:
    """Where a sheet is; to whom and the rest only with `private`. Empty: nobody said."""
    if h.destroyed is not None:
        return "destroyed"
    stay = h.place
    if stay is None:
        return ""
    return " and ".join(dict.fromkeys(
        _stay_words(h, s, private=private) for s in (h.stays if h.astray else (stay,))))


def _stay_words(h: Holding, stay: Stay, *, private: bool) -> str:
    text = place_words(stay)
    words = h.words_at(stay) if private else {}
    return text + "".join(f"; {k}: {v}" for k, v in words.items())


def days_over(h: Holding, today: date) -> int:
    """How many days a sheet is past the day it is due back; 0 where it is not.

    A day that is none, in a book of another hand, is past nothing.
    """
    stay = h.place
    if stay is None or stay.due is None or h.destroyed is not None:
        return 0
    try:
        due = date.fromisoformat(stay.due)
    except ValueError:
        return 0
    return max(0, (today - due).days)


def not_back(register: Register, today: date) -> tuple[FoundSheet, ...]:
    """The sheets of all editions that are past the day they are due back, longest first."""
    found = [(days_over(h, today),
              FoundSheet(e.id, h.sheet, label_text(e, h.bears or SheetLabel("undecided"))))
             for e in register.editions.values() for h in e.holdings.values()]
    return tuple(x for days, x in sorted(found, key=lambda y: -y[0]) if days)


@dataclass(frozen=True, slots=True)
class FoundSheet:
    """One answer to "where is 12/40": the sheet, what is to be said of it, and any clash."""

    print: str
    sheet: str | None
    text: str
    corrected: tuple[str, ...] = ()


def where_number_is(register: Register, id: str, number: int, *,
                    private: bool = False) -> tuple[FoundSheet, ...]:
    """Where the sheet of that number is; more than one answer where two bear it."""
    e = register.edition(id)
    wanted = SheetLabel(NUMBERED, number)
    answers = [found_sheet(e, h, private=private) for h in e.holdings.values()
               if any(b.claim == wanted.claim for b in h.claims)]
    if not answers and number in e.voids:
        return (FoundSheet(id, None, f"{label_text(e, wanted)} is void: {e.voids[number].why}"),)
    return tuple(answers)


def found_sheet(e: Edition, h: Holding, *, private: bool = False) -> FoundSheet:
    """Where one sheet of the register is: `2/5 is D3: signed, in the drawer`."""
    which = f"{label_text(e, h.claims[0])} is {bearer_words(h)}" if (
        h.claims and not h.absent) else sheet_words(h)
    said = signature_words(e, h)
    if h.destroyed is None and not h.absent:
        said += ", " + (where_words(h, private=private) or "place not recorded")
    return FoundSheet(e.id, h.sheet, f"{which}: {said}", correction_lines(e, h))


def propose_numbers(register: Register, id: str,
                    sheets: Iterable[str]) -> tuple[tuple[str, int], ...]:
    """Numbers for a sitting: the next ones in the order of the sheets, as far as they go."""
    e = register.edition(id)
    now = taken_numbers(e)
    pairs = []
    number = now.next
    for sheet in sheets:
        if number is None:
            break
        pairs.append((sheet, number))
        number = next((n for n in range(number + 1, (e.size or number + 1) + 1)
                       if n not in now.void), None) if e.form != "open" else number + 1
    return tuple(pairs)


def running_list(register: Register, id: str,
                 pairs: Iterable[tuple[str, int]]) -> tuple[str, ...]:
    """The list to write from: `K7 → 23/40`, a line a sheet."""
    e = register.edition(id)
    lines = []
    for sheet, number in pairs:
        known = e.holdings.get(sheet) or register.sheets.get(sheet)
        name = sheet if known is None else sheet_words(known)
        lines.append(f"{name} → {number_words(e, number)}")
    return tuple(lines)
