"""One program that plays or speaks: started without a shell, watched, never waited for."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from typing import IO, Any, Final, Literal

BootMs = Callable[[], int]
Ending = Literal["well", "failed", "hung", "stopped"]

_PIPE: Final = subprocess.PIPE
#: How long a killed program may take to be gone; then it is the system's.
_REAP_S: Final = 0.2


class Process:
    """A program in a session of its own, so that no key of the terminal reaches it.

    Attributes:
        ended: How it ended; None while it runs.
        said: What went wrong, in the system's words; empty if nothing did.
    """

    def __init__(
        self, argv: Sequence[str], boot_ms: BootMs, limit_ms: int, *, text: str | None = None
    ) -> None:
        """Start it.

        Args:
            argv: The program and its arguments, handed over as they are.
            boot_ms: The clock its deadline is read from.
            limit_ms: It is killed when it runs longer.
            text: Given on its standard input, which is else empty.
        """
        self.ended: Ending | None = None
        self.said = ""
        self._boot_ms = boot_ms
        self._until_ms = boot_ms() + limit_ms
        self._process: subprocess.Popen[bytes] | None = None
        try:
            self._process = self._spawn(argv, subprocess.DEVNULL if text is None else _PIPE)
        except (OSError, ValueError) as error:
            self.ended = "failed"
            self.said = getattr(error, "strerror", None) or "it could not be started"
            return
        if text is not None:
            _hand_over(self._process.stdin, text)

    @staticmethod
    def _spawn(argv: Sequence[str], stdin: int) -> subprocess.Popen[bytes]:
        nothing = subprocess.DEVNULL
        flags: dict[str, Any] = {"start_new_session": True}
        if sys.platform == "win32":
            flags = {"creationflags": subprocess.CREATE_NO_WINDOW}
        return subprocess.Popen(  # noqa: S603 - a list of ours by full path, never a shell
            list(argv), stdin=stdin, stdout=nothing, stderr=nothing, **flags
        )

    def over(self) -> bool:
        """Whether it has ended; at its deadline it is ended here."""
        process = self._process
        if self.ended is not None or process is None:
            return True
        code = process.poll()
        if code is not None:
            self.ended = "well" if code == 0 else "failed"
            self.said = "" if code == 0 else _code_words(code)
        elif self._boot_ms() >= self._until_ms:
            self._kill("hung")
            self.said = "it did not end"
        return self.ended is not None

    def stop(self) -> None:
        """End it now, with all it started."""
        if not self.over():
            self._kill("stopped")

    def _kill(self, how: Ending) -> None:
        self.ended = how
        process = self._process
        if process is None:
            return
        with suppress(OSError):
            if sys.platform == "win32":
                process.kill()
            else:
                os.killpg(process.pid, signal.SIGKILL)
        with suppress(subprocess.TimeoutExpired):
            process.wait(_REAP_S)


def _hand_over(pipe: IO[bytes] | None, text: str) -> None:
    """Write a phrase; it is far shorter than a pipe holds, so this never waits."""
    if pipe is not None:
        with suppress(OSError):
            pipe.write(text.encode("utf-8") + b"\n")
            pipe.flush()
        with suppress(OSError):
            pipe.close()


def _code_words(code: int) -> str:
    return f"it was ended by signal {-code}" if code < 0 else f"it ended with code {code}"
