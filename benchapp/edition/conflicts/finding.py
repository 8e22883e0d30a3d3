"""What cannot all be true of an edition, named until the printer has resolved it. Pure.

Clashes come from two books that both numbered while apart, and from pencil that says
something else than the book. Nothing is chosen here: every side is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from benchapp.edition.conflicts.conflict import (
    Clash,
    conflict_key,
    describe_sheets,
    describe_ways_out,
    how_among,
    numbers_on,
    sheet_of,
)
from benchapp.edition.conflicts.differing import find_differences
from benchapp.edition.holding import BEARS, DESTROYED, Holding, SheetLabel
from benchapp.edition.numbers import (
    counted_kinds,
    kind_holders,
    label_text,
    number_bearers,
    number_words,
    numbers_of,
    used_up,
)
from benchapp.edition.sharing import (
    first_cancelling,
    is_pulled_after,
    of_the_same_plates,
    related_editions,
)
from benchapp.edition.standard import replaced_bats
from benchapp.edition.state import (
    BAT,
    CANCELLATION,
    NUMBERED,
    SINGLE,
    TRIALS,
    Edition,
    Register,
    Void,
)
from benchapp.edition.streams import print_id
from benchapp.quantities import join_words


def unsettled_clashes(register: Register, id: str) -> tuple[Clash, ...]:
    """Every clash of the edition that is neither corrected nor settled."""
    settled = register.edition(id).settled
    return tuple(c for c in _all(register, id) if c.key not in settled)


def settled_clashes(register: Register, id: str) -> tuple[Clash, ...]:
    """Those that the printer has settled and that are there still."""
    settled = register.edition(id).settled
    return tuple(c for c in _all(register, id) if c.key in settled)


def _all(register: Register, id: str) -> Iterator[Clash]:
    e = register.edition(id)
    for finds in (_twice, _void_and_borne, _beyond, _other_total, _overfull):
        yield from finds(e)
    for looks in (find_differences, _cancellation_twice, _begun_twice, _signed_openly,
                  _in_two_editions,
                  _after_cancelling):
        yield from looks(register, e)


def _by_claim(e: Edition) -> dict[tuple[str, int | None], list[Holding]]:
    """The sheets by what is said to stand on them."""
    sides: dict[tuple[str, int | None], list[Holding]] = {}
    for h in e.holdings.values():
        for claim in {b.claim for b in h.claims}:
            sides.setdefault(claim, []).append(h)
    return sides


def _twice(e: Edition) -> Iterator[Clash]:
    """Two sheets that are said to be the same one."""
    was_bat = replaced_bats(e)
    for (kind, number), all_borne in _by_claim(e).items():
        borne = [h for h in all_borne if not _gave_way(h, all_borne)
                 and not (kind == BAT and h.sheet in was_bat)]
        if len(borne) > 1 and (number is not None or kind in SINGLE):
            yield Clash(conflict_key(f"twice {kind} {number or ''}", (h.sheet for h in borne)),
                        f"{label_text(e, SheetLabel(kind, number))} is on {describe_sheets(borne)}",
                        how_among(borne, "number N", "not numbered"),
                        (number,) if kind == NUMBERED and number else (),
                        tuple(h.sheet for h in borne))


def _gave_way(h: Holding, to: Iterable[Holding]) -> bool:
    """Whether a sheet was destroyed by somebody who had seen another bear its number."""
    past = {x for t in h.telling_of(DESTROYED) if t.destroyed for x in t.past}
    return h.destroyed is not None and any(
        past & other.tellings.keys() for other in to if other.sheet != h.sheet)


def _cancellation_twice(register: Register, e: Edition) -> Iterator[Clash]:
    """One plate gives one cancellation proof, in whichever of its editions."""
    mine = kind_holders(e, CANCELLATION)
    others = [h for k in of_the_same_plates(register, e.id) for h in kind_holders(k, CANCELLATION)]
    for h in mine:
        if others:
            yield Clash(conflict_key("cancellation proof twice", (x.sheet for x in (h, *others))),
                        f"The {CANCELLATION} is {describe_sheets((h, *others))}: a plate gives one",
                        how_among((h, *others), f"not {CANCELLATION}"), (),
                        (h.sheet,))


def _void_and_borne(e: Edition) -> Iterator[Clash]:
    sides = _by_claim(e) if e.voids else {}
    for number, reason in e.voids.items():
        borne = [h for h in sides.get((NUMBERED, number), ())
                 if h.sheet not in reason.sheets or _signed_unseen(h, reason)]
        if borne:
            yield Clash(conflict_key(f"void {number}", (h.sheet for h in borne)),
                        f"{number_words(e, number)} is void ({reason.why}) but is on "
                        f"{describe_sheets(borne)}", how_among(borne, "not void", "number N"),
                        (number,), tuple(h.sheet for h in borne))


def _signed_unseen(h: Holding, void: Void) -> bool:
    """Whether it was signed by one who had not seen its number voided, nor looked at it since."""
    unseen = [t for id, t in h.tellings.items() if id not in void.seen]
    known = any(h.tellings[x].signed for x in void.seen if x in h.tellings)
    return (h.signed is not None and h.destroyed is None and not known
            and not any(t.firm for t in unseen))


def _begun_twice(register: Register, e: Edition) -> Iterator[Clash]:
    """One print under two names: by title and artist, as from old papers, and by a recipe's key.

    Each would be numbered from 1. Two that both have a key are two prints of one title.
    """
    mine = print_id(e.title, e.artist)
    beside = {k.id for k in related_editions(register, e.id)}
    for other in register.editions.values():
        if (other.id != e.id and other.id not in beside and None not in (
                e.declared, other.declared) and print_id(other.title, other.artist) == mine
                and mine in (e.id, other.id)):
            keyed = other.id if e.id == mine else e.id
            yield Clash(conflict_key("begun twice", (e.id, other.id)),
                        f"{e.title} by {e.artist} is in the book twice: as {mine} and as "
                        f"{keyed}; each has its own numbers",
                        f"write `key: {mine}` in the recipe, declare one beside the other, or "
                        "settle it, with the reason")


def _beyond(e: Edition) -> Iterator[Clash]:
    if e.size is None or e.sizes:  # while it is not known, nothing can be held against it
        return
    for n in sorted(numbers_of(e)):
        if not 1 <= n <= e.size:
            borne = number_bearers(e, NUMBERED, n)
            said = dict.fromkeys(label_text(e, b) for h in borne for b in h.claims
                                 if b.claim == (NUMBERED, n))
            yield Clash(conflict_key(f"beyond {n} of {e.size}", (h.sheet for h in borne)),
                        f"{join_words(said)} is on {describe_sheets(borne)}, "
                        f"but the edition is {e.size}",
                        how_among(borne, "number N"), (n,),
                        tuple(h.sheet for h in borne))


def _overfull(e: Edition) -> Iterator[Clash]:
    """Numbers given in one book, proofs inside the total kept in another."""
    used = used_up(e)
    if e.size is not None and not e.sizes and used > e.size and counted_kinds(e):
        yield Clash(f"overfull: {used} of {e.size}",
                    f"The edition of {e.size} has {used} numbers and proofs inside its total",
                    "take one back, correct a sheet, or settle it: --settle, with the reason")


#: Of a sheet that fixes no total: not signed, or nobody wrote down which.
NOT_SAID: Final = object()


def total_signed(h: Holding) -> object:
    """The total of the edition a signature was put under; None: open. `NOT_SAID`: no signature."""
    if h.signed is None or h.papers is not None:
        return NOT_SAID
    if h.bears is not None and h.bears.kind == NUMBERED and h.bears.of is not None:
        return h.bears.of
    openly = any(t.openly for t in h.telling_of(BEARS))
    return None if openly and (h.bears is None or h.bears.kind == NUMBERED) else NOT_SAID


def _signed_openly(register: Register, e: Edition) -> Iterator[Clash]:
    """Signed in an open edition by one book, while another said how large it is."""
    for h in e.holdings.values():
        known = register.sheets.get(h.sheet)
        trial = h.bears is None and known is not None and known.purpose in TRIALS
        if e.size is not None and not e.sizes and not h.also and not trial and (
                total_signed(h) is None):
            yield Clash(f"signed openly {h.sheet}: {e.size}",
                        f"{sheet_of(e, h)} was signed without a total, as in an open edition; the "
                        f"edition is {e.size}", _as_signed(h), numbers_on(h), (h.sheet,))


def _as_signed(h: Holding) -> str:
    return f"declare the edition as it was signed, or {how_among((h,), 'number N/TOTAL')}"


def _other_total(e: Edition) -> Iterator[Clash]:
    for h in e.holdings.values():
        b = h.bears
        if b is not None and b.kind == NUMBERED and b.of not in (
                None, e.size) and not e.sizes and not h.also and (
                e.size is None or (b.number or 0) <= e.size):
            of = "open" if e.size is None else str(e.size)
            yield Clash(f"total {h.sheet}: {b.of} of {of}",
                        f"{sheet_of(e, h)} is marked {label_text(e, b)}, but the edition is {of}",
                        _as_signed(h), () if b.number is None else (b.number,), (h.sheet,))


def _in_two_editions(register: Register, e: Edition) -> Iterator[Clash]:
    for other in register.editions.values():
        if other.id == e.id:
            continue
        for h in e.holdings.values():
            twin = other.holdings.get(h.sheet)
            if twin is not None and h.claims and twin.claims:
                yield Clash(conflict_key(f"two editions {h.sheet}", (e.id, other.id)),
                            f"{sheet_of(e, h)} is {label_text(e, h.claims[0])} here and "
                            f"{label_text(other, twin.claims[0])} of {other.id}",
                            f"{describe_ways_out(h, 'not numbered')}, with --print and the "
                            "edition it does not belong to",
                            numbers_on(h), (h.sheet,), by_correction=True)


def _after_cancelling(register: Register, e: Edition) -> Iterator[Clash]:
    done = first_cancelling(register, e.id)
    if done is None:
        return
    for h in e.holdings.values():
        wrong = [b for b in h.claims if b.kind != CANCELLATION
                 and not (b.kind == NUMBERED and b.number in e.voids)]
        if wrong and is_pulled_after(done, register.sheets.get(h.sheet)):
            yield Clash(f"after cancelling {h.sheet}",
                        f"{sheet_of(e, h)} is {label_text(e, wrong[0])} and was pulled "
                        "after the plate was cancelled", how_among((h,), "not numbered"),
                        tuple(b.number for b in wrong
                              if b.kind == NUMBERED and b.number is not None), (h.sheet,))
