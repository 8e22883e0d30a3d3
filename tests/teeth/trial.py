"""Trying mutants inside one pytest session: collect once, then a process for each mutant."""

from __future__ import annotations

import gc
import json
import os
import resource
import select
import signal
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from types import FunctionType

import coverage
import pytest
from _pytest.runner import runtestprotocol

from tests.teeth.mutants import Mutant, codes

# A test that takes so much longer than when it was surveyed hangs: a loop without an end.
_TIMES_LONGER = 20
_LONGER_S = 10.0
# No more than so many seconds of tests are spent on one mutant; what would be found only later
# counts as not found.
_AT_MOST_S = 20.0
_EXAMPLES = 10
_MOST_BYTES = 4 << 30

_PASSED, _FAILED = b".", b"F"


@dataclass
class Survey:
    """Which tests run which lines, and how long each takes; failing ones are left out."""

    seconds: dict[str, float] = field(default_factory=dict)
    failed: list[str] = field(default_factory=list)
    tests: dict[str, dict[str, list[str]]] = field(default_factory=dict)

    def tests_of(self, mutant: Mutant) -> list[str]:
        """The tests that run the changed statement, the quickest first."""
        lines = self.tests.get(str(mutant.path), {})
        names = {name for line in mutant.lines for name in lines.get(str(line), ())}
        taken, spent = [], 0.0
        for name in sorted(names & self.seconds.keys(), key=self.seconds.__getitem__):
            spent += self.seconds[name]
            if taken and spent > _AT_MOST_S:
                break
            taken.append(name)
        return taken


@dataclass
class Trial:
    """The plugin that takes the place of pytest's own loop over the tests."""

    room: Path
    mutants: list[Mutant]
    tell: Callable[[str], None]
    kept: Path
    survey: Survey = field(default_factory=Survey)
    killed: list[Mutant] = field(default_factory=list)
    survived: list[tuple[Mutant, int]] = field(default_factory=list)

    @pytest.hookimpl(trylast=True)
    def pytest_configure(self) -> None:
        """Fewer examples of each property: what they would find beyond counts as not found."""
        import hypothesis  # not before pytest, which rewrites what it imports

        quick = hypothesis.settings.get_profile("quick")
        hypothesis.settings.register_profile("teeth", parent=quick, max_examples=_EXAMPLES)
        hypothesis.settings.load_profile("teeth")

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Survey the tests, then try every mutant, each in a process of its own."""
        items = {item.nodeid: item for item in session.items}
        if self.kept.exists():
            self.survey = Survey(**json.loads(self.kept.read_text()))
        known = {*self.survey.seconds, *self.survey.failed}
        new = [item for name, item in items.items() if name not in known]
        if new:
            _in_child(lambda: _extend(self.survey, self.room, new, self.kept))
            self.survey = Survey(**json.loads(self.kept.read_text()))
        self.tell(f"{len(self.survey.seconds)} tests surveyed, "
                  f"{sum(self.survey.seconds.values()):.0f} s; "
                  f"{len(self.survey.failed)} left out as they fail unchanged")
        for name in self.survey.failed:
            self.tell(f"  {name}")
        functions = _functions(self.room)
        gc.freeze()  # what is there stays shared between the processes
        for number, mutant in enumerate(self.mutants, 1):
            names = [name for name in self.survey.tests_of(mutant) if name in items]
            place = str(mutant.path), mutant.function
            caught = self._try(mutant, functions.get(place, []), [items[name] for name in names])
            if caught:
                self.killed.append(mutant)
            else:
                self.survived.append((mutant, len(names)))
            self.tell(f"{number:4} {'killed  ' if caught else 'SURVIVED'} {mutant.label}")
        return True

    def _try(self, mutant: Mutant, functions: list[FunctionType],
             items: list[pytest.Item]) -> bool:
        """Whether a test fails, or hangs, under the mutant."""
        hear, say = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(hear)
            _run_changed(mutant, functions, items, say)
        os.close(say)
        caught = False
        try:
            for item in items:
                longest = _LONGER_S + _TIMES_LONGER * self.survey.seconds[item.nodeid]
                ready, _, _ = select.select([hear], [], [], longest)
                if not ready or os.read(hear, 1) != _PASSED:
                    caught = True
                    break
        finally:
            os.close(hear)
            with suppress(ProcessLookupError):
                os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)
        return caught


def _run_changed(mutant: Mutant, functions: list[FunctionType], items: list[pytest.Item],
                 say: int) -> None:
    """In the child: put the changed code in place, run the tests, never come back."""
    try:
        resource.setrlimit(resource.RLIMIT_AS, (_MOST_BYTES, _MOST_BYTES))
        for function in functions:
            _change(function, mutant)
        for item, following in zip(items, [*items[1:], None], strict=True):
            os.write(say, _FAILED if _fails(item, following) else _PASSED)
    finally:
        os._exit(0)


def _change(function: FunctionType, mutant: Mutant) -> None:
    """Give it the mutant's code; not where that has none of its name there, or several."""
    was = function.__code__
    same = [one for one in codes(mutant.code)
            if (one.co_qualname, one.co_firstlineno, one.co_freevars)
            == (was.co_qualname, was.co_firstlineno, was.co_freevars)]
    if len(same) == 1:
        function.__code__ = same[0]


def _functions(room: Path) -> dict[tuple[str, str], list[FunctionType]]:
    """The room's functions by file and name, whatever is wrapped round them.

    With each come those made inside it when the files were read: a table holds them already.
    """
    found: dict[tuple[str, str], list[FunctionType]] = {}
    for one in gc.get_objects():
        if type(one) is FunctionType and one.__code__.co_filename.startswith(str(room)):
            top = one.__code__.co_qualname.partition(".<locals>")[0]
            found.setdefault((one.__code__.co_filename, top), []).append(one)
    return found


def _fails(item: pytest.Item, following: pytest.Item | None) -> bool:
    return any(report.failed for report in runtestprotocol(item, log=False, nextitem=following))


def _extend(survey: Survey, room: Path, items: list[pytest.Item], kept: Path) -> None:
    """Run every test once, unchanged, and note which lines of the room each of them runs."""
    watch = coverage.Coverage(data_file=None, include=[f"{room}/*"], config_file=False)
    watch.set_option("run:core", "ctrace")  # the one that can tell whose line it was
    watch.start()
    for item, following in zip(items, [*items[1:], None], strict=True):
        watch.switch_context(item.nodeid)
        began = time.monotonic()
        if _fails(item, following):
            survey.failed.append(item.nodeid)
        else:
            survey.seconds[item.nodeid] = time.monotonic() - began
    watch.stop()
    data = watch.get_data()
    for path in data.measured_files():
        by_line = survey.tests.setdefault(path, {})
        for line, names in data.contexts_by_lineno(path).items():
            by_line.setdefault(str(line), []).extend(name for name in names if name)
    kept.write_text(json.dumps(survey.__dict__))


def _in_child(work: Callable[[], None]) -> None:
    child = os.fork()
    if child == 0:
        code = 1
        try:
            work()
            code = 0
        finally:
            os._exit(code)
    _, status = os.waitpid(child, 0)
    if status:
        raise SystemExit("the survey of the tests came to no end")
