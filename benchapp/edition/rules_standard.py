"""The BAT, one that replaces it, and the standard others are held against until there is one."""

from __future__ import annotations

from benchapp.decision import Refusal, written_ids
from benchapp.edition import actions as a
from benchapp.edition.context import EditionContext
from benchapp.edition.holding import IN_STUDIO, Holding
from benchapp.edition.numbers import alone_words, correct_command, sheet_words
from benchapp.edition.standard import bat_sheets, held_against
from benchapp.edition.state import BAT, Edition
from benchapp.edition.validators import check_text, require_sheet
from benchapp.events.edition import BatReplaced, StandardNamed


def other_bat(bat: Holding) -> str:
    """What can be done where there is a BAT already: it is replaced, or it never was one."""
    never = correct_command(bat, f"not {BAT}")
    if bat.signed is None and bat.papers is None and bat.destroyed is None:
        never = f"benchapp number {alone_words(bat)} --back"
    return f'if this one replaces it: --as {BAT} --replace "WHY"; if that never was it: {never}'


def replace_bat(page: EditionContext, by: str, why: str) -> Refusal | None:
    """Another sheet was approved in the place of the BAT, which keeps what is pencilled on it."""
    now = [h for h in bat_sheets(page.e) if h.sheet != by]
    if not now:
        return Refusal("There is no BAT to replace", "leave --replace out", rule="single")
    for h in now:
        page.emit(BatReplaced(print=page.id, sheet=h.sheet, by=by, why=why.strip(),
                              over=written_ids(_about(page.e, h.sheet))))
    return None


def bat_again(page: EditionContext, action: a.GiveProof) -> Refusal | None:
    """A sheet that was replaced is the BAT again, in the place of the one there is."""
    h = require_sheet(page, action.sheet)
    if isinstance(h, Refusal):
        return h
    refusal = check_text(action.instead, "The reason it is the BAT again",
                         'say why: --replace "WHY"')
    if refusal is not None or action.instead is None:
        return refusal
    if bat_sheets(page.e):
        refusal = replace_bat(page, h.sheet, action.instead)
    if refusal is None:
        page.emit(BatReplaced(print=page.id, sheet=h.sheet, by=None, why=action.instead.strip(),
                              over=written_ids(_about(page.e, h.sheet))))
    return refusal


def _about(e: Edition, sheet: str) -> tuple[str, ...]:
    return tuple(entry for entry, said in e.replaced if said.sheet == sheet)


def name_standard(page: EditionContext, action: a.NameStandard) -> Refusal | None:
    """A sheet that the others are held against while no BAT is at hand; None: no such sheet."""
    e = page.e
    said = {sheet for _, sheet in e.standards} or {None}
    if said == {action.sheet}:
        return Refusal("It is the standard already" if action.sheet else
                       "No standard is named", "there is nothing to do", rule="already")
    if action.sheet is not None:
        h = require_sheet(page, action.sheet)
        if isinstance(h, Refusal):
            return h
        refusal = _bat_at_hand(e, action.sheet)
        if refusal is not None and len(said) == 1:
            return refusal
    page.emit(StandardNamed(print=page.id, sheet=action.sheet,
                            over=written_ids(x for x, _ in e.standards)))
    return None


def _bat_at_hand(e: Edition, sheet: str) -> Refusal | None:
    """While a BAT is in the studio, there is nothing else to hold sheets against."""
    bat = next((h for h in bat_sheets(e) if h.destroyed is None and h.papers is None), None)
    if bat is None or held_against(e) != bat.sheet or (
            bat.place is not None and bat.place.place not in IN_STUDIO):
        return None
    if bat.sheet == sheet:
        return Refusal(f"{sheet_words(bat)} is the BAT: you compare sheets with it",
                       "there is nothing to do", rule="already")
    return Refusal(f"The BAT is {sheet_words(bat)}: you compare sheets with it",
                   other_bat(bat), rule="single")
