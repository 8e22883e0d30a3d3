"""The breaks a day was planned with, remembered for its session: a promise without lunch is none.

They are a plan, not what happened, and so no entry: they lie in the folder of what the program
remembers for itself, and are lost without harm.
"""

from __future__ import annotations

import json
from typing import Any, Final

from benchapp.files import FileProblem, read_text, state_folder, write_over
from benchapp.journal import Moment
from benchapp.moments import local
from benchapp.session.planning_day import Break

_NAME: Final = "planned.json"
#: Sessions remembered, the last ones.
_MOST: Final = 20
_DAY: Final = 24 * 60
Breaks = tuple[tuple[int, int], ...]


def keep(session: str, breaks: Breaks) -> None:
    """Remember the breaks of a session, in minutes after midnight and seconds."""
    known = _read()
    known.pop(session, None)
    known[session] = [list(x) for x in breaks]
    last = dict(list(known.items())[-_MOST:])
    try:
        write_over(state_folder() / _NAME, json.dumps(last))
    except FileProblem:
        return  # the day goes on, its promise without the break


def kept(session: str) -> Breaks:
    """The breaks remembered of a session; none where nothing sound is remembered."""
    found = _read().get(session)
    if not isinstance(found, list):
        return ()
    return tuple((x[0], x[1]) for x in found if _sound(x))


def _sound(x: Any) -> bool:
    return (isinstance(x, list) and len(x) == 2 and all(type(n) is int for n in x)
            and 0 <= x[0] < _DAY and 0 < x[1] <= 60 * _DAY)


def _read() -> dict[str, Any]:
    try:
        found = json.loads(read_text(state_folder() / _NAME))
    except (FileProblem, ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def ahead_of(breaks: Breaks, now: Moment) -> list[Break]:
    """Those of today that are not over, in seconds from now."""
    here = local(now)
    passed = here.hour * 3600 + here.minute * 60 + here.second
    return [Break(at * 60 - passed, seconds) for at, seconds in breaks
            if at * 60 + seconds > passed]
