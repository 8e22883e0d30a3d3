"""kill -9 at random instants: what was acknowledged is in the book, and the day goes on from there.

The program is killed while it makes the book, while it opens a session, and while it
appends; what it had printed by then is held against what the book gives back.
"""

from __future__ import annotations

import contextlib
import random
import subprocess
import sys
import threading
import time
from dataclasses import replace
from itertools import groupby
from pathlib import Path
from typing import Literal

import pytest

from benchapp import plain
from benchapp.book import Book
from benchapp.book.sessions import worked_on_last
from benchapp.clock import SystemClock
from benchapp.events.entry import Entry
from benchapp.events.streams import family
from benchapp.service.sessions import SessionService
from benchapp.session.fold import apply, replay
from benchapp.session.state import Room
from benchapp.views.bench import BenchView, view
from benchapp.views.messages import tell
from tests.plain_day import Printer
from tests.test_plain import Bench, text_of

ROOT = Path(__file__).parents[2]
RECIPES = ("weigh-house", "ferry-lamp", "three-steps")
Phase = Literal["creating", "opening", "appending"]
PHASES: tuple[Phase, ...] = ("appending", "creating", "appending", "opening")

#: Everything is imported before the word ready, so that the kill falls into the work itself.
CHILD = """
import sys
import benchapp.commands.run
from benchapp.cli import main
sys.stderr.write("ready\\n")
sys.stderr.flush()
sys.exit(main(sys.argv[1:]))
"""


class Killed:
    """The program at work, fed as fast as it reads, and killed."""

    def __init__(self, argv: list[str], script: list[str]) -> None:
        self.child = subprocess.Popen(
            [sys.executable, "-c", CHILD, *argv], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            stderr=subprocess.PIPE, cwd=ROOT)
        self.script = "".join(f"{line}\n" for line in script).encode()
        self.heard: list[bytes] = []
        self.threads = [threading.Thread(target=self._feed), threading.Thread(target=self._hear)]

    def _feed(self) -> None:
        assert self.child.stdin is not None
        with contextlib.suppress(OSError), self.child.stdin as pipe:
            pipe.write(self.script)

    def _hear(self) -> None:
        assert self.child.stdout is not None
        with self.child.stdout as pipe:
            self.heard.extend(pipe)

    def kill(self, after_s: float, after_lines: int) -> list[str]:
        """Kill it so long after it is ready and has said so many lines; gives its whole lines."""
        assert self.child.stderr is not None
        assert self.child.stderr.readline() == b"ready\n"
        for thread in self.threads:
            thread.start()
        until = time.monotonic() + 20
        while len(self.heard) < after_lines and self.child.poll() is None:
            assert time.monotonic() < until, "it says nothing more"
            time.sleep(0.000_5)
        time.sleep(after_s)
        self.child.kill()  # SIGKILL; nothing where it has ended
        self.child.wait()
        for thread in self.threads:
            thread.join()
        self.child.stderr.close()
        return [x.decode().rstrip("\n") for x in self.heard if x.endswith(b"\n")]


def script_of(name: str) -> list[str]:
    """The lines of a whole day of that recipe, with all its words."""
    bench = Bench(name)
    printer = Printer(bench.workshop, bench.clock)
    plain.run(bench.workshop, printer, name, text_of(name), 4)
    return printer.script


def told(entries: tuple[Entry, ...], since: int) -> tuple[list[str], Room]:
    """What the book itself tells of the actions after its first `since` entries, and the room."""
    # Every day before is closed: of them the packs alone still matter.
    room = replay(e for e in entries[:since] if family(e.stream) == "pack")
    lines = []
    for _, group in groupby(entries[since:], key=lambda e: e.action):
        action = list(group)
        before = room
        for entry in action:
            if entry.kind in ("opened", "continued"):
                room = replace(room, bench=entry.stream.partition("/")[2])
                before = replace(before, bench=room.bench)
            room = apply(room, entry)
        said = list(tell(before, room, action))
        if action[0].kind in ("opened", "continued") or action[-1].kind == "opened":
            said.sort(key=lambda x: " open \u00b7 " not in x)
        lines += said
    return lines, room


def is_told(line: str) -> bool:
    """Whether a line tells entries; else it is a warning, a proposal, a fact asked, or a state."""
    return not line.startswith(("Mind: ", "Proposed: ", "Not said \u00b7 ", "Also open: ",
                                "Next: "))


def bench_of(room: Room, clock: SystemClock) -> BenchView:
    shown = view(room, clock.now())
    assert shown is not None
    return shown


def trial(seed: int, phase: Phase, folder: Path) -> int:
    """One kill; gives how many lines had been acknowledged."""
    chance = random.Random(seed)
    name = RECIPES[seed % len(RECIPES)]
    path = folder / f"{seed}.book" if phase == "creating" else folder / "studio.book"
    since = 0
    if phase != "creating":
        with Book.open(path, write=True, create=True, state=folder) as book:
            since = len(book.entries())
    argv = ["--book", str(path), "run", name, "--plain", "--wanted", "4"]
    killed = Killed(argv, script_of(name))
    if phase == "appending":
        heard = killed.kill(chance.uniform(0, 0.01), chance.randrange(1, 150))
    else:
        heard = killed.kill(chance.uniform(0, 0.02), 0)
    acknowledged = [x for x in heard if is_told(x)]
    if not path.exists():
        assert acknowledged == []
        return 0
    go_on(path, folder, since, acknowledged)
    return len(acknowledged)


def go_on(path: Path, folder: Path, since: int, acknowledged: list[str]) -> None:
    """Hold the book against what was acknowledged, resume, and bring the day to its end."""
    clock = SystemClock()
    with Book.open(path, write=True, create=True, state=folder) as book:
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
        assert plain.resume(workshop, rest, row.id) == 0
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


def test_what_was_acknowledged_outlives_a_kill(tmp_path: Path) -> None:
    """Eight kills: while creating, opening and appending."""
    counts = [trial(seed, PHASES[seed % 4], tmp_path) for seed in range(8)]
    assert sum(counts) > 50, "the kills fell into the work"


@pytest.mark.full
@pytest.mark.parametrize("book", range(10))
def test_what_was_acknowledged_outlives_200_kills(tmp_path: Path, book: int) -> None:
    """Twenty kills a book, ten books: at no random instant an acknowledged line is lost."""
    first = 1000 + 20 * book
    counts = [trial(seed, PHASES[seed % 4], tmp_path) for seed in range(first, first + 20)]
    assert sum(counts) > 200
