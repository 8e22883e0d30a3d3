"""How late a call is while the terminal does not read, and after a stop of everything."""

from __future__ import annotations

import json
import os
import signal
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

if not sys.platform.startswith("linux"):  # pragma: no cover
    pytest.skip("pseudo-terminals and the boot clock of Linux", allow_module_level=True)

import pexpect

APP = Path(__file__).parents[1] / "calls" / "stalled_app.py"
ROOT = APP.parents[2]

Start = Callable[..., pexpect.spawn]


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Start]:
    """Starts the drawing screen; its player writes the moment it began to run."""
    (tmp_path / "player").write_text(
        f"#!{sys.executable} -SE\nimport time\n"
        f"at = time.clock_gettime_ns(time.CLOCK_BOOTTIME)\n"
        f"open({str(tmp_path / 'played')!r}, 'a').write(f'{{at}}\\n')\n"
    )
    (tmp_path / "player").chmod(0o755)
    started: list[pexpect.spawn] = []

    def begin(*dues_ms: int) -> pexpect.spawn:
        env = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm-256color"}
        words = [str(APP), str(tmp_path / "player"), str(tmp_path), *map(str, dues_ms)]
        child = pexpect.spawn(sys.executable, words, env=env, dimensions=(24, 80), timeout=20,
                              encoding="latin-1")  # fmt: skip
        child.expect_exact("aaaa")
        started.append(child)
        return child

    yield begin
    for child in started:
        if not child.closed:
            child.close(force=True)


def leave(child: pexpect.spawn, folder: Path) -> dict:
    """Read again, press a key, and get what the app noted."""
    child.send("q")
    child.expect(pexpect.EOF)
    return json.loads((folder / "told").read_text())


def played_late(folder: Path, dues_ms: list[int]) -> list[float]:
    """How late the player's own program ran for each call, ms."""
    start = int((folder / "start").read_text())
    times = [int(line) / 1e6 - start for line in (folder / "played").read_text().split()]
    return [t - due for t, due in zip(times, dues_ms, strict=False)]


@pytest.mark.full
def test_a_terminal_not_read_for_ten_seconds_does_not_delay_a_call(start: Start, tmp_path: Path):
    """The screen is dead most of that time; the calls are not late by a tenth of it."""
    dues = [4000, 7000, 9500]
    child = start(*dues)
    time.sleep(10)
    told = leave(child, tmp_path)
    late = played_late(tmp_path, dues)
    print(f"screen dead {told['dead_s']:.1f} s; called {[r[1] for r in told['rangs']]} ms late; "
          f"player running {[round(x) for x in late]} ms late")
    assert told["dead_s"] > 6
    assert len(late) == 3
    tenth = told["dead_s"] * 100
    assert all(r[1] < tenth for r in told["rangs"])
    assert all(0 <= x < tenth for x in late)


@pytest.mark.full
def test_after_a_stop_a_call_comes_within_a_second(start: Start, tmp_path: Path):
    """SIGSTOP stands in for a closed lid: what fell due meanwhile is called once, at once."""
    child = start(2500, 3000)
    os.kill(child.pid, signal.SIGSTOP)
    begun = int((tmp_path / "start").read_text())
    while time.clock_gettime_ns(time.CLOCK_BOOTTIME) // 10**6 < begun + 6000:
        time.sleep(0.05)
    os.kill(child.pid, signal.SIGCONT)
    time.sleep(1.5)
    told = leave(child, tmp_path)
    at, late, calls = told["rangs"][0]
    print(f"called {at - 6000} ms after going on, {late} ms late")
    assert calls == 2
    assert 3000 <= late < 3500 + 1000
    assert len(told["rangs"]) == 1
