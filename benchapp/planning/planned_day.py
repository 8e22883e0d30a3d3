"""A planned day and what was asked, as values: what texts, calendars and the screen tell from."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from benchapp.planning.day import DayInputs, DayPlan
from benchapp.planning.times import Guess
from benchapp.planning.what_if import Fit, Most

Clock = Callable[[int], str]


@dataclass(frozen=True, slots=True)
class PlannedDay:
    """A planned day and what was asked.

    Attributes:
        title / artist: Of the print.
        on / ends_on: The day planned, and the one it is over on.
        day / plan: What was planned, and its plan.
        clock: The time of day of a second of the plan.
        when / iso: The same with its date where that is another day's; the whole moment.
        until: The window's end in seconds, where one was given.
        fit: What fits into the window.
        wanted / pulls: How many should count, and the pulls that takes; None where not asked.
        chances: Of numbers of pulls, to be done by the window's end.
        interval: Between what seconds the end falls, four days in five.
        behind: What the times rest on, in words.
        evening: What the evening before has to do with it, where that was asked.
        guess: The guess that times rest on; None: they rest on none.
        most: No more than so many pulls are to be had; None: nobody knows.
        in_time: The chance that what is wanted is done by the window's end, with what is spoiled.
        spoiled: The sheets that are usually spoiled on the way; None: none, or not asked.
        foretold: What the plates and the paper say beforehand, in sentences.
        aside: Of the pulls of the day those that do not count: warm-ups, and what was spoiled.
    """

    title: str
    artist: str
    on: str
    ends_on: str
    day: DayInputs
    plan: DayPlan
    clock: Clock
    when: Clock
    iso: Clock
    until: int | None
    fit: Fit | None
    wanted: int | None
    pulls: int | None
    chances: Mapping[int, float]
    interval: tuple[int, int]
    behind: str
    evening: Evening | None = None
    guess: Guess | None = None
    most: Most | None = None
    aside: int = 0
    foretold: tuple[str, ...] = ()
    in_time: float = 0.0
    spoiled: SpoiledPulls | None = None


@dataclass(frozen=True, slots=True)
class SpoiledPulls:
    """Sheets that are usually spoiled before enough are good, by this print's record.

    Attributes:
        count: How many.
        end: When the day is over with them, in seconds.
    """

    count: int
    end: int


@dataclass(frozen=True, slots=True)
class Evening:
    """What is done the evening before.

    Attributes:
        sheets: How many to damp, in as many packs as `why` says; None: nothing is to be damped,
            or nobody knows.
        without: The day where no pack is damped then.
        settings: What was in force at the end of the last session on the print, to set up by.
        why: Why so many sheets.
    """

    sheets: int | None
    without: PlannedDay
    settings: Mapping[str, str]
    why: str = ""
