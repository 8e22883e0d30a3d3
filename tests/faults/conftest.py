"""The program with everything imported, for the rows that run its commands."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.faults.warm import Warm


@pytest.fixture(scope="module")
def warm(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Warm]:
    """The program, with everything imported."""
    with Warm(tmp_path_factory.mktemp("warm")) as program:
        yield program
