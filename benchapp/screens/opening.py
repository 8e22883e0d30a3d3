"""A session about to be opened: nothing of it is in the book before its set-up card is passed.

Meanwhile it stands in a workshop of its own, over a book in memory, so that what is said on the
card is taken and refused as it will be.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from benchapp.book import Book
from benchapp.clock import Clock
from benchapp.files import keep_breaks, keep_guess
from benchapp.safe_text import sanitize
from benchapp.screens.desk import Desk
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a


@dataclass(frozen=True, slots=True)
class Opening:
    """What is to be opened.

    Attributes:
        name: What the recipe is called.
        text: Its text.
        wanted: How many should count; None: nobody said.
        typed: It was typed as a command: hands need not be clean then.
        helper: One is in from the beginning.
        breaks: Those the day was planned with, minutes after midnight and seconds.
        each_ms: How long one print was guessed to take, in milliseconds; None: nobody guessed.
        planned: What was planned, in words; said once it is open.
    """

    name: str
    text: str
    wanted: int | None = None
    typed: bool = False
    helper: bool = False
    breaks: tuple[tuple[int, int], ...] = ()
    each_ms: int | None = None
    planned: str = ""

    def draft(self, clock: Clock) -> SessionService:
        """The session by itself, in a book in memory.

        Raises:
            RecipeError: The text is no recipe.
        """
        workshop = SessionService(Book.in_memory(), clock)
        workshop.open_session(self.name, self.text, self.wanted, typed=True)
        return workshop


def begins_with(opening: Opening | Mapping[str, Any] | None) -> dict[str, Any]:
    """What the first screen over the Studio is made with: an opening, or what it is about."""
    return {"opening": opening} if isinstance(opening, Opening) else {**(opening or {})}


def open_it(desk: Desk, opening: Opening, said: Iterable[a.Action]) -> Outcome:
    """Open it in the book, say what was said on its card, and bring it to the Bench.

    Raises:
        BookError: It cannot be written.
    """
    outcome = desk.workshop.open_session(opening.name, opening.text, opening.wanted,
                                         typed=opening.typed)
    session = desk.workshop.room.session
    if not outcome.ok or session is None:
        return outcome
    if opening.breaks:
        keep_breaks(session.id, opening.breaks)
    if opening.each_ms is not None:
        keep_guess(session.id, opening.each_ms)
    wrong = [str(r) for action in said if (r := desk.do(action).refusal) is not None]
    if opening.helper:
        desk.do(a.Helper(joins=True))
    desk.go("bench")
    for words in [opening.planned, *wrong]:
        if words:
            desk.say(sanitize(words))
    return outcome
