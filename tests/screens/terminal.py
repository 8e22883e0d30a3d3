"""benchapp in a real pseudo-terminal, read by a terminal emulator."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Self

import pexpect
import pyte

from tests.screens.support import has_all

ROOT = Path(__file__).parents[2]


class Terminal:
    """A program with a screen of its own; what it wrote last stands in `text`."""

    def __init__(self, arguments: Sequence[str], home: Path, size: tuple[int, int]) -> None:
        """Start `benchapp` with these arguments.

        Args:
            arguments: Of the command line.
            home: The printer's home.
            size: Columns and rows.
        """
        self._screen = pyte.Screen(*size)
        self._stream = pyte.Stream(self._screen)
        self.written: list[str] = []
        env = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm-256color",
               "BENCHAPP_HOME": str(home), "COLORTERM": "truecolor"}
        self._child = pexpect.spawn(
            sys.executable, ["-m", "benchapp", *arguments], env=env, encoding="utf-8",
            codec_errors="replace", dimensions=(size[1], size[0]), timeout=20, cwd=str(home.parent))
        self._child.delaybeforesend = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *error: object) -> None:
        self._child.close(force=True)

    @property
    def pid(self) -> int:
        """The process that was started: the waiting parent of a screen."""
        return int(self._child.pid)

    @property
    def fd(self) -> int:
        """The terminal's own side of it."""
        return int(self._child.child_fd)

    @property
    def text(self) -> str:
        """The screen as it stands, without blanks at the ends of lines."""
        return "\n".join(line.rstrip() for line in self._screen.display)

    def take(self, seconds: float = 0.0) -> None:
        """Read what has been written, waiting so long for the first of it."""
        try:
            while True:
                piece = self._child.read_nonblocking(65536, timeout=seconds)
                self.written.append(piece)
                self._stream.feed(piece)
                seconds = 0.0
        except (pexpect.TIMEOUT, pexpect.EOF):
            pass

    def resize(self, columns: int, rows: int) -> None:
        """Give the terminal another size, as a window does."""
        self._child.setwinsize(rows, columns)
        self._screen.resize(rows, columns)

    def wipe(self) -> None:
        """Forget what stands on it, so that only what is drawn from now on is seen."""
        self._screen.reset()

    def press(self, keys: str) -> None:
        """Send keys as a terminal sends them."""
        self._child.send(keys)

    def until(self, condition: Callable[[], object], what: str, seconds: float = 40) -> None:
        """Read on until the condition holds.

        Raises:
            AssertionError: It did not in time; shows the screen.
        """
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            self.take(0.02)
            if condition():
                return
        raise AssertionError(f"never came: {what}\n{self.text}")

    def shows(self, *parts: str) -> None:
        """Wait until all of these stand on the screen."""
        self.until(lambda: has_all(self.text, parts), str(parts))

    def ended(self) -> int:
        """Wait for the end; the exit code."""
        self._child.expect(pexpect.EOF)
        self.written.append(str(self._child.before))
        self._child.close()
        return int(self._child.exitstatus if self._child.exitstatus is not None else -1)
