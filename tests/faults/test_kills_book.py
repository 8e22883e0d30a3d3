"""kill -9 at any instant: what was acknowledged is there, whole and in order."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from benchapp.book import Book
from tests.book.samples import moment, note, writing

_ROOT = Path(__file__).parents[2]


def _killed(path: Path, seed: int, how: str) -> list[str]:
    """The ids that a program acknowledged before it was killed at an instant of its own."""
    chance = random.Random(seed)
    child = subprocess.Popen(
        [sys.executable, "-m", "tests.faults.crash_child", str(path), str(seed), how],
        stdout=subprocess.PIPE, cwd=_ROOT)
    assert child.stdout is not None
    said = b""
    try:
        # One in four dies while it starts: opening, creating, taking in what was spilled.
        if chance.random() < 0.25:
            _spin(chance.random() * 0.25)
        else:
            for _ in range(chance.randrange(1, 400)):
                said += child.stdout.readline()
            _spin(chance.random() * 0.004)
    finally:
        child.kill()
    said += child.communicate()[0]
    whole = said[: said.rfind(b"\n") + 1].decode().split("\n")
    return [line for line in whole if ":" in line]


def _spin(seconds: float) -> None:
    """Let the child go on for so long; a sleep is too coarse to fall into a commit."""
    until = time.perf_counter() + seconds
    while time.perf_counter() < until:
        pass


def _sound(book: Book) -> None:
    assert book.verify() == []
    for family in ("session", "pack"):
        for name in book.streams(family):
            entries = book.stream(name)
            assert [entry.position for entry in entries] == list(range(1, len(entries) + 1))


def _survives(path: Path, seed: int, how: str) -> int:
    acknowledged = _killed(path, seed, how)
    with Book.reading(path) as book:
        _sound(book)
    with writing(path) as book:
        _sound(book)
        ids = [entry.id for entry in book.entries()]
        assert len(ids) == len(set(ids))
        kept = set(ids)
        assert [entry_id for entry_id in acknowledged if entry_id not in kept] == []
        book.append([note("goes on")], moment(), "note")
    return len(acknowledged)


@pytest.mark.parametrize(("how", "times"), [("sound", 4), ("failing", 4)])
def test_killed_at_any_instant(path: Path, how: str, times: int) -> None:
    """One book, killed again and again: every acknowledged entry is there, nothing is torn."""
    acknowledged = sum(_survives(path, seed, how) for seed in range(times))
    assert acknowledged > 50


def test_killed_while_it_is_made(tmp_path: Path) -> None:
    """A book whose making was cut off at any point is made by the next start."""
    for seed in range(3):
        path = tmp_path / str(seed) / "book.db"
        child = subprocess.Popen(
            [sys.executable, "-m", "tests.faults.crash_child", str(path), "0", "sound"],
            stdout=subprocess.DEVNULL, cwd=_ROOT)
        while not path.exists() and child.poll() is None:
            pass
        _spin(random.Random(seed).random() * 0.01)
        child.kill()
        child.wait()
        with Book.reading(path) as book:
            _sound(book)
        with writing(path) as book:
            _sound(book)
            assert book.origin


@pytest.mark.full
@pytest.mark.parametrize("how", ["sound", "failing"])
def test_killed_two_hundred_times(path: Path, how: str) -> None:
    """The same, two hundred times over the two kinds of disk, in fresh books and in old ones."""
    acknowledged = 0
    for seed in range(100):
        book = path.with_name(f"{seed // 10}.db")
        acknowledged += _survives(book, 1000 + seed, how)
    assert acknowledged > 2000
