"""The evening before, in the Studio: one quiet line that proposes tomorrow's paper.

From the afternoon on, for the print worked on last. It is planned beside the screen, once for
each state of the packs; until it is there nothing is said. What plans is loaded only then: the
Studio's first frame does without.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from textual.worker import Worker

from benchapp.book.read import SessionRow
from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.files import guess_kept
from benchapp.screens.page_base import FollowingPage
from benchapp.screens.shelf import OnShelf

if TYPE_CHECKING:
    from benchapp.planning.planned_day import PlannedDay
    from benchapp.planning.question import DayQuestion
    from benchapp.planning.times import TimedRecipe
    from benchapp.recipe.model import Recipe

#: From this hour on tomorrow is spoken of.
FROM_HOUR: Final = 15
KEY: Final = "m"


class Tomorrow:
    """The proposal, as it was last planned."""

    def __init__(self) -> None:
        """Nothing is proposed yet."""
        self._of: OnShelf | None = None
        self._made: tuple[DayQuestion, PlannedDay | TimedRecipe] | None = None
        self._guess: int | None = None
        self._words = ""
        self._for: tuple[object, ...] = ()
        self._worker: Worker[None] | None = None

    def line(self, screen: FollowingPage, shelf: Sequence[OnShelf]) -> list[tuple[str, str]]:
        """Its key and its words, where there is something to propose. Never waits."""
        now = screen.workshop.now()
        found = None if local_time(now).hour < FROM_HOUR else _last_printed(screen, shelf)
        if found is None or found.recipe is None:
            self._of, self._for = None, ()
            return []
        self._guess = guess_kept(_last_row(screen).id)
        state = (found.text, self._guess, local_time(now).date(),
                 tuple(screen.workshop.room.packs.values()))
        if state != self._for and (self._worker is None or self._worker.is_finished):
            self._for = state
            self._worker = screen.run_worker(self._plan(screen, found, found.recipe, now))
        return [(KEY, self._words)] if self._of == found else []

    async def _plan(self, screen: FollowingPage, found: OnShelf, recipe: Recipe,
                    now: Moment) -> None:
        from benchapp.screens.plan_evening import evening_words, plan_tomorrow
        from benchapp.screens.plan_known import Knowing

        self._made = await plan_tomorrow(Knowing(screen.desk, recipe), recipe, now,
                                         self._guess)
        self._of, self._words = found, evening_words(self._made[1])
        screen.again()

    def open(self, screen: FollowingPage) -> None:
        """The whole of it, on the Plan; where times are missing, it asks for a guess."""
        if self._of is None or self._made is None:
            return
        from benchapp.planning.times import TimedRecipe

        asked, told = self._made
        made = None if isinstance(told, TimedRecipe) else (asked, told)
        screen.desk.over("plan", recipe=self._of.recipe, called=self._of.name,
                         text=self._of.text, evening=True, each_ms=asked.each_ms, made=made)


def _last_row(screen: FollowingPage) -> SessionRow:
    """The session worked on last; the book has one."""
    return max(screen.workshop.book.sessions(), key=lambda r: r.last_sequence)


def _last_printed(screen: FollowingPage, shelf: Sequence[OnShelf]) -> OnShelf | None:
    """The recipe on the shelf of the print worked on last."""
    if not screen.workshop.book.sessions():
        return None
    opening = _last_row(screen).opening
    same = [x for x in shelf if x.recipe is not None and (
        x.recipe.print.title, x.recipe.print.artist) == (opening.print, opening.artist)]
    return next((x for x in same if x.name == opening.recipe), same[0] if same else None)
