"""Where sheets are: handed out, taken in, laid in the studio, lost."""

from __future__ import annotations

from typing import Final

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition.context import EditionContext
from benchapp.edition.holding import IN_STUDIO, LOST, OUT, Holding
from benchapp.edition.numbers import correct_command, session_day_words, sheet_words
from benchapp.edition.validators import (
    all_words,
    check_day,
    check_event_day,
    check_move_day,
    check_optional_text,
    require_sheet,
)
from benchapp.events.edition import SheetCameBack, SheetHandedOut, SheetPlaced
from benchapp.events.field_types import ABSENT

#: From a gallery a sheet may go on to these without coming back first.
_ON_FROM_A_GALLERY: Final = OUT
TERMS: Final = ("consignment", "sale or return")


def hand_out(page: EditionContext, action: a.HandOut) -> Refusal | None:
    """To a gallery, given or sold; from a gallery it may go straight on."""
    h = require_sheet(page, action.sheet)
    if isinstance(h, Refusal):
        return h
    refusal = (_terms(action) or check_event_day(page, action.day,
                                                 h) or check_move_day(h, action.day)
               or _due(action) or all_words(action.words) or _away(h))
    if refusal is not None:
        return refusal
    page.emit(SheetHandedOut(**page.over(h, h.all_told), place=action.place, terms=action.terms,
                             day=action.day, due=action.due))
    page.tell(h.sheet, action.words)
    return None


def _terms(action: a.HandOut) -> Refusal | None:
    if action.place not in OUT:
        return Refusal(f"{action.place} is not out of the studio",
                       "write " + ", ".join(OUT), rule="place")
    if action.place != "gallery" and (action.terms is not None or action.due is not None):
        return Refusal(f"A sheet that was {action.place} is not due back",
                       "leave terms and day out", rule="due")
    if action.terms is not None and action.terms not in TERMS:
        return check_optional_text(action.terms, "The terms")
    return None


def _due(action: a.HandOut) -> Refusal | None:
    """A sheet is due back on a day after the one it went."""
    refusal = check_day(action.due)
    if refusal is None and action.due and action.day and action.due < action.day:
        return Refusal(f"Due back on {session_day_words(action.due)}, before it went on "
                       f"{session_day_words(action.day)}", "name a later day", rule="day")
    return refusal


def _away(h: Holding) -> Refusal | None:
    stay = h.place
    if stay is None or stay.place in IN_STUDIO or h.astray:
        return None
    if stay.place in _ON_FROM_A_GALLERY and stay.place == "gallery":
        return None
    if stay.place == LOST:
        return Refusal(f"{sheet_words(h)} is lost", "record that it came back first", rule="place")
    return Refusal(f"{sheet_words(h)} was {stay.place} already",
                   "record that it came back first; if it never was there: "
                   f"{correct_command(h, 'place PLACE')}", rule="out")


def take_in(page: EditionContext, action: a.TakeIn) -> Refusal | None:
    """It came back, or was found."""
    h = require_sheet(page, action.sheet)
    if isinstance(h, Refusal):
        return h
    refusal = (_in_studio(action.place) or check_event_day(page, action.day, h)
               or check_move_day(h, action.day) or all_words(action.words))
    if refusal is not None:
        return refusal
    if h.place is None or (h.place.place in IN_STUDIO and not h.astray):
        return Refusal(f"{sheet_words(h)} has not left the studio",
                       "say where it is now instead", rule="place")
    page.emit(SheetCameBack(**page.over(h, h.all_told), place=action.place, day=action.day))
    page.tell(h.sheet, action.words)
    return None


def _in_studio(place: str) -> Refusal | None:
    if place in IN_STUDIO:
        return None
    return Refusal(f"{place} is not in the studio", "write " + ", ".join(IN_STUDIO), rule="place")


def put(page: EditionContext, action: a.Put) -> Refusal | None:
    """Where it lies in the studio; or nobody knows, wherever it was."""
    h = require_sheet(page, action.sheet)
    if isinstance(h, Refusal):
        return h
    refusal = check_event_day(page, action.day,
                              h) or check_move_day(h, action.day) or all_words(action.words)
    if refusal is None and action.place != LOST:
        refusal = _in_studio(action.place)
    if refusal is not None:
        return refusal
    if h.place is not None and h.place.place == action.place and not h.astray:
        return Refusal(f"{sheet_words(h)} is recorded there already"
                       if action.place != LOST else f"{sheet_words(h)} is lost already",
                       "there is nothing to do", rule="already")
    if action.place != LOST and not h.astray and h.place is not None and (
            h.place.place not in IN_STUDIO):
        return Refusal(f"{sheet_words(h)} is not in the studio", "take it in", rule="out")
    page.emit(SheetPlaced(**page.over(h, h.all_told), place=action.place,
                          day=ABSENT if action.day is None else action.day))
    page.tell(h.sheet, action.words)
    return None
