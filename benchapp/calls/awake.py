"""Keeps the screen lit while a session is open or a clock runs; lets go whatever happens to us.

On Linux and macOS a program of the system holds the screen as long as a command of
its own runs. That command is `cat`, reading a pipe that only we can write to: when
we end, even by kill -9, the pipe closes, `cat` ends, the hold ends. And `cat`
gives back the one line we write as soon as it runs, so the hold is known to stand.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import Final, Literal, Protocol

from benchapp.calls.found import Which
from benchapp.calls.pieces import Trouble
from benchapp.calls.process import BootMs

State = Literal["asked", "held", "failed", "let go"]

ANSWER_MS: Final = 5_000
"""How long the system may take to say that it holds the screen."""

_LINE: Final = b"held\n"
_LET_GO_S: Final = 1.0
_SYSTEMD: Final = (
    "--what=idle:sleep", "--mode=block", "--who=benchapp", "--why=a printing session is open",
)  # fmt: skip
# From the system's own header (winbase.h): continuous, system required, display required.
_CONTINUOUS: Final = 0x8000_0000
_REQUIRED: Final = 0x0000_0001 | 0x0000_0002


class Awake(Protocol):
    """A hold on the screen."""

    def state(self) -> State:
        """How it stands; looks, never waits."""
        ...

    def trouble(self) -> Trouble | None:
        """Why the screen may go dark; None while it is asked or held."""
        ...

    def let_go(self) -> None:
        """Let the screen go dark again."""
        ...


class NotHeld:
    """No hold, and why."""

    def __init__(self, why: str) -> None:
        self._why = why

    def state(self) -> State:
        """Failed from the start."""
        return "failed"

    def trouble(self) -> Trouble | None:
        """Why there is none."""
        return _dark(self._why)

    def let_go(self) -> None:
        """Nothing to let go of."""


class AwakeHold:
    """A hold by a program of the system, tied to a pipe."""

    def __init__(self, argv: tuple[str, ...], boot_ms: BootMs) -> None:
        """Ask for it: `argv` runs the command that follows it, and holds as long."""
        self._boot_ms, self._until_ms = boot_ms, boot_ms() + ANSWER_MS
        self._state: State = "asked"
        self._why = ""
        self._process: subprocess.Popen[bytes] | None = None
        try:
            self._process = subprocess.Popen(  # noqa: S603 - ours, by full path, never a shell
                argv, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                start_new_session=True, bufsize=0,
            )  # fmt: skip
            _ask(self._process)
        except OSError as error:
            self._fail(error.strerror or "it could not be started")

    def state(self) -> State:
        """How it stands; looks, never waits."""
        process = self._process
        if process is None or self._state in ("failed", "let go"):
            return self._state
        if self._state == "asked" and _answered(process):
            self._state = "held"
        if process.poll() is not None:
            self._fail(f"code {process.returncode}")
        elif self._state == "asked" and self._boot_ms() >= self._until_ms:
            self._fail("the system did not answer")
        return self._state

    def trouble(self) -> Trouble | None:
        """Why the screen may go dark; None while it is asked or held."""
        return _dark(self._why) if self.state() == "failed" else None

    def let_go(self) -> None:
        """Close the pipe; what does not end by that is ended."""
        if self._state != "failed":
            self._state = "let go"
        self._end()

    def _fail(self, why: str) -> None:
        self._state, self._why = "failed", why
        self._end()

    def _end(self) -> None:
        process, self._process = self._process, None
        if process is None:
            return
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                with suppress(OSError):
                    pipe.close()
        try:
            process.wait(_LET_GO_S if self._state == "let go" else 0)
        except subprocess.TimeoutExpired:
            _kill(process)


def _ask(process: subprocess.Popen[bytes]) -> None:
    """Write the line that comes back once the hold stands."""
    if process.stdin is not None and process.stdout is not None:
        os.set_blocking(process.stdout.fileno(), False)
        with suppress(BrokenPipeError):
            process.stdin.write(_LINE)


def _answered(process: subprocess.Popen[bytes]) -> bool:
    if process.stdout is None:
        return False
    try:
        return bool(process.stdout.read(len(_LINE)))
    except OSError:
        return False


def _kill(process: subprocess.Popen[bytes]) -> None:
    if sys.platform != "win32":
        with suppress(OSError):
            os.killpg(process.pid, signal.SIGKILL)
    with suppress(subprocess.TimeoutExpired):
        process.wait(_LET_GO_S)


def _thread_state(flags: int) -> int:
    """Windows' own call; 0 is its no. Ends with the thread that made it."""
    if sys.platform == "win32":
        import ctypes

        return int(ctypes.windll.kernel32.SetThreadExecutionState(flags))
    return 0


class HeldByWindows:
    """A hold by Windows' own call, for the thread that asks; it ends with that thread."""

    def __init__(self, call: Callable[[int], int] = _thread_state) -> None:
        """Ask for it by `call`, which takes the flags and gives 0 for no."""
        self._call = call
        self._state: State = "held" if call(_CONTINUOUS | _REQUIRED) else "failed"

    def state(self) -> State:
        """How it stands."""
        return self._state

    def trouble(self) -> Trouble | None:
        """Why the screen may go dark."""
        return _dark("the system refused") if self._state == "failed" else None

    def let_go(self) -> None:
        """Let the screen go dark again; by the same thread."""
        if self._state == "held":
            self._state = "let go"
            self._call(_CONTINUOUS)


def keep_awake(
    boot_ms: BootMs,
    platform: str = sys.platform,
    environ: Mapping[str, str] | None = None,
    which: Which = shutil.which,
) -> Awake:
    """Ask the system to keep the screen lit, and return at once.

    Args:
        boot_ms: The clock its deadline is read from.
        platform: As in `sys.platform`.
        environ: The environment variables; those of the process if None.
        which: Gives the path of a program, or None.
    """
    environ = os.environ if environ is None else environ
    if environ.get("SSH_CONNECTION") or environ.get("SSH_TTY"):
        return NotHeld("the bench runs on another machine than the screen")
    if platform == "win32":
        return HeldByWindows()
    name = "caffeinate" if platform == "darwin" else "systemd-inhibit"
    holder, cat = which(name), which("cat")
    if holder is None or cat is None:
        return NotHeld(f"{name if holder is None else 'cat'} is not installed")
    arguments = ("-d", "-i") if name == "caffeinate" else _SYSTEMD
    return AwakeHold((holder, *arguments, cat), boot_ms)


def _dark(why: str) -> Trouble:
    text = f"benchapp could not keep the screen awake ({why}). Set it to stay on while you print."
    return Trouble("the screen's light", "failed", text)
