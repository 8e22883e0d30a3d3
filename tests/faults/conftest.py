"""A place for a book."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where a book may be made; its folder is not there yet."""
    return tmp_path / "studio" / "book.db"
