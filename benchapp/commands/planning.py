"""The command that plans a day: how many fit, how surely, and when the paper goes in."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable
from datetime import date, datetime
from typing import Final

from benchapp.clock import SystemClock
from benchapp.commands.context import Arguments, WrongUse, read_book, recipe_text, say, say_json
from benchapp.commands.exports import write_out
from benchapp.commands.guessing import ask_guesses
from benchapp.commands.pipes import STANDARD, say_written, write_stream
from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.planning.days import EVERY_DAY, PlannedDays, plan_days
from benchapp.planning.most_pulls import most_of
from benchapp.planning.pace import learn_pace
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.plate_wear import given_by_plates
from benchapp.planning.question import DayQuestion, Known, Zero, packs_at, plan_asked_day
from benchapp.planning.remaining import pulls_for
from benchapp.planning.times import time_recipe
from benchapp.planning.what_if import MOST
from benchapp.quantities import QuantityError, read_day
from benchapp.recipe.model import Recipe
from benchapp.recipe.reader import read_recipe
from benchapp.reports.ical import calendar_text
from benchapp.reports.plan_days import days_text
from benchapp.reports.plan_events import plan_events
from benchapp.reports.plan_history import read_taught
from benchapp.reports.plan_report import PlanReport, plan_report
from benchapp.reports.plan_text import plan_text
from benchapp.reports.press_page import press_page
from benchapp.service.editions import EditionService
from benchapp.session.compiled_recipe import CompiledRecipe
from benchapp.session.fold import replay_entries
from benchapp.settings import load_preferences

_NINE: Final = 9 * 60
_COLUMNS: Final = (60, 160)
_ONE_DAY: Final = ("--html writes one day; say until when with --until, or how many with --wanted "
                   "that fit one day")


def show_plan(arguments: Arguments) -> int:
    """Say what a day holds; nothing is written."""
    if arguments.days is not None and arguments.wanted is None:
        raise WrongUse("--days: say how many prints are wanted, such as --wanted 60")
    if arguments.days is not None and arguments.html:
        raise WrongUse(_ONE_DAY)
    if arguments.wanted is None and arguments.until is None:
        raise WrongUse("Say how many you want, or when the day must be over: --wanted 10 or "
                       "--until 17:00")
    recipe = read_recipe(recipe_text(arguments.recipe)[1])
    now = SystemClock().now()
    asked = _asked(arguments, recipe, now)
    zero = asked.zero
    with read_book(arguments) as book:
        found = read_taught(book, recipe, zero.on)
        packs = packs_at(replay_entries(book.entries(streams=book.streams("pack"))), now, zero)
        register = EditionService(book, SystemClock()).register
    asked = ask_guesses(asked, time_recipe(recipe, found.times, asked.each_ms))
    known = Known(learn_pace(found.readings), packs, found.settings, times=found.times,
                  most=most_of(register, recipe), record=found.record,
                  given=given_by_plates(register, recipe))
    hours = load_preferences().printing_day.ms // 1000
    told = plan_asked_day(asked, known, thorough=arguments.days is None)
    if arguments.days is not None or (
            asked.wanted is not None and asked.until is None and told.plan.end > hours):
        days = plan_days(asked, known, seconds=hours, weekdays=arguments.days or EVERY_DAY)
        _say_days(arguments, told, days, now)
    elif arguments.json:
        say_json(PlanReport.FORMAT, plan_report(told))
    elif arguments.html:
        write_out(arguments.html, press_page(told), arguments)
        say_written(arguments.html, f"Written: {arguments.html}")
    elif arguments.ics:
        write_stream(STANDARD, calendar_text(plan_events(told, local_time(now), zero.wall),
                                             f"Plan {told.on}", product="plan"))
    else:
        say(*plan_text(told, _columns(), plain=_plain()))
    return 0


def _say_days(arguments: Arguments, told: PlannedDay, days: PlannedDays,
              now: Moment) -> None:
    """The edition day by day; JSON has the one long day beside, as without days."""
    if arguments.json:
        say_json(PlanReport.FORMAT, plan_report(told, days))
    elif arguments.html:
        raise WrongUse(_ONE_DAY)
    elif arguments.ics:
        events = [event for day in days.days
                  for event in plan_events(day, local_time(now), _wall(day, arguments, now))]
        name = f"Plan {days.days[0].on if days.days else ''}"
        write_stream(STANDARD, calendar_text(events, name, product="plan"))
    else:
        say(*days_text(days, told))


def _wall(day: PlannedDay, arguments: Arguments, now: Moment) -> Callable[[int], datetime]:
    on = date.fromisoformat(day.on)
    return Zero(on, _from(arguments, _date(arguments.on, local_time(now).date()), now)).wall


def _asked(arguments: Arguments, recipe: Recipe, now: Moment) -> DayQuestion:
    on = _date(arguments.on, local_time(now).date())
    zero = Zero(on, _from(arguments, on, now))
    _later(arguments, zero)
    if arguments.wanted is not None:
        _wanted(recipe, arguments.wanted)
    _there(arguments, CompiledRecipe(recipe))
    return DayQuestion(recipe, zero, arguments.until, tuple(arguments.breaks),
                       tuple(arguments.taken),
                       helper=arguments.hands == "2", wanted=arguments.wanted,
                       evening=arguments.evening,
                       each_ms=arguments.each_takes)


def _wanted(recipe: Recipe, wanted: int) -> None:
    """Whether a day may have the pulls that takes.

    Raises:
        WrongUse: No day has so many.
    """
    pulls = pulls_for(recipe, wanted)
    if pulls > MOST:
        raise WrongUse(f"--wanted: {pulls} pulls are too many for a day; "
                       f"plan at most {MOST} at once")


# -- the clock ----------------------------------------------------------------------------


def _date(said: str, today: date) -> date:
    """The day meant.

    Raises:
        WrongUse: It is none.
    """
    try:
        found = read_day(said, today, "coming")
        Zero(found, 0).moment  # noqa: B018 - may lie outside what a calendar holds
    except QuantityError as error:
        raise WrongUse(f"--on: {error}") from None
    except (ValueError, OverflowError):
        raise WrongUse(f"--on: {said} is outside the calendar; write a day nearer to today"
                       ) from None
    return found


def _from(arguments: Arguments, on: date, now: Moment) -> int:
    """When the day begins, in minutes after midnight: as said, else now or at nine."""
    if arguments.from_ is not None:
        return int(arguments.from_)
    here = local_time(now)
    return 60 * here.hour + here.minute if here.date() == on else _NINE


def _later(arguments: Arguments, zero: Zero) -> None:
    """The window ends after it begins.

    Raises:
        WrongUse: It does not.
    """
    if arguments.until is not None and zero.after(arguments.until) <= 0:
        raise WrongUse("--until: the day must end after it begins; say when it begins with "
                       "--from, such as --from 09:30 --until 17:00")


def _there(arguments: Arguments, shape: CompiledRecipe) -> None:
    """The recipe knows the places others use.

    Raises:
        WrongUse: It does not.
    """
    for place, _, _ in arguments.taken:
        if place not in shape.places:
            raise WrongUse(f"--taken: there is no place {place}; there are "
                           f"{', '.join(shape.places)}")


# -- the terminal -----------------------------------------------------------------------------


def _columns() -> int:
    least, most = _COLUMNS
    return max(least, min(most, shutil.get_terminal_size().columns))


def _plain() -> bool:
    """Whether what the drawing is made of cannot be written here."""
    try:
        "█▒×·".encode(sys.stdout.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return True
    return False
