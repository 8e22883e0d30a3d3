"""What the book knows of a print's days, read beside the screen: no key ever waits for it."""

from __future__ import annotations

import asyncio
from collections.abc import Collection, Mapping, Sequence
from datetime import date

from benchapp.book import BookError
from benchapp.events.entry import Entry
from benchapp.planning.most_pulls import most_of
from benchapp.planning.pace import Pace, learn_pace
from benchapp.planning.plate_wear import Given, given_by_plates
from benchapp.planning.question import DayQuestion, Known, RunningSession, packs_at
from benchapp.planning.what_if import Most
from benchapp.recipe.model import Recipe
from benchapp.reports.plan_history import Taught, last_days, taught_by
from benchapp.screens.background import in_background
from benchapp.screens.desk import Desk
from benchapp.session.state import Session

Days = Sequence[tuple[str, Sequence[Entry]]]


class Knowing:
    """The days of one print, read once; what they teach a day, reckoned once for each day."""

    def __init__(self, desk: Desk, recipe: Recipe, session: str = "") -> None:
        """Nothing is read yet; `session` is the one whose rest of the day is planned."""
        self._desk, self._recipe, self._session = desk, recipe, session
        self._days: Days | None = None
        self._taught: dict[date, tuple[Taught, Pace]] = {}

    async def of(self, asked: DayQuestion) -> Known:
        """What is known of the day asked for."""
        found, pace = await self._of_day(asked.zero.on)
        room, now = self._desk.workshop.room, self._desk.workshop.now()
        if self._session:
            return Known(pace, running=RunningSession(room, self._session, room.t_at(now)),
                         times=found.times, most=self._most(room.sessions[self._session]))
        return Known(pace, packs_at(room, now, asked.zero), found.settings, times=found.times,
                     most=self._most(), record=found.record, given=self._given())

    def _most(self, running: Session | None = None) -> Most | None:
        """The most pulls there can be; unknown where the book cannot be read."""
        try:
            return most_of(self._desk.workshop.editions.register, self._recipe, running)
        except BookError as error:
            self._desk.fault = str(error)
            return None

    def _given(self) -> Mapping[str, Given] | None:
        """What the plates have given; unknown where the book cannot be read."""
        try:
            return given_by_plates(self._desk.workshop.editions.register, self._recipe)
        except BookError as error:
            self._desk.fault = str(error)
            return None

    async def _of_day(self, on: date) -> tuple[Taught, Pace]:
        if self._days is None:
            self._days = await read_days(self._desk, self._recipe)
        if on not in self._taught:
            found = await in_background(taught_by, self._recipe, self._days, on)
            self._taught[on] = found, await in_background(learn_pace, found.readings)
        return self._taught[on]


async def read_days(desk: Desk, recipe: Recipe, *, but: Collection[str] = ()) -> Days:
    """The days of a print, one after the other between two looks of the screen.

    The book is one thread's alone, so no other reads it; one that cannot be read teaches nothing.
    """
    book, out = desk.workshop.book, list[tuple[str, Sequence[Entry]]]()
    try:
        for row in last_days(book, recipe, but=but):
            out.append((row.id, book.stream(row.stream)))
            await asyncio.sleep(0)
    except BookError as error:
        desk.fault = str(error)
    return out
