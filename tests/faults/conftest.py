"""What the rows share: folders in memory, and the program with everything imported.

The fault matrix.

What the journal must outlive, one row a module of `tests/faults/`. Each row has a small sample in
the quick tier and its full count behind `-m full`; the counts stand at the top of the module, and a
row that tried fewer fails; so those here are the least it tries. `.ci/run` runs all rows in a step
of their own, always with the same chances: together they are to take at most 15 minutes on 2 cores.
Times are processor seconds, measured on a machine at work; ≈ is reckoned from some of a row's
parts, ? is an estimate nobody has measured since the rows were changed, and so is the whole. Where
Linux has a disk in memory the folders are there, as a real sync is only waited for.

- kill -9 in every command that writes: `pytest -m full tests/faults/test_kills.py`: 18 × 40
  kills, 98 s
- kill -9 in a day and in the book: `pytest -m full tests/faults/test_kills_day.py
  tests/faults/test_kills_book.py`: 400 kills, 59 s
- a book of every layout, brought up to today's: `pytest -m full tests/faults/test_migrations.py`:
  970 kills, before every step and in every book of the corpus; the disk full at each of 60
  pages, 131 s
- the power cut in a day, and again while the book is opened; weaker syncs caught: `pytest -m full
  tests/faults/test_power_cuts.py`: 10,000 states of the disk, 69 s
- every act on the book's files failed once and for good; the disk full; two faults together,
  kills among them: `pytest -m full tests/faults/test_failing_disk.py`: 100 acts × 4 ways, the
  disk full at each of 24 pages, 500 pairs, 18 s
- every act on files of every command that writes failed, once and for good, and what it says
  then; the disk full at every 4 KiB; two faults in one call, kills among them: `pytest -m full
  tests/faults/test_failing_commands.py`: 1,469 acts × 2 ways; every page of 4 commands; 504
  pairs, ? 330 s
- a mirror or a backup cut off: `pytest -m full tests/faults/test_copies.py`: 250 kills, the disk
  full at each of 50 pages, 22 s
- two programs in every pair of commands: `pytest -m full tests/faults/test_two_processes.py`:
  1,600 pairs, one holding the book; 300 at once, ≈ 150 s
- floods on the real screen: `pytest -m full tests/faults/test_floods.py`: 12 of bytes of chance,
  8 held keys, 200 sizes, 4 pastes of 1 MB, 40 of broken sequences, 20 s
- clocks set, asleep, travelling, started anew: `pytest -m full tests/faults/test_clocks.py`:
  3,000 days, 77 s
- damage of a book, its log, a backup, a mirror: `pytest -m full tests/faults/test_damage.py`:
  1,200 books, 200 files of each other kind, 28 s
- broken recipes and preferences: `pytest -m full tests/faults/test_broken_texts.py`: 60,000
  texts, ? 240 s
- forged imports whose digests hold: `pytest -m full tests/faults/test_forged_imports.py`: 20,000
  files, ≈ 190 s
- hostile texts through every way in and out, and every command that shows them: `pytest -m full
  tests/faults/test_hostile_texts.py`: 10,000 texts through each of 7 ways; 40 books of them
  through 28 commands, 26 s

What it tells by the lock file: a log that was damaged alone. SQLite reads a log up to its first
broken frame, as it must after a power cut, so the rest reads as the sound book of a moment before;
but a writer says in the lock file which entry it knows to be on disk. That is written without a
sync: after a power cut it may say less, never more.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.faults.remembered import MODULES, scan_document
from tests.faults.warm import Warm

#: Where Linux has a disk in memory, and what must be free there, in bytes.
_MEMORY = Path("/dev/shm")
_FREE = 2**30


@pytest.fixture(scope="session")
def memory(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A disk in memory, if there is one: a real sync is only waited for, no row ends by it."""
    if (_MEMORY.is_dir() and os.access(_MEMORY, os.W_OK)
            and shutil.disk_usage(_MEMORY).free >= _FREE):
        return _MEMORY
    return tmp_path_factory.mktemp("disk")


@pytest.fixture
def tmp_path(memory: Path) -> Iterator[Path]:
    """A folder of the test's own on that disk; nothing of it stays."""
    with tempfile.TemporaryDirectory(prefix="benchapp-", dir=memory,
                                     ignore_cleanup_errors=True) as folder:
        yield Path(folder)


@pytest.fixture
def remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    """No recipe is read twice into a tree in this test."""
    for module in MODULES:
        monkeypatch.setattr(module, "scan_document", scan_document)


@pytest.fixture(scope="session")
def warm(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Warm]:
    """The program, with everything imported."""
    with Warm(tmp_path_factory.mktemp("warm")) as program:
        yield program
