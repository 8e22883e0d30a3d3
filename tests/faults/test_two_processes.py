"""Two programs on one book, in every pair of commands: nothing is lost, and who waits is told.

While one holds the book another that writes is refused, is told who holds it and what to do, and
one that reads reads. At once, each is done, refused, or told that the other was there before.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.faults import two_commands
from tests.faults.apart import apart

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="nothing is forked there")

#: So many commands are paired, at least; so many pairs are started at once; in so many parts.
COMMANDS, RACES, PARTS = 40, 300, 6

#: Two that write.
REFUSED = ("number D4 3", "sign 2/5 --yes")


def test_one_pair(tmp_path: Path) -> None:
    """A small sample of the heavy one."""
    assert apart(two_commands.try_some, str(tmp_path), [REFUSED], False) == []


@pytest.mark.full
def test_every_command_alone(tmp_path: Path) -> None:
    alone, wrong = apart(two_commands.try_alone, str(tmp_path))
    assert wrong == []
    assert alone >= COMMANDS


@pytest.mark.full
@pytest.mark.parametrize("part", range(PARTS))
def test_every_pair(part: int, tmp_path: Path) -> None:
    held, raced, wrong = apart(
        two_commands.try_pairs, str(tmp_path), part, PARTS, RACES // PARTS)
    assert wrong == []
    assert held >= COMMANDS ** 2 // PARTS
    assert raced == RACES // PARTS


@pytest.mark.full
def test_a_lock_that_holds_nobody_off_is_found(tmp_path: Path) -> None:
    wrong = apart(two_commands.try_some, str(tmp_path), [REFUSED], True)
    assert any("was not refused" in x for x in wrong)
