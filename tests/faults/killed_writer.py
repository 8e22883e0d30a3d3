"""One who writes in a book without end, and is killed: what the tests of that do.

Each entry is said to be there as soon as it is; what was said by then is held against the book.
"""

from __future__ import annotations

import os
import random
import signal
import time
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path

from benchapp.book import Book, NoBook
from tests.book.samples import disk_full, moment, note, opened, sheet_out, writing
from tests.faults.apart import ended, forked

#: A book is made, or opened, within so many seconds.
_START_S = 0.02
#: A few commits take so long.
_COMMITS_S = 0.004


def write_for_ever(path: Path, seed: int, failing: bool, say: Callable[[str], object]) -> None:
    """Open, append and close for ever; `failing`: on a disk that often refuses."""
    chance = random.Random(seed)

    def fault(point: str) -> None:
        if failing and point in {"insert", "commit"} and chance.random() < 0.4:
            raise disk_full()

    while True:
        with writing(path, fault) as book:  # type: ignore[arg-type]
            for n in range(chance.randrange(60)):
                drafts = [note(f"{n} " + "x" * chance.randrange(300)), sheet_out(seed)]
                if n == 0:
                    drafts.insert(0, opened(f"{seed}-{book.last_sequence()}"))
                chance.shuffle(drafts)
                entries = book.append(drafts, moment(n), "note")
                say("\n".join(entry.id for entry in entries) + "\n")


def _said(path: Path, seed: int, failing: bool) -> list[str]:
    """The ids that a writer acknowledged before it was killed at an instant of chance."""
    chance = random.Random(seed)
    out, into = os.pipe()
    writer = forked(_write, path, seed, failing, into)
    os.close(into)
    said = b""
    with closing(os.fdopen(out, "rb")) as heard:
        # One in four dies while it starts: opening, creating, taking in what was spilled.
        if chance.random() < 0.25:
            _spin(chance.random() * _START_S)
        else:
            for _ in range(chance.randrange(1, 400)):
                said += heard.readline()
            _spin(chance.random() * _COMMITS_S)
        os.kill(writer, signal.SIGKILL)
        said += heard.read()
    assert ended(writer) == -signal.SIGKILL
    return said[: said.rfind(b"\n") + 1].decode().split()


def _write(path: Path, seed: int, failing: bool, into: int) -> None:
    write_for_ever(path, seed, failing, lambda text: os.write(into, text.encode()))


def _spin(seconds: float) -> None:
    """Let the writer go on for so long; a sleep is too coarse to fall into a commit."""
    until = time.perf_counter() + seconds
    while time.perf_counter() < until:
        pass


def kill_writers(folder: str, seeds: list[int], failing: bool, a_book: int) -> tuple[
        int, list[str]]:
    """Kill one after the other; how many entries were acknowledged, and what is wrong.

    Args:
        folder: Where the books lie.
        seeds: A writer each.
        failing: Whether their disk often refuses.
        a_book: So many write in one book, one after the other.
    """
    acknowledged, wrong = 0, []
    for n, seed in enumerate(seeds):
        path = Path(folder) / str(n // a_book) / "studio.book"
        said = _said(path, seed, failing)
        acknowledged += len(said)
        with suppress(NoBook), Book.reading(path) as book:  # it may not have been made yet
            wrong += [f"writer {seed}, read: {problem}" for problem in book.verify()]
        with writing(path) as book:
            wrong += [f"writer {seed}: {problem}" for problem in book.verify()]
            ids = [entry.id for entry in book.entries()]
            book.append([note("goes on")], moment(), "note")
        if len(ids) != len(set(ids)):
            wrong.append(f"writer {seed}: an id is there twice")
        # What the disk refused waits beside the book until it is opened to write.
        wrong += [f"writer {seed}: {x} is gone" for x in {*said} - {*ids}]
    return acknowledged, wrong
