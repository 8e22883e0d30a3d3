"""The arguments of the command that plans a day."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from typing import Any, Final

from benchapp.commands.reckon_read import Figure
from benchapp.planning.typed_times import read_break, read_seconds
from benchapp.quantities import QuantityError, quote_text, read_count, read_minutes
from benchapp.recipe.read_rest import read_takes

#: A place may end in a figure, so a time with minutes or am and pm is looked for first.
_TAKEN: Final = tuple(
    re.compile(rf"(.{{1,60}}?)\s+({time})\s+(.{{1,80}})", re.IGNORECASE) for time in (
        r"[0-9]{1,2}:[0-9]{2}|[0-9]{1,2}(?:[:.][0-9]{2})? ?[ap]\.?m\.?|noon", r"[0-9]{1,2}"))


def read_taken_place(text: str) -> tuple[str, int, int]:
    """A place, from when others use it (minutes after midnight), and for how many seconds.

    Raises:
        QuantityError: It is none.
    """
    matches = (one.fullmatch(text.strip()[:100]) for one in _TAKEN)
    found = next((m for m in matches if m), None)
    if found is None:
        raise QuantityError(
            f"{quote_text(text)} does not say which place is taken",
            'write press, hot plate or tray, when and how long, such as "press 11:00 1 h"')
    return found[1], read_minutes(found[2]), read_seconds(found[3])


def add_plan_options(one: argparse.ArgumentParser) -> None:
    """The options of `plan`."""
    def option(flag: str, read: Callable[[str], Any], metavar: str, help_: str,
               **more: Any) -> None:
        one.add_argument(flag, type=Figure(flag, read), metavar=metavar, help=help_, **more)

    one.add_argument("recipe", metavar="RECIPE", help="a recipe's name or file")
    option("--wanted", read_wanted, "N", "how many impressions should count; without it, as "
           "many as end by --until")
    one.add_argument("--on", metavar="DATE", default="today",
                     help="the day: tomorrow, friday, 3 May, +2 or such as 2026-05-03 (today)")
    option("--from", read_minutes, "HH:MM", "when the day begins, such as 09:30 or 9 am; "
           "without it, now, or 09:00 of another day", dest="from_")
    option("--until", read_minutes, "HH:MM", "when the day must be over, with cleaning up, "
           "such as 17:00, 17 or 5 pm")
    option("--break", read_break, '"HH:MM TIME"', "lunch or an appointment; give it as often "
           "as you need. It cuts no work of the hands; waits run on", dest="breaks",
           action="append", default=[])
    option("--taken", read_taken_place, '"PLACE HH:MM TIME"',
           "when others use the press, the hot plate "
           "or the tray; give it as often as you need", action="append", default=[])
    one.add_argument("--hands", choices=("1", "2"), metavar="1|2", default="1",
                     help="pairs of hands; the second takes the clean steps")
    option("--each-takes", read_each_takes, "TIME", 'your guess of how long one print '
           'takes, such as "40 min"; for steps without a time')
    one.add_argument("--evening", action="store_true",
                     help="damp the first pack the evening before; lists what to set up")
    option("--days", read_weekdays, "WEEKDAYS", 'over as many days as it takes, each of the '
           'hours you prefer or up to --until; all days, or those named: --days "tue thu sat"',
           nargs="?", const=tuple(range(7)))
    form = one.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="one JSON document")
    form.add_argument("--ics", action="store_true",
                      help="write a calendar for the phone (iCalendar)")
    form.add_argument("--html", metavar="FILE",
                      help="write the day as a landscape page to hang over the press")
    one.add_argument("--force", action="store_true",
                     help="with --html: replace a file of that name")


def read_weekdays(text: str) -> tuple[int, ...]:
    """Weekdays by their first three letters, Monday is 0.

    Raises:
        QuantityError: One is none.
    """
    names = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    words = text[:100].lower().replace(",", " ").split()
    for word in words or [text]:
        if word[:3] not in names:
            raise QuantityError(f"{quote_text(word)} is not a weekday",
                                "write such as mon, tue or saturday")
    return tuple(sorted({names.index(word[:3]) for word in words}))


def read_wanted(text: str) -> int:
    """How many should count.

    Raises:
        QuantityError: It is no count from 1 up.
    """
    found = read_count(text)
    if found < 1:
        raise QuantityError(f"{quote_text(text)} is not a count", "write a whole number from 1 up")
    return found


def read_each_takes(text: str) -> int:
    """How long one print takes, in milliseconds.

    Raises:
        QuantityError: It is no length inside a day.
    """
    return read_takes(text).ms


