"""Reference results kept as data, so that the quick tier needs no reference library.

Each `make_*.py` beside this has `rows(seed, count)`: random questions answered by a reference
library. Run as a program (`python -m tests.outside.data.make_air`) it writes its JSON anew; the
full tier asks it for other rows, where the library is installed.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
#: Rows kept of each, and the seed they come from.
COUNT = 600
SEED = 20260503


def load(name: str) -> list[Any]:
    """The rows kept under a name."""
    return json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))


def save(name: str, rows: Callable[[int, int], list[Any]]) -> None:
    """Ask the reference anew and keep what it says, one row a line."""
    lines = ",\n".join(json.dumps(row) for row in rows(SEED, COUNT))
    (HERE / f"{name}.json").write_text(f"[\n{lines}\n]\n", encoding="utf-8")
