"""A book of every layout there has been, killed while it gets today's, and on a full disk.

Before each statement and each operation on files; the old book stays readable, the next opening
ends the change, and then every table is as in a book that was not cut off.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from benchapp.book.schema import latest_step
from tests.book.test_corpus import CORPUS
from tests.faults import migrated
from tests.faults.apart import apart, can_mount

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="nothing is forked or killed there")

#: By layout: a book of it, and before how many steps it is killed, at least. The last is what
#: opening a book of today's layout takes.
BOOKS = {1: ("063f410", 120), 2: ("2662347", 90), 3: ("bb177d3", 80), 4: ("2026-11-30", 35)}
#: Before so many steps each of the others is killed, at least.
OF_OTHERS = 10
OTHERS = [file for file in CORPUS
          if file.name.partition(".")[0] not in {name for name, _ in BOOKS.values()}]
#: With how many pages of 4 KiB free the disk is found too small, at least, by layout.
PAGES = {1: 15, 2: 10, 3: 5}
LOG = pytest.mark.parametrize("log", [False, True], ids=["at rest", "cut off before"])


def _book(layout: int) -> Path:
    return next(file for file in CORPUS if file.name.startswith(BOOKS[layout][0]))


def test_there_is_a_book_of_every_layout(tmp_path: Path) -> None:
    assert [*BOOKS] == [*range(1, latest_step() + 1)]
    assert [migrated.layout_of(_book(layout), tmp_path) for layout in BOOKS] == [*BOOKS]


def test_killed_at_some_steps(tmp_path: Path) -> None:
    """A small sample of the heavy one."""
    many, wrong = apart(migrated.kill_at_steps, str(tmp_path), str(_book(3)), True, 2)
    assert wrong == []
    assert many >= 2


@pytest.mark.full
@LOG
@pytest.mark.parametrize("layout", BOOKS)
def test_killed_at_every_step(layout: int, log: bool, tmp_path: Path) -> None:
    many, wrong = apart(migrated.kill_at_steps, str(tmp_path), str(_book(layout)), log, None)
    assert wrong == []
    assert many >= BOOKS[layout][1]


@pytest.mark.full
@pytest.mark.parametrize("file", OTHERS, ids=lambda file: file.name.partition(".")[0])
def test_every_other_book_is_killed_at_some_steps(file: Path, tmp_path: Path) -> None:
    many, wrong = apart(migrated.kill_at_steps, str(tmp_path), str(file), False, OF_OTHERS)
    assert wrong == []
    assert many >= OF_OTHERS


@pytest.mark.full
def test_a_layout_changed_in_two_transactions_would_be_noticed(tmp_path: Path) -> None:
    many, wrong = apart(migrated.kill_weakened, str(tmp_path), str(_book(1)))
    assert many >= BOOKS[1][1]
    assert wrong != []


needs_disk = pytest.mark.skipif(not can_mount(), reason="the system lets us mount no small disk")


@needs_disk
@pytest.mark.full
def test_a_disk_that_is_nearly_full(tmp_path: Path) -> None:
    """There is room for the log, and none for its index."""
    assert apart(migrated.fill_disk, str(tmp_path), str(_book(1)), False, [6],
                 mounts=True) == [1, []]


@needs_disk
@pytest.mark.full
@LOG
@pytest.mark.parametrize("layout", PAGES)
def test_disk_full_at_every_page(layout: int, log: bool, tmp_path: Path) -> None:
    many, wrong = apart(migrated.fill_disk, str(tmp_path), str(_book(layout)), log, None,
                        mounts=True)
    assert wrong == []
    assert many >= PAGES[layout]
