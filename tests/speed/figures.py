"""Figures of what one waits for, each beside its floor: the least that could be had here.

Both are taken in turns within one run, so that a slow or busy machine is as slow for both, and
only their ratio is held against a budget. Linux: the screens are watched through /proc.
"""

from __future__ import annotations

import json
import sqlite3
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from benchapp.book import Book
from benchapp.clock import SystemClock
from benchapp.planning.build import plan_day
from benchapp.planning.day import DayInputs, Job
from benchapp.reports import jsonl
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.book.samples import moment, note, opened, writing
from tests.planning.plans import lunch, shape, worked
from tests.session.support import INK, LIFT, PULL, SCREWS, SOAK, WARM, WIPE, Bench, recipe
from tests.speed.beside import BARE, OURS, ROOT, Program, busy

RECIPE: Final = ROOT / "recipes" / "weigh-house.yaml"
#: What Python must load of its own and of the packages for a command that reads.
NEEDED: Final = ("import argparse, json, sqlite3, dataclasses, fractions, pathlib, datetime, "
                 "hashlib, re, enum, yaml, platformdirs")
DAY: Final = recipe(before=[SCREWS], damp=SOAK, each=(WARM, INK, WIPE, PULL, LIFT))


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure.

    Attributes:
        name: What is waited for.
        ours: How much it takes, in `unit`.
        floor: How much the least takes.
        beside: What the least is.
        budget: How many times the floor it may take.
        unit: `s`, `ms`, `%` or `MiB`.
    """

    name: str
    ours: float
    floor: float
    beside: str
    budget: float
    unit: str

    @property
    def ratio(self) -> float:
        """Ours to the floor."""
        return self.ours / self.floor if self.floor else float("inf")

    @property
    def holds(self) -> bool:
        """Whether it is within its budget."""
        return self.ratio <= self.budget


def in_turns(times: int, *works: Callable[[], float]) -> list[float]:
    """The median of each, all taken in turn; the first round only warms up."""
    taken = [[work() for work in works] for _ in range(times + 1)][1:]
    return [statistics.median(column) for column in zip(*taken, strict=True)]


def started(*words: str, home: Path) -> float:
    """Seconds of a whole process of Python with these words."""
    began = time.perf_counter()
    subprocess.run([sys.executable, *words], check=False, capture_output=True, cwd=home.parent,
                   env={"PYTHONPATH": str(ROOT), "BENCHAPP_HOME": str(home), "PATH": "/usr/bin",
                        "LANG": "C.UTF-8"})
    return time.perf_counter() - began


def busy_s(work: Callable[[], object]) -> float:
    """Seconds of this process's time."""
    began = time.process_time()
    work()
    return time.process_time() - began


def start_figures(home: Path) -> Iterator[Figure]:
    """Commands from the shell and back, a small book beside."""
    with Book.open(home / "studio.book", write=True, create=True) as book:
        shop = SessionService(book, SystemClock())
        shop.open_session("weigh-house", RECIPE.read_text(encoding="utf-8"), 40)
    for words, least, beside, budget in (
        (("--version",), "import argparse", "Python and argparse", 1.5),
        (("--help",), "import argparse", "Python and argparse", 1.5),
        (("sessions", "--json"), NEEDED, "Python and what is needed", 2),
        (("where-is",), NEEDED, "Python and what is needed", 2),
        (("check", str(RECIPE)), NEEDED, "Python and what is needed", 2),
        (("reckon", "sheets", "--good", "20"), NEEDED, "Python and what is needed", 2),
        (("prepare", str(RECIPE), "--wanted", "10"), NEEDED, "Python and what is needed", 2),
    ):
        ours, floor = in_turns(7, lambda w=words: started("-m", "benchapp", *w, home=home),
                               lambda x=least: started("-c", x, home=home))
        yield Figure(" ".join(Path(word).stem for word in words), ours, floor, beside, budget, "s")


def screen_figures(home: Path) -> Iterator[Figure]:
    """First frames, memory, rest, and a tread, beside bare apps."""
    home.mkdir(parents=True, exist_ok=True)
    (home / "preferences.yaml").write_text("gate: 0 ms\nsound: on\n", encoding="utf-8")
    with Book.open(home / "studio.book", write=True, create=True) as book:
        shop = SessionService(book, SystemClock())
        shop.open_session("weigh-house", RECIPE.read_text(encoding="utf-8"), 40)
        for n in range(6):
            shop.do(a.StartClock(7_200_000 + n * 60_000, f"clock {n}"))

    held: dict[str, float] = {}

    def frame(name: str, words: tuple[str, ...], sign: str) -> Callable[[], float]:
        def one() -> float:
            with Program(*words, home=home) as program:
                shown = program.shows(sign) - program.started
                program.settle()
                held[name] = program.memory_mib()
                return shown
        return one

    bench, studio, bare = in_turns(
        5, frame("bench", (*OURS, "resume"), "CLEAN HANDS"),
        frame("studio", OURS, "At the press"), frame("bare", BARE, "ready"))
    yield Figure("first frame of the Bench", bench, bare, "a bare app", 1.5, "s")
    yield Figure("first frame of the Studio", studio, bare, "a bare app", 1.5, "s")
    yield Figure("memory of the Bench", held["bench"], held["bare"], "a bare app", 1.5, "MiB")
    with (Program(*BARE, "6", home=home) as six, Program(*BARE, "22", home=home) as full,
          Program(*OURS, "resume", home=home) as ours):
        six.shows("119:5")
        full.shows("119:5")
        ours.shows("clock 5")
        for program in (six, full, ours):
            program.settle()
        share = busy({"six": six, "ours": ours}, 20)
        yield Figure("at rest with six clocks", share["ours"], share["six"],
                     "a bare app with six clocks", 1.5, "%")
        treads, keys = _treads(ours, full, home, 40)
    commit = _bare_commits(home.parent / "bare.db", 200)
    least = [key + statistics.median(commit) for key in keys]
    yield Figure("a tread painted", statistics.median(treads), statistics.median(least),
                 "a key of a bare app, a bare commit", 1.3, "ms")
    yield Figure("the slowest tread of 40", max(treads), statistics.median(least),
                 "a key of a bare app, a bare commit", 2, "ms")


def _treads(ours: Program, full: Program, home: Path, count: int) -> tuple[list[float],
                                                                           list[float]]:
    """Milliseconds from key to paint, of the Bench and of a full bare screen, in turns."""
    treads, keys = [], []
    log = home / "studio.book-wal"
    for n in range(count):
        full.settle()
        sent = full.press(" ")
        keys.append((full.shows(f"ready {n + 1} ") - sent) * 1000)
        ours.settle()
        before = log.stat().st_mtime_ns
        sent = ours.press(" ")
        _, shown = ours.painted_after(lambda b=before: log.stat().st_mtime_ns != b)
        treads.append((shown - sent) * 1000)
    return treads, keys


def _bare_commits(path: Path, count: int) -> list[float]:
    """Milliseconds of a row committed by SQLite alone, as durably as the book's."""
    file = sqlite3.connect(path, isolation_level=None)
    file.execute("PRAGMA journal_mode = wal")
    file.execute("PRAGMA synchronous = full")
    file.execute("CREATE TABLE row (number INTEGER PRIMARY KEY, text TEXT)")
    taken = []
    for n in range(count):
        began = time.perf_counter()
        file.execute("BEGIN IMMEDIATE")
        file.execute("INSERT INTO row VALUES (?, ?)", (n, f"note {n}"))
        file.execute("COMMIT")
        taken.append((time.perf_counter() - began) * 1000)
    file.close()
    return taken


def book_figures(folder: Path) -> Iterator[Figure]:
    """What is written, read back, taken out and taken in, beside the modules it is done with."""
    taken = []
    with writing(folder / "book.db") as book:
        book.append([opened()], moment(), "open")
        for n in range(500):
            began = time.perf_counter()
            book.append([note(f"note {n}")], moment(n), "note")
            taken.append((time.perf_counter() - began) * 1000)
    yield Figure("an entry on disk", statistics.median(taken),
                 statistics.median(_bare_commits(folder / "commits.db", 500)), "a bare commit",
                 1.5, "ms")
    yield from _long_book_figures(folder)


def _long_book_figures(folder: Path) -> Iterator[Figure]:
    from benchapp.commands.show import read_whole_session, session_values
    from tests.speed.ten_years import make

    for name, sessions in (("small", 10), ("long", 250)):
        make(folder / name, sessions)
    with Book.open(folder / "small", write=True) as small, \
            Book.open(folder / "long", write=True) as long:
        for what, work, budget in (
            ("a list of 250 days", session_values, 25 * 1.2),
            ("a review in a long book", lambda b: read_whole_session(b, b.sessions()[9]), 1.2),
            ("the Studio's room of a long book", lambda b: SessionService(b, SystemClock()), 25),
        ):
            ours, floor = in_turns(5, lambda w=work: busy_s(lambda: w(long)) * 1000,
                                   lambda w=work: busy_s(lambda: w(small)) * 1000)
            yield Figure(what, ours, floor, "the same of 10 days", budget, "ms")
        lines = list(jsonl.entry_lines(long.entries()))
        rows = [json.loads(line) for line in lines]
        ours, floor = in_turns(
            3, lambda: busy_s(lambda: list(jsonl.entry_lines(long.entries()))),
            lambda: busy_s(lambda: [json.dumps(row, sort_keys=True) for row in rows]))
        yield Figure("export of 250 days", ours, floor, "the same lines by json", 3, "s")


def day_figures() -> Iterator[Figure]:
    """A long day's treads, and a day planned again."""
    long, fresh = Bench(DAY), Bench(DAY)
    _go(long, 1_500)
    _go(fresh, 100)
    last, first = [], []
    for _ in range(20):
        last += _go(long, 10)
        first += _go(fresh, 10)
    yield Figure("a tread after 300 sheets", statistics.median(last), statistics.median(first),
                 "the same at the beginning", 1.2, "ms")
    day = DayInputs((Job("", shape(DAY), 60),), (lunch(),))
    plan = plan_day(day)
    ours, floor = in_turns(5, lambda: busy_s(lambda: plan_day(day, before=plan)) * 1000,
                           lambda: busy_s(lambda: plan_day(worked(10))) * 1000)
    yield Figure("sixty planned again", ours, floor, "ten planned", 20, "ms")


def _go(bench: Bench, count: int) -> list[float]:
    taken = []
    for _ in range(count):
        bench.clock.advance(120_000)
        taken.append(busy_s(lambda: (bench.shop.tick(), bench.go())) * 1000)
    return taken
