"""Where sheets are: handed out, taken in, laid in the studio, lost."""

from __future__ import annotations

from typing import Final

from benchapp.edition import actions as a
from benchapp.edition.holding import IN_STUDIO, LOST, OUT, Holding
from benchapp.edition.numbers import correct_command, session_day_words, sheet_words
from benchapp.edition.page import EditionContext, written_ids
from benchapp.edition.refusal import EditionRefusal
from benchapp.edition.validators import (
    all_words,
    check_day,
    check_event_day,
    check_move_day,
    check_optional_text,
    require_sheet,
)

#: From a gallery a sheet may go on to these without coming back first.
_ON_FROM_A_GALLERY: Final = OUT
TERMS: Final = ("consignment", "sale or return")


def hand_out(page: EditionContext, action: a.HandOut) -> EditionRefusal | None:
    """To a gallery, given or sold; from a gallery it may go straight on."""
    h = require_sheet(page, action.sheet)
    if isinstance(h, EditionRefusal):
        return h
    refusal = (_terms(action) or check_event_day(page, action.day,
                                                 h) or check_move_day(h, action.day)
               or _due(action) or all_words(action.words) or _away(h))
    if refusal is not None:
        return refusal
    page.write("handed out", **_from(page, h), place=action.place, terms=action.terms,
               day=action.day, due=action.due)
    page.tell(h.sheet, action.words)
    return None


def _from(page: EditionContext, h: Holding) -> dict[str, object]:
    """The fields that name a sheet, and the entries by which it is what and where it is."""
    return {**page.of(h), "over": written_ids(h.all_told)}


def _terms(action: a.HandOut) -> EditionRefusal | None:
    if action.place not in OUT:
        return EditionRefusal("place", f"{action.place} is not out of the studio",
                              "write " + ", ".join(OUT))
    if action.place != "gallery" and (action.terms is not None or action.due is not None):
        return EditionRefusal("due", f"A sheet that was {action.place} is not due back",
                              "leave terms and day out")
    if action.terms is not None and action.terms not in TERMS:
        return check_optional_text(action.terms, "The terms")
    return None


def _due(action: a.HandOut) -> EditionRefusal | None:
    """A sheet is due back on a day after the one it went."""
    refusal = check_day(action.due)
    if refusal is None and action.due and action.day and action.due < action.day:
        return EditionRefusal("day",
                              f"Due back on {session_day_words(action.due)}, before it went on "
                              f"{session_day_words(action.day)}", "name a later day")
    return refusal


def _away(h: Holding) -> EditionRefusal | None:
    stay = h.place
    if stay is None or stay.place in IN_STUDIO or h.astray:
        return None
    if stay.place in _ON_FROM_A_GALLERY and stay.place == "gallery":
        return None
    if stay.place == LOST:
        return EditionRefusal("place", f"{sheet_words(h)} is lost",
                              "record that it came back first")
    return EditionRefusal("out", f"{sheet_words(h)} was {stay.place} already",
                          "record that it came back first; if it never was there: "
                          f"{correct_command(h, 'place PLACE')}")


def take_in(page: EditionContext, action: a.TakeIn) -> EditionRefusal | None:
    """It came back, or was found."""
    h = require_sheet(page, action.sheet)
    if isinstance(h, EditionRefusal):
        return h
    refusal = (_in_studio(action.place) or check_event_day(page, action.day, h)
               or check_move_day(h, action.day) or all_words(action.words))
    if refusal is not None:
        return refusal
    if h.place is None or (h.place.place in IN_STUDIO and not h.astray):
        return EditionRefusal("place", f"{sheet_words(h)} has not left the studio",
                              "say where it lies now instead")
    page.write("came back", **_from(page, h), place=action.place, day=action.day)
    page.tell(h.sheet, action.words)
    return None


def _in_studio(place: str) -> EditionRefusal | None:
    if place in IN_STUDIO:
        return None
    return EditionRefusal("place", f"{place} is not in the studio", "write " + ", ".join(IN_STUDIO))


def put(page: EditionContext, action: a.Put) -> EditionRefusal | None:
    """Where it lies in the studio; or nobody knows, wherever it was."""
    h = require_sheet(page, action.sheet)
    if isinstance(h, EditionRefusal):
        return h
    refusal = check_event_day(page, action.day,
                              h) or check_move_day(h, action.day) or all_words(action.words)
    if refusal is None and action.place != LOST:
        refusal = _in_studio(action.place)
    if refusal is not None:
        return refusal
    if h.place is not None and h.place.place == action.place and not h.astray:
        return EditionRefusal("already", f"{sheet_words(h)} is said to be there already"
                              if action.place != LOST else f"{sheet_words(h)} is lost already",
                              "there is nothing to do")
    if action.place != LOST and not h.astray and h.place is not None and (
            h.place.place not in IN_STUDIO):
        return EditionRefusal("out", f"{sheet_words(h)} is not in the studio", "take it in")
    page.write("placed", **_from(page, h), place=action.place,
               **({} if action.day is None else {"day": action.day}))
    page.tell(h.sheet, action.words)
    return None
