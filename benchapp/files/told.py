"""What the printer was told once and need not be told at every start.

It lies in the folder of what the program remembers for itself: lost, it is told once more.
"""

from __future__ import annotations

import json
from contextlib import suppress
from typing import Final

from benchapp.files.places import state_folder
from benchapp.files.problems import FileProblem
from benchapp.files.reading import read_text
from benchapp.files.writing import write_over

_NAME: Final = "told.json"
#: Texts remembered, the last ones.
_MOST: Final = 50


def is_first_time(text: str) -> bool:
    """Whether this text was never told before; from now on it was."""
    known = _read()
    if text in known:
        return False
    with suppress(FileProblem):  # what cannot be remembered is told again at the next start
        write_over(state_folder() / _NAME, json.dumps([*known, text][-_MOST:]))
    return True


def _read() -> list[str]:
    try:
        found = json.loads(read_text(state_folder() / _NAME))
    except (FileProblem, ValueError, RecursionError):
        return []
    return [x for x in found if isinstance(x, str)] if isinstance(found, list) else []
