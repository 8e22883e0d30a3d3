"""The program with everything imported: parts a child for each call, and kills it where told.

Reads calls as lines of JSON and answers each with one; see `warm.py`.
"""

from __future__ import annotations

import importlib
import json
import os
import pkgutil
import select
import signal
import sys
import time
from pathlib import Path
from typing import Any

import benchapp.commands
from benchapp import cli
from benchapp.session.names import shape_of
from tests.faults import weakened
from tests.faults.failing import Failing, Refuse, deadly, either, nth, quota
from tests.faults.remembered import remember_texts
from tests.faults.steps import Steps


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
    if call["weakened"]:
        getattr(weakened, call["weakened"])()

    def die() -> None:
        """At once, or told to the parent, which kills a little later, inside of what is done."""
        if call["after_us"]:
            os.write(tells, b"!")
        else:
            os.kill(os.getpid(), signal.SIGKILL)

    steps: Steps | Failing
    refused = 0
    if call["fault"]:
        with Failing(_refuse(Path(call["home"]), **call["fault"])) as steps:
            code = cli.main(call["argv"])
        refused = steps.refused
    else:
        steps = Steps(call["step"], die)
        code = cli.main(call["argv"])
    sys.stdout.flush()
    sys.stderr.flush()
    os.write(tells, json.dumps({
        "code": code, "steps": steps.count, "refused": refused}).encode())
    os._exit(0)


def _refuse(home: Path, first: int | None, error: int, times: int, free: int | None,
            kills: bool, also: dict[str, Any] | None) -> Refuse:
    """What `warm.Fault` says of the disk under a home."""
    if also is not None:
        return either(_refuse(home, first, error, times, free, kills, None),
                      _refuse(home, **also))
    if free is not None:
        return quota(home, free)
    if first is None:
        return lambda _: 0
    return deadly(nth(first, error)) if kills else nth(first, error, times)


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


def _remember_recipes() -> None:
    """Have the shipped recipes read already: that is most of a short call."""
    remember_texts()
    for file in sorted((Path(__file__).parents[2] / "recipes").glob("*.yaml")):
        shape_of(file.read_text(encoding="utf-8"))


def main() -> None:
    """Answer until there is no further call."""
    for module in pkgutil.iter_modules(benchapp.commands.__path__, "benchapp.commands."):
        if not module.name.endswith("screens"):  # Textual and its screens: never called here
            importlib.import_module(module.name)
    for name in ("benchapp.plain", "benchapp.plain.loop", "benchapp.copies.backups",
                 "benchapp.copies.mirrors", "benchapp.copies.beside", "benchapp.reports.unsaved"):
        importlib.import_module(name)
    _remember_recipes()
    for line in sys.stdin.buffer:
        answer = _called(json.loads(line))
        sys.stdout.write(json.dumps(answer) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
