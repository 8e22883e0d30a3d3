"""kill -9 at any instant of writing: what was acknowledged is there, whole and in order."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.faults.apart import apart
from tests.faults.killed_writer import kill_writers

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="nothing is forked or killed there")

#: Writers killed on a sound disk and on one that often refuses; so many in one book.
KILLS, A_BOOK = 100, 10
#: What they acknowledge altogether, at least.
ACKNOWLEDGED = 2000


def test_killed_at_any_instant(tmp_path: Path) -> None:
    """A small sample of the heavy one: one book on a disk that often refuses, killed four times."""
    acknowledged, wrong = apart(kill_writers, str(tmp_path), [*range(4)], True, 4)
    assert wrong == []
    assert acknowledged > 50


@pytest.mark.full
@pytest.mark.parametrize("failing", [False, True], ids=["sound", "failing"])
def test_killed_a_hundred_times(failing: bool, tmp_path: Path) -> None:
    """In fresh books and in old ones."""
    seeds = [*range(1000, 1000 + KILLS)]
    acknowledged, wrong = apart(kill_writers, str(tmp_path), seeds, failing, A_BOOK)
    assert wrong == []
    assert acknowledged > ACKNOWLEDGED
