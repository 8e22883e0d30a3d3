"""Mirrors and backups cut off while they are written: killed, or the disk full.

The book stays sound, old copies are kept, no half copy can be taken for a whole one, and the next
time all of it is there.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.faults import copied_day
from tests.faults.apart import apart, can_mount

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="nothing is forked or killed there")

#: Before how many operations on files it is killed, at least; at how many moments of chance; and
#: with how many pages of 4 KiB free a disk is found too small, at least.
OPERATIONS, MOMENTS, PAGES = 55, 200, 50


def test_killed_at_some_operations(tmp_path: Path) -> None:
    """A small sample of the heavy one."""
    assert apart(copied_day.kill_at_operations, str(tmp_path), [30], "") == [1, []]


@pytest.mark.full
def test_killed_at_every_operation(tmp_path: Path) -> None:
    many, wrong = apart(copied_day.kill_at_operations, str(tmp_path), None, "")
    assert wrong == []
    assert many >= OPERATIONS


@pytest.mark.full
def test_killed_at_any_moment(tmp_path: Path) -> None:
    assert apart(copied_day.kill_at_moments, str(tmp_path), MOMENTS, 1) == [MOMENTS, []]


@pytest.mark.full
@pytest.mark.parametrize(("weak", "found"), [
    ("mirror", "is not what the book has"), ("backup", "is not sound")])
def test_copies_written_in_their_place_are_found(tmp_path: Path, weak: str, found: str) -> None:
    """What would be lost if a copy were not written apart first."""
    _, wrong = apart(copied_day.kill_at_operations, str(tmp_path), None, weak)
    assert any(found in x for x in wrong)


needs_disk = pytest.mark.skipif(not can_mount(), reason="the system lets us mount no small disk")


@needs_disk
@pytest.mark.full
def test_disk_full_at_every_page(tmp_path: Path) -> None:
    many, wrong = apart(copied_day.fill_disk, str(tmp_path), None, mounts=True)
    assert wrong == []
    assert many >= PAGES
