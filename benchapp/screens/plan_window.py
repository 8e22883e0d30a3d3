"""What the Plan screen asks first, how it is said in a line, and what each key makes of it. Pure
but for the zone of this machine."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta, tzinfo
from typing import Final

from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.planning.question import DayQuestion, Zero
from benchapp.planning.remaining import pulls_for
from benchapp.planning.times import read_guess
from benchapp.planning.typed_times import read_break
from benchapp.planning.what_if import MOST
from benchapp.quantities import QuantityError, minutes_text, point_for_comma, read_day, read_minutes
from benchapp.recipe.model import Recipe
from benchapp.session.counting import target_count, warm_ups
from benchapp.session.state import Session

#: A day that nobody has said anything of: from nine to five, lunch at one.
BEGINS: Final = 9 * 60
OVER: Final = 17 * 60
LUNCH: Final = (13 * 60, 45 * 60)
#: From this hour on tomorrow is planned; until then what is left of today.
_TOMORROW_FROM: Final = 15 * 60
#: By how many minutes one key moves the break.
SHIFT: Final = 5
_DAY: Final = 24 * 60
#: A session with fewer minutes left until the usual end goes on longer today.
_AT_LEAST: Final = 90
Breaks = tuple[tuple[int, int], ...]


def zone_of(now: Moment) -> tzinfo | None:
    """What the wall goes by: this machine's zone (None) where the clock of `now` is in it."""
    here = local_time(now)
    return None if here.astimezone().utcoffset() == here.utcoffset() else here.tzinfo


def first_asked(recipe: Recipe, now: Moment, *, evening: bool = False,
                wanted: int | None = None, each_ms: int | None = None) -> DayQuestion:
    """The day that is planned before anything is said.

    Args:
        recipe: What is printed.
        now: All clocks.
        evening: Tomorrow, with a pack damped this evening.
        wanted: How many should count, where that is known.
        each_ms: How long one print takes, where that was guessed.
    """
    here = local_time(now)
    minutes = 60 * here.hour + here.minute
    today = not evening and minutes < _TOMORROW_FROM
    on = here.date() + timedelta(days=0 if today else 1)
    begins = max(BEGINS, -(-minutes // SHIFT) * SHIFT) if today else BEGINS
    breaks = (LUNCH,) if begins < LUNCH[0] else ()
    return DayQuestion(recipe, Zero(on, begins, zone_of(now)), OVER, breaks, wanted=wanted,
                       evening=evening, each_ms=each_ms)


def rest_asked(s: Session, now: Moment, breaks: Breaks, *, helper: bool,
               each_ms: int | None = None) -> DayQuestion:
    """The rest of the day of a session, before anything is said.

    Args:
        s: The session.
        now: All clocks.
        breaks: Those it was planned with.
        helper: Whether one is in.
        each_ms: How long one print takes, where that was guessed.
    """
    zero = zero_of(now)
    over = OVER if zero.minutes <= OVER - _AT_LEAST else min(_DAY, zero.minutes + 2 * _AT_LEAST)
    return DayQuestion(s.recipe, zero, over, breaks, helper=helper, wanted=target_count(s),
                       each_ms=each_ms)


def zero_of(now: Moment) -> Zero:
    """This minute."""
    here = local_time(now)
    return Zero(here.date(), 60 * here.hour + here.minute, zone_of(now))


# -- in words -----------------------------------------------------------------------------


def asked_words(asked: DayQuestion) -> str:
    """`Thu 26 Nov, 09:00 to 17:00 · lunch 13:00, 45 min · packs of 6 · as many as fit`."""
    on = asked.zero.on
    parts = [f"{on:%a} {on.day} {on:%b}, {hhmm(asked.zero.minutes)} to "
             + ("any time" if asked.until is None else hhmm(asked.until))]
    parts += [f"break {break_words(x)}" for x in asked.breaks] or ["no break"]
    size = asked_pack_size(asked)
    parts += [] if size is None else [f"packs of {size}"]
    parts += ["with a helper"] if asked.helper else []
    parts += ["a pack damped the evening before"] if asked.evening else []
    parts += [] if asked.each_ms is None else [f"guess: {minutes_text(asked.each_ms)} a print"]
    parts.append("as many as fit" if asked.wanted is None else f"wanted {asked.wanted}")
    return " · ".join(parts)


def hhmm(minutes: int) -> str:
    """Minutes after midnight as a time of day."""
    return f"{minutes // 60:02}:{minutes % 60:02}"


def break_words(found: tuple[int, int]) -> str:
    """A break as it is typed: `13:00 45 min`."""
    return f"{hhmm(found[0])} {minutes_text(found[1] * 1000)}"


def asked_pack_size(asked: DayQuestion) -> int | None:
    """Sheets a pack: as said here, else the recipe's."""
    paper = asked.recipe.paper
    if paper is None or paper.damp is None:
        return None
    return asked.pack or paper.damp.pack


# -- what keys make of it -----------------------------------------------------------------


def lunch_moved(asked: DayQuestion, by: int) -> DayQuestion:
    """The first break so many minutes later, or earlier; where there is none, the usual one."""
    if not asked.breaks:
        return replace(asked, breaks=(LUNCH,))
    (at, seconds), *others = asked.breaks
    return replace(asked, breaks=((max(0, min(_DAY - SHIFT, at + by)), seconds), *others))


def ask_one_more(asked: DayQuestion, by: int, fits: int | None) -> DayQuestion:
    """One more wanted, or one fewer; counted from those that fit where none were wanted."""
    now = asked.wanted
    if now is None:
        now = counting_of(asked.recipe, fits or 0)
    wanted = max(1, now + by)
    return replace(asked, wanted=wanted) if pulls_for(asked.recipe, wanted) <= MOST else asked


def counting_of(recipe: Recipe, pulls: int) -> int:
    """How many of so many pulls count: the warm-ups of an edition's day do not."""
    return max(0, pulls - warm_ups(recipe))


def wanted_said(asked: DayQuestion, text: str) -> DayQuestion:
    """Another number wanted, or as many as fit.

    Raises:
        QuantityError: It is no count, or no day has so many.
    """
    if not text:
        return replace(asked, wanted=None)
    wanted = _count(text, MOST)
    if pulls_for(asked.recipe, wanted) > MOST:
        most = MOST - warm_ups(asked.recipe)
        raise QuantityError(f"{wanted} are too many for a day", f"write a number from 1 to {most}")
    return replace(asked, wanted=wanted)


def begins_said(asked: DayQuestion, text: str) -> DayQuestion:
    """Another beginning.

    Raises:
        QuantityError: It is no time of day, or the day would end before it.
    """
    return _in_order(replace(asked, zero=replace(asked.zero, minutes=read_minutes(text))))


def over_said(asked: DayQuestion, text: str) -> DayQuestion:
    """Another end, or none.

    Raises:
        QuantityError: It is no time of day, or comes before the beginning.
    """
    return _in_order(replace(asked, until=read_minutes(text) if text else None))


def _in_order(asked: DayQuestion) -> DayQuestion:
    """The same, where it ends after it begins.

    Raises:
        QuantityError: It does not.
    """
    if asked.until is not None and asked.zero.after(asked.until) <= 0:
        raise QuantityError("the day ends before it begins",
                            f"now it is {hhmm(asked.zero.minutes)} to {hhmm(asked.until)}: "
                            "change one of them")
    return asked


def lunch_said(asked: DayQuestion, text: str) -> DayQuestion:
    """Other breaks, parted by commas; or none.

    Raises:
        QuantityError: One is none.
    """
    parts = [part for part in text.split(",") if part.strip()]
    return replace(asked, breaks=tuple(map(read_break, parts)))


def pack_said(asked: DayQuestion, text: str) -> DayQuestion:
    """Packs of another size, or the recipe's again.

    Raises:
        QuantityError: It is no count.
    """
    return replace(asked, pack=_count(text, 999) if text else None)


def each_said(asked: DayQuestion, text: str, least: int) -> DayQuestion:
    """Another guess of how long one print takes.

    Raises:
        QuantityError: It is no such time, or shorter than `least`, the steps with a time.
    """
    return replace(asked, each_ms=read_guess(point_for_comma(text), least))


def day_said(asked: DayQuestion, text: str, today: date) -> DayQuestion:
    """Another day.

    Raises:
        QuantityError: It is none.
    """
    on = read_day(text, today, "coming")
    try:
        Zero(on, 0, asked.zero.zone).moment  # noqa: B018 - may lie outside any calendar
    except (ValueError, OverflowError):
        raise QuantityError(f"{on.isoformat()} is outside the calendar",
                            "write a day nearer to today") from None
    return replace(asked, zero=replace(asked.zero, on=on))


def _count(text: str, most: int) -> int:
    if not (text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= most):
        raise QuantityError(f"{text.strip()} is not a count",
                            f"write a whole number from 1 to {most}")
    return int(text)


def wrong_of(said: Callable[[str], object]) -> Callable[[str], str | None]:
    """What is wrong with an answer, by the function that takes it."""
    def check(text: str) -> str | None:
        try:
            said(text)
        except QuantityError as error:
            return str(error)
        return None
    return check
