"""The sheet that others are held against, with the settings it was pulled with."""

from __future__ import annotations

from dataclasses import dataclass

from benchapp.book import BookError
from benchapp.edition.numbers import sheet_words
from benchapp.edition.standard import held_against, what_it_is
from benchapp.screens.desk import Desk
from benchapp.session.annotate import in_hand
from benchapp.session.edition_links import of_sheet, recipe_print_id, sheet_id
from benchapp.session.state import Session
from benchapp.views.bench import BenchView
from benchapp.views.setup_card import unlike_settings
from benchapp.views.sheets import sheet_whole


@dataclass(frozen=True, slots=True)
class HeldStandard:
    """What it is in words, `BAT D3`, its id, and its settings."""

    words: str
    sheet: str
    settings: tuple[tuple[str, str], ...]


def find_standard(desk: Desk, session: Session) -> HeldStandard | None:
    """The BAT of the print, or the standard until there is one; None: nothing is known of it."""
    editions = desk.workshop.editions
    try:
        edition = editions.register.editions.get(recipe_print_id(session.recipe))
        sheet = None if edition is None else held_against(edition)
        known = None if sheet is None else editions.register.sheets.get(sheet)
        of = None if sheet is None else of_sheet(sheet)
        if edition is None or sheet is None or known is None or of is None:
            return None
        then = editions.session(of[0])
    except BookError as error:
        desk.fault = str(error)
        return None
    whole = None if then is None else sheet_whole(then, of[1])
    return None if whole is None else HeldStandard(
        f"{what_it_is(edition, sheet)} {sheet_words(known)}", sheet, whole.settings)


def unlike_words(now: tuple[tuple[str, str], ...], standard: HeldStandard | None) -> str:
    """`Not as for the BAT D3: left side was 3 turns.`; empty: nothing known differs."""
    found = () if standard is None else unlike_settings(now, standard.settings)
    if standard is None or not found:
        return ""
    told = "; ".join(f"{name} was {value}" for name, value in found)
    return f"Not as for the {standard.words}: {told}."


class StandardAtLift:
    """At the lift, what the sheet in hand was not pulled with as the BAT was; else nothing.

    The BAT is looked up once a sheet, for the Bench paints each second.
    """

    def __init__(self) -> None:
        """Nothing is looked up yet."""
        self._of: str | None = None
        self._held: HeldStandard | None = None

    def words(self, desk: Desk, shown: BenchView) -> str:
        """One sentence, or none."""
        session = desk.workshop.room.session
        sheet = None if session is None else in_hand(session)
        if session is None or sheet is None or "verdict" not in shown.now.asks:
            return ""
        whole, at = sheet_whole(session, sheet.ordinal), sheet_id(session.id, sheet.ordinal)
        if whole is None:
            return ""
        if self._of != at:
            self._of, self._held = at, find_standard(desk, session)
        held = self._held
        return "" if held is None or held.sheet == at else unlike_words(whole.settings, held)
