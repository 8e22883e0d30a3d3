"""What is not undone: void numbers, destroyed sheets, cancelled plates. And plates told of."""

from __future__ import annotations

from benchapp.decision import Refusal, written_ids
from benchapp.edition import actions as a
from benchapp.edition.context import EditionContext
from benchapp.edition.numbers import (
    alone_words,
    bearer_words,
    correct_command,
    number_bearers,
    number_words,
    session_day_words,
    sheet_words,
    used_up,
)
from benchapp.edition.rules_numbers import check_size_known
from benchapp.edition.sharing import plates_told, recorded_cancellings, share_plate
from benchapp.edition.state import NUMBERED, Cancelled, PlateTold
from benchapp.edition.validators import (
    MOST,
    check_day,
    check_optional_text,
    check_past_day,
    check_text,
    pulled_on,
    require_sheet,
    twins_of,
)
from benchapp.events.edition import NumberVoided, PlateCancelled, PlateHistoryTold, SheetDestroyed

#: More impressions than this no plate of any metal gives.
MOST_PULLS = 1_000_000


def void(page: EditionContext, action: a.VoidNumber) -> Refusal | None:
    """A number that is never used, or never again; the sheet that bears it is named."""
    e = page.e
    refusal = check_size_known(e) or check_text(
        action.why, "The reason for the void number", "say why")
    if refusal is not None:
        return refusal
    words = number_words(e, action.number)
    known = e.voids.get(action.number)
    if known is not None:
        return Refusal(f"{words} is void already: {known.why}",
                       "there is nothing to do", rule="void")
    borne = number_bearers(e, NUMBERED, action.number)
    if len(borne) > 1:
        return Refusal(f"{words} is written on " + " and ".join(map(alone_words, borne)),
                       f"correct one of them: {correct_command(borne[0], 'number N')}",
                       rule="clash")
    if borne and borne[0].destroyed is not None:
        return Refusal(f"{words} is void already: {bearer_words(borne[0])} was destroyed "
                       f"({borne[0].destroyed.why})", "there is nothing to do", rule="void")
    if not borne:
        highest = MOST if e.size is None else e.size
        if not 1 <= action.number <= highest:
            return Refusal(f"{action.number} is not between 1 and {highest}",
                           "name a number in that range", rule="size")
        if e.size is not None and used_up(e) >= e.size:
            return Refusal(f"The edition of {e.size} is full: proofs inside it take the "
                           "rest", "there is nothing to do", rule="total")
    page.emit(NumberVoided(print=page.id, number=action.number,
                           sheet=borne[0].sheet if borne else None, why=action.why.strip(),
                           over=written_ids(borne[0].all_told) if borne else ()))
    return None


def destroy(page: EditionContext, action: a.Destroy) -> Refusal | None:
    """With a reason. Where two sheets bore one number, the one that is left has it alone."""
    h = require_sheet(page, action.sheet)
    if isinstance(h, Refusal):
        return h
    refusal = check_text(action.why, f"The reason {sheet_words(h)} was destroyed", "say why")
    if refusal is not None:
        return refusal
    page.emit(SheetDestroyed(**page.over(h, (*h.over, *twins_of(page.e, h))),
                             why=action.why.strip()))
    return None


def cancel_plate(page: EditionContext, action: a.CancelPlate) -> Refusal | None:
    """Records that it has been done; nothing but one proof comes after."""
    refusal = check_text(action.how, "The way the plate was cancelled", "say how") or check_day(
        action.day) or check_past_day(page, action.day) or _before_any_pull(page, action)
    if refusal is not None:
        return refusal
    for plate in action.plates:
        refusal = refusal or check_text(plate, "The plate", "name it")
    if refusal is not None:
        return refusal
    done = next((c for c in recorded_cancellings(page.state, page.id)
                 if share_plate(c, Cancelled(action.plates, "", page.now))), None)
    if done is not None:
        when = "" if done.day is None else f" on {session_day_words(done.day)}"
        return Refusal(f"The plate was cancelled{when} already: {done.how}",
                       "if it was not: benchapp correct plate not cancelled", rule="cancelled")
    page.emit(PlateCancelled(print=page.id, plates=action.plates, how=action.how.strip(),
                             day=action.day))
    return None


def _before_any_pull(page: EditionContext, action: a.CancelPlate) -> Refusal | None:
    """A plate that gave sheets in this book was cancelled after the first of them."""
    days = [d for s in page.state.pulled(page.id) if (d := pulled_on(page, s))
            and (not action.plates or not s.plates or {*action.plates} & {*s.plates})]
    if action.day is None or not days or action.day >= min(days):
        return None
    return Refusal(f"The plate was printed from on {session_day_words(min(days))}, after "
                   f"{session_day_words(action.day)}", "name a day from then on", rule="day")


def tell_plate(page: EditionContext, action: a.TellPlate) -> Refusal | None:
    """Its state (steel-faced, re-ground), and what it gave before there was this book."""
    refusal = check_text(action.plate, "The plate", "name it") or check_optional_text(
        action.state, "The state of the plate")
    if refusal is not None:
        return refusal
    if action.state is None and action.before is None:
        return Refusal(f"You gave nothing about the plate {action.plate}",
                       "give its state, or how many it gave before", rule="nothing")
    if action.before is not None and not 0 <= action.before <= MOST_PULLS:
        return Refusal(f"{action.before} is not a number of impressions",
                       f"from 0 to {MOST_PULLS}", rule="count")
    plate = action.plate.strip()
    known = plates_told(page.state, page.id).get(plate, PlateTold())
    page.emit(PlateHistoryTold(print=page.id, plate=plate, state=action.state,
                               before=action.before,
                               over=written_ids(x for x, *_ in known.said)))
    return None
