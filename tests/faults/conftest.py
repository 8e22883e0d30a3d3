"""What the rows share: folders in memory, and the program with everything imported."""

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
