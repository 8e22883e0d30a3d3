"""Leaving while entries are only in memory: it is asked first."""

from __future__ import annotations

from typing import Final

from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.desk import Desk
from benchapp.screens.pick import Pick

_ABOUT: Final = SafeText(
    "If you leave, benchapp prints them on the terminal and waits there. benchapp import can read "
    "those lines. Or free some space and stay.")


def ask_unsaved(desk: Desk) -> bool:
    """Whether entries are on no disk after another try; then it is asked whether to leave."""
    book = desk.workshop.book
    if not book.unsaved:
        return False
    book.retry()
    desk.fault = book.banner
    if not book.unsaved:
        return False

    def answer(place: int | None) -> None:
        if place == 1:
            desk.leave_now()

    many = len(book.unsaved)
    what = "1 entry is" if many == 1 else f"{many} entries are"
    desk.push_screen(Pick(sanitize(f"{what} not on disk yet. Leave all the same?"),
                          (SafeText("stay"), SafeText("leave, and print them")), _ABOUT,
                          later="stay", by_number=True), answer)
    return True
