"""The command that plans a day: how many fit, how surely, and when the paper goes in."""

from __future__ import annotations

import re
import shutil
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from typing import Final

from benchapp.book import Book
from benchapp.clock import SystemClock
from benchapp.commands.desk import Arguments, WrongUse, read_book, recipe_text, say, say_json
from benchapp.commands.learning import rooms_of
from benchapp.journal import Moment
from benchapp.moments import local
from benchapp.papers.ical import calendar
from benchapp.papers.plan_events import plan_events
from benchapp.papers.plan_text import DayTold, plan_json, plan_text
from benchapp.recipe.model import Recipe
from benchapp.recipe.reader import read
from benchapp.reckon.chances import falling
from benchapp.reckon.pace import TODAY, Pace, Reading, learn
from benchapp.session.fold import replay
from benchapp.session.planning import plan_day
from benchapp.session.planning_chances import from_days, readings, sure_of, times_by
from benchapp.session.planning_day import Break, Damped, Day, Taken
from benchapp.session.planning_state import day_of_recipe, day_of_room, pulls_for
from benchapp.session.shape import Shape
from benchapp.session.what_if import MOST, chances_of, fitting, with_more

_NINE: Final = 9 * 60
_DATE: Final = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_COLUMNS: Final = (60, 160)


def plan(arguments: Arguments) -> int:
    """Say what a day holds; nothing is written."""
    if arguments.wanted is None and arguments.until is None:
        raise WrongUse("Say how many are wanted, or when all must be over: --wanted 10 or "
                       "--until 17:00")
    recipe = read(recipe_text(arguments.recipe)[1])
    now = SystemClock().now()
    on = _date(arguments.on, local(now).date())
    zero = _moment(on, _from(arguments, on, now))
    with read_book(arguments) as book:
        pace = learn(list(_readings(book, recipe, on)))
        packs = _packs(book, now, zero)
    day = day_of_recipe(
        recipe, 1, breaks=[Break(_after(zero, on, at), s) for at, s in arguments.breaks],
        taken=_taken(arguments, Shape(recipe), lambda at: _after(zero, on, at)), packs=packs,
        helper=arguments.hands == "2", times=times_by(pace))
    told = _told(arguments, recipe, day, pace, on, zero)
    if arguments.json:
        say_json(plan_json(told))
    elif arguments.ics:
        sys.stdout.write(calendar(plan_events(told, local(now), lambda s: _wall(zero, s)),
                                  f"Plan {told.on}"))
    else:
        say(*plan_text(told, _columns(), plain=_plain()))
    return 0


def _told(arguments: Arguments, recipe: Recipe, day: Day, pace: Pace, on: date,
          zero: datetime) -> DayTold:
    until = _until(arguments, on, zero)
    fit = None if until is None else fitting(day, until)
    pulls = None if arguments.wanted is None else _wanted(recipe, arguments.wanted)
    if pulls is None and fit is not None:
        made = fit.plan or fit.one_more
    else:
        made = plan_day(with_more(day, pulls or 1))
    sure = sure_of(made, pace)
    chances = {} if fit is None or until is None else chances_of(day, until, fit, pace)
    if pulls is not None and until is not None and pulls not in chances:
        chances |= {n: p for n, p in falling(sure.by_count, until).items() if n not in chances}
    ends = _wall(zero, made.end).date()
    return DayTold(
        recipe.print.title, recipe.print.artist, on.isoformat(), ends.isoformat(), day, made,
        lambda s: f"{_wall(zero, s):%H:%M}",
        until, fit, arguments.wanted, pulls, chances, sure.interval, from_days(pace))


def _wanted(recipe: Recipe, wanted: int) -> int:
    """The pulls that takes.

    Raises:
        WrongUse: No day has so many.
    """
    pulls = pulls_for(recipe, wanted)
    if pulls > MOST:
        raise WrongUse(f"--wanted: no day has {pulls} pulls; plan at most {MOST} at once")
    return pulls


# -- the clock ----------------------------------------------------------------------------


def _date(said: str, today: date) -> date:
    """The day meant.

    Raises:
        WrongUse: It is none.
    """
    words = {"today": today, "tomorrow": today + timedelta(days=1)}
    if said in words:
        return words[said]
    try:
        found = date.fromisoformat(said if _DATE.fullmatch(said) else "")
        _moment(found, 0)
    except (ValueError, OverflowError):
        raise WrongUse(f"--on: {said} is no day; write today, tomorrow or one such as "
                       "2026-05-03") from None
    return found


def _from(arguments: Arguments, on: date, now: Moment) -> int:
    """When the day begins, in minutes after midnight: as said, else now or at nine."""
    if arguments.from_ is not None:
        return int(arguments.from_)
    here = local(now)
    return 60 * here.hour + here.minute if here.date() == on else _NINE


def _moment(on: date, minutes: int) -> datetime:
    """A time of day of that day, by the zone of this machine."""
    naive = datetime.combine(on, time()) + timedelta(minutes=minutes)
    return naive.astimezone().astimezone(UTC)


def _wall(zero: datetime, seconds: int) -> datetime:
    """The time on the wall, without its zone, so many seconds after the plan's zero."""
    return (zero + timedelta(seconds=seconds)).astimezone().replace(tzinfo=None)


def _after(zero: datetime, on: date, minutes: int) -> int:
    """Seconds from the plan's zero to a time of day."""
    return round((_moment(on, minutes) - zero).total_seconds())


def _until(arguments: Arguments, on: date, zero: datetime) -> int | None:
    """The window's end in seconds from its beginning.

    Raises:
        WrongUse: It does not come after.
    """
    if arguments.until is None:
        return None
    found = _after(zero, on, arguments.until)
    if found <= 0:
        raise WrongUse("--until: the day must end after it begins; say when it begins with "
                       "--from, such as --from 09:30 --until 17:00")
    return found


def _taken(arguments: Arguments, shape: Shape, after: Callable[[int], int]) -> list[Taken]:
    """What others use; of a place there is one of, times that meet are one.

    Raises:
        WrongUse: The recipe knows no such place.
    """
    out: list[Taken] = []
    for place, at, seconds in sorted(arguments.taken, key=lambda x: x[:2]):
        if place not in shape.places:
            raise WrongUse(f"--taken: there is no place {place}; there are "
                           f"{', '.join(shape.places)}")
        start, end = after(at), after(at) + seconds
        last = out[-1] if out and out[-1].place == place else None
        if last is not None and shape.places[place] == 1 and start <= last.at + last.seconds:
            out[-1] = replace(last, seconds=max(end - last.at, last.seconds))
        else:
            out.append(Taken(place, start, seconds))
    return out


# -- the book -------------------------------------------------------------------------------


def _readings(book: Book, recipe: Recipe, on: date) -> Iterator[Reading]:
    """What the days of this print took, against what the recipe says now.

    A step that is no longer in it teaches nothing; a day that is the one planned is today.
    """
    shape = Shape(recipe)
    usual = {s.do: s.time.usual.ms / 1000 for s in shape.by_id.values()
             if s.time is not None and s.time.usual.ms}
    for n, room in enumerate(rooms_of(book, recipe)):
        for s in room.sessions.values():
            day = TODAY if local(s.opened).date() == on else n
            for r in readings(room, s, day):
                if r.step in usual:
                    yield replace(r, nominal=usual[r.step])


def _packs(book: Book, now: Moment, zero: datetime) -> tuple[Damped, ...]:
    """The packs that are there when the day begins."""
    room = replay(book.entries(streams=book.streams("pack")))
    t = room.t_at(now) + round(zero.timestamp() * 1000) - now.wall_ms
    there = {k: p for k, p in room.packs.items() if p.put_in_t <= t}
    return day_of_room(replace(room, packs=there), t).packs


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
