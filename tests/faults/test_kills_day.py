"""kill -9 anywhere in a day by lines: what was acknowledged is in the book, and the day goes on.

The program is killed while it makes the book, while it opens a session, and while it
appends; what it had printed by then is held against what the book gives back.
"""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from itertools import groupby
from pathlib import Path
from typing import Literal

import pytest

from benchapp import plain
from benchapp.book import Book
from benchapp.book.sessions import worked_on_last
from benchapp.clock import SystemClock
from benchapp.events.entry import Entry
from benchapp.events.streams import stream_family
from benchapp.service.sessions import SessionService
from benchapp.session.fold import apply_entry, replay_entries
from benchapp.session.state import StudioState
from benchapp.views.bench import BenchView, bench_view
from benchapp.views.messages import describe_change
from tests.faults.warm import Kill, Warm
from tests.plain.plain_day import Printer
from tests.plain.test_plain import Bench, text_of

RECIPES = ("weigh-house", "ferry-lamp", "three-steps")
Phase = Literal["creating", "opening", "appending"]
PHASES: tuple[Phase, ...] = ("appending", "creating", "appending", "opening")
BOOKS, KILLS_A_BOOK = 10, 20
#: Within so many steps on files a book is made, or one more session is opened; a day has more.
EARLY, LATE = 60, 600
#: How long a kill may come after its step began, in microseconds.
WITHIN_US = 1500


@cache
def script_of(name: str) -> tuple[str, ...]:
    """The lines of a whole day of that recipe, with all its words."""
    bench = Bench(name)
    printer = Printer(bench.workshop, bench.clock)
    plain.run_plain(bench.workshop, printer, name, text_of(name), 4)
    return tuple(printer.script)


def told(entries: tuple[Entry, ...], since: int) -> tuple[list[str], StudioState]:
    """What the book itself tells of the actions after its first `since` entries, and the room."""
    # Every day before is closed: of them the packs alone still matter.
    room = replay_entries(e for e in entries[:since] if stream_family(e.stream) == "pack")
    lines = []
    for _, group in groupby(entries[since:], key=lambda e: e.action):
        action = list(group)
        before = room
        for entry in action:
            if entry.kind in ("opened", "continued"):
                room = replace(room, bench=entry.stream.partition("/")[2])
                before = replace(before, bench=room.bench)
            room = apply_entry(room, entry)
        said = list(describe_change(before, room, action))
        if action[0].kind in ("opened", "continued") or action[-1].kind == "opened":
            said.sort(key=lambda x: " open \u00b7 " not in x)
        lines += said
    return lines, room


def is_told(line: str) -> bool:
    """Whether a line tells entries; else a warning, a proposal, a fact asked, a state, a no."""
    return not line.startswith(("Mind: ", "Proposed: ", "Not said \u00b7 ", "Also open: ",
                                "Next: ", "That step is not done "))


def bench_of(room: StudioState, clock: SystemClock) -> BenchView:
    shown = bench_view(room, clock.now())
    assert shown is not None
    return shown


def trial(warm: Warm, seed: int, phase: Phase, folder: Path) -> int:
    """One kill; gives how many lines had been acknowledged."""
    chance = random.Random(seed)
    name = RECIPES[seed % len(RECIPES)]
    path = folder / f"{seed}.book" if phase == "creating" else folder / "studio.book"
    since = 0
    if phase != "creating":
        with Book.open(path, write=True, create=True, state=folder / "state") as book:
            since = len(book.entries())
    kill = Kill(chance.randint(1, LATE if phase == "appending" else EARLY),
                chance.choice((0, chance.randint(1, WITHIN_US))))
    ended = warm.call(folder, "--book", path, "run", name, "--plain", "--wanted", "4",
                      said="".join(f"{line}\n" for line in script_of(name)), kill=kill)
    assert ended.code is None, "it was through before it was killed"
    acknowledged = [x for x in ended.lines if is_told(x)]
    if not path.exists():
        assert acknowledged == []
        return 0
    go_on(path, folder / "state", since, acknowledged)
    return len(acknowledged)


def go_on(path: Path, state: Path, since: int, acknowledged: list[str]) -> None:
    """Hold the book against what was acknowledged, resume, and bring the day to its end."""
    clock = SystemClock()
    with Book.open(path, write=True, create=True, state=state) as book:
        assert book.verify() == []
        entries = book.entries()
        lines, room = told(entries, since)
        lines = [x for x in lines if is_told(x)]
        assert lines[: len(acknowledged)] == acknowledged
        row = worked_on_last(book.sessions())
        if row is None:
            return  # killed before it was opened, or after it was closed
        room = replace(room, bench=row.id)
        before = bench_of(room, clock)
        workshop = SessionService(book, clock)
        rest = Rest()
        assert plain.resume_plain(workshop, rest, row.id) == 0
        assert rest.output[0].startswith(f"{row.name} open \u00b7 {before.title}")
        assert rest.output[0].endswith(f"pulled {before.pulled} \u00b7 counting {before.counting}")
        doing = {"wait": "Wait: ", "none": ""}.get(before.now.side, "Now: ") + before.now.do
        assert any(x.startswith(doing) for x in rest.opening), (before.now, rest.opening)
        after = workshop.room.sessions[row.id]
        assert after.closed is not None
        assert book.verify() == []
        assert book.entries()[: len(entries)] == entries


class Rest:
    """Empty lines to the end of the day."""

    def __init__(self) -> None:
        self.left = 600
        self.output: list[str] = []
        self.opening: list[str] = []

    def take(self) -> str | None:
        self.opening = self.opening or list(self.output)
        self.left -= 1
        return "" if self.left else None

    def give(self, text: str) -> None:
        self.output.append(text)


def test_what_was_acknowledged_outlives_a_kill(warm: Warm, tmp_path: Path) -> None:
    """A small sample of the heavy one: one kill while appending."""
    assert trial(warm, 5, "appending", tmp_path) > 10, "the kill fell into the work"


@pytest.mark.full
@pytest.mark.parametrize("book", range(BOOKS))
def test_what_was_acknowledged_outlives_200_kills(warm: Warm, tmp_path: Path, book: int) -> None:
    """Twenty kills a book, ten books: wherever it falls, no acknowledged line is lost."""
    first = 1000 + KILLS_A_BOOK * book
    counts = [trial(warm, seed, PHASES[seed % 4], tmp_path)
              for seed in range(first, first + KILLS_A_BOOK)]
    assert sum(counts) > 200
