"""What the book knows of a print's days, read beside the screen: no key ever waits for it."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from benchapp.book import BookError
from benchapp.journal import Entry
from benchapp.papers.plan_asked import Asked, Known, packs_at
from benchapp.papers.plan_read import Taught, days_of, taught_by
from benchapp.recipe.model import Recipe
from benchapp.reckon.pace import learn

if TYPE_CHECKING:
    from benchapp.screens.app import Benchapp


class Knowing:
    """The days of one print, read once; what they teach a day, reckoned once for each day."""

    def __init__(self, desk: Benchapp, recipe: Recipe) -> None:
        """Nothing is read yet."""
        self._desk, self._recipe = desk, recipe
        self._days: Sequence[tuple[str, Sequence[Entry]]] | None = None
        self._taught: dict[date, Taught] = {}

    async def of(self, asked: Asked) -> Known:
        """What is known of the day asked for."""
        found = await self._of_day(asked.zero.on)
        pace = await asyncio.to_thread(learn, found.readings)
        workshop = self._desk.workshop
        now = workshop.now()
        ahead = round(asked.zero.moment.timestamp() * 1000) - now.wall_ms
        return Known(pace, packs_at(workshop.room, workshop.room.t_at(now) + ahead),
                     found.settings)

    async def _of_day(self, on: date) -> Taught:
        if self._days is None:
            self._days = await self._read()
        if on not in self._taught:
            self._taught[on] = await asyncio.to_thread(taught_by, self._recipe, self._days, on)
        return self._taught[on]

    async def _read(self) -> Sequence[tuple[str, Sequence[Entry]]]:
        """One after the other, between two looks of the screen: the book is one thread's alone."""
        out = []
        book = self._desk.workshop.book
        try:
            for row in days_of(book, self._recipe):
                out.append((row.id, book.stream(row.stream)))
                await asyncio.sleep(0)
        except BookError as error:
            self._desk.fault = str(error)
        return out
