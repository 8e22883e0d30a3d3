"""What the printer should know of an action; nothing here refuses it. Pure."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, Final

from benchapp.edition import actions as a
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.figures import proof_figures, sheet_accounts
from benchapp.edition.numbers import (
    first_signature,
    is_void,
    kind_holders,
    label_text,
    number_bearers,
    number_words,
    runs_text,
    sheet_words,
    taken_numbers,
)
from benchapp.edition.sharing import first_cancelling
from benchapp.edition.standard import bat_sheets, held_against
from benchapp.edition.state import CANCELLATION, NUMBERED, Cap, Edition, Register
from benchapp.quantities import items_text


def edition_warnings(before: Register, action: a.Action, after: Register) -> tuple[str, ...]:
    """What is to be said of the action, in the order of its weight.

    Args:
        before: The register it is done in: the action itself is judged by that.
        action: What is done.
        after: The register then: a clash that the action makes is named, one it mends is not.
    """
    said = _SAYS.get(type(action))
    own = () if said is None else tuple(said(before, before.edition(action.print), action))
    return (*own, *(c.text for c in unsettled_clashes(after, action.print)))


def recipe_differences(e: Edition, size: int | None, caps: Mapping[str, Cap]) -> tuple[str, ...]:
    """What a later recipe says otherwise than the edition; it changes nothing."""
    if e.declared is None:
        return ()
    out = []
    if size is not None and size != e.size:
        out.append(f"This recipe says an edition of {size}; it stays "
                   f"{'open' if e.size is None else e.size}")
    out += [f"This recipe says {k} {c.cap}; you declared "
            f"{e.caps[k].cap if k in e.caps else 'none'}"
            for k, c in caps.items() if e.caps.get(k) != c]
    return tuple(out)


def _no_bat(e: Edition) -> list[str]:
    return [] if held_against(e) is not None else [
        "No BAT is approved yet"]


def _not_kept(register: Register, sheets: Iterable[str]) -> list[str]:
    out = []
    for s in sheets:
        known = register.sheets.get(s)
        if known is not None and known.verdict != "keep":
            out.append(f"{sheet_words(known)} is {known.verdict or 'not judged'}")
    return out


def _number(register: Register, e: Edition, action: a.GiveNumbers) -> list[str]:
    out = _no_bat(e) + _not_kept(register, (s for s, _ in action.pairs))
    now = taken_numbers(e)
    holes = [n for n in now.free if now.next is None or n < now.next]
    if holes and any(n is None for _, n in action.pairs):
        out.append("Still free below: " + ", ".join(map(str, holes[:12])))
    return out


def _proof(register: Register, e: Edition, action: a.GiveProof) -> list[str]:
    out = _not_kept(register, [action.sheet])
    known = register.sheets.get(action.sheet)
    if known is not None and known.purpose in ("warm-up", "ghost"):
        out.append(f"{sheet_words(known)} was pulled as {known.purpose}")
    p = proof_figures(register, e.id).get(action.kind)
    if p is not None and p.cap is not None and p.given + p.void >= p.cap:
        out.append(f"{action.kind}: {p.given + p.void} given of {p.cap}; this is one more")
    done = first_cancelling(register, e.id)
    if action.kind == CANCELLATION and done is not None and known is not None and (
            known.pulled_ms is not None and known.pulled_ms <= done.at.wall_ms):
        out.append(f"{sheet_words(known)} was pulled before the plate was recorded as cancelled")
    return out


def _sign(register: Register, e: Edition, action: a.Sign) -> list[str]:
    return _no_bat(e) + _not_kept(register, action.sheets)


def _void(register: Register, e: Edition, action: a.VoidNumber) -> list[str]:
    return [f"{number_words(e, action.number)} is {sheet_words(h)}"
            + (", signed" if h.signed else "") for h in number_bearers(e, NUMBERED, action.number)]


def _declare(register: Register, e: Edition, action: a.Declare) -> list[str]:
    gone = _shared_and_cancelled(register, action.sibling, action.shares or ())
    pencilled = sum(1 for _ in kind_holders(e, NUMBERED))
    if e.declared is None or not pencilled or action.size == e.size:
        return gone
    return [f"{items_text(pencilled, 'sheet')} may have /{e.size} in pencil"]


def _shared_and_cancelled(register: Register, sibling: str | None,
                          plates: Iterable[str]) -> list[str]:
    """What a cancelled plate means for an edition beside that shares it."""
    done = None if sibling is None else first_cancelling(register, sibling)
    gone = [p for p in plates if done is not None and (not done.plates or p in done.plates)]
    return [f"The plate {p} is cancelled: only sheets pulled before that can be of this edition"
            for p in gone]


def _share(register: Register, e: Edition, action: a.SharePlates) -> list[str]:
    return _shared_and_cancelled(register, e.sibling, action.plates)


def _lower(register: Register, e: Edition, action: a.Lower) -> list[str]:
    pencilled = sum(1 for _ in kind_holders(e, NUMBERED))
    return [f"{items_text(pencilled, 'sheet')} may have /{e.size} in pencil"] if pencilled else []


def _cancel(register: Register, e: Edition, action: a.CancelPlate) -> list[str]:
    out = [] if bat_sheets(e) else ["No BAT is approved"]
    waiting = sheet_accounts(register, e.id).get("undecided", 0)
    if waiting:
        out.append("1 sheet is not sorted yet: it can still be numbered" if waiting == 1 else
                   f"{waiting} sheets are not sorted yet: they can still be numbered")
    free = () if e.size is None else taken_numbers(e).free
    if free and not waiting:
        out.append(f"These unused numbers are void now: {runs_text(free)}")
        if first_signature(e) is not None:
            out.append("Give the last number and the reason: --cut-short N --why WORDS")
    return out


def _hand_out(register: Register, e: Edition, action: a.HandOut) -> list[str]:
    h = e.holdings.get(action.sheet)
    if h is None or h.bears is None:
        return ["The sheet has no number and no kind"]
    out = [] if h.signed else [f"Nobody has recorded whether {label_text(e, h.bears)} is signed"
                               if h.perhaps_signed else f"{label_text(e, h.bears)} is not signed"]
    return [*out, f"{label_text(e, h.bears)} is void"] if is_void(e, h) else out


_SAYS: Final[Mapping[type, Callable[[Register, Edition, Any], list[str]]]] = {
    a.GiveNumbers: _number, a.GiveProof: _proof, a.Sign: _sign, a.VoidNumber: _void,
    a.Declare: _declare, a.Lower: _lower, a.CancelPlate: _cancel, a.SharePlates: _share,
    a.HandOut: _hand_out,
}
