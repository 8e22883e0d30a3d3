"""Run as a program: benchapp where nothing is there that only Unix has, as on Windows.

Modules, calls of the system and signals are taken away, and what Windows has in their place is a
stand-in: locks of files always succeed, a disk is one of this machine. This shows that nothing of
Unix is needed. It is no test of Windows.
"""

from __future__ import annotations

import asyncio
import ctypes
import io
import multiprocessing
import os
import selectors
import signal
import socket
import subprocess
import sys
import tempfile
import types
from typing import Any

#: What the standard library may have taken over before it goes.
_BEFORE = (asyncio, multiprocessing, selectors, socket, subprocess, tempfile)
_MODULES = ("fcntl", "termios", "tty", "pty", "resource", "pwd", "grp")
_CALLS = ("fork", "forkpty", "getuid", "geteuid", "getgid", "setsid", "setpgid", "tcsetpgrp",
          "tcgetpgrp", "getpgrp", "getpgid", "killpg", "fchmod", "register_at_fork",
          "ttyname", "pread", "pwrite", "O_NOFOLLOW", "O_DIRECTORY", "O_CLOEXEC", "O_NONBLOCK",
          "fdatasync", "uname", "sysconf")
_SIGNALS = ("SIGHUP", "SIGPIPE", "SIGCHLD", "SIGTSTP", "SIGCONT", "SIGQUIT", "SIGUSR1", "SIGUSR2",
            "SIGWINCH", "SIGTTOU", "SIGTTIN", "SIGKILL", "SIGALRM", "SIGSTOP", "pthread_sigmask",
            "sigwait", "setitimer", "alarm", "siginterrupt")


class _NotThere:
    """Finds none of the modules that only Unix has."""

    def find_spec(self, name: str, path: object = None, target: object = None) -> None:
        if name in _MODULES:
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)


class _Windows:
    """Stands in for every call of the system: 3 is a fixed disk, and no error."""

    def __getattr__(self, name: str) -> Any:
        return _Windows()

    def __call__(self, *_: object, **__: object) -> Any:
        return _Fixed(3)


class _Fixed(int):
    """What a call gave back; of a library, its calls."""

    def __getattr__(self, name: str) -> Any:
        return _Windows()


def leave_unix() -> None:
    """Take away what only Unix has."""
    for name in _MODULES:
        sys.modules.pop(name, None)
    sys.meta_path.insert(0, _NotThere())  # type: ignore[arg-type]
    for where, names in ((os, _CALLS), (signal, _SIGNALS)):
        for name in names:
            if hasattr(where, name):
                delattr(where, name)
    locks: Any = types.ModuleType("msvcrt")
    locks.LK_UNLCK, locks.LK_LOCK, locks.LK_NBLCK = 0, 1, 2
    locks.locking = lambda *_: None
    sys.modules["msvcrt"] = locks
    ctypes.windll = ctypes.WinDLL = _Windows()  # type: ignore[attr-defined]
    sys.platform = "win32"


def print_a_day() -> int:
    """Whole by plain lines, and read back."""
    from benchapp.cli import main

    sys.stdin = io.StringIO("\n" * 300)
    return main(["run", "three-steps", "--plain", "--wanted", "1"]) or main(["review", "last"])


async def see_the_screens() -> None:
    """Studio and help, then a step on the Bench."""
    from tests.screens.bench_support import on_the_bench
    from tests.screens.days import screens, small, workshop

    async with screens(workshop()[0], asking=False) as here:
        await here.shows("On the shelf")
        await here.press("question_mark")
        await here.shows("Help: The Studio")
    async with on_the_bench(small()) as here:
        await here.press("space")
        await here.shows("WASH")


if __name__ == "__main__":
    leave_unix()
    ended = print_a_day()
    if not ended:
        asyncio.run(see_the_screens())
        print("screens seen")
    sys.exit(ended)
