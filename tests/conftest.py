"""What every test stands on: a home of its own, and how many examples are tried.

Decisions, numbered as in DEVELOPERS.md:

11. **Two tiers.** The quick one is repeatable (hypothesis derandomised) and short enough to run
    before every commit; the full one goes looking. `-m full` adds every property test by itself.
78. **Tests leave no database open.** Python 3.13 warns of a connection that nobody closed, and
    warnings are errors here. `tests/conftest.py` has every Python warn alike; a book in memory is
    closed when its test lets go of it. `.ci/run` runs the quick tier on each Python from 3.11 to
    3.14 that the machine has.
"""

from __future__ import annotations

import os
import sqlite3
import time
import warnings
from collections.abc import Iterator
from contextlib import suppress
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

_SLOW = [HealthCheck.too_slow, HealthCheck.function_scoped_fixture]

# The quick tier must give the same answer twice; the full one goes looking.
settings.register_profile(
    "quick", max_examples=40, derandomize=True, deadline=None, suppress_health_check=_SLOW
)
# Where more are wanted, the test says so itself.
settings.register_profile("full", max_examples=1000, deadline=None, suppress_health_check=_SLOW)


_BEGAN = time.monotonic()


def pytest_addoption(parser: pytest.Parser) -> None:
    """`--at-most 900`: begin no test after so many seconds; those left are skipped by name."""
    parser.addoption("--at-most", type=float, default=None, metavar="SECONDS",
                     help="begin no further test after so many seconds")


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    """Skip what would begin too late: a slow machine tries less, and never fails for it."""
    limit = item.config.getoption("--at-most")
    if limit is not None and time.monotonic() - _BEGAN > limit:
        pytest.skip(f"more than {limit:.0f} s have gone by")


class _Watched(sqlite3.Connection):
    """A connection that warns if it was left open, on every Python as 3.13 does on its own.

    A book in memory has no file that could stay open: it is closed when its test lets go of it.
    """

    def __init__(self, database: Any, *args: Any, **kwargs: Any) -> None:
        self._place = database
        self._is_open = False  # and stays so where the file cannot be opened
        super().__init__(database, *args, **kwargs)
        self._is_open = True

    def close(self) -> None:
        super().close()
        self._is_open = False

    def __del__(self) -> None:
        if not self._is_open:
            return  # a closed one may be let go of in any thread
        if self._place != ":memory:":
            warnings.warn(f"unclosed database {self._place}", ResourceWarning, stacklevel=2)
        with suppress(sqlite3.ProgrammingError):  # let go of in another thread than its own
            super().close()


_connect = sqlite3.connect


def _connect_watched(*args: Any, **kwargs: Any) -> sqlite3.Connection:
    return _connect(*args, **{"factory": _Watched, **kwargs})


def pytest_configure(config: pytest.Config) -> None:
    """Take the profile that fits the tier asked for (`HYPOTHESIS_PROFILE` overrules)."""
    settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE") or _tier(config))
    sqlite3.connect = _connect_watched


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int | None:
    """Half as many again as there are cores: half a screen's test is waiting for the screen.

    The heavy tier reckons all the time, so there it is a test on each core, as it comes.
    """
    return None if _tier(config) == "full" else max(2, (os.cpu_count() or 2) * 3 // 2)


def _tier(config: pytest.Config) -> str:
    return "full" if config.getoption("markexpr") == "full" else "quick"


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """In the full tier every property is tried again, on many more examples."""
    if _tier(config) == "full":
        for item in items:
            if getattr(getattr(item, "obj", None), "is_hypothesis_test", False):
                item.add_marker("full")


@pytest.fixture(scope="session")
def studios(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder for each test in turn, numbered here.

    pytest's own numbering reads all folders there are for each new one.
    """
    folder = tmp_path_factory.mktemp("studios")
    return (folder / str(number) for number in count())


@pytest.fixture(autouse=True)
def home(studios: Iterator[Path], monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home of the test's own, not yet made; the tester's own is out of reach."""
    studio = next(studios)
    studio.mkdir()
    folder = studio / "home"
    monkeypatch.setenv("BENCHAPP_HOME", str(folder))
    for name in ("NO_COLOR", "COLORTERM", "TEXTUAL_DRIVER", "TEXTUAL"):
        monkeypatch.delenv(name, raising=False)
    return folder
