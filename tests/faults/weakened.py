"""Ways to weaken the program, so that a row of the matrix can show that it would notice."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from benchapp import files, settings
from benchapp.files import writing


def write_in_place() -> None:
    """Have files written over where they are, in two halves."""
    def write_over(path: Path, data: str, **_: Any) -> None:
        raw = data.encode()
        with path.open("wb") as file:
            for half in (raw[: len(raw) // 2], raw[len(raw) // 2:]):
                file.write(half)
                file.flush()
                os.fsync(file.fileno())

    for module in (files, settings, writing):
        module.write_over = write_over  # type: ignore[attr-defined]
