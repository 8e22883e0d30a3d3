"""What every rule asks: a reason, a day, a sheet that is there. None: all is well."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Final

from benchapp.decision import Refusal, written_ids
from benchapp.edition.context import EditionContext
from benchapp.edition.holding import Holding, SheetLabel
from benchapp.edition.numbers import (
    HOW_TO_NAME,
    correct_command,
    label_text,
    place_words,
    session_day_words,
    sheet_words,
)
from benchapp.edition.sharing import pulled_after
from benchapp.edition.state import SINGLE, Cap, Edition, Sheet
from benchapp.events.edition import NumberTakenBack
from benchapp.events.moments import local_time
from benchapp.safe_text import why_refused

#: No edition pulled by hand has more, and no kind of proof.
MOST: Final = 9_999


def check_text(words: str | None, what: str, mend: str) -> Refusal | None:
    """Why these words are not taken: nothing is said, or a sign in them acts on a terminal."""
    if words is None or not words.strip():
        return Refusal(f"{what} is missing", mend, rule="reason")
    wrong = why_refused(words, newlines=True)
    return None if wrong is None else Refusal(f"{what}: {wrong}", "type it again", rule="text")


def check_optional_text(words: str | None, what: str) -> Refusal | None:
    """The same of words that may be left out."""
    return None if words is None else check_text(words, what, "write it, or leave it out")


def all_words(words: Mapping[str, str]) -> Refusal | None:
    """The same of every one of the printer's own words; an empty one is not said."""
    return next((r for k, v in words.items() if v.strip() and (r := check_text(v, k, ""))), None)


def check_day(said: str | None) -> Refusal | None:
    """Why this is no day, or None."""
    if said is None:
        return None
    try:
        known = date.fromisoformat(said).isoformat() == said  # 20260503 and 2026-W18-7 are not
    except ValueError:
        known = False
    return None if known else Refusal(f"{said} is not a day", "write it as 2026-05-03", rule="day")


def check_event_day(page: EditionContext, said: str | None, h: Holding) -> Refusal | None:
    """Why what became of a sheet was not on that day: to come, or before it was there."""
    refusal = check_day(said) or check_past_day(page, said)
    if refusal is not None or said is None:
        return refusal
    known = page.sheet(h.sheet)
    pulled = None if known is None else pulled_on(page, known)
    if pulled is not None and said < pulled:
        return Refusal(f"{sheet_words(h)} was pulled on {session_day_words(pulled)}, after "
                       f"{session_day_words(said)}", "name a day from then on", rule="day")
    return None


def pulled_on(page: EditionContext, sheet: Sheet) -> str | None:
    """The day of its first pull (ISO 8601), by the offset there is now; None: not taken."""
    if sheet.pulled_ms is None:
        return None
    return local_time(replace(page.now, wall_ms=sheet.pulled_ms)).date().isoformat()


def check_move_day(h: Holding, said: str | None) -> Refusal | None:
    """Why a move was not on that day: before the one it comes after."""
    stay = h.place
    if said is None or stay is None or stay.day is None or said >= stay.day:
        return None
    return Refusal(f"{sheet_words(h)} is {place_words(stay)}: it can't have left earlier, "
                   f"on {session_day_words(said)}",
                   "name a later day, or correct the day it got there", rule="day")


def check_past_day(page: EditionContext, said: str | None) -> Refusal | None:
    """Why a day is not one on which something has happened: it is still to come."""
    if said is None or said <= local_time(page.now).date().isoformat():
        return None
    return Refusal(f"{session_day_words(said)} is in the future",
                   "name the day it happened", rule="day")


def check_count(number: int, what: str) -> Refusal | None:
    """Why so many cannot be."""
    if 1 <= number <= MOST:
        return None
    return Refusal(f"{number} {what}: not between 1 and {MOST}",
                   "write a whole number", rule="count")


def require_sheet(page: EditionContext, sheet: str) -> Holding | Refusal:
    """The sheet, if it is in the book and has not been destroyed."""
    h = page.holding(sheet)
    if h is None:
        return Refusal(f"No sheet {sheet} is in the book", HOW_TO_NAME, rule="sheet")
    if h.absent:
        return Refusal(f"There is no sheet {sheet_words(h)}: "
                       f"{h.corrections[-1].why}",
                       f"if there is one: {correct_command(h, 'number N')}", rule="known")
    if h.destroyed is not None:
        return Refusal(f"{sheet_words(h)} was destroyed: {h.destroyed.why}",
                       f"if it is whole: {correct_command(h, 'not destroyed')}", rule="destroyed")
    return h


def twins_of(e: Edition, h: Holding) -> tuple[str, ...]:
    """What is told of those with the same number: whoever destroys one has seen the others."""
    claims = {b.claim for b in h.claims if b.number is not None or b.kind in SINGLE}
    return tuple(x for other in e.holdings.values() if other.sheet != h.sheet
                 and claims & {b.claim for b in other.claims} for x in other.heads)


def signature_unknown(h: Holding) -> Refusal:
    """What rests on whether a sheet is signed waits until somebody says so."""
    return Refusal(f"Nobody has recorded whether {sheet_words(h)} is signed",
                   f"record it first: {correct_command(h, 'signed')}, or "
                   f"{correct_command(h, 'not signed')}", rule="signed")


def require_open_sheet(page: EditionContext, sheet: str) -> Holding | Refusal:
    """The sheet, if what it is to be is still open: there, not signed, in no other edition."""
    h = require_sheet(page, sheet)
    if isinstance(h, Refusal):
        return h
    return _open(page, h) or h


def _open(page: EditionContext, h: Holding) -> Refusal | None:
    if h.also:
        return Refusal(f"Books differ on {sheet_words(h)}",
                       f"look at the sheet, then {correct_command(h, 'number N')}", rule="clash")
    if h.perhaps_signed:
        return signature_unknown(h)
    if h.signed is not None:
        what = "" if h.bears is None or h.papers else f" as {label_text(page.e, h.bears)}"
        return Refusal(f"{sheet_words(h)} is signed{what}; you cannot change it",
                       "if its pencil says something else: "
                       f"{correct_command(h, 'number N')}", rule="signed")
    for other in page.state.editions.values():
        twin = other.holdings.get(h.sheet)
        if other.id != page.id and twin is not None and twin.claims:
            return Refusal(f"{sheet_words(h)} is {label_text(other, twin.claims[0])} of "
                           f"{other.id}",
                           "take it back there first", rule="elsewhere")
    return None


def let_go(page: EditionContext, h: Holding) -> Refusal | None:
    """Draft that what the sheet was to be is taken back, if it was to be anything."""
    if h.bears is None:
        return None
    if h.out:
        what = "" if h.papers else f"is {label_text(page.e, h.bears)} and "
        return Refusal(f"{sheet_words(h)} {what}is not in the studio",
                       "record that it came back first; if its pencil says something else: "
                       f"{correct_command(h, 'number N')}", rule="out")
    page.emit(NumberTakenBack(print=page.id, sheet=h.sheet, kind=h.bears.kind,
                              number=h.bears.number, over=written_ids(h.over)))
    return None


def after_cancelling(page: EditionContext, h: Holding) -> Refusal | None:
    """A cancelled plate gives nothing but the cancellation proof."""
    if not pulled_after(page.state, page.id, h.sheet):
        return None
    return Refusal(f"{sheet_words(h)} was pulled after the plate was cancelled",
                   'keep it as the cancellation proof (--as "cancellation proof"), or '
                   "destroy it", rule="cancelled")


def refuse_spoiled(page: EditionContext, h: Holding) -> Refusal | None:
    """A spoiled sheet becomes nothing."""
    known = page.sheet(h.sheet)
    if known is None or known.verdict != "spoiled":
        return None
    return Refusal(f"{sheet_words(h)} is judged spoiled",
                   "judge it again first, or destroy it", rule="spoiled")


def cap_of(page: EditionContext, bears: SheetLabel) -> int | None:
    """The total that is written beside what the sheet bears."""
    cap: Cap | None = page.e.caps.get(bears.kind)
    return None if cap is None or bears.number is None else cap.cap
