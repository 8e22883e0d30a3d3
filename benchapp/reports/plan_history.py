"""What the days of a print teach its plan: read session by session, folded apart from the book.

Only the last thirty sessions teach: older ones say little about today, and each takes time.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Final

from benchapp.book import Book, SessionRow
from benchapp.edition.streams import print_id
from benchapp.events.entry import Entry
from benchapp.events.moments import local_time
from benchapp.events.session import SessionOpened
from benchapp.history.stats import learn_stats
from benchapp.planning.certainty import timed_steps
from benchapp.planning.pace import TODAY, TimedStep
from benchapp.planning.times import taught_times
from benchapp.quantities import Span
from benchapp.recipe.model import Recipe
from benchapp.reckon.sheets import Record
from benchapp.session.compiled_recipe import CompiledRecipe
from benchapp.session.fold import replay_entries
from benchapp.session.state import Session, StudioState
from benchapp.views.setup_card import in_force

#: Sessions that teach, the last ones.
MOST_DAYS: Final = 30


@dataclass(frozen=True, slots=True)
class Taught:
    """What the days of a print taught.

    Attributes:
        readings: How long steps took, against what the recipe says now.
        settings: What was in force at the end of the last of them.
        times: Usual times of steps that the recipe gives none.
        record: Sheets spoiled, of sheets judged.
    """

    readings: tuple[TimedStep, ...] = ()
    settings: Mapping[str, str] = field(default_factory=dict)
    times: Mapping[str, Span] = field(default_factory=dict)
    record: Record = Record(0, 0)  # noqa: RUF009 - frozen


def last_days(book: Book, recipe: Recipe, *, but: Collection[str] = ()) -> list[SessionRow]:
    """The last sessions of a recipe's print, in the order opened.

    Raises:
        BookError: The book cannot be read.
    """
    wanted = print_id(recipe.print.title, recipe.print.artist)
    rows = [r for r in book.sessions() if r.id not in but
            and _print_of(r) == wanted]
    return rows[-MOST_DAYS:]


def _print_of(row: SessionRow) -> str:
    opened = SessionOpened.from_entry(row.opened)
    return print_id(opened.print, opened.artist)


def taught_by(recipe: Recipe, days: Iterable[tuple[str, Sequence[Entry]]],
              on: date | None = None) -> Taught:
    """What those days teach. Pure.

    A step that is no longer in the recipe teaches nothing.

    Args:
        recipe: The recipe as it is now.
        days: Of each session its id and its entries.
        on: The day planned: its own session is today's.
    """
    usual = {s.do: s.time.usual.ms / 1000 for s in CompiledRecipe(recipe).by_id.values()
             if s.time is not None and s.time.usual.ms}
    known = recipe.print
    out, settings, rooms = list[TimedStep](), dict[str, str](), list[StudioState]()
    sessions = list[Session]()
    for n, (id_, entries) in enumerate(days):
        room = replay_entries(entries)
        s = room.sessions.get(id_)
        if s is None:  # no recipe can be made of what it keeps
            continue
        theirs = s.recipe.print
        if print_id(theirs.title, theirs.artist, theirs.key) != print_id(
                known.title, known.artist, known.key):
            continue
        day = TODAY if local_time(s.opened).date() == on else n
        out += [replace(r, nominal=usual[r.step]) for r in timed_steps(room, s, day)
                if r.step in usual]
        settings = in_force(s) or settings
        rooms.append(room)
        sessions.append(s)
    return Taught(tuple(out), settings, taught_times(rooms, recipe),
                  learn_stats(sessions).record)


def read_taught(book: Book, recipe: Recipe, on: date | None = None, *,
                but: Collection[str] = ()) -> Taught:
    """What the days of a print teach, read at once.

    Raises:
        BookError: The book cannot be read.
    """
    return taught_by(recipe, ((r.id, book.stream(r.stream))
                              for r in last_days(book, recipe, but=but)), on)
