"""The breaks and the guess a day was planned with, remembered for its session.

They are a plan, not what happened, and so no entry: they lie in the folder of what the program
remembers for itself, and are lost without harm.
"""

from __future__ import annotations

import json
from typing import Any, Final

from benchapp.files.places import state_folder
from benchapp.files.problems import FileProblem
from benchapp.files.reading import read_text
from benchapp.files.writing import write_over

_NAME: Final = "planned.json"
#: What is remembered, the last of it.
_MOST: Final = 40
#: After a session's id: how long one print takes.
_GUESS: Final = " each"
_LONGEST_MS: Final = 24 * 60 * 60_000
_DAY: Final = 24 * 60
Breaks = tuple[tuple[int, int], ...]


def keep_breaks(session: str, breaks: Breaks) -> None:
    """Remember the breaks of a session, in minutes after midnight and seconds."""
    _keep(session, [list(x) for x in breaks])


def breaks_kept(session: str) -> Breaks:
    """The breaks remembered of a session; none where nothing sound is remembered."""
    found = _read().get(session)
    if not isinstance(found, list):
        return ()
    return tuple((x[0], x[1]) for x in found if _sound(x))


def keep_guess(session: str, each_ms: int | None) -> None:
    """Remember how long one print takes, as guessed for a session; None: nothing to remember."""
    if each_ms is not None:
        _keep(session + _GUESS, each_ms)


def guess_kept(session: str) -> int | None:
    """The guess remembered of a session, in milliseconds; None where none is."""
    found = _read().get(session + _GUESS)
    return found if type(found) is int and 0 < found <= _LONGEST_MS else None


def _keep(key: str, value: Any) -> None:
    known = _read()
    known.pop(key, None)
    known[key] = value
    last = dict(list(known.items())[-_MOST:])
    try:
        write_over(state_folder() / _NAME, json.dumps(last))
    except FileProblem:
        return  # the day goes on, its promise without it


def _sound(x: Any) -> bool:
    return (isinstance(x, list) and len(x) == 2 and all(type(n) is int for n in x)
            and 0 <= x[0] < _DAY and 0 < x[1] <= 60 * _DAY)


def _read() -> dict[str, Any]:
    try:
        found = json.loads(read_text(state_folder() / _NAME))
    except (FileProblem, ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}
