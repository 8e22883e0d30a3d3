"""The program, called many times without its start, and killed wherever one likes.

One interpreter imports everything once and parts a child for each call, so that a call costs what
it does and not 0.4 s more. Nothing is shared between two calls but what was imported.
"""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import asdict, dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

_ROOT = Path(__file__).parents[2]
#: A call that takes longer hangs.
_PATIENCE_S = 60


@dataclass(frozen=True, slots=True)
class Kill:
    """Where a call is killed.

    Attributes:
        step: Before this step on files, from 1.
        after_us: Or so many microseconds after it began.
    """

    step: int
    after_us: int = 0


@dataclass(frozen=True, slots=True)
class Fault:
    """How the disk refuses in a call.

    Attributes:
        first: From this act on files on, from 0; see `failing.py`. None: from no act on.
        error: With this error of the system.
        times: So often.
        free: Or: the home may grow by so many bytes, and no more.
        kills: Or: at that act it is killed.
        also: A second fault, beside this one.
    """

    first: int | None = None
    error: int = 0
    times: int = 1
    free: int | None = None
    kills: bool = False
    also: Fault | None = None


@dataclass(frozen=True, slots=True)
class Ended:
    """How a call ended.

    Attributes:
        code: Its exit code; None: it was killed.
        steps: How many steps on files it took, if it was not killed; where a fault was asked for,
            how many acts.
        out: What it had printed.
        err: What it had warned of.
        refused: How many acts on files its disk had refused.
    """

    code: int | None
    steps: int
    out: str
    err: str
    refused: int = 0

    @property
    def lines(self) -> list[str]:
        """The lines that were printed whole."""
        return self.out.split("\n")[:-1]


class Warm:
    """The program in a process that waits for calls; leave it to end it."""

    def __init__(self, folder: Path) -> None:
        """Begin; `folder` keeps what the calls print."""
        self._folder = folder
        folder.mkdir(parents=True, exist_ok=True)
        self._child = subprocess.Popen(
            [sys.executable, "-m", "tests.faults.warm_child"], cwd=_ROOT, text=True,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None,
                 trace: TracebackType | None) -> None:
        self._child.communicate()

    def call(self, home: Path, *argv: str | Path, said: str = "", kill: Kill | None = None,
             weakened: str = "", fault: Fault | None = None) -> Ended:
        """Call a command in the home `home`, which must be there.

        Args:
            home: The home, as `BENCHAPP_HOME` names it.
            argv: The words of the command.
            said: What is typed.
            kill: Where it is killed; None: nowhere.
            weakened: A function of `weakened.py` that is called first.
            fault: How its disk refuses, and that its temporary folder is on it, in the home; None:
                it has a sound disk, and one of its own for what is temporary.
        """
        assert self._child.stdin is not None
        assert self._child.stdout is not None
        files = {name: self._folder / name for name in ("said", "out", "err")}
        files["said"].write_text(said, encoding="utf-8")
        kill = kill or Kill(0)
        self._child.stdin.write(json.dumps({
            "argv": [str(x) for x in argv], "home": str(home),
            "temp": str(home if fault else self._folder), "fault": fault and asdict(fault),
            "patience_s": _PATIENCE_S, "step": kill.step, "after_us": kill.after_us,
            "weakened": weakened,
            **{name: str(file) for name, file in files.items()}}) + "\n")
        self._child.stdin.flush()
        told = json.loads(self._child.stdout.readline())
        assert told["steps"] >= 0, f"{argv} hangs"
        # A kill may cut a sign in two.
        out, err = (files[x].read_bytes().decode(errors="replace") for x in ("out", "err"))
        return Ended(told["code"], told["steps"], out, err, told.get("refused", 0))
