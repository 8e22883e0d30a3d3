"""Numbers and proofs: given at sorting, taken back before signing, signed in a sitting."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition.context import EditionContext
from benchapp.edition.holding import Holding, SheetLabel
from benchapp.edition.numbers import (
    HOW_TO_NAME,
    bearer_words,
    correct_command,
    counted_kinds,
    is_void,
    kind_holders,
    label_text,
    next_proof,
    number_bearers,
    number_words,
    sheet_words,
    shown_list,
    taken_numbers,
    used_up,
)
from benchapp.edition.rules_size import check_size_agreed
from benchapp.edition.rules_standard import bat_again, other_bat, replace_bat
from benchapp.edition.sharing import first_cancelling, of_the_same_plates
from benchapp.edition.standard import bat_sheets, replaced_bats
from benchapp.edition.state import (
    AT_THE_PRESS,
    BAT,
    CANCELLATION,
    KINDS_OF_PROOF,
    NUMBERED,
    SINGLE,
    TRIALS,
    WITHOUT_NUMBER,
    Edition,
)
from benchapp.edition.validators import (
    MOST,
    after_cancelling,
    cap_of,
    check_optional_text,
    let_go,
    refuse_spoiled,
    require_open_sheet,
    require_sheet,
)
from benchapp.events.edition import NumberGiven, ProofGiven, SheetSigned
from benchapp.events.words import COUNTERPROOF


def give_numbers(page: EditionContext, action: a.GiveNumbers) -> Refusal | None:
    """A sitting: all of them, or none. What is changed by hand is taken back first."""
    refusal = check_size_known(page.e)
    if refusal is not None:
        return refusal
    if not action.pairs:
        return Refusal("No sheet is named", HOW_TO_NAME, rule="sheet")
    if len({sheet for sheet, _ in action.pairs}) < len(action.pairs):
        return Refusal("One sheet is named twice", "give each one number", rule="sheet")
    held = []
    for sheet, number in action.pairs:
        h = _numberable(page, sheet, number)
        if isinstance(h, Refusal):
            return h
        held.append((h, number))
    for h, _ in held:
        refusal = let_go(page, h)
        if refusal is not None:
            return refusal
    return next((r for h, n in held if (r := _give(page, h, n)) is not None), None)


def check_size_known(e: Edition) -> Refusal | None:
    """Numbers are given in an edition whose size is known, or that is open."""
    if e.declared is None:
        return Refusal("The size of the edition is not known",
                       "declare it, or say that it is open", rule="size")
    return check_size_agreed(e)


def _numberable(page: EditionContext, sheet: str, number: int | None) -> Holding | Refusal:
    """The sheet, if it can bear a number of the edition."""
    h = require_open_sheet(page, sheet)
    if isinstance(h, Refusal):
        return h
    refusal = after_cancelling(page, h) or _of_the_edition(page, h) or refuse_spoiled(page, h)
    if refusal is not None:
        return refusal
    b = h.bears
    if b is not None and b.kind == NUMBERED and number in (None, b.number) and not is_void(
            page.e, h):
        return Refusal(f"{sheet_words(h)} is {label_text(page.e, b)} already",
                       "name another number, or take this one back", rule="already")
    return h


def _of_the_edition(page: EditionContext, h: Holding) -> Refusal | None:
    """TP, WP, SP, warm-ups, ghosts and the BAT take no number of the edition."""
    if h.bears is not None and h.bears.kind == "BAT":
        return Refusal(f"{sheet_words(h)} is the BAT and takes no edition number",
                       f"take that back first: benchapp number {h.mark or BAT} --back", rule="BAT")
    known = page.sheet(h.sheet)
    if known is None or known.purpose not in AT_THE_PRESS:
        return None
    if known.purpose == COUNTERPROOF:
        return _of_no_plate(h)
    return Refusal(f"{sheet_words(h)} was pulled as {known.purpose} and takes no edition "
                   "number",
                   f"say first what it was for: for {h.mark} edition; or keep it as a "
                   "proof", rule="for")


#: What a sheet can be kept as that was not pulled from the plate.
_OF_ANY_SHEET: Final = ("presentation", "archive")


def _of_no_plate(h: Holding) -> Refusal:
    return Refusal(f"{sheet_words(h)} is a counterproof: it was pulled from a sheet, not from the "
                   "plate, and is never numbered", "name a sheet pulled from the plate", rule="for")


def _give(page: EditionContext, h: Holding, wanted: int | None) -> Refusal | None:
    e = page.e
    number = taken_numbers(e).next if wanted is None else wanted
    if number is None:
        return Refusal(f"There is no number after the highest of {e.size}", _free(e), rule="size")
    refusal = check_number_free(e, number) or room_inside(e, 1)
    if refusal is not None:
        return refusal
    page.emit(NumberGiven(**page.tells(h), number=number))
    return None


def room_inside(e: Edition, more: int) -> Refusal | None:
    """Whether so many more fit into N, proofs inside it counted."""
    if e.size is None or used_up(e) + more <= e.size:
        return None
    kinds = ", ".join(counted_kinds(e))
    return Refusal(f"The edition of {e.size} is full" + (
 f": {kinds} count inside it" if kinds else ""), "you cannot raise it; declare a second "
 "edition with --beside and this one", rule="total")


def check_number_free(e: Edition, number: int) -> Refusal | None:
    """Whether a number is free, and if not, who has it."""
    highest = e.size if e.size is not None else MOST
    if not 1 <= number <= highest:
        return Refusal(f"{number} is not between 1 and {highest}", _free(e), rule="size")
    words = number_words(e, number)
    borne = number_bearers(e, NUMBERED, number)
    if borne:
        return Refusal(_who_has_it(words, borne), _free(e), rule="taken")
    void = e.voids.get(number)
    if void is not None:
        return Refusal(f"{words} is void: {void.why}; {_NEVER_AGAIN}", _free(e), rule="void")
    return None


_NEVER_AGAIN: Final = "a void number is never used again"


def _who_has_it(words: str, borne: Sequence[Holding]) -> str:
    """Which sheet has a number; that of a destroyed sheet is void."""
    h = next((x for x in borne if x.destroyed is None), None)
    if h is not None:
        return f"{words} is {bearer_words(h)}; a number is used once"
    gone = borne[0]
    why = "" if gone.destroyed is None else f" ({gone.destroyed.why})"
    return f"{words} is void: {bearer_words(gone)} was destroyed{why}; {_NEVER_AGAIN}"


def _free(e: Edition) -> str:
    """What can be given instead."""
    now = taken_numbers(e)
    if now.next is None and not now.free:
        return "no number is free"
    parts = [] if now.next is None else [f"next is {number_words(e, now.next)}"]
    if now.free and now.free != (now.next,):
        parts.append(f"free: {shown_list(now.free)}")
    return "; ".join(parts)


def give_proof(page: EditionContext, action: a.GiveProof) -> Refusal | None:
    """A sheet is kept as a proof; caps warn, and do not refuse."""
    refusal = (_proof_kind(page.e, action.kind)
               or check_optional_text(action.by, "The person who passed it")
               or check_optional_text(action.whose, "The owner of the proof")
               or check_optional_text(action.instead, "The reason to replace the BAT"))
    if refusal is not None:
        return refusal
    if action.instead is not None and action.kind != BAT:
        return Refusal("Only the BAT is replaced by another", "leave --replace out", rule="kind")
    if action.kind == BAT and action.sheet in replaced_bats(page.e):
        return bat_again(page, action)
    h = require_open_sheet(page, action.sheet)
    if isinstance(h, Refusal):
        return h
    if h.bears is not None and h.bears.kind == action.kind and action.number in (
            None, h.bears.number):
        return Refusal(f"{sheet_words(h)} is {label_text(page.e, h.bears)} already",
                       "there is nothing to do", rule="already")
    known = page.sheet(h.sheet)
    if known is not None and known.purpose == COUNTERPROOF and action.kind not in _OF_ANY_SHEET:
        return _of_no_plate(h)
    refusal = _plate(page, h, action.kind) or refuse_spoiled(page, h) or let_go(page, h)
    if refusal is not None:
        return refusal
    number = next_proof(page.e, action.kind) if action.number is None else action.number
    if action.instead is not None:
        refusal = replace_bat(page, h.sheet, action.instead)
    refusal = refusal or proof_unused(page, action.kind, number)
    if refusal is not None:
        return refusal
    page.emit(ProofGiven(**page.tells(h), kind=action.kind, number=number,
                         by=action.by if action.kind == "BAT" else None))
    page.tell(h.sheet, {} if action.whose is None else {"whose": action.whose})
    return None


def _proof_kind(e: Edition, kind: str) -> Refusal | None:
    if kind in KINDS_OF_PROOF or kind in e.caps:
        return None
    if kind == NUMBERED:
        return Refusal("A number of the edition is not a proof", "number the sheet", rule="kind")
    if kind in AT_THE_PRESS:
        return Refusal(f"You set {kind} at the press", "say what the pull was for", rule="kind")
    return Refusal(f"{kind} is not a kind of proof",
                   "write " + ", ".join((*KINDS_OF_PROOF, *(k for k in e.caps
                                                            if k not in KINDS_OF_PROOF))),
                   rule="kind")


def _plate(page: EditionContext, h: Holding, kind: str) -> Refusal | None:
    """The cancellation proof comes from a cancelled plate, and nothing else does."""
    if kind != CANCELLATION:
        return after_cancelling(page, h)
    if first_cancelling(page.state, page.id) is None:
        return Refusal("The plate is not cancelled",
                       "record that first: cancel the plate", rule="cancelled")
    of_it = (page.e, *of_the_same_plates(page.state, page.id))
    other = next((x for k in of_it for x in kind_holders(k, kind)), None)
    if other is not None:
        return Refusal(f"The cancellation proof is {sheet_words(other)}; a cancelled "
                       "plate gives one and nothing more",
                       "destroy this one, with the reason", rule="single")
    return None


def proof_unused(page: EditionContext, kind: str, number: int | None) -> Refusal | None:
    """Whether a proof of that kind and number is not given yet, and has room in N."""
    e = page.e
    if kind in SINGLE:
        other = next(iter(bat_sheets(e)) if kind == BAT else kind_holders(e, kind), None)
        if other is not None:
            return Refusal(f"The {kind} is {sheet_words(other)}; there is one",
                           other_bat(other) if kind == BAT else "take that back first",
                           rule="single")
    if number is not None and kind in WITHOUT_NUMBER:
        return Refusal(f"A {kind} has no number", "leave the number out", rule="kind")
    if number is not None and not 1 <= number <= MOST:
        return Refusal(f"{number} is not a number of a proof", f"from 1 to {MOST}", rule="count")
    borne = number_bearers(e, kind, number) if number is not None else ()
    if borne:
        return Refusal(_who_has_it(label_text(e, SheetLabel(kind, number)), borne),
                       f"next is {label_text(e, SheetLabel(kind, next_proof(e, kind)))}",
                       rule="taken")
    return room_inside(e, 1) if kind in counted_kinds(e) else None


def number_back(page: EditionContext, action: a.TakeNumberBack) -> Refusal | None:
    """Before it is signed; a number that was given back is free again."""
    h = require_open_sheet(page, action.sheet)
    if isinstance(h, Refusal):
        return h
    if h.bears is None:
        return Refusal(f"{sheet_words(h)} has no number and no kind yet",
                       "there is no number to take back", rule="nothing")
    return let_go(page, h)


def sign(page: EditionContext, action: a.Sign) -> Refusal | None:
    """A sitting: all of them, or none. What stands on the sheet is kept with the signature."""
    if not action.sheets:
        return Refusal("No sheet is named", HOW_TO_NAME, rule="sheet")
    for sheet in action.sheets:
        h = require_sheet(page, sheet)
        if isinstance(h, Refusal):
            return h
        refusal = _signable(page, h)
        if refusal is not None:
            return refusal
        b = h.bears
        of = None if b is None else page.e.size if b.kind == NUMBERED else cap_of(page, b)
        page.emit(SheetSigned(**page.tells(h), kind=None if b is None else b.kind,
                              number=None if b is None else b.number, of=of,
                              open=page.e.form == "open" and not _trial(page, h)
                              and (b is None or b.kind == NUMBERED)))
    return None


def _trial(page: EditionContext, h: Holding) -> bool:
    """Whether it was pulled to try something, and may be signed as what it is."""
    known = page.sheet(h.sheet)
    return known is not None and known.purpose in TRIALS


def _signable(page: EditionContext, h: Holding) -> Refusal | None:
    e = page.e
    if h.signed is not None:
        return Refusal(f"{sheet_words(h)} is signed already", "leave it out", rule="signed")
    if h.also:
        return Refusal(f"Books differ on {sheet_words(h)}",
                       f"look at the sheet, then {correct_command(h, 'number N')}", rule="clash")
    if is_void(e, h) and h.bears is not None:
        return Refusal(f"{sheet_words(h)} has {label_text(e, h.bears)}, which is void",
                       "give it another number first", rule="void")
    if h.bears is not None:
        return check_size_agreed(e) if h.bears.kind == NUMBERED else None
    if e.form == "open" or _trial(page, h):
        return None
    return Refusal(f"{sheet_words(h)} has no number and no kind yet",
                   "number it first, or keep it as a proof", rule="number")
