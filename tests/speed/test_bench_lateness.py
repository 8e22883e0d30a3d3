"""How late the real Bench calls while its terminal does not read; and what is in the book then."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

import pytest

if not sys.platform.startswith("linux"):  # pragma: no cover
    pytest.skip("pseudo-terminals and the boot clock of Linux", allow_module_level=True)

from benchapp.book import Book
from benchapp.events.entry import Entry
from tests.screens.terminal import Terminal

DUE_NS = 5 * 10**9


@pytest.fixture
def player(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A player that notes on the boot clock when it ran and what it was given."""
    folder, log = tmp_path / "bin", tmp_path / "played"
    folder.mkdir()
    (folder / "aplay").write_text(
        f"#!{sys.executable} -SE\nimport sys, time\nat = time.clock_gettime_ns("
        f"time.CLOCK_BOOTTIME)\nopen({str(log)!r}, 'a').write(f'{{at}} {{sys.argv[-1]}}\\n')\n",
        encoding="utf-8")
    (folder / "aplay").chmod(0o755)
    monkeypatch.setenv("PATH", f"{folder}{os.pathsep}{os.environ['PATH']}")
    for name in ("SSH_CONNECTION", "SSH_TTY"):
        monkeypatch.delenv(name, raising=False)
    return log


def entry(home: Path, kind: str) -> Entry | None:
    """The entry of that kind, as another program reads the book."""
    with Book.reading(home / "studio.book") as book:
        return next((e for e in book.entries() if e.kind == kind), None)


@pytest.mark.full
def test_the_bench_calls_on_time_while_its_screen_is_dead(home: Path, player: Path) -> None:
    """A clock of 5 s, a terminal not read for 10: the tone is heard at its time, its entries later.

    New sizes fill the pipe with whole screens, so that whatever draws stands still.
    """
    home.mkdir(parents=True)
    (home / "preferences.yaml").write_text(
        "gate: 0 ms\nsound: on\nvoice: off\nplayer: aplay\n", encoding="utf-8")
    with Terminal(["run", "three-steps"], home, (120, 40)) as terminal:
        terminal.shows("open the session")
        terminal.press(" ")
        terminal.until(lambda: "open the session" not in terminal.text, "the Bench")
        terminal.press("c")
        terminal.shows("A clock")
        terminal.press("5 s etch\r")
        terminal.until(lambda: entry(home, "timed") is not None, "the clock in the book")
        timed = entry(home, "timed")
        assert timed is not None
        due = timed.at.boot_ns + DUE_NS
        for turn in range(100):
            terminal.resize(120 - turn % 2, 40)
            time.sleep(0.1)
        dead = entry(home, "called") is None
        heard = [int(line.split()[0]) for line in player.read_text(encoding="utf-8").splitlines()
                 if "end-loud" in line]
        terminal.until(lambda: entry(home, "called") is not None, "called in the book")
        called = entry(home, "called")
    assert called is not None
    late_ms = (heard[0] - due) / 1e6
    print(f"player running {late_ms:.0f} ms late; the book heard of it "
          f"{(called.at.boot_ns - due) / 1e6:.0f} ms late")
    assert dead, "the screen never stood still: nothing was shown by this"
    assert 0 <= late_ms < 2_000
