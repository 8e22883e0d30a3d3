"""Work done in a process of its own: it may fork, be killed, or have a small disk to itself."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

_ROOT = Path(__file__).parents[2]
_CALL = """
import importlib, json, sys
module, function, arguments = sys.argv[1:]
told = getattr(importlib.import_module(module), function)(*json.loads(arguments))
print(json.dumps(told))
"""
#: A disk of its own needs a place to mount it, which the system may refuse.
_OWN_MOUNTS = ("unshare", "--user", "--map-root-user", "--mount")


def apart(function: Callable[..., Any], *arguments: object, mounts: bool = False) -> Any:
    """What `function` gives, called with plain values in a fresh process without threads.

    Args:
        function: Of a module that can be imported; gives what JSON can hold.
        arguments: What JSON can hold.
        mounts: It may mount disks, which nobody else sees.
    """
    done = subprocess.run(
        [*(_OWN_MOUNTS if mounts else ()), sys.executable, "-c", _CALL, function.__module__,
         function.__name__, json.dumps(arguments)],
        cwd=_ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout.splitlines()[-1])


def can_mount() -> bool:
    """Whether a process of ours may have disks of its own."""
    try:
        done = subprocess.run([*_OWN_MOUNTS, "mount", "-t", "tmpfs", "none", "/tmp"],
                              capture_output=True, check=False)
    except OSError:
        return False
    return done.returncode == 0


def forked(work: Callable[..., object], *arguments: object) -> int:
    """Do `work` in a child of this process, which has no threads; its id."""
    child = os.fork()
    if child == 0:
        code = 1
        try:
            work(*arguments)
            code = 0
        except BaseException:  # noqa: BLE001 - nothing may go on in the parent's code
            sys.excepthook(*sys.exc_info())
        finally:
            os._exit(code)
    return child


def ended(child: int) -> int:
    """How the child ended: its exit code, or the negative number of the signal."""
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def die_at(event: int) -> Callable[[], int]:
    """Have this process killed just before its file operation number `event`, from now on.

    Opening, renaming, linking, removing and connecting are such operations (PEP 578).

    Returns:
        What says how many there were.
    """
    seen = 0

    def hook(name: str, _: object) -> None:
        nonlocal seen
        if name in ("open", "sabotage") or name.startswith(("os.", "sqlite3.")):
            seen += 1
            if seen == event:
                os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(hook)
    return lambda: seen
