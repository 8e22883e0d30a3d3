"""The program under its waiting parent: killed, it leaves a sane terminal and a whole day."""

from __future__ import annotations

import os
import re
import signal
import sys
import termios
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

if not sys.platform.startswith("linux"):  # pragma: no cover
    pytest.skip("reads /proc", allow_module_level=True)

from benchapp.book import Book
from tests.screens.terminal import Terminal

PREFERENCES = "gate: 0 ms\nsound: off\n"


@pytest.fixture
def running(home: Path) -> Iterator[tuple[Terminal, int]]:
    """`benchapp run three-steps` with its first step done, and its screen's process."""
    home.mkdir(parents=True)
    (home / "preferences.yaml").write_text(PREFERENCES, encoding="utf-8")
    with Terminal(["run", "three-steps", "--wanted", "2"], home, (80, 24)) as terminal:
        terminal.shows("open the session")
        terminal.press(" ")
        terminal.shows("Blankets and both screws")
        terminal.press(" ")
        terminal.shows("INKY HANDS")
        yield terminal, children(terminal.pid)[0]


def children(pid: int) -> list[int]:
    """The processes a process started."""
    return [int(n) for n in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]


def gone(pid: int, seconds: float) -> bool:
    """Whether a process ends in that time."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        try:
            state = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0]
            threads = len(list(Path(f"/proc/{pid}/task").iterdir()))
        except FileNotFoundError:
            return True
        if state == "Z" and threads == 1:  # a thread that still ends holds the files
            return True
        time.sleep(0.02)
    return False


def left_on(written: str) -> set[str]:
    """The terminal modes taken and not given back."""
    on: set[str] = set()
    for number, what in re.findall(r"\x1b\[\?(\d+)([hl])", written):
        (on.add if what == "h" else on.discard)(number)
    return on - {"7", "25"}


@pytest.mark.parametrize("number", [
    signal.SIGKILL, *(pytest.param(n, marks=pytest.mark.full)
                      for n in (signal.SIGTERM, signal.SIGHUP))])
def test_a_screen_that_is_ended_gives_everything_back_and_one_line(running, number) -> None:
    """Modes, settings and cursor as before, the line once; and the lock is free: resume works."""
    terminal, screen = running
    os.kill(screen, number)
    code = terminal.ended()
    written = "".join(terminal.written)
    assert code == 128 + number
    assert left_on(written) == set()
    assert written.count("Go on with: benchapp resume") == 1
    assert "Traceback" not in written
    home = Path(os.environ["BENCHAPP_HOME"])
    with Book.open(home / "studio.book", write=True, state=home / "state") as book:
        assert [r.closed for r in book.sessions()] == [False]
    with Terminal(["resume"], home, (80, 24)) as again:
        again.shows("INKY HANDS", "wanted 2")


@pytest.mark.full
def test_a_screen_whose_terminal_takes_nothing_ends_when_it_is_told(running) -> None:
    """Nobody reads what it writes, so it stands still: it ends all the same, by itself."""
    terminal, screen = running
    for n in range(80):  # each size is a whole picture; some thirty fit on the way
        terminal.resize(80 + n % 2, 24)
        time.sleep(0.05)
    os.kill(screen, signal.SIGTERM)
    assert gone(screen, 10)
    assert terminal.ended() == 128 + signal.SIGTERM


def test_the_settings_of_the_terminal_are_as_before(running) -> None:
    """After kill -9 it echoes, gives whole lines, and Ctrl+C is a signal."""
    terminal, screen = running
    os.kill(screen, signal.SIGKILL)
    terminal.until(lambda: "Go on with" in "".join(terminal.written), "the line")
    flags = termios.tcgetattr(terminal.fd)[3]
    wanted = termios.ECHO | termios.ICANON | termios.ISIG
    assert flags & wanted == wanted


def test_no_process_is_left_holding_the_lock_when_the_parent_is_killed(running) -> None:
    """The child ends within a few seconds of its parent, and the book can be opened."""
    terminal, screen = running
    os.kill(terminal.pid, signal.SIGKILL)
    assert gone(screen, 5)
    home = Path(os.environ["BENCHAPP_HOME"])
    with Book.open(home / "studio.book", write=True, state=home / "state") as book:
        assert len(book.sessions()) == 1


def test_lines_are_one_process(home: Path) -> None:
    """`--plain` needs no parent: nothing of it takes the terminal over."""
    home.mkdir(parents=True)
    with Terminal(["run", "three-steps", "--plain"], home, (80, 24)) as terminal:
        terminal.shows("Now: Blankets and both screws")
        assert children(terminal.pid) == []
        terminal.press("quit\r")
        assert terminal.ended() == 0
