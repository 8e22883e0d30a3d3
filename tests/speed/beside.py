"""Programs in pseudo-terminals, side by side: when they wrote, what they used.

Absolute times say as much of the machine as of the program, so every figure is taken of
a bare Textual app too, in turn with ours, and only the two are held against each other.
Linux: processes are looked at through /proc.
"""

from __future__ import annotations

import os
import select
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Final, Self

import pexpect
import pyte

ROOT: Final = Path(__file__).parents[2]
OURS: Final = ("-m", "benchapp")
BARE: Final = (str(Path(__file__).with_name("bare_app.py")),)
_TICKS_S: Final = os.sysconf("SC_CLK_TCK")
_PAGE: Final = os.sysconf("SC_PAGE_SIZE")


class Program:
    """A Python program with a screen of 80 by 24, and how its screen stands."""

    def __init__(self, *words: str, home: Path) -> None:
        """Start it with these words after `python`."""
        self._screen = pyte.Screen(80, 24)
        self._stream = pyte.ByteStream(self._screen)
        env = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm-256color",
               "COLORTERM": "truecolor", "BENCHAPP_HOME": str(home),
               # As installed: compiled once, wherever the tests keep compiled files or not.
               "PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": str(home.parent / "compiled")}
        self.started = time.perf_counter()
        self._child = pexpect.spawn(sys.executable, list(words), env=env, dimensions=(24, 80),
                                    timeout=20, cwd=str(home.parent))
        self._child.delaybeforesend = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *error: object) -> None:
        self._child.close(force=True)

    @property
    def text(self) -> str:
        """The screen as it stands."""
        return "\n".join(self._screen.display)

    def take(self, seconds: float) -> float | None:
        """Read once, waiting so long for it; the moment it was there, None if nothing came."""
        if not select.select([self._child.child_fd], [], [], seconds)[0]:
            return None
        piece = os.read(self._child.child_fd, 65536)
        read = time.perf_counter()
        self._stream.feed(piece)
        return read

    def shows(self, part: str, most_s: float = 30) -> float:
        """The moment this was first on the screen.

        Raises:
            AssertionError: It never was.
        """
        end = time.perf_counter() + most_s
        while time.perf_counter() < end:
            read = self.take(0.1)
            if read is not None and part in self.text:
                return read
        raise AssertionError(f"never came: {part}\n{self.text}")

    def settle(self, quiet_s: float = 0.1) -> None:
        """Read until nothing comes for so long; one second at most, for clocks go on."""
        end = time.perf_counter() + 1
        while time.perf_counter() < end and self.take(quiet_s) is not None:
            pass

    def press(self, key: str) -> float:
        """Send a key; the moment it was sent."""
        sent = time.perf_counter()
        self._child.send(key)
        return sent

    def painted_after(
        self, happened: Callable[[], bool], most_s: float = 10
    ) -> tuple[float, float]:
        """The moments `happened` came true, and the first that was written after it.

        Raises:
            AssertionError: One of them never came.
        """
        end, since = time.perf_counter() + most_s, None
        while time.perf_counter() < end:
            if since is None and happened():
                since = time.perf_counter()
            read = self.take(0.0002 if since is None else 0.05)
            if read is not None and since is None and happened():
                since = read  # between two looks it happened and was written
            if read is not None and since is not None:
                return since, read
        raise AssertionError(f"nothing was painted\n{self.text}")

    def cpu_s(self) -> float:
        """Processor time so far, of the program and all it started, in seconds."""
        fields = (_stat(pid) for pid in self._family())
        return sum(int(f[11]) + int(f[12]) for f in fields if f) / _TICKS_S

    def memory_mib(self) -> float:
        """The memory held by the largest process of the program, MiB.

        A parent that only waits shares its pages with the child it was copied to.
        """
        return max(int(f[21]) * _PAGE for p in self._family() if (f := _stat(p))) / 2**20

    def _family(self) -> set[int]:
        parents = {int(p.name): int(f[1]) for p in Path("/proc").iterdir()
                   if p.name.isdigit() and (f := _stat(int(p.name)))}
        family = {self._child.pid}
        while more := {p for p, of in parents.items() if of in family} - family:
            family |= more
        return family


def _stat(pid: int) -> list[str]:
    """The fields of a process from its state on (proc(5)); none where it is gone."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    except OSError:
        return []


def busy(programs: dict[str, Program], seconds: float) -> dict[str, float]:
    """The share of one processor each of the programs took over the same time, per cent."""
    before = {name: p.cpu_s() for name, p in programs.items()}
    start = time.perf_counter()
    while (passed := time.perf_counter() - start) < seconds:
        for p in programs.values():
            p.take(0.02)
    return {name: (p.cpu_s() - before[name]) / passed * 100 for name, p in programs.items()}
