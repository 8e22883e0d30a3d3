"""Making the demo: the invented year, printed into a real book beside copies of its recipes."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, datetime
from functools import partial
from itertools import zip_longest
from pathlib import Path
from typing import Final

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.demo.plan import YEAR, Date
from benchapp.demo.printer import Printer
from benchapp.demo.table import SortingTable
from benchapp.events.entry import Moment
from benchapp.files import book_file, read_text, recipes_folder, shipped_recipes, write_new
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService

SEED: Final = 14
_MINUTE: Final = 60_000
_DAY: Final = 24 * 60 * _MINUTE
_EVENING: Final = 19 * 60


def make_year(folder: Path, today: Moment, seed: int = SEED) -> Path:
    """Make a home in `folder` that a year was worked in: its book and its recipes.

    The last session was left open some hours before `today`, the one before it
    closed without the rags being spoken for. The same seed gives the same year.

    Args:
        folder: The home. It is made where it is missing, and holds no book yet.
        today: The end of the year. Its offset from UTC stands for the whole of it.
        seed: Of everything that chance decides.

    Returns:
        The book's file.

    Raises:
        BookError: `folder` holds a book already, or cannot be written.
        FileProblem: A recipe cannot be read or written; none is written over.
    """
    texts = {name: read_text(path) for name, path in shipped_recipes().items()}
    to = folder / book_file().name
    with Book.in_memory() as book:
        for _ in print_days(book, texts, today, seed):
            pass
        # One copy of a whole book: a year of treads forced onto the disk one by one would take
        # minutes, and nobody waits at a press for these.
        book.backup(to)
    for name, text in texts.items():
        write_new(folder / recipes_folder().name / f"{name}.yaml", text)
    return to


def print_days(book: Book, texts: Mapping[str, str], today: Moment, seed: int = SEED,
               plan: tuple[Date, ...] = YEAR) -> Iterator[Printer]:
    """Print the days of a plan into `book`, giving the printer back after each.

    Args:
        book: A book to write in.
        texts: The recipes by name.
        today: The day that the plan counts back from.
        seed: Of everything that chance decides.
        plan: The days, in their order.
    """
    rng = random.Random(seed)  # noqa: S311 - a make-believe year, no secret
    # Of its own, so that what is done to the sheets changes no day of printing.
    at_table = random.Random(seed + 1)  # noqa: S311 - likewise
    midnight = today.wall_ms - (today.wall_ms + today.offset_min * _MINUTE) % _DAY
    clock = FakeClock(midnight - 400 * _DAY, today.offset_min, boot_id="demo-boot")
    editions = EditionService(book, clock)
    for date, following in zip_longest(plan, plan[1:]):
        minutes = rng.randrange(20)
        opens = _opens(date, today, midnight) + minutes * _MINUTE * (not date.before_now)
        printer = _one(book, texts[date.recipe], date, opens, clock, rng)
        if following is not None and not printer.left:
            until = _opens(following, today, midnight) - _DAY * bool(following.damped)
            _afterwards(SortingTable(editions, printer, clock, at_table), date, opens, until, clock)
        yield printer


def _opens(date: Date, today: Moment, midnight: int) -> int:
    """The wall time at which a day begins at the earliest."""
    if date.before_now:
        return today.wall_ms - date.before_now * _MINUTE
    return midnight + (date.starts - date.days_ago * 24 * 60) * _MINUTE


def _one(book: Book, text: str, date: Date, opens: int, clock: FakeClock,
         rng: random.Random) -> Printer:
    """One day that opens at that wall time, with the evening before it and the morning after."""
    morning = _midnight(opens, clock)
    if date.damped:
        _until(clock, morning - _DAY + _EVENING * _MINUTE)
        Printer(SessionService(book, clock), clock, rng).damp_for_tomorrow(text, date.damped)
    _until(clock, opens)
    printer = Printer(SessionService(book, clock), clock, rng, date.day)
    printer.print_day(date.recipe, text)
    if not printer.left:
        _until(clock, morning + _DAY + (8 * 60 + rng.randrange(40)) * _MINUTE)
        printer.morning_after(date.judges)
    return printer


def _afterwards(table: SortingTable, date: Date, opens: int, until: int, clock: FakeClock) -> None:
    """What becomes of a day's sheets before the next day of printing, in the order of time."""
    morning = _midnight(opens, clock)
    jobs: list[tuple[int, Callable[[], None]]] = [
        (morning + later.days * _DAY + later.at * _MINUTE, partial(later.does, table))
        for later in date.later]
    jobs += [(_wall_ms(when, clock), partial(table.see_to, action))
             for when, action in table.changes(date.late, dict(date.skips))]
    for when, job in sorted(jobs, key=lambda x: x[0]):
        if when < until:
            _until(clock, when)
            job()


def _midnight(wall_ms: int, clock: FakeClock) -> int:
    """The local midnight before that moment."""
    return wall_ms - (wall_ms + clock.now().offset_min * _MINUTE) % _DAY


def _wall_ms(when: datetime, clock: FakeClock) -> int:
    """That hour on the wall, in milliseconds since 1970."""
    return round(when.replace(tzinfo=UTC).timestamp() * 1_000) - clock.now().offset_min * _MINUTE


def _until(clock: FakeClock, wall_ms: int) -> None:
    """The machine is switched off until then; never back in time."""
    clock.reboot(max(0, wall_ms - clock.now().wall_ms))
