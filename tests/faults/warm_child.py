"""The program with everything imported: parts a child for each call, and kills it where told.

Reads calls as lines of JSON and answers each with one; see `warm.py`. What a call does to files is
counted in steps: each statement that changes a database or asks for it, each file that is opened
to be written, named, removed or seen onto the disk.
"""

from __future__ import annotations

import importlib
import itertools
import json
import os
import pkgutil
import select
import signal
import sqlite3
import sys
import time
from collections.abc import Callable
from typing import Any

import benchapp.commands
from benchapp import cli
from tests.faults import weakened

_WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC
_EVENTS = {"os.rename", "os.link", "os.remove", "os.mkdir", "os.rmdir", "os.truncate",
           "os.symlink"}
_ASKS = ("SELECT", "--", "PRAGMA query", "PRAGMA busy", "EXPLAIN")
#: Pages that a copy of a book takes between two steps.
_PAGES = 16


class Steps:
    """Counts what a call does to files; calls `at` when the step numbered `wanted` begins."""

    def __init__(self) -> None:
        self.count = 0
        self._next = itertools.count(1)
        self.wanted = 0
        self.at: Callable[[], None] = lambda: None

    def step(self, *_: object) -> None:
        self.count = next(self._next)
        if self.count == self.wanted:
            self.at()

    def statement(self, sql: str) -> None:
        if not sql.lstrip().startswith(_ASKS):
            self.step()

    def event(self, name: str, arguments: tuple[Any, ...]) -> None:
        written = name == "open" and isinstance(arguments[2], int) and arguments[2] & _WRITES
        if written or name in _EVENTS:
            self.step()


STEPS = Steps()


class _Stepped(sqlite3.Connection):
    """A connection that counts its statements, and the pages of a copy."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.set_trace_callback(STEPS.statement)

    def backup(self, target: sqlite3.Connection, **kwargs: Any) -> None:
        super().backup(target, **{"pages": _PAGES, "progress": STEPS.step, **kwargs})


def _count_steps() -> None:
    """From now on: every database and every file of this process."""
    connect, fsync = sqlite3.connect, os.fsync
    sqlite3.connect = (  # type: ignore[assignment]
        lambda *a, **k: connect(*a, **{"factory": _Stepped, **k}))

    def counted(descriptor: int) -> None:
        STEPS.step()
        fsync(descriptor)

    os.fsync = counted
    sys.addaudithook(STEPS.event)


def _child(call: dict[str, Any], tells: int) -> None:
    """Be the program for one call; never comes back."""
    for number, name in enumerate(("said", "out", "err")):
        file = os.open(call[name], os.O_RDONLY if not number else
                       os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        os.dup2(file, number)
        os.close(file)
    sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115
    sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    sys.stderr = open(2, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    os.environ.update(BENCHAPP_HOME=call["home"], TMPDIR=call["temp"])
    os.chdir(call["home"])
    _count_steps()
    if call["weakened"]:
        getattr(weakened, call["weakened"])()
    STEPS.wanted = call["step"]
    # At once, or told to the parent, which kills a little later, inside of what is done then.
    STEPS.at = (lambda: os.write(tells, b"!") if call["after_us"] else  # type: ignore[assignment,return-value]
                os.kill(os.getpid(), signal.SIGKILL))
    code = cli.main(call["argv"])
    sys.stdout.flush()
    sys.stderr.flush()
    os.write(tells, json.dumps({"code": code, "steps": STEPS.count}).encode())
    os._exit(0)


def _called(call: dict[str, Any]) -> dict[str, Any]:
    """One call; its code and steps, or null where it was killed."""
    hears, tells = os.pipe()
    child = os.fork()
    if not child:
        os.close(hears)
        _child(call, tells)
    os.close(tells)
    until, said = time.monotonic() + call["patience_s"], b""
    while select.select([hears], [], [], max(0, until - time.monotonic()))[0]:
        heard = os.read(hears, 4096)
        if not heard:
            break
        said += heard
        if heard == b"!":
            end = time.perf_counter() + call["after_us"] / 1e6
            while time.perf_counter() < end:  # a sleep is too coarse to fall into a commit
                pass
            os.kill(child, signal.SIGKILL)
    else:
        os.kill(child, signal.SIGKILL)
        said = b'{"code": null, "steps": -1}'
    os.close(hears)
    os.waitpid(child, 0)
    told = said.lstrip(b"!")
    return json.loads(told) if told else {"code": None, "steps": 0}


def main() -> None:
    """Answer until there is no further call."""
    for module in pkgutil.iter_modules(benchapp.commands.__path__, "benchapp.commands."):
        if not module.name.endswith("screens"):  # Textual and its screens: never called here
            importlib.import_module(module.name)
    for name in ("benchapp.plain", "benchapp.plain.loop", "benchapp.copies.backups",
                 "benchapp.copies.mirrors", "benchapp.copies.beside", "benchapp.reports.unsaved"):
        importlib.import_module(name)
    for line in sys.stdin.buffer:
        answer = _called(json.loads(line))
        sys.stdout.write(json.dumps(answer) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
